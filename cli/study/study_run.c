#include "cli/folder.h"
#include "cli/progress.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "io/signals.h"
#include "io/text/show.h"
#include "solver/choice/option.h"
#include "solver/study/members.h"
#include "solver/time/lanes.h"
#include "study_bases.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* A share of a study: the cases of a range of numbers, batch by batch. A batch is the groups of
   several members of one station and variant, option by option. */

/* Cases of a batch, as far as it has more groups than one; groups at most. */
enum { BATCH_CASES = 1024, BATCH_GROUPS = 64 };

struct working {
    struct uf_study *study;
    const struct uf_arguments *args;
    struct uf_study_part_kind kind;
    FILE *part;
    bool *have; /* [to - from] */
    size_t from, to, n_done, n_have, n_failed;
    struct uf_error err; /* of writing */
    struct uf_progress progress;
    double *values;                  /* of the case being written */
    struct uf_study_weather weather; /* of the station in hand */
    /* the batch in hand */
    struct uf_study_group *groups; /* [most] */
    size_t n_groups, most;
    struct uf_members_task *tasks; /* [options][n_groups] */
    struct uf_study_bases bases;   /* of the variant in hand, where it runs in lanes */
};

char *uf_study_run_part(char *path, size_t size, const struct uf_study *s,
                        const struct uf_study_shard *shard)
{
    if (shard->part != NULL) {
        return uf_folder_path(path, size, s->folder, shard->part);
    }
    (void)snprintf(path, size, "%s/part_%05zu_of_%05zu.txt", s->folder, shard->at, shard->of);
    return path;
}

static void note_row(void *payload, const struct uf_study_row *row)
{
    struct working *w = payload;
    if (row->id >= w->from && row->id < w->to && !w->have[row->id - w->from]) {
        w->have[row->id - w->from] = true;
        w->n_have++;
    }
}

static void append(struct working *w, const struct uf_study_row *row)
{
    if (w->err.code == UF_OK) {
        (void)uf_study_part_append(w->part, &w->kind, row, &w->err);
    }
    w->have[row->id - w->from] = true;
    w->n_done++;
    w->n_failed += row->status == UF_STUDY_FAILED;
    uf_progress_update(&w->progress, (double)(w->n_have + w->n_done), (double)(w->to - w->from));
}

static void append_failure(struct working *w, size_t id, enum uf_study_status status,
                           const char *message)
{
    struct uf_study_row row = {.id = id, .status = status, .values = w->values};
    for (size_t i = 0; i < w->kind.n_values; i++) {
        w->values[i] = NAN;
    }
    (void)snprintf(row.message, sizeof row.message, "%.*s", UF_STUDY_MESSAGE - 1, message);
    append(w, &row);
}

/* Is the case of a group wanted: in the range, and not done? */
static bool wants(const struct working *w, size_t first, size_t option, size_t winter)
{
    const size_t id = first + option * w->study->winters + winter;
    return id >= w->from && id < w->to && !w->have[id - w->from];
}

static void fail_wanted(struct working *w, size_t first, size_t option, size_t winter,
                        enum uf_study_status status, const char *message)
{
    if (wants(w, first, option, winter)) {
        append_failure(w, first + option * w->study->winters + winter, status, message);
    }
}

static double number_of(const struct uf_study_group *g, const struct uf_study_column *column,
                        const struct uf_choice *row, const struct uf_verdict *verdict,
                        const struct uf_summary *summary, size_t winter)
{
    switch (column->kind) {
    case UF_STUDY_MARGIN:
        return verdict->margin[column->limit];
    case UF_STUDY_COST:
        return row != NULL && row->cost.complete ? row->cost.total : (double)NAN;
    case UF_STUDY_INDEX:
        return g->weather->winters[winter]->season != NULL
                   ? g->weather->winters[winter]->season->got_index_degC_day
                   : (double)NAN;
    case UF_STUDY_FACT:
        break;
    }
    if (column->day) {
        const long day = uf_facts_day(column->fact, summary, 0);
        return day != UF_NO_DAY ? (double)day : (double)NAN;
    }
    return uf_facts_known(column->fact, summary, 0) ? uf_facts_value(column->fact, summary, 0)
                                                    : (double)NAN;
}

/* Called by whichever thread ran the case. */
static void tell_case(void *payload, size_t at, size_t winter)
{
    struct working *w = payload;
    const struct uf_study *s = w->study;
    const struct uf_members_task *task = &w->tasks[at];
    const struct uf_study_group *g = &w->groups[at % w->n_groups];
    const size_t option = at / w->n_groups;
    const size_t id = g->first + option * s->winters + winter;
    if (task->statuses[winter] != UF_OK) {
        append_failure(w, id, UF_STUDY_FAILED, task->errs[winter].text);
        return;
    }
    const struct uf_choice *row = uf_study_group_row(g, option);
    const struct uf_summary *summary = &task->summaries[winter];
    const struct uf_limit_facts bare = {.design = task->design, .summary = summary};
    const struct uf_verdict verdict =
        row != NULL ? uf_choice_verdict(row, task->design, summary) : uf_limit_verdict(&bare);
    struct uf_study_row out = {
        .id = id, .status = verdict.ok ? UF_STUDY_DONE : UF_STUDY_LIMIT, .values = w->values};
    for (size_t i = 0; i < s->n_columns; i++) {
        w->values[i] = number_of(g, &s->columns[i], row, &verdict, summary, winter);
    }
    append(w, &out);
}

