#include "solver/base/calendar.h"
#include "winter.h"
#include "winter_private.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define AUTUMN_DAYS       30 /* from the warmest day of the mean year to the start */
#define AFTER_SUMMER_DAYS 61 /* from the next warmest day to the end: two months */
#define BLEND_DAYS        7
#define LARGEST_SCALE     2.0 /* beyond it a winter loses its shape: take the next */
#define RECORD_REACH      3.0 /* longer return periods, in record lengths, are told */

/* Everything the steps below share; filled once, then read. */
struct plan {
    const struct uf_weather *weather;
    const struct uf_winter_list *list;
    const struct uf_winter *winter; /* whose shape is used */
    struct uf_winter_mean_year year;
    long start, end;   /* first and last day of the season */
    long first, last;  /* winter proper */
    size_t index_days; /* the index is taken over this many days from start */
    double scale;
    double *air_degC;                /* [end - start + 1], as are the next two */
    double *mean_degC, *departure_K; /* departure already blended */
};

static long slot_day(int year, long slot)
{
    const struct uf_date date = uf_calendar_date(uf_calendar_day(2000, 1, 1) + slot);
    const bool exists = uf_calendar_valid(year, date.month, date.day);
    return uf_calendar_day(year, date.month, exists ? date.day : 28);
}

/* Slot of the mean year for a day. */
static size_t slot_of(long day)
{
    const struct uf_date date = uf_calendar_date(day);
    return (size_t)(uf_calendar_day(2000, date.month, date.day) - uf_calendar_day(2000, 1, 1));
}

/* How much of the departure a day gets: 1 in the winter proper, 0 beyond the blending days. */
static double blend(const struct plan *plan, long day)
{
    const long outside = day < plan->first ? plan->first - day : day - plan->last;
    if (outside <= 0) {
        return 1.0;
    }
    return outside > BLEND_DAYS ? 0.0 : 1.0 - (double)outside / (BLEND_DAYS + 1);
}

static bool in_winter(const struct plan *plan, long day)
{
    return day >= plan->winter->first_day && day <= plan->winter->last_day;
}

/* Sets the season's first and last day around the winter. */
static enum uf_status place_season(struct plan *plan, struct uf_error *err)
{
    const long begins = plan->winter->first_day;
    const int year = uf_calendar_date(begins).year;
    long warmest = slot_day(year, plan->year.warmest_day);
    for (int other = year - 1; other <= year + 1; other++) {
        const long day = slot_day(other, plan->year.warmest_day);
        warmest = labs(day - begins) < labs(warmest - begins) ? day : warmest;
    }
    if (labs(warmest - begins) > 91) {
        const struct uf_date date = uf_calendar_date(warmest);
        return uf_fail(err, UF_E_INPUT,
                       "the record is warmest in month %d, which is not summer in the %s: check "
                       "the sign of site.latitude and the weather file",
                       date.month, plan->list->south ? "south" : "north");
    }
    const long next = slot_day(uf_calendar_date(warmest).year + 1, plan->year.warmest_day);
    plan->start = warmest + AUTUMN_DAYS;
    plan->end = next + AFTER_SUMMER_DAYS;
    plan->index_days = (size_t)(plan->winter->last_day - plan->start + 1);
    return UF_OK;
}

static void clear(struct plan *plan)
{
    free(plan->mean_degC);
    free(plan->departure_K);
    free(plan->air_degC);
    plan->mean_degC = plan->departure_K = plan->air_degC = NULL;
}

/* Sets the winter proper: the freezing seasons of the recorded winter and the mean year
   together. */
