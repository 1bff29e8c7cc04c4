#ifndef UF_JOBS_H
#define UF_JOBS_H

#include "options.h"
#include "solver/run/pool.h"

/* Runs the jobs on --jobs threads with progress on the terminal; an interrupt stops them.
   what names them in the progress line. Errors: UF_E_STOPPED, UF_E_MEMORY, a job's
   too; any other failure of a job stays in it. */
enum uf_status uf_jobs_run(struct uf_job *jobs, size_t n, const struct uf_arguments *args,
                           const char *what, struct uf_error *err);

/* Has the job keep what --thin and --fields ask for: each day's sections unless they say else. */
void uf_jobs_keep(struct uf_job *job, const struct uf_arguments *args);

/* The first job that failed, copied to err; UF_OK when none did. */
enum uf_status uf_jobs_first_failure(const struct uf_job *jobs, size_t n, struct uf_error *err);

#endif
