#include "pool.h"

#include "plausible.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

struct uf_pool {
    struct uf_job *jobs;
    size_t n, n_threads;
    pthread_t *threads;
    atomic_size_t next, finished, days;
    atomic_bool stop;
    size_t all_days;
};

/* A job gives up when the pool or its own options say so. */
struct asker {
    const struct uf_pool *pool;
    struct uf_stop own;
};

static bool asked(void *who)
{
    const struct asker *asker = who;
    return atomic_load(&asker->pool->stop) ||
           (asker->own.asked != NULL && asker->own.asked(asker->own.who));
}

/* A copy, or NULL: then it is looked for again. */
static double *copy(const double *from, size_t n)
{
    double *to = from != NULL && n > 0 ? malloc(n * sizeof *to) : NULL;
    if (to != NULL) {
        memcpy(to, from, n * sizeof *to);
    }
    return to;
}

static void keep_found(struct uf_job *job, const struct uf_run *run)
{
    const double *found_K = uf_run_startup_found(run, &job->n_found);
    job->found_K = copy(found_K, job->n_found);
    job->n_start = uf_run_section(run)->heat->n;
    job->start_degC = copy(uf_season_T_degC(uf_run_season(run)), job->n_start);
}

static void run_job(struct uf_pool *pool, struct uf_job *job)
{
    struct uf_run *run = NULL;
    struct uf_run_options options = job->options;
    struct asker asker = {pool, options.season.stop};
    options.season.stop = (struct uf_stop){asked, &asker};
    job->status = uf_run_create(&run, &job->design, job->forcing, &options, &job->err);
    if (job->status == UF_OK && job->keep_found) {
        keep_found(job, run);
    }
    if (job->status == UF_OK && job->keep_every > 0) {
        const unsigned keep = UF_KEEP_USUAL | (job->keep_whole ? UF_KEEP_WHOLE : 0U);
        job->status = uf_run_record(&job->record, run, job->keep_every, keep, &job->err);
    }
    while (job->status == UF_OK && !uf_run_done(run)) {
        job->status = uf_run_next(run, &job->err);
        atomic_fetch_add(&pool->days, 1);
        if (job->status == UF_OK && job->keep_every > 0 &&
            (uf_run_day(run) - 1) % job->keep_every == 0) {
            uf_run_store(run, job->record, (uf_run_day(run) - 1) / job->keep_every);
        }
        if (job->status == UF_OK && job->day != NULL) {
            job->day(job->payload, run);
        }
    }
    if (job->status == UF_OK) {
        atomic_fetch_add(&pool->days, uf_run_days(run) - uf_run_day(run)); /* of a brief run */
        job->summary = uf_run_summary(run);
        job->status = uf_plausible(&job->summary, &job->design, job->forcing, &options, &job->err);
    }
    uf_run_free(run);
    job->done = true;
}

void uf_pool_forget(struct uf_job *job)
{
    uf_record_free(job->record);
    free(job->found_K);
    free(job->start_degC);
    job->record = NULL;
    job->found_K = job->start_degC = NULL;
}

static void *work(void *argument)
{
    struct uf_pool *pool = argument;
    for (;;) {
        const size_t at = atomic_fetch_add(&pool->next, 1);
        if (at >= pool->n) {
            return NULL;
        }
        struct uf_job *job = &pool->jobs[at];
        if (atomic_load(&pool->stop) && !job->skip) {
            job->status = uf_fail(&job->err, UF_E_STOPPED, "interrupted");
        } else if (!job->skip) {
            run_job(pool, job);
        }
        atomic_fetch_add(&pool->finished, 1);
    }
}

enum uf_status uf_pool_create(struct uf_pool **out, struct uf_job *jobs, size_t n, size_t threads,
                              struct uf_error *err)
{
    struct uf_pool *pool = calloc(1, sizeof *pool);
    const size_t wanted = threads < 1 ? 1 : (threads > n ? n : threads);
    *out = NULL;
    if (pool != NULL) {
        pool->threads = calloc(wanted + 1, sizeof *pool->threads);
    }
    if (pool == NULL || pool->threads == NULL) {
        free(pool);
        return uf_fail(err, UF_E_MEMORY, "out of memory for %zu runs", n);
    }
    pool->jobs = jobs;
    pool->n = n;
    for (size_t i = 0; i < n; i++) {
        pool->all_days += jobs[i].skip ? 0 : jobs[i].forcing->season.days;
    }
    while (pool->n_threads < wanted &&
           pthread_create(&pool->threads[pool->n_threads], NULL, work, pool) == 0) {
        pool->n_threads++;
    }
    if (pool->n_threads == 0 && n > 0) {
        uf_pool_free(pool);
        return uf_fail(err, UF_E_MEMORY, "no thread could be started");
    }
    *out = pool;
    return UF_OK;
}

size_t uf_pool_done(struct uf_pool *pool)
{
    return atomic_load(&pool->finished);
}

double uf_pool_progress(struct uf_pool *pool)
{
    return pool->all_days == 0 ? 1.0 : (double)atomic_load(&pool->days) / (double)pool->all_days;
}

void uf_pool_stop(struct uf_pool *pool)
{
    atomic_store(&pool->stop, true);
}

void uf_pool_free(struct uf_pool *pool)
{
    if (pool != NULL) {
        for (size_t i = 0; i < pool->n_threads; i++) {
            (void)pthread_join(pool->threads[i], NULL);
        }
        free(pool->threads);
        free(pool);
    }
}
