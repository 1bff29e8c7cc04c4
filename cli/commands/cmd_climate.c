#include "cli/command.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "climate_draw.h"
#include "io/text/show.h"
#include "io/weather/climate.h"
#include "solver/base/calendar.h"
#include "solver/weather/winter.h"

#include <math.h>
#include <string.h>

/* The weather of a station: freezing index of every winter, return periods, mean year. */

#define WINTERS_A_ROW 4

static const double return_years[] = {2.0, 5.0, 10.0, 20.0, 30.0, 50.0, 100.0};
#define N_RETURN_YEARS (sizeof return_years / sizeof return_years[0])

struct climate {
    struct uf_weather *weather;
    struct uf_winter_list *winters;
    bool has_year; /* some winter is whole */
    struct uf_winter_mean_year year;
    double year_index_degC_day; /* of the mean year itself */
};

#define MISSING   "%zu %s without air temperature"
#define DAYS(row) ((row)->missing_days == 1 ? "day" : "days")

/* Gumbel index of that return period; NAN where the record cannot tell. */
static double return_index(const struct climate *climate, double years)
{
    return climate->weather->typical_year ? (double)NAN
                                          : uf_winter_return_degC_day(climate->winters, years);
}

static enum uf_status read_climate(struct climate *climate, const struct uf_arguments *args,
                                   struct uf_error *err)
{
    enum uf_status status =
        uf_climate_read(&climate->weather, args->operands[0], args->column, NULL, err);
    if (status == UF_OK) {
        const bool south = args->south || climate->weather->latitude_deg < 0.0;
        status = uf_winter_list_create(&climate->winters, climate->weather, south, err);
    }
    if (status == UF_OK && climate->winters->n_usable > 0) {
        status = uf_winter_mean_year(&climate->year, climate->weather, climate->winters, err);
        climate->has_year = status == UF_OK;
        climate->year_index_degC_day =
            uf_winter_mean_index(&climate->year, climate->winters->south);
        if (climate->has_year && climate->winters->mean_degC_day > 0.0 &&
            !uf_winter_mean_fits(&climate->year, climate->winters->south)) {
            status = uf_fail(err, UF_E_INPUT,
                             "the record's summer is not that of the %s: for a station "
                             "in the south add --south, else leave it out",
                             climate->winters->south ? "south" : "north");
        }
    }
    return status;
}

static void add_date(cJSON *object, const char *key, bool given, long day)
{
    char text[16];
    uf_answer_text(object, key, given ? uf_calendar_text(day, text, sizeof text) : NULL);
}

static void add_winters(cJSON *answer, const struct uf_winter_list *list)
{
    cJSON *winters = uf_answer_array(answer, "winters");
    for (size_t i = 0; i < list->n; i++) {
        const struct uf_winter *row = &list->rows[i];
        const bool froze = row->usable && row->freeze_start <= row->freeze_end;
        cJSON *winter = uf_answer_item(winters);
        char text[64] = "";
        uf_answer_text(winter, "winter",
                       uf_winter_label(row->year, list->south, text, sizeof text));
        uf_answer_number(winter, "freezing_index_degC_day", row->freezing_index_degC_day);
        add_date(winter, "freeze_start", froze, row->freeze_start);
        add_date(winter, "freeze_end", froze, row->freeze_end);
        uf_answer_bool(winter, "usable", row->usable);
        uf_answer_count(winter, "missing_days", (long)row->missing_days);
        (void)snprintf(text, sizeof text, MISSING, row->missing_days, DAYS(row));
        uf_answer_text(winter, "why_unusable", row->usable ? NULL : text);
    }
}

/* Month 1 to 12 of the mean year: its mean air temperature and snow depth. */
static void month_of_year(const struct uf_winter_mean_year *year, int month, double *air_degC,
                          double *snow_m)
{
    const long first = uf_calendar_day(2000, month, 1) - uf_calendar_day(2000, 1, 1);
    long days = 0;
    *air_degC = *snow_m = 0.0;
    for (; uf_calendar_valid(2000, month, (int)days + 1); days++) {
        *air_degC += year->air_degC[first + days];
        *snow_m += year->snow_m[first + days];
    }
    *air_degC /= (double)days;
    *snow_m /= (double)days;
}

/* "07-21", ISO 8601 without its year. */
static const char *day_of_year(long slot, char text[16])
{
    return uf_calendar_text(uf_calendar_day(2000, 1, 1) + slot, text, 16) + 5;
}