/* Tells what cannot be run of an option: its group or its place cannot be, or a winter. */
static void tell_hopeless(struct working *w, const struct uf_study_group *g, size_t option)
{
    const struct uf_choice *row = g->err.code == UF_OK ? uf_study_group_row(g, option) : NULL;
    char message[UF_STUDY_MESSAGE] = "";
    if (row != NULL && !row->buildable) {
        (void)snprintf(message, sizeof message, "%.80s: %.150s", row->fault.key,
                       row->fault.what.text);
    }
    for (size_t k = 0; k < w->study->winters; k++) {
        if (g->err.code != UF_OK) {
            fail_wanted(w, g->first, option, k, UF_STUDY_FAILED, g->err.text);
        } else if (g->forcings[k] == NULL) {
            fail_wanted(w, g->first, option, k,
                        w->study->plan->every ? UF_STUDY_NO_WINTER : UF_STUDY_FAILED,
                        g->weather->errs[k].text);
        } else if (message[0] != '\0') {
            fail_wanted(w, g->first, option, k, UF_STUDY_FAILED, message);
        }
    }
}

/* What is to be run of an option. */
static void set_task(struct working *w, const struct uf_study_group *g, size_t option,
                     struct uf_members_task *task)
{
    tell_hopeless(w, g, option);
    task->design = NULL;
    if (g->err.code != UF_OK) {
        return;
    }
    const struct uf_choice *row = uf_study_group_row(g, option);
    task->winters = (const struct uf_forcing *const *)g->forcings;
    const double frost_m = w->bases.frost_m[option];
    task->frost_m = frost_m > 0.0 ? frost_m : uf_study_group_frost_m(g, option);
    task->design = row == NULL || row->buildable ? uf_study_group_design(g, option) : NULL;
    task->base = uf_study_group_lanes(w->study) ? &w->bases.rows[option] : NULL;
    for (size_t k = 0; k < w->study->winters; k++) {
        task->wanted[k] = g->forcings[k] != NULL && wants(w, g->first, option, k);
        task->done[k] = false;
        task->errs[k].text[0] = '\0';
    }
}

/* Runs the groups that are open, and closes them. */
static enum uf_status run_batch(struct working *w)
{
    const struct uf_study *s = w->study;
    for (size_t i = 0; i < s->options * w->n_groups; i++) {
        set_task(w, &w->groups[i % w->n_groups], i / w->n_groups, &w->tasks[i]);
    }
    struct uf_members_input input = {.tasks = w->tasks,
                                     .n_tasks = s->options * w->n_groups,
                                     .n_winters = s->winters,
                                     .threads = uf_options_jobs(w->args),
                                     .lanes = uf_study_group_lanes(s),
                                     .options = uf_run_defaults(),
                                     .stop = uf_signals_stopped,
                                     .told = tell_case,
                                     .payload = w};
    const enum uf_status status = uf_members_run(&input, &w->err);
    for (size_t g = 0; g < w->n_groups; g++) {
        uf_study_group_close(&w->groups[g], s);
    }
    w->n_groups = 0;
    return status;
}

static bool has_work(const struct working *w, size_t first)
{
    for (size_t o = 0; o < w->study->options; o++) {
        for (size_t k = 0; k < w->study->winters; k++) {
            if (wants(w, first, o, k)) {
                return true;
            }
        }
    }
    return false;
}

static enum uf_status run_all(struct working *w)
{
    const struct uf_study *s = w->study;
    const size_t group = s->options * s->winters;
    size_t variant = SIZE_MAX; /* station and variant, as one number */
    enum uf_status status = UF_OK;
    for (size_t first = w->from / group * group;
         first < w->to && status == UF_OK && w->err.code == UF_OK && !uf_signals_stopped();
         first += group) {
        const size_t here = first / (group * s->members);
        if (!has_work(w, first)) {
            continue;
        }
        if (w->n_groups == w->most || (w->n_groups > 0 && here != variant)) {
            status = run_batch(w);
        }
        if (here != variant) {
            uf_study_bases_take(&w->bases, s, first, &w->weather);
        }
        variant = here;
        uf_study_group_open(&w->groups[w->n_groups++], s, first, true, &w->weather);
    }
    if (w->n_groups > 0) { /* after a stop: closes them */
        const enum uf_status last = run_batch(w);
        status = status == UF_OK ? last : status;
    }
    return w->err.code != UF_OK ? w->err.code : status;
}

