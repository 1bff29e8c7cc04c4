#ifndef UF_DRAW_H
#define UF_DRAW_H

#include "solver/base/error.h"

#include <stddef.h>

/* Members of a study whose uncertain numbers are drawn together.

   Latin hypercube (McKay, Beckman & Conover 1979, Technometrics 21, 239-245): of n members each
   number takes one value in each of n parts of equal probability, at a random place within it. Rank
   correlation by the pairing of Iman & Conover 1982 (Communications in Statistics B 11, 311-334): the
   values of each number are put in the order of a set of normal scores that has the asked
   correlation; the values themselves stay. */

enum uf_draw_kind {
    UF_DRAW_UNIFORM,   /* a: least, b: largest */
    UF_DRAW_NORMAL,    /* a: mean, b: standard deviation */
    UF_DRAW_LOGNORMAL, /* a: mean, b: standard deviation, of the number itself, not its logarithm */
    UF_DRAW_TRIANGULAR, /* a: least, b: likeliest, c: largest */
    UF_DRAW_KINDS
};
struct uf_draw_kind_row {
    const char *name, *parameters; /* of the plan: "uniform", "[least, largest]" */
    size_t n;                      /* how many parameters */
};
extern const struct uf_draw_kind_row uf_draw_kinds[UF_DRAW_KINDS];

struct uf_draw_law {
    enum uf_draw_kind kind;
    double a, b, c;
};

/* NULL, or what is wrong with the numbers of a law. */
const char *uf_draw_fault(const struct uf_draw_law *law);

/* The value that a share p of all draws does not exceed, 0 < p < 1. */
double uf_draw_quantile(const struct uf_draw_law *law, double p);

struct uf_draw_input {
    const struct uf_draw_law *laws; /* [n_laws] */
    size_t n_laws, n_members;
    unsigned long long seed;
    const double
        *correlation; /* [n_laws][n_laws] of ranks, symmetric, 1 on the diagonal; NULL: none */
};
#define UF_DRAW_MOST_LAWS 40

/* values [n_members][n_laws]. The same input gives the same values. Errors: UF_E_INPUT for
   correlations that no numbers can have; UF_E_MEMORY. */
enum uf_status uf_draw(double *values, const struct uf_draw_input *input, struct uf_error *err);

#endif
