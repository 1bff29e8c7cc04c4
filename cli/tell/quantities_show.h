#ifndef UF_QUANTITIES_SHOW_H
#define UF_QUANTITIES_SHOW_H

#include "answer.h"
#include "cli/options.h"
#include "solver/statics/uplift.h"
#include "solver/works/cost.h"
#include "solver/works/grading.h"
#include "solver/works/quantities.h"

/* The pit and what is ordered for it, for JSON and for people. */
struct uf_quantities_found {
    const struct uf_site *site;
    struct uf_quantities quantities;
    bool graded; /* a grading was asked for */
    struct uf_grading grading;
    bool weighed; /* the weights of the soils are known: */
    struct uf_uplift uplift;
    double ballast_m3; /* concrete to add against uplift; NAN: not known */
    struct uf_cost cost;
    bool ok; /* the pit's slope is allowed, and the sieve list meets its grading */
};

/* Errors as uf_quantities and uf_grading_check. */
enum uf_status uf_quantities_show_find(struct uf_quantities_found *out, const struct uf_site *site,
                                       struct uf_error *err);

/* Of the pit and the grading alone: what is judged of it. */
void uf_quantities_show_answer_pit(cJSON *object, const struct uf_quantities_found *found);
void uf_quantities_show_pit(const struct uf_arguments *args,
                            const struct uf_quantities_found *found);

/* All that is ordered. */
void uf_quantities_show_answer(cJSON *object, const struct uf_quantities_found *found);
void uf_quantities_show_text(const struct uf_arguments *args,
                             const struct uf_quantities_found *found);

#endif
