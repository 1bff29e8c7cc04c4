#include "every.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A winter is counted from two months after its first day (October in the north) to two
   months after its last: frost that outlasts July belongs to the winter that made it. */
enum { LATER_DAYS = 61 };

static bool whole(const struct uf_winter_list *list, size_t row)
{
    return row < list->n && list->rows[row].usable;
}

/* Rows of the list that stretch `from` takes: whole winters, at most UF_EVERY_STRETCH. */
static size_t stretch_length(const struct uf_winter_list *list, size_t from)
{
    size_t n = 0;
    while (n < UF_EVERY_STRETCH && whole(list, from + n)) {
        n++;
    }
    return n;
}

static enum uf_status allocate(struct uf_every *every, const struct uf_winter_list *list,
                               struct uf_error *err)
{
    size_t stretches = 0;
    size_t winters = 0;
    for (size_t row = 0; row < list->n;) {
        const size_t n = stretch_length(list, row);
        stretches += n > 0;
        winters += n;
        row += n > 0 ? n : 1;
    }
    if (winters == 0) {
        return uf_fail(err, UF_E_INPUT,
                       "the record holds no whole winter to run: see `underfrost climate`");
    }
    every->winters = calloc(winters, sizeof *every->winters);
    every->stretches = calloc(stretches, sizeof *every->stretches);
    every->jobs = calloc(stretches, sizeof *every->jobs);
    every->forcings = calloc(stretches, sizeof(struct uf_forcing *));
    if (!every->winters || !every->stretches || !every->jobs || !every->forcings) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for %zu winters", winters);
    }
    every->n_unusable = list->n - winters;
    return UF_OK;
}

/* The series of one winter, if they are kept. */
static void store(struct uf_every_winter *winter, const struct uf_run *run, long day)
{
    if (winter->record != NULL) {
        uf_run_store(run, winter->record, (size_t)(day - winter->first_day));
    }
}

static void begin_winter(const struct uf_every_stretch *stretch, struct uf_every_winter *winter,
                         struct uf_run *run)
{
    if (stretch->every->keep_series && winter->record == NULL) {
        /* Without memory for it there is no series; the summary stands. */
        (void)uf_run_record_days(&winter->record, run,
                                 (size_t)(winter->last_day - winter->first_day + 1), NULL);
    }
}

/* After each day of a stretch: tells its winters apart. */
static void end_of_day(void *payload, struct uf_run *run)
{
    struct uf_every_stretch *s = payload;
    const size_t done = uf_run_day(run);
    if (s->at == s->n || done <= s->lead_days) {
        if (done == s->lead_days) {
            uf_run_forget(run);
        }
        return;
    }
    struct uf_every_winter *winter = &s->every->winters[s->from + s->at];
    const long first = s->every->winters[s->from].first_day - (long)s->lead_days;
    const long day = first + (long)done - 1;
    if (day == winter->first_day) {
        begin_winter(s, winter, run);
    }
    store(winter, run, day);
    if (day == winter->last_day) {
        winter->summary = uf_run_summary(run);
        winter->done = true;
        s->at++;
        uf_run_forget(run);
    }
}

/* Winters and weather of the stretch that begins at a row of the list. */
static enum uf_status add_stretch(struct uf_every *every, const struct uf_every_input *input,
                                  size_t row, size_t n, struct uf_error *err)
{
    const struct uf_winter *rows = input->winters->rows;
    const struct uf_weather *record = input->record;
    struct uf_every_stretch *s = &every->stretches[every->n_stretches];
    const bool lead = row > 0 && whole(input->winters, row - 1);
    const long first = rows[lead ? row - 1 : row].first_day;
    const size_t offset = (size_t)(first - record->start_day);
    double air_degC[UF_WINTER_YEAR_DAYS];
    double snow_m[UF_WINTER_YEAR_DAYS];
    *s = (struct uf_every_stretch){.every = every, .from = every->n, .n = n};
    for (size_t i = 0; i < n; i++) {
        every->winters[every->n++] = (struct uf_every_winter){
            .year = rows[row + i].year,
            .first_day = rows[row + i].first_day + LATER_DAYS,
            .last_day =
                rows[row + i].last_day + (whole(input->winters, row + i + 1) ? LATER_DAYS : 0),
            .index_degC_day = rows[row + i].freezing_index_degC_day};
    }
    s->lead_days = (size_t)(rows[row].first_day + LATER_DAYS - first);
    uf_winter_mean_days(input->mean, first, air_degC, snow_m);
    const struct uf_forcing_weather weather = {
        .start_day = first,
        .days = (size_t)(every->winters[every->n - 1].last_day - first + 1),
        .air_degC = record->air_degC + offset,
        .snow_m = record->snow_m == NULL ? NULL : record->snow_m + offset,
        .year_days = UF_WINTER_YEAR_DAYS,
        .year_air_degC = air_degC,
        .year_snow_m = record->snow_m == NULL ? NULL : snow_m};
    return uf_forcing_create(&every->forcings[every->n_stretches++], &input->design->surface,
                             &weather, err);
}

/* Largest sum of freezing degree-days behind the film in 365 days of any stretch: what
   the grid must be fine for. */
