#ifndef UF_SPARSE_ITERATE_H
#define UF_SPARSE_ITERATE_H

#include <stdbool.h>

/* A linear system of a heat network without its factors, which fill up in three dimensions:
   BiCGSTAB (van der Vorst 1992, SIAM J. Sci. Stat. Comput. 13, 631-644), preconditioned by the
   incomplete factors that share the matrix's own off-diagonals (D-ILU: M = (D + L) D^-1 (D + U),
   diag M = diag A). The matrix is by columns, its rows ascending in each. */
struct uf_sparse_columns {
    int n;
    const int *start, *row; /* [n + 1], [start[n]] */
    const double *value;    /* [start[n]] */
};

/* The pivots' inverses, inverse [n]. false: a pivot is zero. */
bool uf_sparse_iterate_factor(const struct uf_sparse_columns *a, double *inverse);

/* Solves in place to so small a share of b's norm. b [n], work [8 n]. false: not converged in 2000
   steps. */
bool uf_sparse_iterate_solve(const struct uf_sparse_columns *a, const double *inverse, double *b,
                             double *work, double small);

#endif