static void place_winter(struct plan *plan)
{
    const struct uf_winter *winter = plan->winter;
    const struct uf_winter_drop mean = uf_winter_drop(plan->mean_degC, plan->index_days);
    const bool record_froze = winter->freeze_end >= winter->freeze_start;
    plan->first = record_froze ? winter->freeze_start : winter->last_day;
    plan->last = record_froze ? winter->freeze_end : plan->start;
    if (mean.degC_day > 0.0) {
        const long from = plan->start + (long)mean.from, to = plan->start + (long)mean.to - 1;
        plan->first = from < plan->first ? from : plan->first;
        plan->last = to > plan->last ? to : plan->last;
    }
    if (plan->first > plan->last) { /* no frost in either */
        plan->first = plan->start;
        plan->last = winter->last_day;
    }
    plan->first = plan->first < plan->start ? plan->start : plan->first;
}

static enum uf_status make_departure(struct plan *plan, struct uf_error *err)
{
    const size_t days = (size_t)(plan->end - plan->start + 1);
    clear(plan);
    plan->mean_degC = calloc(days, sizeof *plan->mean_degC);
    plan->departure_K = calloc(days, sizeof *plan->departure_K);
    plan->air_degC = calloc(days, sizeof *plan->air_degC);
    if (plan->mean_degC == NULL || plan->departure_K == NULL || plan->air_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory for a season of %zu days", days);
    }
    for (size_t i = 0; i < days; i++) {
        plan->mean_degC[i] = plan->year.air_degC[slot_of(plan->start + (long)i)];
    }
    place_winter(plan);
    for (size_t i = 0; i < days; i++) {
        const long day = plan->start + (long)i;
        plan->departure_K[i] = 0.0;
        if (in_winter(plan, day)) {
            const double recorded = plan->weather->air_degC[day - plan->weather->start_day];
            plan->departure_K[i] = blend(plan, day) * (recorded - plan->mean_degC[i]);
        }
    }
    return UF_OK;
}

/* Sets the air of the season to mean + scale * departure; returns its index. */
static double index_at(struct plan *plan, double scale)
{
    for (long i = 0; i <= plan->end - plan->start; i++) {
        plan->air_degC[i] = plan->mean_degC[i] + scale * plan->departure_K[i];
    }
    return uf_winter_index(plan->air_degC, plan->index_days);
}

/* Scale nearest to 1 whose index is the asked one; NAN when there is none within the limits. */
static double find_scale(struct plan *plan, double asked_degC_day)
{
    const double step = 0.05, above_at_1 = index_at(plan, 1.0) - asked_degC_day;
    double near = 1.0, far = NAN;
    for (int k = 1; isnan(far) && 1.0 + k * step < LARGEST_SCALE + 0.5 * step; k++) {
        const double sides[2] = {1.0 + step * k, fmax(1.0 - step * k, 0.0)};
        for (int side = 0; side < 2 && isnan(far); side++) {
            const double above = index_at(plan, sides[side]) - asked_degC_day;
            if (above * above_at_1 <= 0.0) {
                far = sides[side];
                near = far + (far > 1.0 ? -step : step);
            }
        }
    }
    for (int k = 0; k < 50 && !isnan(far); k++) {
        const double middle = 0.5 * (near + far);
        const double above = index_at(plan, middle) - asked_degC_day;
        *(above * above_at_1 > 0.0 ? &near : &far) = middle;
    }
    return fabs(above_at_1) < 1e-9 ? 1.0 : far;
}

/* Adds one more sentence to the warnings, as far as it goes. */
__attribute__((format(printf, 2, 3))) static void add_warning(struct uf_winter_season *season,
                                                              const char *format, ...)
{
    char *text = season->warning;
    const size_t size = sizeof season->warning;
    const size_t used = strlen(text);
    va_list list;
    va_start(list, format);
    if (used > 0 && used + 2 < size) {
        (void)snprintf(text + used, size - used, "; ");
    }
    (void)vsnprintf(text + strlen(text), size - strlen(text), format, list);
    va_end(list);
}

