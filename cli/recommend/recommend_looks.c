#include "cli/jobs.h"
#include "recommend.h"
#include "solver/choice/ends.h"

/* The closer looks at what is recommended. */

static struct uf_job *begin(struct uf_recommend *r, size_t look, const struct uf_case *design)
{
    struct uf_job *job = &r->jobs[look];
    *job = (struct uf_job){.design = *design, .forcing = r->run.forcing, .options = r->run.options};
    return job;
}

/* The other integrator, in the plane section: the reference takes minutes with slices. It starts where
   the fast one's start-up ends: that would take it longer than the season. */
static void begin_reference(struct uf_recommend *r, const struct uf_case *design, size_t row)
{
    const struct uf_case plane = uf_ends_plane(design);
    const struct uf_choice *own = &r->choices->rows[row];
    const struct uf_job *screen = own->ran ? &r->choices->bank.jobs[own->screen] : NULL;
    struct uf_run_options *options = &begin(r, UF_RECOMMEND_REFERENCE, &plane)->options;
    options->season.integrator = options->season.integrator == UF_BDF ? UF_FAST : UF_BDF;
    options->brief = true; /* its coldest water and deepest frost are compared */
    if (options->season.integrator == UF_BDF && screen != NULL) {
        options->start_degC = screen->start_degC;
        options->n_start = screen->start_degC != NULL ? screen->n_start : 0;
    }
}

static void begin_all(struct uf_recommend *r, size_t row, const struct uf_arguments *args)
{
    const struct uf_case *design = &r->choices->designs[row];
    struct uf_case bare = *design;
    bare.board.present = false;
    bare.board.thickness_m = 0.0;
    begin_reference(r, design, row);
    uf_jobs_keep(begin(r, UF_RECOMMEND_KEPT, design), args);
    struct uf_job *without = begin(r, UF_RECOMMEND_BARE, &bare);
    uf_jobs_keep(without, args);
    without->skip = !uf_case_has_board(design);
    struct uf_job *inflow = begin(r, UF_RECOMMEND_INFLOW, design);
    inflow->options.inflow = true;
    inflow->skip = !uf_case_has_inflow(design);
    r->looking = true;
}

/* Puts a look among the runs of the search. One that these have made already, without keeping what the
   look keeps, is left to be run by itself. */
static enum uf_status ask(struct uf_recommend *r, size_t look, struct uf_error *err)
{
    struct uf_bank *bank = &r->choices->bank;
    struct uf_job *job = &r->jobs[look];
    size_t cell = 0;
    const enum uf_status status =
        uf_bank_ask(&cell, bank, &job->design, job->forcing, &job->options, err);
    if (status == UF_OK && cell >= bank->begun) {
        bank->jobs[cell].keep_every = job->keep_every;
        bank->jobs[cell].keep_whole = job->keep_whole;
        r->cells[look] = cell + 1;
        job->skip = true;
    }
    return status;
}

enum uf_status uf_recommend_look_beside(struct uf_recommend *r, const struct uf_arguments *args,
                                        struct uf_error *err)
{
    const long pick = r->choices->pick;
    struct uf_robust_grid known;
    enum uf_status status = UF_OK;
    if (pick < 0 || r->looking || !uf_robust_grid(&known, r->robust, (size_t)pick)) {
        return UF_OK;
    }
    begin_all(r, (size_t)pick, args);
    for (size_t k = 0; k < UF_RECOMMEND_LOOKS && status == UF_OK; k++) {
        if (k != UF_RECOMMEND_KEPT && !r->jobs[k].skip) {
            status = ask(r, k, err);
        }
    }
    return status;
}

/* The job becomes the look's; it counts among the search's. */
static void take(struct uf_job *look, struct uf_job *job)
{
    *look = *job;
    look->skip = true;
    job->record = NULL;
}

static enum uf_status take_all(struct uf_recommend *r, struct uf_error *err)
{
    struct uf_job *jobs = r->choices->bank.jobs;
    const struct uf_choice *own = &r->choices->rows[r->shown];
    for (size_t k = 0; k < UF_RECOMMEND_LOOKS; k++) {
        if (r->cells[k] > 0) {
            take(&r->jobs[k], &jobs[r->cells[k] - 1]);
        }
        if (r->cells[k] > 0 && r->jobs[k].status != UF_OK) {
            *err = r->jobs[k].err;
            return r->jobs[k].status;
        }
    }
    if (own->ran && jobs[own->run].record != NULL) { /* kept where that run has slices */
        take(&r->jobs[UF_RECOMMEND_KEPT], &jobs[own->run]);
    }
    return UF_OK;
}

enum uf_status uf_recommend_look(struct uf_recommend *r, const struct uf_arguments *args,
                                 struct uf_error *err)
{
    if (r->shown < 0) {
        return UF_OK;
    }
    const size_t row = (size_t)r->shown;
    if (!r->looking) {
        begin_all(r, row, args);
    }
    enum uf_status status = uf_robust_look(r->robust, row, err);
    if (status == UF_OK) {
        status = uf_recommend_run_pending(r, args, "sensitivity cases", err);
    }
    uf_robust_take(r->robust, row);
    r->n_variants = uf_robust_cases(r->variants, r->robust, row);
    if (status == UF_OK) {
        status = take_all(r, err);
    }
    if (status == UF_OK) {
        status = uf_jobs_run(r->jobs, UF_RECOMMEND_LOOKS, args, "closer looks", err);
    }
    if (status == UF_OK) {
        status = uf_jobs_first_failure(r->jobs, UF_RECOMMEND_LOOKS, err);
    }
    if (status == UF_OK) {
        r->bare = (struct uf_choice){.buildable = true};
        status = uf_choice_static(&r->bare, &r->jobs[UF_RECOMMEND_BARE].design, err);
    }
    return status;
}