static void add_mean_year(cJSON *answer, const struct climate *climate)
{
    const struct uf_winter_mean_year *year = &climate->year;
    char text[16];
    if (!climate->has_year) {
        (void)cJSON_AddNullToObject(answer, "mean_year");
        return;
    }
    cJSON *object = uf_answer_object(answer, "mean_year");
    uf_answer_number(object, "mean_air_degC", year->mean_air_degC);
    uf_answer_number(object, "freezing_index_degC_day", climate->year_index_degC_day);
    uf_answer_text(object, "coldest_day", day_of_year(year->coldest_day, text));
    uf_answer_number(object, "coldest_air_degC", year->air_degC[year->coldest_day]);
    uf_answer_text(object, "warmest_day", day_of_year(year->warmest_day, text));
    uf_answer_number(object, "warmest_air_degC", year->air_degC[year->warmest_day]);
    cJSON *months = uf_answer_array(object, "months");
    for (int month = 1; month <= 12; month++) {
        double air_degC = NAN, snow_m = NAN;
        cJSON *row = uf_answer_item(months);
        month_of_year(year, month, &air_degC, &snow_m);
        uf_answer_count(row, "month", month);
        uf_answer_number(row, "air_degC", air_degC);
        uf_answer_number(row, "snow_m", climate->weather->snow_m != NULL ? snow_m : (double)NAN);
    }
    cJSON *daily = uf_answer_array(object, "daily_air_degC");
    for (size_t i = 0; i < 366; i++) {
        (void)cJSON_AddItemToArray(daily, cJSON_CreateNumber(year->air_degC[i]));
    }
}

static void add_statistics(cJSON *answer, const struct climate *climate)
{
    const struct uf_winter_list *list = climate->winters;
    uf_answer_count(answer, "usable_winters", (long)list->n_usable);
    uf_answer_number(answer, "mean_degC_day", list->mean_degC_day);
    uf_answer_number(answer, "sd_degC_day", list->sd_degC_day);
    uf_answer_number(answer, "coldest_three_in_thirty_degC_day",
                     list->coldest_three_in_thirty_degC_day);
    cJSON *periods = uf_answer_array(answer, "return_periods");
    for (size_t i = 0; i < N_RETURN_YEARS; i++) {
        cJSON *row = uf_answer_item(periods);
        uf_answer_number(row, "years", return_years[i]);
        uf_answer_number(row, "freezing_index_degC_day", return_index(climate, return_years[i]));
    }
}

static enum uf_status draw(const struct climate *climate, const struct uf_arguments *args,
                           cJSON *answer, struct uf_error *err)
{
    return uf_climate_draw(climate->weather, climate->winters,
                           climate->has_year ? &climate->year : NULL, args, answer, err);
}

static enum uf_status print_json(const struct climate *climate, const struct uf_arguments *args,
                                 struct uf_error *err)
{
    const struct uf_weather *weather = climate->weather;
    cJSON *answer = cJSON_CreateObject();
    uf_answer_text(answer, "file", args->operands[0]);
    uf_answer_text(answer, "column", args->column);
    uf_answer_text(answer, "station", weather->station);
    uf_answer_text(answer, "source", weather->source);
    uf_answer_text(answer, "licence", weather->licence);
    uf_answer_number(answer, "latitude_deg", weather->latitude_deg);
    uf_answer_number(answer, "longitude_deg", weather->longitude_deg);
    uf_answer_number(answer, "elevation_m", weather->elevation_m);
    uf_answer_bool(answer, "south", climate->winters->south);
    uf_answer_bool(answer, "typical_year", weather->typical_year);
    add_date(answer, "first_day", true, weather->start_day);
    add_date(answer, "last_day", true, weather->start_day + (long)weather->days - 1);
    uf_answer_count(answer, "filled_days", (long)weather->filled_days);
    uf_answer_count(answer, "missing_days", (long)weather->missing_days);
    uf_answer_bool(answer, "has_snow", weather->snow_m != NULL);
    uf_answer_text(answer, "note", weather->note[0] != '\0' ? weather->note : NULL);
    add_winters(answer, climate->winters);
    add_statistics(answer, climate);
    add_mean_year(answer, climate);
    const enum uf_status status = draw(climate, args, answer, err);
    if (status != UF_OK) {
        cJSON_Delete(answer);
        return status;
    }
    return uf_answer_print(answer, err);
}

