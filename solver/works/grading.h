#ifndef UF_GRADING_H
#define UF_GRADING_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* A sieve list of a gravel against published gradings. Openings in m, passing as a share by
   mass. */

#define UF_GRADING_SIEVES 8
#define UF_GRADING_LIST   16

struct uf_grading_spec {
    const char *name; /* the word in the site file, such as "no_57" */
    const char *source;
    size_t n;
    struct {
        const char *sieve; /* such as "3/4 in." */
        double opening_m, low, high;
    } rows[UF_GRADING_SIEVES];
};

/* Ended by a row whose name is NULL. */
extern const struct uf_grading_spec uf_grading_specs[];

/* What was measured: openings in any order. */
struct uf_grading_sieve {
    double opening_m, passing;
};
struct uf_grading_list {
    struct uf_grading_sieve rows[UF_GRADING_LIST];
    size_t n;
};

struct uf_grading_row {
    double passing; /* NAN: no sieve on both sides of this one was measured */
    bool between;   /* read between two sieves, straight over the logarithm of the opening */
    bool ok;
};

struct uf_grading {
    const struct uf_grading_spec *spec;
    struct uf_grading_row rows[UF_GRADING_SIEVES];
    size_t n_outside, n_unknown; /* rows outside the limits; rows not measured */
};

/* Compares the list with one grading. Above the coarsest sieve on which everything
   passes, everything passes. Errors: UF_E_INPUT for an empty list, a sieve twice, or a
   finer sieve that passes more. */
enum uf_status uf_grading_check(struct uf_grading *out, const struct uf_grading_spec *spec,
                                const struct uf_grading_list *list, struct uf_error *err);

#endif
