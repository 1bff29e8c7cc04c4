#include "cli/drawing.h"
#include "cli/tell/outcome.h"
#include "io/result/part_file.h"
#include "io/text/show.h"
#include "score.h"
#include "solver/base/calendar.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* How a kind is told: the word of the site file, the unit of its numbers, and what a person reads. */
static const struct kind {
    const char *word, *unit, *label;
    enum uf_quantity level, difference;
} kinds[] = {
    [UF_SCORE_TEMPERATURE] = {"temperature", "degC", "ground", UF_QUANTITY_TEMPERATURE,
                              UF_QUANTITY_DIFFERENCE},
    [UF_SCORE_FROST] = {"frost_depth", "m", "frost depth", UF_QUANTITY_LENGTH, UF_QUANTITY_LENGTH},
    [UF_SCORE_WATER] = {"water_temperature", "degC", "water", UF_QUANTITY_TEMPERATURE,
                        UF_QUANTITY_DIFFERENCE}};

static const char *name_of(const struct uf_scoring *s, size_t i)
{
    return uf_site_score_name(&s->score, s->run.site, i);
}

static long day_of(const struct uf_scoring *s, size_t at)
{
    return at < s->score.days ? s->score.start_day + (long)at : UF_NO_DAY;
}

static void answer_series(cJSON *array, const struct uf_scoring *s, size_t i)
{
    const struct uf_score_series *row = &s->score.series[i];
    const bool length = row->kind == UF_SCORE_FROST;
    cJSON *item = uf_answer_item(array);
    uf_answer_text(item, "name", name_of(s, i));
    uf_answer_text(item, "kind", kinds[row->kind].word);
    uf_answer_number(item, "depth_m", row->depth_m);
    uf_answer_number(item, "x_m", row->x_m);
    uf_answer_count(item, "days", (long)row->score.n);
    uf_answer_number(item, length ? "bias_m" : "bias_K", row->score.bias);
    uf_answer_number(item, length ? "rmse_m" : "rmse_K", row->score.rmse);
    uf_answer_number(item, length ? "mean_absolute_error_m" : "mean_absolute_error_K",
                     row->score.mae);
    uf_answer_number(item, "nash_sutcliffe", row->score.nash_sutcliffe);
    uf_answer_count(item, "missing_days", (long)row->care.missing);
    uf_answer_count(item, "absurd_days", (long)row->care.absurd);
    uf_answer_count(item, "flat_days", (long)row->care.flat);
    uf_answer_count(item, "longest_gap_days", (long)row->care.longest_gap);
}

static void answer_frost(cJSON *frost, const char *word, const struct uf_scoring *s,
                         const struct uf_score_frost *of)
{
    char key[80];
    (void)snprintf(key, sizeof key, "%s_m", word);
    uf_answer_number(frost, key, of->deepest_m);
    (void)snprintf(key, sizeof key, "%s_date", word);
    uf_answer_date(frost, key, of->deepest_m > 0.0 ? day_of(s, of->deepest_at) : UF_NO_DAY);
    (void)snprintf(key, sizeof key, "%s_thaw_date", word);
    uf_answer_date(frost, key, day_of(s, of->thaw_at));
}

/* Frost as it was measured: between the sensors, else the column of frost depths; NULL: neither. */
static const struct uf_score_series *frost_column(const struct uf_scoring *s)
{
    for (size_t i = 0; i < s->score.n; i++) {
        if (s->score.series[i].kind == UF_SCORE_FROST) {
            return &s->score.series[i];
        }
    }
    return NULL;
}

cJSON *uf_score_tell_answer(const struct uf_scoring *s)
{
    cJSON *answer = cJSON_CreateObject();
    const struct uf_score_series *column = frost_column(s);
    uf_answer_text(answer, "name", s->run.site->design.name);
    cJSON *array = uf_answer_array(answer, "series");
    for (size_t i = 0; i < s->score.n; i++) {
        answer_series(array, s, i);
    }
    cJSON *frost = uf_answer_object(answer, "frost");
    if (s->score.profile.sensors > 0) {
        answer_frost(frost, "measured", s, &s->score.profile.measured);
        answer_frost(frost, "computed", s, &s->score.profile.computed);
        uf_answer_number(frost, "lowest_sensor_m", s->score.profile.lowest_m);
        uf_answer_bool(frost, "past_lowest_sensor", s->score.profile.past_lowest);
    } else if (column != NULL) {
        const struct uf_score_frost read = uf_score_frost(column->measured, s->score.days);
        answer_frost(frost, "measured", s, &read);
        answer_frost(frost, "computed", s, &s->score.profile.line);
    }
    answer_frost(frost, "line", s, &s->score.profile.line);
    uf_answer_number(answer, "heat_balance_relative", s->score.profile.heat_balance_relative);
    return answer;
}

