#include "cli/jobs.h"
#include "io/text/message_text.h"
#include "recommend.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The winter after the one designed for; none for a cycle, a sensor or a short record. */
static void find_rarer_winter(struct uf_recommend *r)
{
    struct uf_winter_choice winter = r->run.site->winter;
    if (r->run.weather->season == NULL) {
        return;
    }
    winter.return_years =
        uf_variant_rarer_years(winter.kind == UF_WINTER_RETURN ? winter.return_years : 1.0);
    winter.kind = UF_WINTER_RETURN;
    (void)uf_site_run_winter(&r->rarer_weather, &r->rarer_forcing, r->run.site, &winter, NULL);
}

enum uf_status uf_recommend_run_pending(struct uf_recommend *r, const struct uf_arguments *args,
                                        const char *what, struct uf_error *err)
{
    size_t n = 0;
    struct uf_job *jobs = uf_bank_pending(&r->choices->bank, &n);
    return n > 0 ? uf_jobs_run(jobs, n, args, what, err) : UF_OK;
}

static enum uf_status find_robust(struct uf_recommend *r, const struct uf_arguments *args,
                                  struct uf_error *err)
{
    struct uf_job kept = {.keep_every = 0};
    uf_jobs_keep(&kept, args);
    const struct uf_robust_input input = {.design = &r->run.site->design,
                                          .forcing = r->run.forcing,
                                          .rarer = r->rarer_forcing,
                                          .weather = &r->run.weather->weather,
                                          .options = r->run.options,
                                          .nominal = args->nominal,
                                          .at_once = uf_options_jobs(args),
                                          .keep_every = kept.keep_every,
                                          .keep_whole = kept.keep_whole};
    enum uf_status status = uf_robust_create(&r->robust, r->choices, &input, err);
    struct uf_job *jobs = NULL;
    size_t n = 1;
    while (status == UF_OK && n > 0) {
        status = uf_recommend_look_beside(r, args, err);
        if (status == UF_OK) {
            status = uf_robust_next(&jobs, &n, r->robust, err);
        }
        if (status == UF_OK && n > 0) {
            status = uf_jobs_run(jobs, n, args, "sensitivity cases", err);
        }
    }
    return status;
}

enum uf_status uf_recommend_search(struct uf_recommend *r, const struct uf_arguments *args,
                                   struct uf_error *err)
{
    const struct uf_choice_input input = {.design = &r->run.site->design,
                                          .forcing = r->run.forcing,
                                          .options = r->run.options,
                                          .every = args->all,
                                          .sure = !args->nominal};
    find_rarer_winter(r);
    enum uf_status status = uf_choice_create(&r->choices, &input, err);
    if (status == UF_OK) {
        status = uf_recommend_run_pending(r, args, "options", err);
    }
    if (status == UF_OK) {
        r->asked = r->choices->bank.asked;
        r->runs = r->choices->bank.n;
        status = uf_choice_judge(r->choices, err);
    }
    if (status == UF_OK) {
        status = find_robust(r, args, err);
    }
    if (status == UF_OK) {
        const long from = uf_robust_measure(r->robust)->from;
        r->shown = r->choices->pick >= 0 ? r->choices->pick
                   : from >= 0           ? from
                                         : r->choices->nearest;
    }
    return status;
}

const struct uf_summary *uf_recommend_checked(const struct uf_recommend *r)
{
    return &r->choices->bank.jobs[r->choices->rows[r->shown].screen].summary;
}

enum uf_status uf_recommend_winters(struct uf_recommend *r, const struct uf_arguments *args,
                                    const char *folder, struct uf_error *err)
{
    char keep[1200];
    if (args->seasons == NULL || strcmp(args->seasons, "every") != 0 || r->shown < 0) {
        return UF_OK;
    }
    (void)snprintf(keep, sizeof keep, "%s/winters.part", folder);
    return uf_winters_run(&r->winters, &r->run, &r->choices->designs[r->shown],
                          &r->choices->rows[r->shown], keep, args, err);
}

void uf_recommend_free(struct uf_recommend *r)
{
    for (size_t i = 0; i < UF_RECOMMEND_LOOKS; i++) {
        uf_record_free(r->jobs[i].record);
    }
    uf_winters_free(r->winters);
    uf_forcing_free(r->rarer_forcing);
    uf_site_weather_free(r->rarer_weather);
    uf_robust_free(r->robust);
    uf_choice_free(r->choices);
    uf_site_run_close(&r->run);
    memset(r, 0, sizeof *r);
}

const char *uf_recommend_governs(const struct uf_choice *row)
{
    if (!row->buildable) {
        return row->fault.key;
    }
    return row->verdict.governs < uf_limit_count ? uf_limits[row->verdict.governs].key : NULL;
}

const char *uf_recommend_governs_words(char *text, size_t size, const struct uf_choice *row,
                                       enum uf_units units)
{
    if (!row->buildable) {
        return uf_message_text(text, size, units, &row->fault.what);
    }
    return row->verdict.governs < uf_limit_count ? uf_limits[row->verdict.governs].label : "";
}