/* Snow of the season: recorded in the winter proper, the mean year's outside. */
static void fill_snow(struct uf_winter_season *season, const struct plan *plan, bool recorded)
{
    size_t missing = 0;
    for (size_t i = 0; i < season->days; i++) {
        const long day = season->start_day + (long)i;
        const double mean = plan->year.snow_m[slot_of(day)];
        const double share = recorded && in_winter(plan, day) ? blend(plan, day) : 0.0;
        season->snow_m[i] = mean;
        if (share > 0.0 && plan->weather->snow_m != NULL) {
            const double depth = plan->weather->snow_m[day - plan->weather->start_day];
            missing += isnan(depth) ? 1 : 0;
            season->snow_m[i] = share * (isnan(depth) ? 0.0 : depth) + (1.0 - share) * mean;
        }
    }
    if (missing > 0) {
        add_warning(season, "snow depth is missing on %zu days of that winter: taken as bare",
                    missing);
    }
}

static void warn_of_record(struct uf_winter_season *season, const struct uf_winter_list *list,
                           const struct uf_winter_choice *choice)
{
    const double winters = (double)list->n_usable;
    if (choice->kind == UF_WINTER_RETURN && choice->return_years > RECORD_REACH * winters) {
        add_warning(season, "1 in %g reaches far beyond the %zu winters on file",
                    choice->return_years, list->n_usable);
    }
    if (choice->kind == UF_WINTER_THREE_IN_THIRTY && list->n_usable < 30) {
        add_warning(season, "three coldest taken from %zu winters, not thirty", list->n_usable);
    }
    if (choice->kind == UF_WINTER_COLDEST && list->n_usable < 30) {
        add_warning(season, "coldest of only %zu winters on file", list->n_usable);
    }
    if (choice->kind == UF_WINTER_MEAN &&
        season->got_index_degC_day < 0.95 * season->asked_index_degC_day) {
        add_warning(
            season,
            "the mean year's index lies below the mean of the winters': cold spells cancel");
    }
}

/* The sentence and the warnings about where the winter comes from. */
static void describe(struct uf_winter_season *season, const struct plan *plan,
                     const struct uf_winter_choice *choice)
{
    char label[16], asked[48] = "";
    (void)uf_winter_label(plan->winter->year, plan->list->south, label, sizeof label);
    if (choice->kind == UF_WINTER_RETURN) {
        (void)snprintf(asked, sizeof asked, "1 in %g winter", choice->return_years);
    } else if (choice->kind == UF_WINTER_THREE_IN_THIRTY) {
        (void)snprintf(asked, sizeof asked, "mean of the three coldest in thirty");
    }
    if (choice->kind == UF_WINTER_MEAN) {
        uf_message_set(&season->text,
                       UF_SAID("mean year, freezing index {} (mean of the winters {})",
                               UF_ROUND(INDEX, season->got_index_degC_day),
                               UF_ROUND(INDEX, season->asked_index_degC_day)));
    } else if (asked[0] == '\0') {
        uf_message_set(&season->text,
                       UF_SAID("winter {}{} as recorded, freezing index {}", UF_WORD(label),
                               UF_WORD(plan->weather->typical_year ? " of the typical year" : ""),
                               UF_ROUND(INDEX, season->recorded_index_degC_day)));
    } else {
        char scale[24];
        (void)snprintf(scale, sizeof scale, "%.3f", season->scale);
        uf_message_set(&season->text,
                       UF_SAID("{}, freezing index {}: shape of winter {} ({}), daily anomalies "
                               "scaled by {}",
                               UF_WORD(asked), UF_ROUND(INDEX, season->asked_index_degC_day),
                               UF_WORD(label), UF_ROUND(INDEX, season->recorded_index_degC_day),
                               UF_WORD(scale)));
    }
    warn_of_record(season, plan->list, choice);
}

/* The season of one recorded winter, ready in plan->air_degC; plan->scale is NAN when
   that winter cannot be scaled to the asked index. */
