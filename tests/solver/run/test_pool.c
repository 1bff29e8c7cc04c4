#include "solver/run/pool.h"
#include "tests/runs.h"

#include <string.h>
#include <time.h>

enum { JOBS = 5 };

static void fill(struct uf_job *jobs, const struct uf_forcing *forcing)
{
    for (int i = 0; i < JOBS; i++) {
        jobs[i] = (struct uf_job){
            .design = runs_tank(), .forcing = forcing, .options = uf_run_defaults()};
        jobs[i].design.burial.cover_m = 0.8 + 0.2 * i;
    }
}

static void finish(struct uf_job *jobs, size_t threads)
{
    struct uf_pool *pool = NULL;
    struct uf_error err = {0};
    cr_assert(uf_pool_create(&pool, jobs, JOBS, threads, &err) == UF_OK, "%s", err.text);
    uf_pool_free(pool);
}

Test(pool, same_bits_on_any_number_of_threads)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_job one[JOBS];
    memset(one, 0, sizeof one);
    fill(one, forcing);
    finish(one, 1);
    for (size_t threads = 2; threads <= 4; threads += 2) {
        struct uf_job many[JOBS];
        memset(many, 0, sizeof many);
        fill(many, forcing);
        finish(many, threads);
        for (int i = 0; i < JOBS; i++) {
            cr_assert(one[i].status == UF_OK && many[i].status == UF_OK);
            one[i].summary.counters.cpu_s = many[i].summary.counters.cpu_s = 0.0;
            cr_expect_arr_eq(&one[i].summary, &many[i].summary, sizeof one[i].summary,
                             "job %d on %zu threads", i, threads);
            cr_expect(i == 0 || one[i].summary.crown.degC > one[i - 1].summary.crown.degC,
                      "deeper is warmer at the crown");
        }
    }
    uf_forcing_free(forcing);
    free(w);
}

Test(pool, processor_time_of_a_run_is_its_own)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_job jobs[JOBS];
    memset(jobs, 0, sizeof jobs);
    fill(jobs, forcing);
    const clock_t start = clock();
    finish(jobs, JOBS);
    const double all_s = (double)(clock() - start) / CLOCKS_PER_SEC;
    double sum_s = 0.0;
    for (int i = 0; i < JOBS; i++) {
        sum_s += jobs[i].summary.counters.cpu_s;
    }
    cr_expect(sum_s > 0.0 && sum_s <= all_s, "%g s of runs, %g s of the process", sum_s, all_s);
    uf_forcing_free(forcing);
    free(w);
}

Test(pool, progress_counts_days_of_what_is_run)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_job jobs[JOBS];
    struct uf_pool *pool = NULL;
    double before = 0.0;
    fill(jobs, forcing);
    jobs[1].skip = true;
    cr_assert(uf_pool_create(&pool, jobs, JOBS, 2, NULL) == UF_OK);
    while (uf_pool_done(pool) < JOBS) {
        const double now = uf_pool_progress(pool);
        cr_expect(now >= before && now <= 1.0);
        before = now;
    }
    cr_expect_eq(uf_pool_progress(pool), 1.0);
    uf_pool_free(pool);
    /* Nothing to do is done. */
    cr_assert(uf_pool_create(&pool, jobs, 0, 3, NULL) == UF_OK);
    cr_expect(uf_pool_done(pool) == 0 && uf_pool_progress(pool) == 1.0);
    uf_pool_free(pool);
    uf_pool_free(NULL);
    uf_forcing_free(forcing);
    free(w);
}

Test(pool, skipped_and_failing_jobs_leave_the_others_alone)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_job jobs[JOBS];
    fill(jobs, forcing);
    jobs[1].skip = true;
    jobs[2].design.ground.layers[0].spec.thermal.k_thawed_W_mK = -1.0;
    finish(jobs, 2);
    cr_expect(!jobs[1].done);
    cr_expect(jobs[2].status == UF_E_RANGE && strstr(jobs[2].err.text, "conductivit") != NULL, "%s",
              jobs[2].err.text);
    cr_expect(jobs[0].status == UF_OK && jobs[3].status == UF_OK && jobs[4].status == UF_OK);
    uf_forcing_free(forcing);
    free(w);
}

Test(pool, stop_ends_every_job)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_job jobs[JOBS];
    struct uf_pool *pool = NULL;
    fill(jobs, forcing);
    cr_assert(uf_pool_create(&pool, jobs, JOBS, 1, NULL) == UF_OK);
    uf_pool_stop(pool);
    uf_pool_free(pool);
    cr_expect(jobs[JOBS - 1].status == UF_E_STOPPED);
    uf_forcing_free(forcing);
    free(w);
}

Test(pool, thinned_record_is_each_seventh_day_of_the_whole_one)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_job jobs[JOBS];
    fill(jobs, forcing);
    for (int i = 0; i < JOBS; i++) {
        jobs[i].skip = i > 1;
    }
    jobs[1].design = jobs[0].design;
    jobs[0].keep_every = 1;
    jobs[1].keep_every = 7;
    finish(jobs, 2);
    const struct uf_record *whole = jobs[0].record;
    const struct uf_record *thin = jobs[1].record;
    cr_assert(whole != NULL && thin != NULL);
    cr_assert_eq(whole->nt, RUNS_DAYS);
    cr_assert_eq(thin->nt, RUNS_DAYS / 7 + 1);
    const size_t cells = whole->nz * whole->nx;
    for (size_t k = 0; k < thin->nt; k++) {
        cr_expect(thin->time_day[k] == whole->time_day[7 * k]);
        cr_expect(thin->frost_depth_m[k] == whole->frost_depth_m[7 * k]);
        cr_expect_arr_eq(thin->temperature_degC + k * cells,
                         whole->temperature_degC + 7 * k * cells, cells * sizeof(float));
    }
    cr_expect(jobs[0].summary.frost_undisturbed_m == jobs[1].summary.frost_undisturbed_m,
              "the extremes see every day");
    uf_record_free(jobs[0].record);
    uf_record_free(jobs[1].record);
    uf_forcing_free(forcing);
    free(w);
}
