#include "winter.h"

#include "solver/base/calendar.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LEAST_WINTERS  10 /* for statistics; the contract's number */
#define LATEST_WINTERS 30 /* of "three coldest in thirty" */
#define EULER_GAMMA    0.57721566490153286

struct uf_winter_drop uf_winter_drop(const double *air_degC, size_t days)
{
    struct uf_winter_drop found = {0.0, 0, 0};
    double sum = 0.0, highest = 0.0;
    size_t after_highest = 0;
    for (size_t i = 0; i < days; i++) {
        sum += air_degC[i];
        if (highest - sum > found.degC_day) {
            found = (struct uf_winter_drop){highest - sum, after_highest, i + 1};
        }
        if (sum >= highest) {
            highest = sum;
            after_highest = i + 1;
        }
    }
    return found;
}

double uf_winter_index(const double *air_degC, size_t days)
{
    return uf_winter_drop(air_degC, days).degC_day;
}

/* First day of the winter of that year. */
static long first_day_of(int year, bool south)
{
    return uf_calendar_day(year, south ? 2 : 8, 1);
}

/* Year of the winter that a day belongs to. */
static int year_of(long day, bool south)
{
    const struct uf_date date = uf_calendar_date(day);
    return date.month >= (south ? 2 : 8) ? date.year : date.year - 1;
}

static double air_of(const struct uf_weather *weather, long day)
{
    const long i = day - weather->start_day;
    return i >= 0 && (size_t)i < weather->days ? weather->air_degC[i] : (double)NAN;
}

/* One winter of the record; air_degC: room for 366 days. */
static struct uf_winter winter_of(const struct uf_weather *weather, int year, bool south,
                                  double *air_degC)
{
    struct uf_winter winter = {.year = year, .freezing_index_degC_day = NAN};
    winter.first_day = first_day_of(year, south);
    winter.last_day = first_day_of(year + 1, south) - 1;
    for (long day = winter.first_day; day <= winter.last_day; day++) {
        const double value = air_of(weather, day);
        air_degC[day - winter.first_day] = value;
        winter.missing_days += isnan(value) ? 1 : 0;
    }
    winter.usable = winter.missing_days == 0;
    winter.freeze_start = winter.first_day;
    winter.freeze_end = winter.first_day - 1;
    if (winter.usable) {
        const size_t days = (size_t)(winter.last_day - winter.first_day + 1);
        const struct uf_winter_drop drop = uf_winter_drop(air_degC, days);
        winter.freezing_index_degC_day = drop.degC_day;
        winter.freeze_start = winter.first_day + (long)drop.from;
        winter.freeze_end = winter.first_day + (long)drop.to - 1;
    }
    return winter;
}

enum uf_status uf_winter_list_create(struct uf_winter_list **out, const struct uf_weather *weather,
                                     bool south, struct uf_error *err)
{
    *out = NULL;
    if (weather->days == 0) {
        return uf_fail(err, UF_E_INPUT, "the weather record is empty: it has no day");
    }
    const int first = year_of(weather->start_day, south);
    const int last = year_of(weather->start_day + (long)weather->days - 1, south);
    const size_t n = (size_t)(last - first) + 1;
    struct uf_winter_list *list = calloc(1, sizeof *list);
    struct uf_winter *rows = calloc(n, sizeof *rows);
    if (list == NULL || rows == NULL) {
        free(list);
        free(rows);
        return uf_fail(err, UF_E_MEMORY, "no memory for %zu winters", n);
    }
    double air_degC[366] = {0.0};
    for (size_t i = 0; i < n; i++) {
        rows[i] = winter_of(weather, first + (int)i, south, air_degC);
    }
    *list = (struct uf_winter_list){.rows = rows, .n = n, .south = south};
    uf_winter_list_statistics(list);
    *out = list;
    return UF_OK;
}

void uf_winter_list_free(struct uf_winter_list *list)
{
    if (list != NULL) {
        free(list->rows);
        free(list);
    }
}