static bool make_task(struct uf_members_task *task, size_t winters)
{
    task->wanted = calloc(winters, sizeof *task->wanted);
    task->summaries = calloc(winters, sizeof *task->summaries);
    task->statuses = calloc(winters, sizeof *task->statuses);
    task->errs = calloc(winters, sizeof *task->errs);
    task->done = calloc(winters, sizeof *task->done);
    return task->wanted != NULL && task->summaries != NULL && task->statuses != NULL &&
           task->errs != NULL && task->done != NULL;
}

/* Groups of a batch: as many as keep lanes busy. */
static size_t batch_of(const struct uf_study *s)
{
    const size_t fits = BATCH_CASES / (s->options * s->winters);
    const size_t most = fits < UF_LANES ? UF_LANES : fits > BATCH_GROUPS ? BATCH_GROUPS : fits;
    return uf_study_group_lanes(s) ? most : 1;
}

/* Room for a batch; false: no memory. */
static bool make_room(struct working *w)
{
    const struct uf_study *s = w->study;
    w->most = batch_of(s);
    w->have = calloc(w->to - w->from + 1, sizeof *w->have);
    w->values = calloc(s->n_columns + 1, sizeof *w->values);
    w->groups = calloc(w->most, sizeof *w->groups);
    w->tasks = calloc(w->most * s->options, sizeof *w->tasks);
    bool good = w->have != NULL && w->values != NULL && w->groups != NULL && w->tasks != NULL &&
                uf_study_group_weather_room(&w->weather, s) && uf_study_bases_room(&w->bases, s);
    for (size_t g = 0; good && g < w->most; g++) {
        good = uf_study_group_room(&w->groups[g], s);
    }
    for (size_t i = 0; good && i < w->most * s->options; i++) {
        good = make_task(&w->tasks[i], s->winters);
    }
    return good;
}

static void free_room(struct working *w)
{
    for (size_t i = 0; w->tasks != NULL && i < w->most * w->study->options; i++) {
        free(w->tasks[i].wanted);
        free(w->tasks[i].summaries);
        free(w->tasks[i].statuses);
        free(w->tasks[i].errs);
        free(w->tasks[i].done);
    }
    for (size_t g = 0; w->groups != NULL && g < w->most; g++) {
        uf_study_group_free(&w->groups[g], w->study);
    }
    uf_study_bases_free(&w->bases, w->study);
    uf_study_group_weather_free(&w->weather, w->study);
    free(w->groups);
    free(w->tasks);
    free(w->have);
    free(w->values);
}

static void tell_run(const struct working *w, const struct uf_study_shard *shard, double cpu_s)
{
    if (w->args->json && !w->args->quiet) {
        cJSON *answer = cJSON_CreateObject();
        uf_answer_count(answer, "cases", (long)(w->to - w->from));
        uf_answer_count(answer, "there", (long)w->n_have);
        uf_answer_count(answer, "run", (long)w->n_done);
        uf_answer_count(answer, "failed", (long)w->n_failed);
        (void)uf_answer_print(answer, NULL);
    } else if (!w->args->quiet) {
        (void)printf("%zu cases of shard %zu/%zu: %zu were there, %zu run, %zu of them failed; "
                     "%.1f s of CPU\n",
                     w->to - w->from, shard->at, shard->of, w->n_have, w->n_done, w->n_failed,
                     cpu_s);
    }
}

int uf_study_run(struct uf_study *s, const struct uf_study_shard *shard,
                 const struct uf_arguments *args)
{
    char path[1100];
    struct working w = {.study = s,
                        .args = args,
                        .kind = {s->key, s->n_columns},
                        .from = s->cases * (shard->at - 1) / shard->of,
                        .to = s->cases * shard->at / shard->of};
    struct uf_error err = {0};
    const clock_t begun = clock();
    enum uf_status status =
        make_room(&w) ? UF_OK : uf_fail(&err, UF_E_MEMORY, "out of memory for a study");
    if (status == UF_OK) {
        status = uf_study_part_open(&w.part, uf_study_run_part(path, sizeof path, s, shard),
                                    &w.kind, note_row, &w, &err);
    }
    if (status == UF_OK) {
        uf_progress_begin(&w.progress, args, "cases");
        status = run_all(&w);
        err = w.err;
        uf_progress_end(&w.progress);
    }
    if (w.part != NULL && fclose(w.part) != 0 && status == UF_OK) {
        status = uf_fail(&err, UF_E_FILE, "%s: could not be written: is the disk full?", path);
    }
    if (status == UF_OK) {
        tell_run(&w, shard, (double)(clock() - begun) / CLOCKS_PER_SEC);
    }
    free_room(&w);
    if (status != UF_OK) {
        return uf_faults_error(args, args->operands[1], &err);
    }
    return uf_signals_stopped() ? UF_EXIT_INTERRUPTED : UF_EXIT_DONE;
}