/* Only where the file has it as figures; else it stands in the station's own words. */
static void show_place(const struct uf_weather *weather, enum uf_units units)
{
    if (isfinite(weather->longitude_deg)) {
        uf_show_line(stdout, "place", "%.2f %c, %.2f %c", fabs(weather->latitude_deg),
                     weather->latitude_deg < 0.0 ? 'S' : 'N', fabs(weather->longitude_deg),
                     weather->longitude_deg < 0.0 ? 'W' : 'E');
    }
    if (isfinite(weather->elevation_m)) {
        uf_show_line(stdout, "height", "%s", UF_TEXT(LENGTH, units, weather->elevation_m));
    }
}

static void show_record(const struct climate *climate, const struct uf_arguments *args)
{
    const struct uf_weather *weather = climate->weather;
    char first[16], last[16];
    uf_show_heading(stdout, "Weather");
    uf_show_line(stdout, "station", "%s", weather->station);
    show_place(weather, args->units);
    if (weather->source[0] != '\0') {
        uf_show_line(stdout, "source", "%s", weather->source);
    }
    if (weather->licence[0] != '\0') {
        uf_show_line(stdout, "licence", "%s", weather->licence);
    }
    uf_show_line(stdout, "record", "%s to %s, %s, whole winters: %zu%s",
                 uf_calendar_text(weather->start_day, first, sizeof first),
                 uf_calendar_text(weather->start_day + (long)weather->days - 1, last, sizeof last),
                 weather->snow_m != NULL ? "air and snow" : "air only, no snow",
                 climate->winters->n_usable, args->south ? " (south)" : "");
    uf_show_line(stdout, "filled", "%zu (days in gaps of at most %d); missing: %zu",
                 weather->filled_days, UF_CLIMATE_FILL_DAYS, weather->missing_days);
    if (weather->typical_year) {
        uf_show_line(stdout, "typical year",
                     "put together from several years: it holds no cold winter, so no "
                     "return period follows from it");
    }
    if (weather->note[0] != '\0') {
        uf_show_line(stdout, "note", "%s", weather->note);
    }
}

static void show_statistics(const struct climate *climate, enum uf_units units)
{
    const struct uf_winter_list *list = climate->winters;
    uf_show_heading(stdout, "Freezing index");
    if (list->n_usable > 0) {
        uf_show_line(stdout, "mean", "%s", UF_TEXT(INDEX, units, list->mean_degC_day));
    }
    if (list->n_usable > 1) {
        uf_show_line(stdout, "spread", "%s (standard deviation)",
                     UF_TEXT(INDEX, units, list->sd_degC_day));
    }
    if (isnan(return_index(climate, 30.0))) {
        uf_show_text(stdout, 2,
                     "No return period: ten whole winters of real years are needed. Only "
                     "`winter: mean` and recorded winters can be designed for.");
        return;
    }
    uf_show_line(stdout, "coldest three", "%s, mean of the three coldest of the latest %zu",
                 UF_TEXT(INDEX, units, list->coldest_three_in_thirty_degC_day),
                 list->n_usable < 30 ? list->n_usable : 30);
    for (size_t i = 0; i < N_RETURN_YEARS; i++) {
        char label[32];
        (void)snprintf(label, sizeof label, "1 in %g", return_years[i]);
        uf_show_line(stdout, label, "%s%s",
                     UF_TEXT(INDEX, units, return_index(climate, return_years[i])),
                     return_years[i] > 3.0 * (double)list->n_usable
                         ? ", over three times the record: a guess"
                         : "");
    }
}

static void show_winters(const struct climate *climate, enum uf_units units)
{
    static const struct uf_show_column columns[2 * WINTERS_A_ROW] = {
        {"winter", 'l'}, {"index", 'r'}, {"winter", 'l'}, {"index", 'r'},
        {"winter", 'l'}, {"index", 'r'}, {"winter", 'l'}, {"index", 'r'},
    };
    const struct uf_winter_list *list = climate->winters;
    const size_t rows = (list->n + WINTERS_A_ROW - 1) / WINTERS_A_ROW;
    struct uf_show_table *table = uf_show_table_create(columns, (size_t)2 * WINTERS_A_ROW);
    char heading[64], label[16];
    (void)snprintf(heading, sizeof heading, "Every winter, %s",
                   uf_quantity_unit(UF_QUANTITY_INDEX, units));
    uf_show_heading(stdout, heading);
    for (size_t i = 0; i < rows * WINTERS_A_ROW; i++) { /* down the columns */
        const size_t at = i / WINTERS_A_ROW + i % WINTERS_A_ROW * rows;
        if (at < list->n) {
            const struct uf_winter *row = &list->rows[at];
            uf_show_table_cell(table, "%s",
                               uf_winter_label(row->year, list->south, label, sizeof label));
            uf_show_table_cell(table, "%s", UF_NUMBER(INDEX, units, row->freezing_index_degC_day));
        } else {
            uf_show_table_cell(table, "%s", "");
            uf_show_table_cell(table, "%s", "");
        }
    }
    uf_show_table_end(stdout, table);
    for (size_t i = 0; i < list->n; i++) {
        if (!list->rows[i].usable) {
            uf_show_line(stdout,
                         uf_winter_label(list->rows[i].year, list->south, label, sizeof label),
                         "not used: " MISSING, list->rows[i].missing_days, DAYS(&list->rows[i]));
        }
    }
}

