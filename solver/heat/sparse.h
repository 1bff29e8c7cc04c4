#ifndef UF_SPARSE_H
#define UF_SPARSE_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* A square matrix whose pattern is fixed: the diagonal and both halves of a list of
   pairs. Factored by SuiteSparse KLU, ordered once; where the factors would fill up, as in
   three dimensions, solved by iteration instead (sparse_iterate.h). */
struct uf_sparse;

/* pairs [n_pairs][2]: nodes that exchange heat, each pair once (a pair may repeat: it
   shares slots). Errors: UF_E_MEMORY, UF_E_SOLVER when the pattern cannot be ordered. */
enum uf_status uf_sparse_create(struct uf_sparse **out, size_t n, const size_t (*pairs)[2],
                                size_t n_pairs, struct uf_error *err);

/* Another of the same pattern, which is ordered already: borrowed until the new one is freed. Errors:
   UF_E_MEMORY. */
enum uf_status uf_sparse_create_like(struct uf_sparse **out, const struct uf_sparse *like,
                                     struct uf_error *err);
void uf_sparse_free(struct uf_sparse *matrix); /* NULL is fine */

/* What an iteration may leave of the right-hand side from now on, as a share of its norm: 1e-10 at first. */
void uf_sparse_leave(struct uf_sparse *matrix, double small);

/* Sets every value to zero. */
void uf_sparse_zero(struct uf_sparse *matrix);

/* Adds factor times another matrix of the same pattern. */
void uf_sparse_add(struct uf_sparse *matrix, double factor, const struct uf_sparse *other);

/* Borrowed places of values: the diagonal of node i; row a column b of pair p, and row b column
   a. */
double *uf_sparse_diagonal(struct uf_sparse *matrix, size_t i);
double *uf_sparse_ab(struct uf_sparse *matrix, size_t p);
double *uf_sparse_ba(struct uf_sparse *matrix, size_t p);

/* Factors the present values; the first time with pivoting, then in the same order.
   Errors: UF_E_SOLVER for a singular matrix. */
enum uf_status uf_sparse_factor(struct uf_sparse *matrix, struct uf_error *err);

/* Solves in place with the last factors. b [n] */
enum uf_status uf_sparse_solve(struct uf_sparse *matrix, double *b, struct uf_error *err);

/* The same with a matrix that other threads may be solving with. work [8 n] */
enum uf_status uf_sparse_solve_beside(const struct uf_sparse *matrix, double *b, double *work,
                                      struct uf_error *err);

#endif
