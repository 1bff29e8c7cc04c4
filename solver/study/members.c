#include "members.h"

#include "solver/time/lanes.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

struct work {
    struct uf_members_input *input;
    bool bases; /* the bases of tasks are in hand, not the tasks */
    atomic_size_t next;
    pthread_mutex_t telling;
    atomic_bool no_memory; /* of a thread's lanes */
};

/* What a thread has in hand: a wave of tasks of one section, as many as there are lanes. They set out
   together and stay in step; mixed with those of the next section each would fill half of the lanes. */
struct hand {
    struct work *work;
    size_t from, to, busy, starting;
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
                               struct start *start, struct hand *hand, struct uf_lanes *lanes,
                               struct uf_error *err)
{
    struct uf_run *run = NULL;
    struct uf_run_options options = hand->work->input->options;
    options.frost_m = task->frost_m;
    options.start_degC = start->T_degC;
    options.n_start = start->n;
    options.beside_K = task->base != NULL ? task->base->beside_K : NULL;
    options.n_beside = options.beside_K != NULL ? task->base->n : 0;
    options.lent = options.beside_K != NULL ? &task->base->matrices : NULL;
    options.season.lanes = task->design->ground.water_moves ? NULL : lanes;
    hand->starting++;
    enum uf_status status = uf_run_create(&run, task->design, task->winters[winter], &options, err);
    if (status == UF_OK && start->T_degC == NULL) {
        status = keep_start(start, run, err);
    }
    hand->starting--;
    while (lanes != NULL && hand->starting > 0) {
        uf_lanes_yield(lanes);
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
        some = some || (task->wanted[w] && task->winters[w] != NULL);
    }
    return some;
}

static void run_task(struct hand *hand, struct uf_lanes *lanes, size_t at)
{
    struct work *work = hand->work;
    const struct uf_members_input *in = work->input;
    struct uf_members_task *task = &in->tasks[at];
    struct start start = {NULL, 0};
    const bool some = is_wanted(task, in);
    for (size_t w = 0; some && w < in->n_winters; w++) {
        const bool starts = start.T_degC == NULL && task->winters[w] != NULL;
        if (in->stop != NULL && in->stop()) {
            break;
        }
        if (task->winters[w] == NULL || !(task->wanted[w] || starts)) {
            continue;
        }
        task->statuses[w] = run_case(task, w, &start, hand, lanes, &task->errs[w]);
        task->done[w] = task->wanted[w] && task->statuses[w] != UF_E_STOPPED;
        if (task->done[w] && in->told != NULL) {
            (void)pthread_mutex_lock(&work->telling);
            in->told(in->payload, at, w);
            (void)pthread_mutex_unlock(&work->telling);
        }
    }
    free(start.T_degC);
}

void uf_members_base_clear(struct uf_members_base *base)
{
    free(base->beside_K);
    uf_startup_matrices_free(&base->matrices);
    *base = (struct uf_members_base){.beside_K = NULL};
}

/* What a design settles to more than its column of undisturbed ground; one that cannot be run leaves nothing. */
static void settle_base(struct uf_members_base *base, const struct uf_members_input *in)
{
    struct uf_run *run = NULL;
    struct uf_run_options options = in->options;
    options.frost_m = base->frost_m;
    options.kept = &base->matrices;
    if (base->design == NULL || base->winter == NULL ||
        uf_run_create(&run, base->design, base->winter, &options, NULL) != UF_OK) {
        return;
    }
    size_t n = 0;
    const double *beside_K = uf_run_startup_beside(run, &n);
    base->beside_K = beside_K != NULL ? calloc(n + 1, sizeof *base->beside_K) : NULL;
    if (base->beside_K != NULL) {
        memcpy(base->beside_K, beside_K, n * sizeof *beside_K);
        base->n = n;
    }
    uf_run_free(run);
}

/* The bases of tasks that are wanted; each by the first task that has it. */
static void take_bases(struct work *work)
{
    const struct uf_members_input *in = work->input;
    for (;;) {
        const size_t i = atomic_fetch_add(&work->next, 1);
        if (i >= in->n_tasks || (in->stop != NULL && in->stop())) {
            return;
        }
        struct uf_members_base *base = in->tasks[i].base;
        bool mine = base != NULL && is_wanted(&in->tasks[i], in);
        if (mine) {
            (void)pthread_mutex_lock(&work->telling);
            mine = !base->tried;
            base->tried = true;
            (void)pthread_mutex_unlock(&work->telling);
        }
        if (mine) {
            settle_base(base, in);
        }
    }
}

/* The next wave; false: there are no more. */
static bool take_wave(struct hand *hand)
{
    struct work *work = hand->work;
    const struct uf_members_input *in = work->input;
    const size_t most = in->lanes ? UF_LANES : 1;
    (void)pthread_mutex_lock(&work->telling);
    size_t to = atomic_load(&work->next);
    hand->from = to;
    for (size_t wanted = 0; to < in->n_tasks && wanted < most; to++) {
        if (in->tasks[to].base != in->tasks[hand->from].base) {
            break;
        }
        wanted += is_wanted(&in->tasks[to], in);
    }
    hand->to = to;
    atomic_store(&work->next, to);
    (void)pthread_mutex_unlock(&work->telling);
    return hand->to > hand->from;
}

/* Tasks until there are no more; lanes NULL: alone. */
static void take_tasks(void *data, struct uf_lanes *lanes)
{
    struct hand *hand = data;
    for (;;) {
        if (hand->from < hand->to) {
            hand->busy++;
            run_task(hand, lanes, hand->from++);
            hand->busy--;
        } else if (hand->busy > 0) {
            uf_lanes_yield(lanes);
        } else if (!take_wave(hand)) {
            return;
        }
    }
}

static void *work_on(void *data)
{
    struct work *work = data;
    struct hand hand = {.work = work};
    if (work->bases) {
        take_bases(work);
    } else if (!work->input->lanes) {
        take_tasks(&hand, NULL);
    } else if (uf_lanes_run(take_tasks, &hand, NULL) != UF_OK) {
        atomic_store(&work->no_memory, true);
    }
    return NULL;
}

/* Every thread works until nothing is left; one is enough, or must be where no more can be had. */
static void work_together(struct work *work, size_t most)
{
    pthread_t *threads = calloc(most + 1, sizeof *threads);
    size_t n = 0;
    atomic_init(&work->next, 0);
    while (most > 1 && threads != NULL && n < most &&
           pthread_create(&threads[n], NULL, work_on, work) == 0) {
        n++;
    }
    if (n == 0) {
        (void)work_on(work);
    }
    for (size_t i = 0; i < n; i++) {
        (void)pthread_join(threads[i], NULL);
    }
    free(threads);
}

enum uf_status uf_members_run(struct uf_members_input *input, struct uf_error *err)
{
    struct work work = {.input = input, .bases = true};
    const size_t most = input->threads < input->n_tasks ? input->threads : input->n_tasks;
    if (pthread_mutex_init(&work.telling, NULL) != 0) {
        return uf_fail(err, UF_E_MEMORY, "no lock for the threads");
    }
    work_together(&work, most);
    work.bases = false;
    work_together(&work, most);
    (void)pthread_mutex_destroy(&work.telling);
    return atomic_load(&work.no_memory) ? uf_fail(err, UF_E_MEMORY, "out of memory for lanes")
                                        : UF_OK;
}
