#ifndef UF_POOL_H
#define UF_POOL_H

#include "run.h"

/* Many runs at once, one a thread. The caller owns the jobs and may look at those that
   are done; the pool only moves them. No output: ask how many are done. */
struct uf_job {
    struct uf_case design;            /* what to run */
    const struct uf_forcing *forcing; /* borrowed */
    struct uf_run_options options;
    size_t keep_every; /* series and fields of each so many'th day; 0: none */
    bool keep_whole;   /* fields of every slice too */
    bool skip;         /* leave it alone */
    /* Called by the job's thread after each day, or NULL: a run in which several winters
       are told apart. */
    void (*day)(void *payload, struct uf_run *run);
    void *payload;
    bool keep_found; /* what its start-up found: uf_run_startup_found, and the start itself */
    /* results */
    double *found_K; /* [n_found] NULL unless kept; uf_pool_forget frees it, */
    size_t n_found;
    double *start_degC; /* [n_start] this, every node as the season begins, */
    size_t n_start;
    struct uf_summary summary;
    struct uf_record *record; /* and this */
    enum uf_status status;
    struct uf_error err;
    bool done;
};

/* Frees what a job kept: its record, what its start-up found, its start. */
void uf_pool_forget(struct uf_job *job);

struct uf_pool;

/* Starts up to `threads` threads on jobs [n], in order. jobs is borrowed until
   uf_pool_free. Errors: UF_E_MEMORY when not even one thread could be started. */
enum uf_status uf_pool_create(struct uf_pool **out, struct uf_job *jobs, size_t n, size_t threads,
                              struct uf_error *err);

/* Jobs finished (done, failed or skipped) so far. */
size_t uf_pool_done(struct uf_pool *pool);

/* Days simulated so far over all days of all jobs that are not skipped, 0 to 1. */
double uf_pool_progress(struct uf_pool *pool);

/* Asks the threads to stop: jobs in hand end with UF_E_STOPPED within a step, in
   their start-up too. */
void uf_pool_stop(struct uf_pool *pool);

/* Waits for the threads and frees the pool, not the jobs. NULL is fine. */
void uf_pool_free(struct uf_pool *pool);

#endif
