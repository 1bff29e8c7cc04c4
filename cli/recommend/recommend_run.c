#include "cli/jobs.h"
#include "io/text/message_text.h"
#include "recommend.h"
#include "solver/choice/ends.h"

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

/* Runs what the bank waits for. */
static enum uf_status run_pending(struct uf_recommend *r, const struct uf_arguments *args,
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
        status = uf_robust_next(&jobs, &n, r->robust, err);
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
        status = run_pending(r, args, "options", err);
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

static struct uf_job *add_job(struct uf_recommend *r, const struct uf_case *design)
{
    struct uf_job *job = &r->jobs[r->n_jobs++];
    *job = (struct uf_job){.design = *design, .forcing = r->run.forcing, .options = r->run.options};
    return job;
}

/* The closer looks, in their order. */
static void add_jobs(struct uf_recommend *r, const struct uf_case *design,
                     const struct uf_case *bare, const struct uf_arguments *args)
{
    const struct uf_case plane =
        uf_ends_plane(design); /* the reference takes minutes with slices */
    add_job(r, &plane)->options.season.integrator =
        r->run.options.season.integrator == UF_BDF ? UF_FAST : UF_BDF;
    uf_jobs_keep(add_job(r, design), args);
    struct uf_job *without = add_job(r, bare);
    uf_jobs_keep(without, args);
    without->skip = !uf_case_has_board(design);
    struct uf_job *inflow = add_job(r, design);
    inflow->options.inflow = true;
    inflow->skip = !uf_case_has_inflow(design);
}

/* The reference integrator starts where the fast one's start-up ends: it would take longer for that
   than for the season. */
static enum uf_status share_start(struct uf_recommend *r, struct uf_error *err)
{
    struct uf_job *job = &r->jobs[UF_RECOMMEND_REFERENCE];
    struct uf_run *run = NULL;
    if (job->options.season.integrator != UF_BDF) {
        return UF_OK;
    }
    enum uf_status status = uf_run_create(&run, &job->design, job->forcing, &r->run.options, err);
    const size_t n = status == UF_OK ? uf_run_section(run)->heat->n : 0;
    r->start_degC = status == UF_OK ? calloc(n, sizeof *r->start_degC) : NULL;
    if (status == UF_OK && r->start_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a start");
    }
    if (status == UF_OK) {
        memcpy(r->start_degC, uf_season_T_degC(uf_run_season(run)), n * sizeof *r->start_degC);
        job->options.start_degC = r->start_degC;
        job->options.n_start = n;
    }
    uf_run_free(run);
    return status;
}

/* The search has run what is shown, and kept its fields where that run has slices. */
static void take_kept(struct uf_recommend *r)
{
    struct uf_job *own = &r->choices->bank.jobs[r->choices->rows[r->shown].run];
    struct uf_job *kept = &r->jobs[UF_RECOMMEND_KEPT];
    if (r->choices->rows[r->shown].ran && own->record != NULL) {
        *kept = *own;
        kept->skip = true;
        own->record = NULL;
    }
}

enum uf_status uf_recommend_look(struct uf_recommend *r, const struct uf_arguments *args,
                                 struct uf_error *err)
{
    if (r->shown < 0) {
        return UF_OK;
    }
    const struct uf_case *design = &r->choices->designs[r->shown];
    struct uf_case bare = *design;
    bare.board.present = false;
    bare.board.thickness_m = 0.0;
    add_jobs(r, design, &bare, args);
    enum uf_status status = uf_robust_look(r->robust, (size_t)r->shown, err);
    if (status == UF_OK) {
        status = run_pending(r, args, "sensitivity cases", err);
    }
    uf_robust_take(r->robust, (size_t)r->shown);
    r->n_variants = uf_robust_cases(r->variants, r->robust, (size_t)r->shown);
    take_kept(r);
    if (status == UF_OK) {
        status = share_start(r, err);
    }
    if (status == UF_OK) {
        status = uf_jobs_run(r->jobs, r->n_jobs, args, "closer looks", err);
    }
    if (status == UF_OK) {
        status = uf_jobs_first_failure(r->jobs, r->n_jobs, err);
    }
    if (status == UF_OK) {
        r->bare = (struct uf_choice){.buildable = true};
        status = uf_choice_static(&r->bare, &bare, err);
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
    for (size_t i = 0; i < r->n_jobs; i++) {
        uf_record_free(r->jobs[i].record);
    }
    free(r->start_degC);
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
