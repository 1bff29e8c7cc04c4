#include "cli/folder.h"
#include "cli/progress.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "io/signals.h"
#include "io/text/show.h"
#include "solver/choice/option.h"
#include "solver/study/members.h"
#include "study.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* A share of a study: the cases of a range of numbers, group by group. A group is one station, variant
   and member: its site is read once, its weather is shared with the groups before it, and every
   option is started up once for all winters. */

struct working {
    struct uf_study *study;
    const struct uf_arguments *args;
    struct uf_study_part_kind kind;
    FILE *part;
    bool *have; /* [to - from] */
    size_t from, to, n_done, n_have, n_failed;
    struct uf_error err; /* of writing */
    struct uf_progress progress;
    double *values; /* of the case being written */
    /* weather of the station in hand */
    size_t station; /* SIZE_MAX: none */
    struct uf_site_weather **weather;
    struct uf_error *weather_err;
    /* the group in hand */
    size_t first; /* number of its first case */
    struct uf_site *site;
    struct uf_forcing **forcings;
    struct uf_choices_result *choices;
    struct uf_members_task *tasks;
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

/* Is the case of the group wanted: in the range, and not done? */
static bool wants(const struct working *w, size_t option, size_t winter)
{
    const size_t id = w->first + option * w->study->winters + winter;
    return id >= w->from && id < w->to && !w->have[id - w->from];
}

static void fail_group(struct working *w, const char *message)
{
    for (size_t o = 0; o < w->study->options; o++) {
        for (size_t k = 0; k < w->study->winters; k++) {
            if (wants(w, o, k)) {
                append_failure(w, w->first + o * w->study->winters + k, UF_STUDY_FAILED, message);
            }
        }
    }
}

static double number_of(const struct working *w, const struct uf_study_column *column,
                        const struct uf_choice *row, const struct uf_verdict *verdict,
                        const struct uf_summary *summary, size_t winter)
{
    switch (column->kind) {
    case UF_STUDY_MARGIN:
        return verdict->margin[column->limit];
    case UF_STUDY_COST:
        return row != NULL && row->cost.complete ? row->cost.total : (double)NAN;
    case UF_STUDY_INDEX:
        return w->weather[winter]->season != NULL ? w->weather[winter]->season->got_index_degC_day
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
static void tell_case(void *payload, size_t option, size_t winter)
{
    struct working *w = payload;
    const struct uf_study *s = w->study;
    const struct uf_members_task *task = &w->tasks[option];
    const size_t id = w->first + option * s->winters + winter;
    if (task->statuses[winter] != UF_OK) {
        append_failure(w, id, UF_STUDY_FAILED, task->errs[winter].text);
        return;
    }
    const struct uf_choice *row = w->choices != NULL ? &w->choices->rows[option] : NULL;
    const struct uf_summary *summary = &task->summaries[winter];
    const struct uf_limit_facts bare = {.design = task->design, .summary = summary};
    const struct uf_verdict verdict =
        row != NULL ? uf_choice_verdict(row, task->design, summary) : uf_limit_verdict(&bare);
    struct uf_study_row out = {
        .id = id, .status = verdict.ok ? UF_STUDY_DONE : UF_STUDY_LIMIT, .values = w->values};
    for (size_t i = 0; i < s->n_columns; i++) {
        w->values[i] = number_of(w, &s->columns[i], row, &verdict, summary, winter);
    }
    append(w, &out);
}

static void drop_weather(struct working *w)
{
    for (size_t k = 0; k < w->study->winters; k++) {
        uf_site_weather_free(w->weather[k]);
        w->weather[k] = NULL;
    }
    w->station = SIZE_MAX;
}

/* The weather of every winter at the group's station, kept for the next group. */
static void take_weather(struct working *w, size_t station)
{
    const struct uf_study *s = w->study;
    if (w->station == station && !uf_study_site_varies_weather(s)) {
        return;
    }
    drop_weather(w);
    for (size_t k = 0; k < s->winters; k++) {
        struct uf_winter_choice choice;
        const bool named = uf_winter_parse(s->winter_names[k], &choice);
        w->weather_err[k] = (struct uf_error){.code = UF_OK};
        (void)uf_site_weather_create(&w->weather[k], w->site, named ? &choice : NULL,
                                     &w->weather_err[k]);
    }
    w->station = station;
}

/* What a winter that has no weather comes to. */
static void tell_missing_winters(struct working *w)
{
    const struct uf_study *s = w->study;
    for (size_t k = 0; k < s->winters; k++) {
        for (size_t o = 0; o < s->options && w->forcings[k] == NULL; o++) {
            if (wants(w, o, k)) {
                append_failure(w, w->first + o * s->winters + k,
                               s->plan->every ? UF_STUDY_NO_WINTER : UF_STUDY_FAILED,
                               w->weather_err[k].text);
            }
        }
    }
}

/* What drives each winter; the sum of freezing degree-days of the coldest. */
static double make_forcings(struct working *w)
{
    double coldest_degC_day = 0.0;
    for (size_t k = 0; k < w->study->winters; k++) {
        if (w->weather[k] != NULL) {
            (void)uf_forcing_create(&w->forcings[k], &w->site->design.surface,
                                    &w->weather[k]->weather, &w->weather_err[k]);
        }
        if (w->forcings[k] != NULL) {
            coldest_degC_day = fmax(coldest_degC_day, w->forcings[k]->freezing_degC_day);
        }
    }
    return coldest_degC_day;
}

/* The options of the group and what is to be run of them. */
static bool list_tasks(struct working *w, double coldest_degC_day, struct uf_error *err)
{
    const struct uf_study *s = w->study;
    const struct uf_choice_input input = {.design = &w->site->design, .options = uf_run_defaults()};
    if (s->choices != NULL && uf_choice_create(&w->choices, &input, err) != UF_OK) {
        return false;
    }
    if (w->choices != NULL && w->choices->n != s->options) {
        (void)uf_fail(err, UF_E_INPUT, "%zu options instead of %zu: the plan varies what they are",
                      w->choices->n, s->options);
        return false;
    }
    for (size_t o = 0; o < s->options; o++) {
        struct uf_members_task *task = &w->tasks[o];
        const struct uf_choice *row = w->choices != NULL ? &w->choices->rows[o] : NULL;
        task->design = w->choices != NULL ? &w->choices->designs[o] : &w->site->design;
        task->frost_m = uf_run_frost_guess_m(task->design, coldest_degC_day);
        for (size_t k = 0; k < s->winters; k++) {
            task->wanted[k] = wants(w, o, k) && w->forcings[k] != NULL;
            task->done[k] = false;
            task->errs[k].text[0] = '\0';
            if (task->wanted[k] && row != NULL && !row->buildable) {
                char message[UF_STUDY_MESSAGE];
                (void)snprintf(message, sizeof message, "%.80s: %.150s", row->fault.key,
                               row->fault.what.text);
                append_failure(w, w->first + o * s->winters + k, UF_STUDY_FAILED, message);
            }
        }
        task->design = row != NULL && !row->buildable ? NULL : task->design;
    }
    return true;
}

static enum uf_status run_group(struct working *w)
{
    struct uf_study *s = w->study;
    const struct uf_study_case of = uf_study_case_of(s, w->first);
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    if (uf_study_site(&w->site, s, &of, &err) != UF_OK) {
        fail_group(w, err.text);
        return UF_OK;
    }
    take_weather(w, of.station);
    const double coldest_degC_day = make_forcings(w);
    tell_missing_winters(w);
    if (!list_tasks(w, coldest_degC_day, &err)) {
        fail_group(w, err.text);
    } else {
        struct uf_members_input input = {.tasks = w->tasks,
                                         .n_tasks = s->options,
                                         .winters = (const struct uf_forcing *const *)w->forcings,
                                         .n_winters = s->winters,
                                         .threads = uf_options_jobs(w->args),
                                         .options = uf_run_defaults(),
                                         .stop = uf_signals_stopped,
                                         .told = tell_case,
                                         .payload = w};
        status = uf_members_run(&input, &w->err);
    }
    for (size_t k = 0; k < s->winters; k++) {
        uf_forcing_free(w->forcings[k]);
        w->forcings[k] = NULL;
    }
    uf_choice_free(w->choices);
    uf_site_free(w->site);
    w->choices = NULL;
    w->site = NULL;
    return status;
}

static bool has_work(const struct working *w)
{
    for (size_t o = 0; o < w->study->options; o++) {
        for (size_t k = 0; k < w->study->winters; k++) {
            if (wants(w, o, k)) {
                return true;
            }
        }
    }
    return false;
}

static enum uf_status run_all(struct working *w)
{
    const size_t group = w->study->options * w->study->winters;
    enum uf_status status = UF_OK;
    for (w->first = w->from / group * group;
         w->first < w->to && status == UF_OK && w->err.code == UF_OK && !uf_signals_stopped();
         w->first += group) {
        if (has_work(w)) {
            status = run_group(w);
        }
    }
    drop_weather(w);
    return w->err.code != UF_OK ? w->err.code : status;
}

/* Room for a group's work; false: no memory. */
static bool make_room(struct working *w)
{
    const size_t o = w->study->options, k = w->study->winters;
    w->have = calloc(w->to - w->from + 1, sizeof *w->have);
    w->values = calloc(w->study->n_columns + 1, sizeof *w->values);
    w->weather = calloc(k, sizeof *w->weather);
    w->weather_err = calloc(k, sizeof *w->weather_err);
    w->forcings = calloc(k, sizeof *w->forcings);
    w->tasks = calloc(o, sizeof *w->tasks);
    bool good = w->have != NULL && w->values != NULL && w->weather != NULL &&
                w->weather_err != NULL && w->forcings != NULL && w->tasks != NULL;
    for (size_t i = 0; good && i < o; i++) {
        struct uf_members_task *task = &w->tasks[i];
        task->wanted = calloc(k, sizeof *task->wanted);
        task->summaries = calloc(k, sizeof *task->summaries);
        task->statuses = calloc(k, sizeof *task->statuses);
        task->errs = calloc(k, sizeof *task->errs);
        task->done = calloc(k, sizeof *task->done);
        good = task->wanted != NULL && task->summaries != NULL && task->statuses != NULL &&
               task->errs != NULL && task->done != NULL;
    }
    return good;
}

static void free_room(struct working *w)
{
    for (size_t i = 0; w->tasks != NULL && i < w->study->options; i++) {
        free(w->tasks[i].wanted);
        free(w->tasks[i].summaries);
        free(w->tasks[i].statuses);
        free(w->tasks[i].errs);
        free(w->tasks[i].done);
    }
    free(w->tasks);
    free(w->have);
    free(w->values);
    free(w->weather);
    free(w->weather_err);
    free(w->forcings);
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
                        .to = s->cases * shard->at / shard->of,
                        .station = SIZE_MAX};
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