/* Mean of the three coldest of the latest thirty usable winters; the list has at least three. */
static double coldest_three(const struct uf_winter_list *list)
{
    double coldest[3] = {-1.0, -1.0, -1.0}; /* falling */
    size_t taken = 0;
    for (size_t i = list->n; i-- > 0 && taken < LATEST_WINTERS;) {
        if (!list->rows[i].usable) {
            continue;
        }
        taken++;
        double value = list->rows[i].freezing_index_degC_day;
        for (int k = 0; k < 3; k++) {
            if (value > coldest[k]) {
                const double lower = coldest[k];
                coldest[k] = value;
                value = lower;
            }
        }
    }
    return (coldest[0] + coldest[1] + coldest[2]) / 3.0;
}

void uf_winter_list_statistics(struct uf_winter_list *list)
{
    double sum = 0.0, squares = 0.0;
    list->n_usable = 0;
    for (size_t i = 0; i < list->n; i++) {
        if (list->rows[i].usable) {
            sum += list->rows[i].freezing_index_degC_day;
            list->n_usable++;
        }
    }
    const double n = (double)list->n_usable;
    list->mean_degC_day = n > 0.0 ? sum / n : (double)NAN;
    for (size_t i = 0; i < list->n; i++) {
        if (list->rows[i].usable) {
            squares += pow(list->rows[i].freezing_index_degC_day - list->mean_degC_day, 2);
        }
    }
    list->sd_degC_day = n > 1.0 ? sqrt(squares / (n - 1.0)) : (double)NAN;
    list->coldest_three_in_thirty_degC_day = NAN;
    list->gumbel_location = list->gumbel_scale = NAN;
    if (list->n_usable >= LEAST_WINTERS) {
        list->coldest_three_in_thirty_degC_day = coldest_three(list);
        list->gumbel_scale = list->sd_degC_day * sqrt(6.0) / acos(-1.0);
        list->gumbel_location = list->mean_degC_day - EULER_GAMMA * list->gumbel_scale;
    }
}

double uf_winter_return_degC_day(const struct uf_winter_list *list, double years)
{
    if (!(years > 1.0)) {
        return NAN;
    }
    const double reduced = -log(-log1p(-1.0 / years));
    return list->gumbel_location + list->gumbel_scale * reduced;
}

char *uf_winter_label(int year, bool south, char *text, size_t size)
{
    if (south) {
        (void)snprintf(text, size, "%04d", year);
    } else {
        (void)snprintf(text, size, "%04d/%02d", year, (year + 1) % 100);
    }
    return text;
}

/* "1978/79" or "1978" to its end. */
static bool parse_year(const char *text, int *year)
{
    if (strspn(text, "0123456789") != 4) {
        return false;
    }
    if (text[4] == '\0') {
        *year = (int)strtol(text, NULL, 10);
        return *year > 0;
    }
    if (text[4] != '/' || strspn(text + 5, "0123456789") != 2 || text[7] != '\0') {
        return false;
    }
    const long first = strtol(text, NULL, 10), second = strtol(text + 5, NULL, 10);
    if (second != (first + 1) % 100) {
        return false;
    }
    *year = (int)first;
    return first > 0;
}

/* "1 in 100" to its end. */
static bool parse_return(const char *text, double *years)
{
    if (strncmp(text, "1 in ", 5) != 0 || strspn(text + 5, "0123456789.") != strlen(text + 5)) {
        return false;
    }
    char *end = NULL;
    *years = strtod(text + 5, &end);
    return end != text + 5 && *end == '\0' && *years > 1.0 && *years <= 10000.0;
}

bool uf_winter_parse(const char *text, struct uf_winter_choice *choice)
{
    static const struct {
        const char *text;
        enum uf_winter_kind kind;
    } words[] = {
        {"mean", UF_WINTER_MEAN},
        {"coldest three in thirty", UF_WINTER_THREE_IN_THIRTY},
        {"coldest recorded", UF_WINTER_COLDEST},
        {"every", UF_WINTER_EVERY},
    };
    struct uf_winter_choice read = {0};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(text, words[i].text) == 0) {
            read.kind = words[i].kind;
            *choice = read;
            return true;
        }
    }
    if (parse_return(text, &read.return_years)) {
        read.kind = UF_WINTER_RETURN;
    } else if (parse_year(text, &read.year)) {
        read.kind = UF_WINTER_RECORDED;
    } else {
        return false;
    }
    *choice = read;
    return true;
}