static void show_mean_year(const struct climate *climate, enum uf_units units)
{
    static const struct uf_show_column columns[] = {{"month", 'r'}, {"air", 'r'}, {"snow", 'r'}};
    const struct uf_winter_mean_year *year = &climate->year;
    char day[16];
    uf_show_heading(stdout, "Mean year");
    if (!climate->has_year) {
        uf_show_text(stdout, 2, "None: no winter of the record is whole.");
        return;
    }
    uf_show_line(stdout, "mean air", "%s", UF_TEXT(TEMPERATURE, units, year->mean_air_degC));
    uf_show_line(stdout, "coldest day", "%s on %s",
                 UF_TEXT(TEMPERATURE, units, year->air_degC[year->coldest_day]),
                 day_of_year(year->coldest_day, day));
    uf_show_line(stdout, "warmest day", "%s on %s",
                 UF_TEXT(TEMPERATURE, units, year->air_degC[year->warmest_day]),
                 day_of_year(year->warmest_day, day));
    uf_show_line(stdout, "its own index", "%s",
                 UF_TEXT(INDEX, units, climate->year_index_degC_day));
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    for (int month = 1; month <= 12; month++) {
        double air_degC = NAN, snow_m = NAN;
        month_of_year(year, month, &air_degC, &snow_m);
        uf_show_table_cell(table, "%d", month);
        uf_show_table_cell(table, "%s", UF_TEXT(TEMPERATURE, units, air_degC));
        uf_show_table_cell(table, "%s",
                           climate->weather->snow_m != NULL ? UF_TEXT(LENGTH, units, snow_m) : "-");
    }
    uf_show_table_end(stdout, table);
}

static int run(const struct uf_arguments *args)
{
    struct climate climate = {0};
    struct uf_error err = {0};
    enum uf_status status = uf_climate_draw_check(args, &err);
    if (status == UF_OK) {
        status = read_climate(&climate, args, &err);
    }
    if (status == UF_OK && args->json) {
        status = print_json(&climate, args, &err);
    } else if (status == UF_OK) {
        show_record(&climate, args);
        show_statistics(&climate, args->units);
        show_winters(&climate, args->units);
        show_mean_year(&climate, args->units);
        status = draw(&climate, args, NULL, &err);
    }
    uf_winter_list_free(climate.winters);
    uf_weather_free(climate.weather);
    return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, NULL, &err);
}

const struct uf_command uf_cmd_climate = {
    .name = "climate",
    .summary = "a station's winters: freezing indexes, return periods, mean year",
    .synopsis = "FILE [--column NAME] [-o DIR] [--terminal T]",
    .detail = "FILE is a daily weather record: a path, or the name of a shipped one. "
              "Plain CSV, GHCN-Daily (.dly, by station, by year), Environment Canada's daily "
              "CSV and EPW are told apart by content.\n"
              "The freezing index of a winter is the largest drop of its curve of summed daily "
              "temperatures. Return periods follow from a Gumbel law by moments, from ten "
              "whole winters on. A winter with a gap of more than five days is not used.\n"
              "With -o two pictures go into DIR, which is made where it is missing: winters, "
              "every winter's index with the return periods and the three coldest of the latest "
              "thirty; and weather, the air and snow of the 1 in 30 winter (of the coldest on "
              "file where the record is too short) with the mean year behind. T is png "
              "(default), svg, pdf, or text for letters on the terminal, without -o.",
    .options = UF_OPTION_COLUMN | UF_OPTION_SOUTH | UF_OPTION_OUTPUT | UF_OPTION_TERMINAL,
    .least_operands = 1,
    .most_operands = 1,
    .run = run,
};
