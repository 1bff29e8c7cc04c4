#include "members.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

struct work {
    struct uf_members_input *input;
    atomic_size_t next;
    pthread_mutex_t telling;
};

/* The state that a run begins from, kept for others of the same section. */
struct start {
    double *T_degC; /* NULL: not known yet */
    size_t n;
};

static enum uf_status keep_start(struct start *start, const struct uf_run *run,
                                 struct uf_error *err)
{
    start->n = uf_run_section(run)->heat->n;
    start->T_degC = calloc(start->n + 1, sizeof *start->T_degC);
    if (start->T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a start");
    }
    memcpy(start->T_degC, uf_season_T_degC(uf_run_season(run)), start->n * sizeof *start->T_degC);
    return UF_OK;
}

/* A case from its start to its last day; of one that is not wanted the start alone. */
static enum uf_status run_case(const struct uf_members_task *task, size_t winter,
                               struct start *start, const struct uf_members_input *in,
                               struct uf_error *err)
{
    struct uf_run *run = NULL;
    struct uf_run_options options = in->options;
    options.frost_m = task->frost_m;
    options.start_degC = start->T_degC;
    options.n_start = start->n;
    enum uf_status status = uf_run_create(&run, task->design, in->winters[winter], &options, err);
    if (status == UF_OK && start->T_degC == NULL) {
        status = keep_start(start, run, err);
    }
    while (status == UF_OK && task->wanted[winter] && !uf_run_done(run)) {
        status = uf_run_next(run, err);
    }
    if (status == UF_OK) {
        task->summaries[winter] = uf_run_summary(run);
    }
    uf_run_free(run);
    return status;
}

static bool is_wanted(const struct uf_members_task *task, const struct uf_members_input *in)
{
    bool some = false;
    for (size_t w = 0; w < in->n_winters && task->design != NULL; w++) {
        some = some || (task->wanted[w] && in->winters[w] != NULL);
    }
    return some;
}

static void run_task(struct work *work, size_t at)
{
    const struct uf_members_input *in = work->input;
    struct uf_members_task *task = &in->tasks[at];
    struct start start = {NULL, 0};
    const bool some = is_wanted(task, in);
    for (size_t w = 0; some && w < in->n_winters; w++) {
        const bool starts = start.T_degC == NULL && in->winters[w] != NULL;
        if (in->stop != NULL && in->stop()) {
            break;
        }
        if (in->winters[w] == NULL || !(task->wanted[w] || starts)) {
            continue;
        }
        task->statuses[w] = run_case(task, w, &start, in, &task->errs[w]);
        task->done[w] = task->wanted[w] && task->statuses[w] != UF_E_STOPPED;
        if (task->done[w] && in->told != NULL) {
            (void)pthread_mutex_lock(&work->telling);
            in->told(in->payload, at, w);
            (void)pthread_mutex_unlock(&work->telling);
        }
    }
    free(start.T_degC);
}

static void *work_on(void *data)
{
    struct work *work = data;
    for (;;) {
        const size_t i = atomic_fetch_add(&work->next, 1);
        if (i >= work->input->n_tasks) {
            return NULL;
        }
        run_task(work, i);
    }
}

enum uf_status uf_members_run(struct uf_members_input *input, struct uf_error *err)
{
    struct work work = {.input = input};
    const size_t most = input->threads < input->n_tasks ? input->threads : input->n_tasks;
    atomic_init(&work.next, 0);
    if (pthread_mutex_init(&work.telling, NULL) != 0) {
        return uf_fail(err, UF_E_MEMORY, "no lock for the threads");
    }
    if (most <= 1) {
        (void)work_on(&work);
        (void)pthread_mutex_destroy(&work.telling);
        return UF_OK;
    }
    pthread_t *threads = calloc(most, sizeof *threads);
    size_t n = 0;
    while (threads != NULL && n < most && pthread_create(&threads[n], NULL, work_on, &work) == 0) {
        n++;
    }
    for (size_t i = 0; i < n; i++) {
        (void)pthread_join(threads[i], NULL);
    }
    free(threads);
    (void)pthread_mutex_destroy(&work.telling);
    return n > 0 ? UF_OK : uf_fail(err, UF_E_MEMORY, "no thread could be started");
}
