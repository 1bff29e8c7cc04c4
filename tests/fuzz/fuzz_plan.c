#include "io/site/study_plan.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The plan of a study from any bytes: a plan within its bounds, or an error that says what is wrong. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool truth)
{
    if (!truth) {
        __builtin_trap();
    }
}

static void look(const struct uf_study_plan *plan)
{
    must(memchr(plan->site, '\0', sizeof plan->site) != NULL && plan->site[0] != '\0');
    must(plan->n_drawn <= UF_DRAW_MOST_LAWS && plan->members >= 1);
    must(isnan(plan->reliability_years) || plan->reliability_years > 0.0);
    must(plan->life_years > 0.0);
    for (size_t i = 0; i < plan->n_axes; i++) {
        must(plan->axes[i].n > 0 && plan->axes[i].key[0] != '\0');
    }
    for (size_t i = 0; i < plan->n_drawn; i++) {
        must(plan->drawn[i].key[0] != '\0');
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct uf_study_plan *plan = NULL;
    struct uf_error err = {0};
    char *text = malloc(size + 1);
    must(text != NULL);
    if (size > 0) {
        memcpy(text, data, size);
    }
    text[size] = '\0';
    const enum uf_status status = uf_study_plan_parse(&plan, "fuzz.yaml", text, &err);
    free(text);
    must((status == UF_OK) == (plan != NULL) && (status == UF_OK) == (err.text[0] == '\0'));
    if (plan != NULL) {
        look(plan);
    }
    uf_study_plan_free(plan);
    return 0;
}