static double coldest_degC_day(const struct uf_every *every)
{
    double most = 0.0;
    for (size_t k = 0; k < every->n_stretches; k++) {
        const struct uf_drive *drive = &every->forcings[k]->season;
        double sum = 0.0;
        for (size_t i = 0; i < drive->days; i++) {
            sum += fmax(0.0, -drive->outside_degC[i]);
            if (i >= UF_WINTER_YEAR_DAYS) {
                sum -= fmax(0.0, -drive->outside_degC[i - UF_WINTER_YEAR_DAYS]);
            }
            most = fmax(most, sum);
        }
    }
    return most;
}

/* The state all stretches start from, by one start-up. */
static enum uf_status find_start(struct uf_every *every, struct uf_run_options *options,
                                 const struct uf_case *design, struct uf_error *err)
{
    struct uf_run *run = NULL;
    if (every->forcings == NULL) {
        return uf_fail(err, UF_E_INPUT, "no stretch of winters to start");
    }
    enum uf_status status = uf_run_create(&run, design, every->forcings[0], options, err);
    if (status != UF_OK) {
        return status;
    }
    options->n_start = uf_run_section(run)->heat->n;
    every->start_degC = calloc(options->n_start, sizeof *every->start_degC);
    if (every->start_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    } else {
        memcpy(every->start_degC, uf_season_T_degC(uf_run_season(run)),
               options->n_start * sizeof *every->start_degC);
        options->start_degC = every->start_degC;
    }
    uf_run_free(run);
    return status;
}

static enum uf_status fill(struct uf_every *every, const struct uf_every_input *input,
                           struct uf_error *err)
{
    struct uf_run_options options = input->options;
    enum uf_status status = allocate(every, input->winters, err);
    for (size_t row = 0; row < input->winters->n && status == UF_OK;) {
        const size_t n = stretch_length(input->winters, row);
        if (n > 0) {
            status = add_stretch(every, input, row, n, err);
        }
        row += n > 0 ? n : 1;
    }
    if (status == UF_OK) {
        options.frost_m = uf_run_frost_guess_m(input->design, coldest_degC_day(every));
        status = find_start(every, &options, input->design, err);
    }
    for (size_t k = 0; k < every->n_stretches && status == UF_OK; k++) {
        every->jobs[k] = (struct uf_job){.design = *input->design,
                                         .forcing = every->forcings[k],
                                         .options = options,
                                         .day = end_of_day,
                                         .payload = &every->stretches[k]};
    }
    return status;
}

enum uf_status uf_every_create(struct uf_every **out, const struct uf_every_input *input,
                               struct uf_error *err)
{
    *out = NULL;
    if (input->design->initial.n_profile > 0) {
        return uf_fail_key(err, UF_E_INPUT, "initial.profile",
                           UF_PLAIN("winter `every` starts from the mean year"),
                           UF_PLAIN("leave initial out"));
    }
    struct uf_every *every = calloc(1, sizeof *every);
    if (every == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the winters");
    }
    every->keep_series = input->keep_series;
    every->south = input->winters->south;
    const enum uf_status status = fill(every, input, err);
    if (status != UF_OK) {
        uf_every_free(every);
        return status;
    }
    *out = every;
    return UF_OK;
}

void uf_every_free(struct uf_every *every)
{
    if (every == NULL) {
        return;
    }
    for (size_t i = 0; i < every->n; i++) {
        uf_record_free(every->winters[i].record);
    }
    for (size_t k = 0; k < every->n_stretches; k++) {
        uf_forcing_free(every->forcings[k]);
    }
    free(every->winters);
    free(every->stretches);
    free(every->jobs);
    free(every->forcings);
    free(every->start_degC);
    free(every);
}

void uf_every_skip_done(struct uf_every *every)
{
    for (size_t k = 0; k < every->n_stretches; k++) {
        const struct uf_every_stretch *s = &every->stretches[k];
        bool all = true;
        for (size_t i = 0; i < s->n; i++) {
            all = all && every->winters[s->from + i].done;
        }
        every->jobs[k].skip = all;
    }
}

enum uf_status uf_every_status(const struct uf_every *every, struct uf_error *err)
{
    for (size_t k = 0; k < every->n_stretches; k++) {
        if (!every->jobs[k].skip && every->jobs[k].status != UF_OK) {
            if (err != NULL) {
                *err = every->jobs[k].err;
            }
            return every->jobs[k].status;
        }
    }
    return UF_OK;
}

enum uf_status uf_every_run(struct uf_every *every, struct uf_error *err)
{
    struct uf_pool *pool = NULL;
    const enum uf_status status = uf_pool_create(&pool, every->jobs, every->n_stretches, 1, err);
    uf_pool_free(pool); /* waits */
    return status != UF_OK ? status : uf_every_status(every, err);
}

struct uf_every_limits uf_every_limits(const struct uf_every *every,
                                       const struct uf_limit_facts *facts)
{
    struct uf_every_limits out = {.winters = 0};
    for (size_t l = 0; l < uf_limit_count; l++) {
        out.least[l] = NAN;
    }
    for (size_t i = 0; i < every->n; i++) {
        struct uf_limit_facts now = *facts;
        now.summary = &every->winters[i].summary;
        if (!every->winters[i].done) {
            continue;
        }
        const struct uf_verdict verdict = uf_limit_verdict(&now);
        out.winters++;
        out.any += !verdict.ok;
        for (size_t l = 0; l < uf_limit_count; l++) {
            const double margin = verdict.margin[l];
            if (!isnan(margin)) {
                out.broken[l] += margin < 0.0;
                if (isnan(out.least[l]) || margin < out.least[l]) {
                    out.least[l] = margin;
                    out.least_winter[l] = i;
                }
            }
        }
    }
    return out;
}
