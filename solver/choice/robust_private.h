#ifndef UF_ROBUST_PRIVATE_H
#define UF_ROBUST_PRIVATE_H

#include "measure.h"

/* A case of an option: an index into the bank's jobs, or one of these. */
#define UF_ROBUST_UNASKED ((size_t)-1)
#define UF_ROBUST_IDLE    ((size_t)-2) /* changes nothing there, or is switched off */

/* One option on trial. */
struct uf_robust_trial {
    const struct uf_case *design;
    size_t *cells; /* [UF_VARIANTS] */
    enum uf_choice_trial state;
    const struct uf_variant *broken;
};

struct uf_robust {
    struct uf_choices_result *choices;
    struct uf_robust_input input;
    size_t *cells;                    /* [n][UF_VARIANTS] */
    size_t *grids;                    /* [n][2] runs of uf_robust_halve, own grid and half */
    const struct uf_variant **broken; /* [n] */
    size_t *order;                    /* rows that are ok with the allowance, the best first */
    size_t n_order;
    struct uf_forcing *surfaces[UF_VARIANTS]; /* of cases with a surface of their own; owned */
    bool breaker[UF_VARIANTS];                /* broke some option: tried first */
    struct uf_measure search;
};

/* Asks for what a trial still lacks and judges what has been run; state UNTRIED: it waits. */
enum uf_status uf_robust_try(struct uf_robust *robust, struct uf_robust_trial *trial,
                             struct uf_error *err);

/* Verdict of a case of a design, by statics alone where summary is NULL; false: the case changes
   nothing there, or statics cannot be weighed. */
bool uf_robust_judge(struct uf_verdict *out, const struct uf_robust *robust,
                     const struct uf_case *design, size_t variant,
                     const struct uf_summary *summary);

/* What came of a cell's run; NULL: not run. */
const struct uf_summary *uf_robust_summary(const struct uf_robust *robust, size_t cell);

/* robust_grid.c: asks for the runs that tell what the grid makes of a row; once they are *known, a row
   that has not that much more than the error to spare becomes FRAGILE. Errors: those of the bank;
   UF_E_STOPPED. */
enum uf_status uf_robust_halve(struct uf_robust *robust, size_t row, bool *known,
                               struct uf_error *err);

#endif