static void show_table(const struct uf_scoring *s, enum uf_units units)
{
    static const struct uf_show_column columns[] = {{"series", 'l'},
                                                    {"depth", 'r'},
                                                    {"days", 'r'},
                                                    {"bias", 'r'},
                                                    {"rmse", 'r'},
                                                    {"mean abs.\nerror", 'r'},
                                                    {"Nash-\nSutcliffe", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < s->score.n; i++) {
        char text[40];
        const struct uf_score_series *row = &s->score.series[i];
        const double off[] = {row->score.bias, row->score.rmse, row->score.mae};
        uf_show_table_cell(table, "%s", name_of(s, i));
        uf_show_table_cell(table, "%s",
                           row->kind == UF_SCORE_TEMPERATURE ? UF_TEXT(LENGTH, units, row->depth_m)
                                                             : kinds[row->kind].label);
        uf_show_table_cell(table, "%zu", row->score.n);
        for (size_t k = 0; k < 3; k++) {
            uf_show_table_cell(
                table, "%s",
                uf_quantity_text(text, sizeof text, kinds[row->kind].difference, units, off[k]));
        }
        if (isfinite(row->score.nash_sutcliffe)) {
            uf_show_table_cell(table, "%.2f", row->score.nash_sutcliffe);
        } else {
            uf_show_table_cell(table, "-");
        }
    }
    uf_show_table_end(stdout, table);
}

static void show_frost(const char *label, const struct uf_scoring *s,
                       const struct uf_score_frost *of, enum uf_units units)
{
    char deepest[16], thaw[16];
    const char *gone = uf_outcome_date(day_of(s, of->thaw_at), thaw);
    if (isnan(of->deepest_m)) {
        uf_show_line(stdout, label, "not known");
    } else if (!(of->deepest_m > 0.0)) {
        uf_show_line(stdout, label, "none");
    } else {
        uf_show_line(stdout, label, "%s on %s, gone on %s", UF_TEXT(LENGTH, units, of->deepest_m),
                     uf_outcome_date(day_of(s, of->deepest_at), deepest),
                     gone != NULL ? gone : "no day of the run");
    }
}

/* What was wrong with the readings. */
static void show_care(const struct uf_scoring *s, enum uf_units units)
{
    char date[16];
    for (size_t i = 0; i < s->score.n; i++) {
        const struct uf_score_care *care = &s->score.series[i].care;
        if (care->absurd > 0) {
            uf_show_line(stdout, name_of(s, i),
                         "%zu reading%s cannot be, the first on %s: left out", care->absurd,
                         care->absurd > 1 ? "s" : "",
                         uf_outcome_date(day_of(s, care->absurd_at), date));
        }
        if (care->flat > 0) {
            uf_show_line(stdout, name_of(s, i),
                         "the same reading for %zu days from %s on, while the run moves: left out "
                         "as of a dead sensor",
                         care->flat, uf_outcome_date(day_of(s, care->flat_at), date));
        }
        if (care->longest_gap > 0) {
            uf_show_line(stdout, name_of(s, i), "days not read: %zu; longest gap %zu",
                         care->missing, care->longest_gap);
        }
    }
    if (s->score.profile.past_lowest) {
        uf_show_line(stdout, "sensors",
                     "the lowest, at %s, read below freezing: frost went deeper than was measured",
                     UF_TEXT(LENGTH, units, s->score.profile.lowest_m));
    }
}

void uf_score_tell_show(const struct uf_scoring *s, const struct uf_arguments *args)
{
    const struct uf_score_series *column = frost_column(s);
    uf_show_heading(stdout, s->run.site->design.name[0] != '\0' ? s->run.site->design.name
                                                                : "Measured and computed");
    show_table(s, args->units);
    (void)putchar('\n');
    if (s->score.profile.sensors > 0) {
        show_frost("frost, measured", s, &s->score.profile.measured, args->units);
        show_frost("computed", s, &s->score.profile.computed, args->units);
    } else if (column != NULL) {
        const struct uf_score_frost read = uf_score_frost(column->measured, s->score.days);
        show_frost("frost, measured", s, &read, args->units);
    }
    show_frost("the run's 0 degC line", s, &s->score.profile.line, args->units);
    show_care(s, args->units);
    (void)putchar('\n');
    uf_show_text(stdout, 0,
                 "bias: computed less measured; Nash-Sutcliffe: 1 is perfect, 0 no better than the "
                 "mean of the readings. Frost between sensors: straight, measured and computed "
                 "alike.");
}

/* score.csv: one line a day and series. */
static enum uf_status write_csv(const char *path, const struct uf_scoring *s, struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    (void)fprintf(part.file, "date,series,kind,depth [m],measured,computed,unit\n");
    for (size_t i = 0; i < s->score.n; i++) {
        char date[16];
        const struct uf_score_series *row = &s->score.series[i];
        for (size_t d = 0; d < s->score.days; d++) {
            (void)fprintf(part.file, "%s,%s,%s,", uf_calendar_text(day_of(s, d), date, sizeof date),
                          name_of(s, i), kinds[row->kind].word);
            (void)fprintf(part.file, isfinite(row->depth_m) ? "%.9g," : ",", row->depth_m);
            (void)fprintf(part.file, isfinite(row->measured[d]) ? "%.9g," : ",", row->measured[d]);
            (void)fprintf(part.file, "%.9g,%s\n", row->computed[d], kinds[row->kind].unit);
        }
    }
    return uf_part_file_close(&part, UF_OK, err);
}

static enum uf_status draw(const char *path, const struct uf_scoring *s,
                           const struct uf_arguments *args, struct uf_error *err)
{
    struct uf_result result;
    struct uf_result_overlay *overlays = calloc(s->score.n + 2, sizeof *overlays);
    const struct uf_plot_look look = {.us = args->units == UF_UNITS_US, .format = "png"};
    const long first_day = s->score.start_day;
    if (overlays == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a picture");
    }
    uf_result_init(&result);
    (void)snprintf(result.design.name, sizeof result.design.name, "%s", s->run.site->design.name);
    for (size_t i = 0; i < s->score.n; i++) {
        const struct uf_score_series *row = &s->score.series[i];
        overlays[i] = (struct uf_result_overlay){.length = row->kind == UF_SCORE_FROST,
                                                 .measured = row->measured,
                                                 .computed = row->computed,
                                                 .n = s->score.days,
                                                 .first_day = first_day};
        (void)snprintf(overlays[i].name, sizeof overlays[i].name, "%s, %s", name_of(s, i),
                       row->kind == UF_SCORE_TEMPERATURE
                           ? UF_TEXT(LENGTH, args->units, row->depth_m)
                           : kinds[row->kind].label);
    }
    result.overlays = overlays;
    result.n_overlays = s->score.n;
    if (s->score.profile.sensors > 0) {
        overlays[s->score.n] = (struct uf_result_overlay){.name = "frost between the sensors",
                                                          .length = true,
                                                          .measured = s->score.profile.measured_m,
                                                          .computed = s->score.profile.computed_m,
                                                          .n = s->score.days,
                                                          .first_day = first_day};
        result.n_overlays++;
    }
    const enum uf_status status = uf_plot_draw(path, &uf_plot_score, &result, &look, err);
    free(overlays);
    return status;
}

enum uf_status uf_score_tell_keep(const struct uf_scoring *s, const struct uf_arguments *args,
                                  struct uf_error *err)
{
    char path[1200];
    if (mkdir(args->output, 0777) != 0 && errno != EEXIST) {
        return uf_fail(err, UF_E_FILE, "%.200s: could not be made: %s", args->output,
                       strerror(errno));
    }
    (void)snprintf(path, sizeof path, "%.1000s/score.csv", args->output);
    const enum uf_status status = write_csv(path, s, err);
    (void)snprintf(path, sizeof path, "%.1000s/score.png", args->output);
    return status == UF_OK ? draw(path, s, args, err) : status;
}
