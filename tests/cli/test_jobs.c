#include "cli/jobs.h"
#include "io/signals.h"
#include "tests/runs.h"

#include <signal.h>
#include <string.h>

enum { JOBS = 3 };

struct work {
    struct runs_weather *weather;
    struct uf_forcing *forcing;
    struct uf_job jobs[JOBS];
};

static void open_work(struct work *w)
{
    const struct uf_case d = runs_tank();
    w->weather = runs_weather_create(3.0, 14.0);
    w->forcing = runs_forcing(&d, w->weather);
    for (int i = 0; i < JOBS; i++) {
        w->jobs[i] =
            (struct uf_job){.design = d, .forcing = w->forcing, .options = uf_run_defaults()};
        w->jobs[i].design.burial.cover_m += 0.2 * i;
    }
}

static void close_work(struct work *w)
{
    uf_forcing_free(w->forcing);
    free(w->weather);
}

Test(jobs, all_are_done_when_it_returns)
{
    const struct uf_arguments args = {.quiet = true, .jobs = 2};
    struct work w;
    struct uf_error err = {0};
    open_work(&w);
    w.jobs[1].skip = true;
    cr_assert(uf_jobs_run(w.jobs, JOBS, &args, "runs", &err) == UF_OK, "%s", err.text);
    cr_expect(w.jobs[0].done && !w.jobs[1].done && w.jobs[2].done);
    cr_expect(w.jobs[2].summary.crown.degC > w.jobs[0].summary.crown.degC);
    cr_expect_eq(uf_jobs_first_failure(w.jobs, JOBS, &err), UF_OK);
    cr_expect_eq(uf_jobs_run(w.jobs, 0, &args, "nothing", &err), UF_OK);
    close_work(&w);
}

Test(jobs, a_failure_stays_in_its_job_and_the_first_is_told)
{
    const struct uf_arguments args = {.quiet = true, .jobs = 1};
    struct work w;
    struct uf_error err = {0};
    open_work(&w);
    w.jobs[1].design.ground.layers[0].spec.thermal.k_thawed_W_mK = -1.0;
    w.jobs[2].design.grid.finest_m = NAN;
    w.jobs[2].skip = true;
    cr_expect(uf_jobs_run(w.jobs, JOBS, &args, "runs", &err) == UF_OK, "%s", err.text);
    cr_expect_eq(w.jobs[0].status, UF_OK);
    cr_expect_eq(uf_jobs_first_failure(w.jobs, JOBS, &err), w.jobs[1].status);
    cr_expect(w.jobs[1].status != UF_OK);
    cr_expect_str_eq(err.text, w.jobs[1].err.text);
    cr_expect_eq(uf_jobs_first_failure(w.jobs, JOBS, NULL), w.jobs[1].status);
    close_work(&w);
}

Test(jobs, an_interrupt_stops_them)
{
    const struct uf_arguments args = {.quiet = true, .jobs = 1};
    struct work w;
    struct uf_error err = {0};
    open_work(&w);
    uf_signals_catch();
    cr_assert_eq(raise(SIGINT), 0);
    cr_assert(uf_signals_stopped());
    cr_expect_eq(uf_jobs_run(w.jobs, JOBS, &args, "runs", &err), UF_E_STOPPED);
    cr_expect_eq(w.jobs[JOBS - 1].status, UF_E_STOPPED);
    cr_expect(!w.jobs[JOBS - 1].done);
    close_work(&w);
}

/* What a result file keeps: each day's sections unless --thin and --fields ask for other. */
Test(jobs, keep_what_is_asked)
{
    struct uf_job job = {.keep_every = 0};
    struct uf_arguments args = {.thin = 0};
    uf_jobs_keep(&job, &args);
    cr_expect(job.keep_every == 1 && !job.keep_whole, "every day, sections alone");
    args.thin = 7;
    args.fields = "all";
    uf_jobs_keep(&job, &args);
    cr_expect(job.keep_every == 7 && job.keep_whole);
    args.fields = "sections";
    uf_jobs_keep(&job, &args);
    cr_expect(!job.keep_whole);
}
