#include "cli/command.h"
#include "cli/tell/assumed.h"
#include "cli/tell/faults.h"
#include "cli/tell/outcome.h"
#include "cli/tell/spent.h"
#include "io/result/result_file.h"
#include "io/text/show.h"
#include "winters.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char HOW[] =
    "every winter on file, one after the other, through real autumns and summers; each "
    "stretch of ten starts from the mean year and has the year before it as a lead-in";

/* One record of all winters' series, in order of time. */
static enum uf_status join(struct uf_record **out, const struct uf_every *every,
                           struct uf_error *err)
{
    size_t times = 0;
    size_t at = 0;
    const struct uf_record *first = NULL;
    *out = NULL;
    for (size_t i = 0; i < every->n; i++) {
        if (every->winters[i].record != NULL) {
            first = first == NULL ? every->winters[i].record : first;
            times += every->winters[i].record->nt;
        }
    }
    if (first == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the series");
    }
    const struct uf_record_size size = {times, first->nz, first->nx, first->ny, first->n_probes};
    const enum uf_status status = uf_record_create(out, &size, UF_KEEP_SERIES, err);
    for (size_t i = 0; i < every->n && status == UF_OK; i++) {
        struct uf_record *part = every->winters[i].record;
        if (part != NULL) {
            uf_record_copy(*out, at, part);
            at += part->nt;
        }
    }
    return status;
}

/* What came of each winter beside its index in the result's list. */
static void add_outcomes(struct uf_result *result, const struct uf_every *every)
{
    for (size_t i = 0; i < every->n; i++) {
        for (size_t k = 0; k < result->n_winters; k++) {
            if (result->winters[k].year == every->winters[i].year) {
                result->winters[k].frost_m = every->winters[i].summary.frost_undisturbed_m;
                result->winters[k].water_min_degC = every->winters[i].summary.water.degC;
            }
        }
    }
}

static enum uf_status keep(const struct uf_winters *w, const struct uf_site_run *run,
                           const struct uf_choice *statics, const struct uf_arguments *args,
                           struct uf_error *err)
{
    struct uf_result result;
    struct uf_outcome_lists lists;
    struct uf_record *record = NULL;
    enum uf_status status = join(&record, w->every, err);
    if (status != UF_OK) {
        return status;
    }
    cJSON *json = cJSON_CreateObject();
    uf_winters_answer(json, w, false);
    char *text = uf_outcome_text(json);
    uf_outcome_result(&result, &lists, run, args);
    result.record = record;
    result.summary = w->every->winters[w->worst].summary;
    result.summary_json = text;
    if (statics != NULL) {
        result.uplift_factor = statics->uplift.highest.factor_submerged;
    }
    result.n_days = 0; /* the record has the weather */
    result.design_index_degC_day = NAN;
    (void)snprintf(lists.winter_text, sizeof lists.winter_text, "%s", HOW);
    add_outcomes(&result, w->every);
    status = uf_result_file_write(args->output, &result, err);
    cJSON_free(text);
    uf_outcome_lists_free(&lists);
    uf_record_free(record);
    return status;
}

/* One or two sentences that can be read aloud. */
static void show_sentence(const struct uf_winters *w, enum uf_units units)
{
    double deepest_m = 0.0;
    char limits[120] = "";
    char text[300];
    for (size_t i = 0; i < w->every->n; i++) {
        deepest_m = fmax(deepest_m, w->every->winters[i].summary.frost_undisturbed_m);
    }
    if (w->limits.winters > 0) {
        (void)snprintf(limits, sizeof limits, " Every limit is met in %zu of them%s",
                       w->limits.winters - w->limits.any,
                       w->limits.any > 0 ? ", NOT in the others." : ".");
    }
    (void)snprintf(text, sizeof text, "In %zu winters on file frost goes down to %s at most.%s",
                   w->every->n, UF_TEXT(LENGTH, units, deepest_m), limits);
    uf_show_text(stdout, 0, text);
}

static enum uf_status tell(const struct uf_winters *w, const struct uf_arguments *args,
                           struct uf_error *err)
{
    if (args->json) {
        cJSON *answer = cJSON_CreateObject();
        uf_answer_text(answer, "name", w->design.name);
        uf_assumed_answer(answer, &w->design, true);
        uf_answer_text(answer, "winter", HOW);
        uf_winters_answer(answer, w, args->verbose);
        return uf_answer_print(answer, err);
    }
    uf_show_heading(stdout, w->design.name[0] != '\0' ? w->design.name : "The run");
    uf_assumed_show(&w->design, true, args->units);
    show_sentence(w, args->units);
    (void)putchar('\n');
    uf_show_line(stdout, "winter", "%s", HOW);
    (void)putchar('\n');
    uf_winters_show(w, args, true);
    if (args->verbose) {
        uf_spent_show("run", w->simulated_days, w->cpu_s);
    }
    uf_spent_show_file(args->output);
    uf_show_text(stdout, 0, uf_outcome_cautions);
    return UF_OK;
}

int uf_winters_simulate(const struct uf_site_run *run, const struct uf_arguments *args)
{
    const struct uf_case *design = &run->site->design;
    struct uf_error err = {0};
    struct uf_winters *w = NULL;
    struct uf_choice statics = {.buildable = true};
    char part[1200];
    /* Weights may be unknown where only heat was asked for. */
    const bool judged =
        uf_case_has_tank(design) && uf_choice_static(&statics, design, NULL) == UF_OK;
    (void)snprintf(part, sizeof part, "%s.winters", args->output != NULL ? args->output : "");
    enum uf_status status = uf_winters_run(&w, run, design, judged ? &statics : NULL,
                                           args->output != NULL ? part : NULL, args, &err);
    if (status == UF_OK && args->output != NULL) {
        status = keep(w, run, judged ? &statics : NULL, args, &err);
    }
    if (status == UF_OK) {
        status = tell(w, args, &err);
    }
    const int code = status != UF_OK ? uf_faults_error(args, args->operands[0], &err)
                                     : (w->limits.any == 0 ? UF_EXIT_DONE : UF_EXIT_LIMIT);
    uf_winters_free(w);
    return code;
}
