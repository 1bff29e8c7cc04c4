#include "cli/jobs.h"
#include "recommend.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum uf_status uf_recommend_search(struct uf_recommend *r, const struct uf_arguments *args,
                                   struct uf_error *err)
{
    const struct uf_case *design = &r->run.site->design;
    enum uf_status status =
        uf_choice_create(&r->choices, design, r->run.forcing, &r->run.options, args->all, err);
    if (status == UF_OK) {
        status = uf_jobs_run(r->choices->jobs, r->choices->n, args, "choices", err);
    }
    if (status == UF_OK) {
        status = uf_choice_judge(r->choices, err);
    }
    if (status == UF_OK) {
        r->shown = r->choices->pick >= 0 ? r->choices->pick : r->choices->nearest;
    }
    return status;
}

static struct uf_job *add_job(struct uf_recommend *r, const struct uf_case *design)
{
    struct uf_job *job = &r->jobs[r->n_jobs++];
    *job = (struct uf_job){.design = *design, .forcing = r->run.forcing, .options = r->run.options};
    return job;
}

enum uf_status uf_recommend_look(struct uf_recommend *r, const struct uf_arguments *args,
                                 struct uf_error *err)
{
    if (r->shown < 0) {
        return UF_OK;
    }
    const struct uf_case *design = &r->choices->jobs[r->shown].design;
    struct uf_case bare = *design;
    bare.board.present = false;
    bare.board.thickness_m = 0.0;
    const size_t every = uf_options_thin(args);
    add_job(r, design)->keep_every = every;
    struct uf_job *without = add_job(r, &bare);
    without->keep_every = every;
    without->skip = !uf_case_has_board(design);
    add_job(r, design)->options.season.integrator =
        r->run.options.season.integrator == UF_BDF ? UF_FAST : UF_BDF;
    struct uf_job *inflow = add_job(r, design);
    inflow->options.inflow = true;
    inflow->skip = !uf_case_has_inflow(design);
    for (size_t i = 0; i < UF_VARIANTS; i++) {
        uf_recommend_add_variant(r, design, i);
    }
    enum uf_status status = uf_jobs_run(r->jobs, r->n_jobs, args, "closer looks", err);
    if (status == UF_OK) {
        status = uf_jobs_first_failure(r->jobs, r->n_jobs, err);
    }
    if (status == UF_OK) {
        status = uf_recommend_judge_variants(r->variants, r->n_variants, err);
    }
    if (status == UF_OK) {
        r->bare = (struct uf_choice){.buildable = true};
        status = uf_choice_static(&r->bare, &bare, err);
    }
    return status;
}

enum uf_status uf_recommend_winters(struct uf_recommend *r, const struct uf_arguments *args,
                                    const char *folder, struct uf_error *err)
{
    char keep[1200];
    if (args->seasons == NULL || strcmp(args->seasons, "every") != 0 || r->shown < 0) {
        return UF_OK;
    }
    (void)snprintf(keep, sizeof keep, "%s/winters.part", folder);
    return uf_winters_run(&r->winters, &r->run, &r->choices->jobs[r->shown].design,
                          &r->choices->rows[r->shown], keep, args, err);
}

void uf_recommend_free(struct uf_recommend *r)
{
    for (size_t i = 0; i < r->n_jobs; i++) {
        uf_record_free(r->jobs[i].record);
    }
    uf_winters_free(r->winters);
    uf_forcing_free(r->rarer_forcing);
    uf_site_weather_free(r->rarer_weather);
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

/* A choice that cannot be built, in words that hold in any unit. */
static const char *fault_words(const char *key)
{
    static const struct {
        const char *key, *words;
    } rows[] = {
        {"board.thickness", "the board would break the surface"},
        {"board.beyond_tank", "the board would reach past what is computed (grid.width)"},
        {"board.skirt", "the skirt would reach below what is computed (grid.depth)"},
        {"burial.cover", "the tank would lie below what is computed (grid.depth)"},
        {"anchors.deadmen.top", "the deadmen would lie above the tank's widest level"},
        {"anchors.deadmen.offset", "the deadmen would lie in the tank"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (strcmp(rows[i].key, key) == 0) {
            return rows[i].words;
        }
    }
    return "it has no room in what is computed";
}

const char *uf_recommend_governs_words(const struct uf_choice *row)
{
    if (!row->buildable) {
        return fault_words(row->fault.key);
    }
    return row->verdict.governs < uf_limit_count ? uf_limits[row->verdict.governs].label : "";
}
