#include "jobs.h"

#include "io/signals.h"
#include "progress.h"
#include "solver/run/run_cost.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>
#include <time.h>

/* Longest wait between two looks at the pool, ns; short at first so that a short run ends at
   once. */
static const long LOOK_LEAST_NS = 200000;
static const long LOOK_MOST_NS = 20000000;

/* What ends sooner need not be foretold, and a forecast costs as much as some days of a run. */
static const double FORETELL_AFTER_S = 0.5;

/* Of one cell and right-hand side, s: measured with links, soils and start-up in it. */
static const double UPDATE_S = 8e-9;

/* How long the jobs will take. Options differ little: a few are looked at. */
static double estimate_s(const struct uf_job *jobs, size_t n, size_t threads)
{
    enum { LOOKED_AT = 3 };
    const size_t step = n / LOOKED_AT + 1;
    double updates = 0.0;
    size_t looked = 0;
    size_t waiting = 0;
    for (size_t i = 0; i < n; i++) {
        waiting += !jobs[i].skip;
    }
    for (size_t i = 0; i < n && !uf_signals_stopped(); i += step) {
        const double one =
            jobs[i].skip ? (double)NAN
                         : uf_run_cost_updates(&jobs[i].design, jobs[i].forcing, &jobs[i].options);
        if (isfinite(one)) {
            updates += one;
            looked++;
        }
    }
    const double at_once = fmin((double)threads, (double)waiting);
    return looked > 0 ? UPDATE_S * updates / (double)looked * (double)waiting / at_once : 0.0;
}

enum uf_status uf_jobs_run(struct uf_job *jobs, size_t n, const struct uf_arguments *args,
                           const char *what, struct uf_error *err)
{
    struct uf_pool *pool = NULL;
    struct uf_progress progress;
    uf_progress_begin(&progress, args, what);
    const enum uf_status status = uf_pool_create(&pool, jobs, n, uf_options_jobs(args), err);
    if (status != UF_OK) {
        return status;
    }
    long look_ns = LOOK_LEAST_NS;
    bool foretold = args->quiet;
    while (uf_pool_done(pool) < n) {
        const struct timespec wait = {.tv_nsec = look_ns};
        (void)nanosleep(&wait, NULL);
        look_ns = look_ns < LOOK_MOST_NS ? look_ns * 2 : look_ns;
        if (!foretold && uf_progress_elapsed_s(&progress) > FORETELL_AFTER_S) {
            uf_progress_foretell(&progress, estimate_s(jobs, n, uf_options_jobs(args)));
            foretold = true;
        }
        uf_progress_update(&progress, uf_pool_progress(pool) * (double)n, (double)n);
        if (uf_signals_stopped()) {
            uf_pool_stop(pool);
        }
    }
    uf_progress_end(&progress);
    uf_pool_free(pool);
    if (uf_signals_stopped()) {
        return uf_fail(err, UF_E_STOPPED, "interrupted");
    }
    /* An option that the solver gives up is judged so; one that memory gave out on is not known. */
    for (size_t i = 0; i < n; i++) {
        if (!jobs[i].skip && jobs[i].status == UF_E_MEMORY) {
            return uf_jobs_first_failure(&jobs[i], 1, err);
        }
    }
    return UF_OK;
}

enum uf_status uf_jobs_first_failure(const struct uf_job *jobs, size_t n, struct uf_error *err)
{
    for (size_t i = 0; i < n; i++) {
        if (!jobs[i].skip && jobs[i].status != UF_OK) {
            if (err != NULL) {
                *err = jobs[i].err;
            }
            return jobs[i].status;
        }
    }
    return UF_OK;
}

void uf_jobs_keep(struct uf_job *job, const struct uf_arguments *args)
{
    job->keep_every = args->thin > 0 ? args->thin : 1;
    job->keep_whole = args->fields != NULL && strcmp(args->fields, "all") == 0;
}
