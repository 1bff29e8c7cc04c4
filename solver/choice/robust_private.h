#ifndef UF_ROBUST_PRIVATE_H
#define UF_ROBUST_PRIVATE_H

#include "ends.h"
#include "measure.h"

/* A case of an option: an index into the bank's jobs, or one of these. */
#define UF_ROBUST_UNASKED ((size_t)-1)
#define UF_ROBUST_IDLE    ((size_t)-2) /* changes nothing there, or is switched off */

/* One option on trial. */
struct uf_robust_trial {
    const struct uf_case *design;
    size_t screen; /* the bank's job that it was screened by */
    size_t *cells; /* [UF_ROBUST_CELLS] */
    enum uf_choice_trial state;
    const struct uf_variant *broken;
};

struct uf_robust {
    struct uf_choices_result *choices;
    struct uf_robust_input input;
    size_t *cells;                    /* [n][UF_ROBUST_CELLS] */
    size_t *grids;                    /* [n][2] runs of uf_robust_halve, own grid and half */
    const struct uf_variant **broken; /* [n] */
    size_t *order;                    /* rows that are ok with the allowance, the best first */
    size_t n_order;
    struct uf_forcing *surfaces[UF_VARIANTS]; /* of cases with a surface of their own; owned */
    size_t turn[UF_VARIANTS];                 /* cases in the order in which they are tried */
    size_t n_first; /* of them, those that broke an option or are harsh in most places */
    struct uf_measure search;
};

struct uf_robust_trial uf_robust_trial_of(const struct uf_robust *robust, size_t row);

/* The design with the case's change; false: it changes nothing, or is switched off. */
bool uf_robust_change(struct uf_case *trial, const struct uf_robust *robust,
                      const struct uf_case *design, size_t variant);

/* Verdict of a case: with its run's summary, or by statics alone. */
enum uf_status uf_robust_judge(struct uf_verdict *out, const struct uf_case *trial,
                               const struct uf_summary *summary, struct uf_error *err);

/* Does a design that was screened meet every limit with the allowance to spare, or may it do so in
   three dimensions? */
bool uf_robust_may_spare(const struct uf_robust *robust, const struct uf_case *design,
                         const struct uf_summary *summary, const struct uf_verdict *verdict);

/* robust_ends.c: asks for the run by which a design is screened (variant: as a case of another,
   under its winter; UF_ROBUST_SOLID: for itself): its plane section where that stands for it, else
   the design as it is. */
enum uf_status uf_robust_ask(struct uf_robust *robust, const struct uf_case *design, size_t variant,
                             size_t *cell, struct uf_error *err);

/* Asks for a trial's own run in three dimensions, where it was screened. */
enum uf_status uf_robust_ask_own(struct uf_robust *robust, struct uf_robust_trial *trial,
                                 struct uf_error *err);

/* Frees the record that was kept of it: of a trial that came out as not robust. */
void uf_robust_drop_record(struct uf_robust *robust, const struct uf_robust_trial *trial);

/* The trial's own run: in three dimensions once that is done, else the one it was screened by. */
const struct uf_job *uf_robust_own(const struct uf_robust *robust,
                                   const struct uf_robust_trial *trial);

/* Is this design screened by its plane section? */
bool uf_robust_screened(const struct uf_robust *robust, const struct uf_case *design);

/* Of the cases tried first the one that comes nearest to a limit, where its plane run is so near
   (UF_ENDS_CLOSE_K) that it mostly fails in three dimensions: asks for it (*waits) or judges it, before
   anything else is run so. */
enum uf_status uf_robust_close(struct uf_robust *robust, struct uf_robust_trial *trial, bool *waits,
                               struct uf_error *err);

/* The trial's own run in three dimensions: asks for it (*waits) or judges it. */
enum uf_status uf_robust_design(struct uf_robust *robust, struct uf_robust_trial *trial,
                                bool *waits, struct uf_error *err);

/* All cases that come near to a limit, in three dimensions, the nearest first: asks for what is still
   lacking (*waits) and judges what has been run. */
enum uf_status uf_robust_cases_near(struct uf_robust *robust, struct uf_robust_trial *trial,
                                    bool *waits, struct uf_error *err);

/* What is known of one case of a trial; false: it has not been run. */
bool uf_robust_case_of(struct uf_robust_case *out, const struct uf_robust *robust,
                       const struct uf_robust_trial *trial, size_t variant);

/* The same by its plane run: with what the ends change in the design case, once that has been run in
   three dimensions. */
bool uf_robust_carried(struct uf_robust_case *out, const struct uf_robust *robust,
                       const struct uf_robust_trial *trial, size_t variant);

/* Asks for what a trial still lacks and judges what has been run; state UNTRIED: it waits. */
enum uf_status uf_robust_try(struct uf_robust *robust, struct uf_robust_trial *trial,
                             struct uf_error *err);

/* robust_pass.c: which cases are run when. What breaks an option comes first in the next one. What
   is found never hangs on how many runs are made at once: results are judged in the cases' order. */
void uf_robust_order(struct uf_robust *robust);
void uf_robust_broke(struct uf_robust *robust, const struct uf_variant *by);

/* A trial's cases from one place of the order to before another, so many runs at once at most: asks
   for what it still lacks (*waits) and judges what has been run; state FRAGILE at the first that
   fails. */
struct uf_robust_stretch {
    size_t from, to, at_once;
};
enum uf_status uf_robust_pass(struct uf_robust *robust, struct uf_robust_trial *trial,
                              const struct uf_robust_stretch *stretch, bool *waits,
                              struct uf_error *err);

/* Fills a batch that would leave processors idle with what is most likely wanted next. */
enum uf_status uf_robust_fill(struct uf_robust *robust, struct uf_error *err);

/* robust_grid.c: asks for the two runs, and no more. */
enum uf_status uf_robust_ask_halved(struct uf_robust *robust, size_t row, struct uf_error *err);

/* robust_grid.c: asks for the runs that tell what the grid makes of a row; once they are *known, a row
   that has not that much more than the error to spare becomes FRAGILE. Errors: those of the bank;
   UF_E_STOPPED. */
enum uf_status uf_robust_halve(struct uf_robust *robust, size_t row, bool *known,
                               struct uf_error *err);

/* robust_grid.c: a row's design whose allowance holds what half the spacing changes in it too, where
   that is known. */
struct uf_case uf_robust_allowing(const struct uf_robust *r, size_t row);

#endif
