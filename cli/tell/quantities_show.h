#ifndef UF_QUANTITIES_SHOW_H
#define UF_QUANTITIES_SHOW_H

#include "answer.h"
#include "cli/options.h"
#include "solver/works/grading.h"
#include "solver/works/quantities.h"

/* What the quantities command found, for JSON and for people. */
struct uf_quantities_found {
    const struct uf_site *site;
    struct uf_quantities quantities;
    bool graded; /* a grading was asked for */
    struct uf_grading grading;
    double ballast_m3; /* concrete to add against uplift; NAN: not known */
    struct uf_pit_cost cost;
    bool ok;
};

void uf_quantities_show_answer(cJSON *object, const struct uf_quantities_found *found);
void uf_quantities_show_text(const struct uf_arguments *args,
                             const struct uf_quantities_found *found);

#endif