static enum uf_status try_winter(struct plan *plan, double asked_degC_day, double scale,
                                 struct uf_error *err)
{
    enum uf_status status = place_season(plan, err);
    if (status == UF_OK) {
        status = make_departure(plan, err);
    }
    if (status == UF_OK) {
        plan->scale = isnan(scale) ? find_scale(plan, asked_degC_day) : scale;
    }
    return status;
}

/* Chooses the winter and fills the plan. */
static enum uf_status make_plan(struct plan *plan, double *asked_degC_day,
                                const struct uf_winter_choice *choice, struct uf_error *err)
{
    const bool scaled =
        choice->kind == UF_WINTER_RETURN || choice->kind == UF_WINTER_THREE_IN_THIRTY;
    const double scale = scaled ? (double)NAN : choice->kind == UF_WINTER_MEAN ? 0.0 : 1.0;
    enum uf_status status = uf_winter_mean_year(&plan->year, plan->weather, plan->list, err);
    if (status == UF_OK) {
        status =
            uf_winter_pick(&plan->winter, asked_degC_day, plan->weather, plan->list, choice, err);
    }
    plan->scale = NAN;
    while (status == UF_OK && isnan(plan->scale) && plan->winter != NULL) {
        status = try_winter(plan, *asked_degC_day, scale, err);
        if (status == UF_OK && isnan(plan->scale)) {
            const double distance = fabs(plan->winter->freezing_index_degC_day - *asked_degC_day);
            plan->winter = uf_winter_pick_nearest(plan->list, *asked_degC_day, distance);
        }
    }
    if (status == UF_OK && plan->winter == NULL) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter",
                           UF_SAID("no winter on file can be scaled to a freezing index of {}",
                                   UF_OF(INDEX, *asked_degC_day)),
                           UF_PLAIN("a recorded winter or `mean`"));
    }
    return status;
}

/* The season that a filled plan comes to; takes over its air temperatures. */
static enum uf_status season_of(struct uf_winter_season **out, struct plan *plan,
                                double asked_degC_day, const struct uf_winter_choice *choice,
                                struct uf_error *err)
{
    const size_t days = (size_t)(plan->end - plan->start + 1);
    struct uf_winter_season *season = calloc(1, sizeof *season);
    double *snow_m = malloc(days * sizeof *snow_m);
    if (season == NULL || snow_m == NULL) {
        free(season);
        free(snow_m);
        return uf_fail(err, UF_E_MEMORY, "no memory for a season of %zu days", days);
    }
    season->start_day = plan->start;
    season->days = days;
    season->winter_first = plan->first;
    season->winter_last = plan->last;
    season->asked_index_degC_day = asked_degC_day;
    season->recorded_index_degC_day = plan->winter->freezing_index_degC_day;
    season->recorded_year = plan->winter->year;
    season->scale = plan->scale;
    season->got_index_degC_day = index_at(plan, plan->scale);
    season->air_degC = plan->air_degC;
    season->snow_m = snow_m;
    plan->air_degC = NULL;
    describe(season, plan, choice);
    fill_snow(season, plan, choice->kind != UF_WINTER_MEAN);
    *out = season;
    return UF_OK;
}

enum uf_status uf_winter_season_create(struct uf_winter_season **out,
                                       const struct uf_weather *weather,
                                       const struct uf_winter_list *list,
                                       const struct uf_winter_choice *choice, struct uf_error *err)
{
    struct plan plan = {.weather = weather, .list = list};
    double asked_degC_day = NAN;
    *out = NULL;
    enum uf_status status = make_plan(&plan, &asked_degC_day, choice, err);
    if (status == UF_OK) {
        status = season_of(out, &plan, asked_degC_day, choice, err);
    }
    clear(&plan);
    return status;
}

void uf_winter_season_free(struct uf_winter_season *season)
{
    if (season != NULL) {
        free(season->air_degC);
        free(season->snow_m);
        free(season);
    }
}
