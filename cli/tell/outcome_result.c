#include "io/result/result_file.h"
#include "outcome.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double RETURN_YEARS[] = {10.0, 30.0, 50.0, 100.0};

void uf_outcome_statistics(struct uf_result *out, struct uf_outcome_lists *lists,
                           const struct uf_winter_list *list)
{
    lists->winters = calloc(list->n + 1, sizeof *lists->winters);
    for (size_t i = 0; lists->winters != NULL && i < list->n; i++) {
        lists->winters[i] = (struct uf_result_winter){
            .year = list->rows[i].year,
            .freezing_index_degC_day =
                list->rows[i].usable ? list->rows[i].freezing_index_degC_day : (double)NAN,
            .frost_m = NAN,
            .water_min_degC = NAN};
        out->n_winters = i + 1;
    }
    out->winters = lists->winters;
    for (size_t i = 0; i < sizeof RETURN_YEARS / sizeof RETURN_YEARS[0]; i++) {
        const double index = uf_winter_return_degC_day(list, RETURN_YEARS[i]);
        if (isfinite(index)) {
            lists->returns[out->n_returns++] = (struct uf_result_return){RETURN_YEARS[i], index};
        }
    }
    out->returns = lists->returns;
}

void uf_outcome_days(struct uf_result *out, struct uf_outcome_lists *lists,
                     const struct uf_forcing_weather *weather,
                     const struct uf_winter_mean_year *mean)
{
    lists->days = calloc(weather->days + 1, sizeof *lists->days);
    for (size_t i = 0; lists->days != NULL && i < weather->days; i++) {
        lists->days[i] =
            (struct uf_result_day){.time_day = (double)weather->start_day + (double)i + 0.5,
                                   .air_degC = weather->air_degC[i],
                                   .snow_m = weather->snow_m == NULL ? 0.0 : weather->snow_m[i],
                                   .mean_air_degC = NAN,
                                   .mean_snow_m = NAN};
        if (mean != NULL) {
            uf_winter_mean_day(mean, weather->start_day + (long)i, &lists->days[i].mean_air_degC,
                               &lists->days[i].mean_snow_m);
        }
        out->n_days = i + 1;
    }
    out->days = lists->days;
}

/* The arguments of --set, one a line; NULL where there are none. */
static char *join_changes(const struct uf_arguments *args)
{
    size_t size = 1;
    for (size_t i = 0; i < args->n_sets; i++) {
        size += strlen(args->sets[i].text) + 1;
    }
    char *text = args->n_sets > 0 ? calloc(size, 1) : NULL;
    size_t used = 0;
    for (size_t i = 0; text != NULL && i < args->n_sets; i++) {
        const size_t length = strlen(args->sets[i].text);
        memcpy(text + used, args->sets[i].text, length);
        for (size_t k = used; k < used + length; k++) {
            text[k] = text[k] == '\n' ? ' ' : text[k];
        }
        used += length;
        text[used++] = '\n';
    }
    return text;
}

char *uf_outcome_text(cJSON *answer)
{
    char *text = cJSON_PrintUnformatted(answer);
    cJSON_Delete(answer);
    return text;
}

void uf_outcome_result(struct uf_result *out, struct uf_outcome_lists *lists,
                       const struct uf_site_run *run, const struct uf_arguments *args)
{
    const struct uf_weather *record = run->weather->record;
    char hdf5[64];
    memset(lists, 0, sizeof *lists);
    uf_result_init(out);
    uf_result_design_fill(&out->design, &run->site->design);
    if (run->weather->winters != NULL) {
        uf_outcome_statistics(out, lists, run->weather->winters);
    }
    if (run->weather->season != NULL) {
        out->design_index_degC_day = run->weather->season->got_index_degC_day;
    }
    uf_outcome_days(out, lists, &run->weather->weather,
                    run->weather->has_mean ? &run->weather->mean : NULL);
    (void)snprintf(lists->title, sizeof lists->title, "%s", run->site->design.name);
    (void)snprintf(lists->version, sizeof lists->version, "%s", UF_VERSION);
    (void)snprintf(lists->libraries, sizeof lists->libraries, "%s; SUNDIALS CVODE; SuiteSparse KLU",
                   uf_result_file_library(hdf5, sizeof hdf5));
    (void)snprintf(lists->winter_text, sizeof lists->winter_text, "%s", run->weather->text.text);
    (void)snprintf(lists->station, sizeof lists->station, "%s%s%s",
                   record == NULL ? "yearly cycle" : record->station,
                   record == NULL || record->source[0] == '\0' ? "" : "; ",
                   record == NULL ? "" : record->source);
    out->title = lists->title;
    out->version = lists->version;
    out->libraries = lists->libraries;
    out->winter_text = lists->winter_text;
    out->station = lists->station;
    out->site_text = run->site->text;
    lists->changes = join_changes(args);
    out->site_changes = lists->changes;
    (void)snprintf(lists->command_line, sizeof lists->command_line, "%s", args->command_line);
    out->command_line = lists->command_line;
}

void uf_outcome_lists_free(struct uf_outcome_lists *lists)
{
    free(lists->winters);
    free(lists->days);
    free(lists->changes);
    memset(lists, 0, sizeof *lists);
}

enum uf_status uf_outcome_keep(const struct uf_site_run *run, const struct uf_job *job,
                               const struct uf_job *bare, const struct uf_uplift *uplift,
                               const struct uf_arguments *args, struct uf_error *err)
{
    struct uf_result result;
    struct uf_outcome_lists lists;
    cJSON *json = cJSON_CreateObject();
    uf_outcome_answer(json, &job->design, &job->summary, false);
    char *text = uf_outcome_text(json);
    uf_outcome_result(&result, &lists, run, args);
    result.summary_json = text;
    result.record = job->record;
    result.summary = job->summary;
    if (bare != NULL) {
        result.without_board = bare->record;
        result.summary_without_board = bare->summary;
    }
    if (uplift != NULL) {
        result.uplift_factor = uplift->highest.factor_submerged;
    }
    const enum uf_status status = uf_result_file_write(args->output, &result, err);
    cJSON_free(text);
    uf_outcome_lists_free(&lists);
    return status;
}
