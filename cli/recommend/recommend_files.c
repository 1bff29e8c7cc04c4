#include "cli/folder.h"
#include "cli/tell/outcome.h"
#include "io/picture/plot.h"
#include "io/result/result_file.h"
#include "io/signals.h"
#include "recommend.h"
#include "recommend_drawing.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The arrays a result borrows that the recommendation does not already hold. */
struct borrowed {
    struct uf_outcome_lists lists;
    struct uf_result_choice *choices;
    struct uf_result_case cases[UF_VARIANTS + 1];
    struct uf_result_level levels[UF_UPLIFT_SWEEP];
    char *json;
};

static double number_of(const char *key, const struct uf_choices_result *choices, size_t row)
{
    const struct uf_choice_fact *fact = uf_choice_facts;
    while (fact->key != NULL && strcmp(fact->key, key) != 0) {
        fact++;
    }
    return fact->key != NULL ? fact->number(choices, row) : (double)NAN;
}

#define NUMBER(key, name, unit, words) .key = number_of(#key, r->choices, i),

static void fill_choices(struct uf_result *result, struct borrowed *b, const struct uf_recommend *r,
                         bool nominal)
{
    b->choices = calloc(r->choices->n + 1, sizeof *b->choices);
    for (size_t i = 0; b->choices != NULL && i < r->choices->n; i++) {
        const struct uf_choice *row = &r->choices->rows[i];
        const char *governs = uf_recommend_governs(row);
        struct uf_result_choice *out = &b->choices[i];
        *out = (struct uf_result_choice){UF_RESULT_CHOICE_LIST(NUMBER).ok = row->ok,
                                         .robust = row->trial == UF_CHOICE_ROBUST && !nominal};
        (void)snprintf(out->governs, sizeof out->governs, "%s", governs != NULL ? governs : "");
        result->n_choices = i + 1;
    }
    result->choices = b->choices;
    result->pick = r->choices->pick;
}

static void fill_case(struct uf_result_case *out, const char *name, size_t limit,
                      const struct uf_verdict *verdict)
{
    *out = (struct uf_result_case){.margin = verdict->margin[limit] / uf_limits[limit].scale,
                                   .ok = verdict->ok};
    (void)snprintf(out->name, sizeof out->name, "%s", name);
    (void)snprintf(out->limit, sizeof out->limit, "%s", uf_limits[limit].key);
    if (verdict->governs < uf_limit_count) {
        (void)snprintf(out->governs, sizeof out->governs, "%s", uf_limits[verdict->governs].key);
    }
}

/* The decisive margin in the design case and in each sensitivity case. */
static void fill_cases(struct uf_result *result, struct borrowed *b, const struct uf_recommend *r)
{
    const struct uf_verdict *own = &r->choices->rows[r->shown].verdict;
    const size_t limit = uf_robust_decisive(own, r->variants, r->n_variants);
    if (limit == uf_limit_count || r->n_variants == 0) {
        return;
    }
    fill_case(&b->cases[0], "design case", limit, own);
    for (size_t i = 0; i < r->n_variants; i++) {
        fill_case(&b->cases[i + 1], r->variants[i].row->name, limit, &r->variants[i].verdict);
    }
    result->cases = b->cases;
    result->n_cases = r->n_variants + 1;
}

static void fill_levels(struct uf_result *result, struct borrowed *b,
                        const struct uf_uplift *uplift)
{
    for (size_t i = 0; i < UF_UPLIFT_SWEEP; i++) {
        b->levels[i] = (struct uf_result_level){uplift->sweep[i].water_m, uplift->sweep[i].factor};
    }
    result->levels = b->levels;
    result->n_levels = UF_UPLIFT_SWEEP;
}

static void fill(struct uf_result *result, struct borrowed *b, const struct uf_recommend *r,
                 const struct uf_arguments *args)
{
    uf_outcome_result(result, &b->lists, &r->run, args);
    fill_choices(result, b, r, args->nominal);
    if (r->shown >= 0) {
        const struct uf_job *kept = &r->jobs[UF_RECOMMEND_KEPT];
        const struct uf_job *bare = &r->jobs[UF_RECOMMEND_BARE];
        uf_result_design_fill(&result->design, &kept->design);
        result->record = kept->record;
        result->summary = kept->summary;
        result->without_board = bare->done ? bare->record : NULL;
        result->summary_without_board = bare->summary;
        fill_cases(result, b, r);
        fill_levels(result, b, &r->choices->rows[r->shown].uplift);
        result->uplift_factor = r->choices->rows[r->shown].uplift.highest.factor_submerged;
        cJSON *answer = cJSON_CreateObject();
        uf_outcome_answer(answer, &kept->design, &kept->summary, false);
        b->json = uf_outcome_text(answer);
        result->summary_json = b->json;
    }
}

/* Pictures of an earlier run that this one does not draw again would lie beside numbers
   that they do not show: they go. */
static enum uf_status draw_pictures(const struct uf_result *result, const struct uf_arguments *args,
                                    const char *folder, struct uf_error *err)
{
    const struct uf_plot_look look = {.us = args->units == UF_UNITS_US};
    enum uf_status status = UF_OK;
    for (const struct uf_plot *plot = uf_plot_table; plot->name != NULL; plot++) {
        char name[64];
        char path[1200];
        if (plot->format != NULL) {
            continue;
        }
        if (uf_signals_stopped()) {
            return uf_fail(err, UF_E_STOPPED, "interrupted");
        }
        (void)snprintf(name, sizeof name, "%s.png", plot->name);
        (void)uf_folder_path(path, sizeof path, folder, name);
        if (status == UF_OK && plot->has(result)) {
            status = uf_plot_draw(path, plot, result, &look, err);
        }
        if (status != UF_OK || !plot->has(result)) {
            (void)remove(path);
        }
    }
    return status;
}

enum uf_status uf_recommend_write(const struct uf_recommend *r, const struct uf_arguments *args,
                                  const char *folder, struct uf_error *err)
{
    struct uf_result result;
    struct borrowed b = {0};
    struct uf_error why = {0};
    char path[1200];
    enum uf_status status = UF_OK;
    fill(&result, &b, r, args);
    (void)uf_folder_path(path, sizeof path, folder, "result.h5");
    if (result.record != NULL) {
        status = uf_result_file_write(path, &result, err);
    } else {
        (void)remove(path); /* of the study that this one replaces */
    }
    enum uf_status drawn = status == UF_OK ? draw_pictures(&result, args, folder, &why) : status;
    if (status == UF_OK && drawn != UF_E_STOPPED) {
        const bool fine = drawn == UF_OK;
        const enum uf_status sheet =
            uf_recommend_drawing_write(r, args->units, folder, fine ? &why : NULL);
        drawn = fine ? sheet : drawn;
    }
    if (status == UF_OK && drawn == UF_E_STOPPED) {
        status = uf_fail(err, drawn, "%s", why.text);
    }
    if (status == UF_OK) {
        status = uf_recommend_summary(
            r, args->units, uf_folder_path(path, sizeof path, folder, "summary.csv"), err);
    }
    if (status == UF_OK) {
        status = uf_recommend_report(r, args, &result,
                                     uf_folder_path(path, sizeof path, folder, "report.html"), err);
    }
    if (status == UF_OK && drawn != UF_OK) {
        status = uf_fail(err, drawn, "%s; what needs no picture is in %.150s", why.text, folder);
    }
    cJSON_free(b.json);
    free(b.choices);
    uf_outcome_lists_free(&b.lists);
    return status;
}
