#include "solver/base/calendar.h"
#include "solver/base/constants.h"
#include "winter.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SLOTS          366
#define LEAP_SLOT      59 /* 29 February */
#define HARMONICS      3  /* see the header for why */
#define SNOW_HALF_DAYS 7  /* running mean of 15 days */
#define MISSING_MOST   60 /* days of the year that no year on file may have */

struct slot_sums {
    double sum[SLOTS];
    size_t n[SLOTS], above[SLOTS]; /* of all values, of those above 0 */
};

/* Slot of a day: its place in a leap year. */
static size_t slot_of(long day)
{
    const struct uf_date date = uf_calendar_date(day);
    return (size_t)(uf_calendar_day(2000, date.month, date.day) - uf_calendar_day(2000, 1, 1));
}

static void add_days(struct slot_sums *sums, const double *values, const struct uf_weather *weather,
                     long first_day, long last_day)
{
    for (long day = first_day; day <= last_day; day++) {
        const double value = values[day - weather->start_day];
        if (!isnan(value)) {
            const size_t slot = slot_of(day);
            sums->sum[slot] += value;
            sums->n[slot]++;
            sums->above[slot] += value > 0.0;
        }
    }
}

/* Adds the values of the usable winters' days, or, with no list, of the latest whole years on
   file; days without a value are passed over. */
static void add_years(struct slot_sums *sums, const double *values,
                      const struct uf_weather *weather, const struct uf_winter_list *list)
{
    const long days = (long)weather->days;
    const long whole = (long)floor(floor((double)days / UF_WINTER_YEAR_DAYS) * UF_YEAR_DAY);
    const long last_day = weather->start_day + days - 1;
    if (list == NULL) {
        add_days(sums, values, weather, last_day + 1 - (whole < days ? whole : days), last_day);
    }
    for (size_t w = 0; list != NULL && w < list->n; w++) {
        if (list->rows[w].usable) {
            add_days(sums, values, weather, list->rows[w].first_day, list->rows[w].last_day);
        }
    }
}

/* Means of the slots; a slot without a value is `missing`, 29 February its neighbours' mean. */
static void slot_means(double *means, const struct slot_sums *sums, double missing)
{
    for (size_t s = 0; s < SLOTS; s++) {
        means[s] = sums->n[s] > 0 ? sums->sum[s] / (double)sums->n[s] : missing;
    }
    if (sums->n[LEAP_SLOT] == 0) {
        means[LEAP_SLOT] = 0.5 * (means[LEAP_SLOT - 1] + means[LEAP_SLOT + 1]);
    }
}

/* Mean and first harmonics of a periodic series: its discrete Fourier sum, cut short. */
static void smooth_by_harmonics(double *out, const double *means)
{
    memset(out, 0, SLOTS * sizeof *out);
    for (int k = 0; k <= HARMONICS; k++) {
        const double turn = 2.0 * UF_PI * k / SLOTS, weight = (k == 0 ? 1.0 : 2.0) / SLOTS;
        double a = 0.0, b = 0.0;
        for (size_t s = 0; s < SLOTS; s++) {
            a += weight * means[s] * cos(turn * (double)s);
            b += weight * means[s] * sin(turn * (double)s);
        }
        for (size_t s = 0; s < SLOTS; s++) {
            out[s] += a * cos(turn * (double)s) + b * sin(turn * (double)s);
        }
    }
}

static void smooth_by_running_mean(double *out, const double *means)
{
    for (size_t s = 0; s < SLOTS; s++) {
        double sum = 0.0;
        for (size_t k = 0; k <= (size_t)2 * SNOW_HALF_DAYS; k++) {
            sum += means[(s + SLOTS - SNOW_HALF_DAYS + k) % SLOTS];
        }
        out[s] = sum / (2 * SNOW_HALF_DAYS + 1);
    }
}

/* Snow lies in the mean year where it does in half of the years or more, by its mean depth. A trace of
   the mean holds the ground at 0 degC no day that most years have bare and mild. */
static void make_snow(double *snow_m, const struct slot_sums *sums)
{
    double means[SLOTS], shares[SLOTS], share[SLOTS];
    slot_means(means, sums, 0.0);
    for (size_t s = 0; s < SLOTS; s++) {
        shares[s] = sums->n[s] > 0 ? (double)sums->above[s] / (double)sums->n[s] : 0.0;
    }
    smooth_by_running_mean(snow_m, means);
    smooth_by_running_mean(share, shares);
    for (size_t s = 0; s < SLOTS; s++) {
        snow_m[s] = share[s] < 0.5 ? 0.0 : snow_m[s];
    }
}

static void make_year(struct uf_winter_mean_year *out, const struct slot_sums *air,
                      const struct uf_weather *weather, const struct uf_winter_list *list)
{
    struct slot_sums snow = {{0.0}, {0}, {0}};
    double means[SLOTS];
    slot_means(means, air, NAN);
    smooth_by_harmonics(out->air_degC, means);
    for (size_t s = 0; s < SLOTS; s++) {
        out->mean_air_degC += out->air_degC[s] / SLOTS;
        if (out->air_degC[s] < out->air_degC[out->coldest_day]) {
            out->coldest_day = (long)s;
        }
        if (out->air_degC[s] > out->air_degC[out->warmest_day]) {
            out->warmest_day = (long)s;
        }
    }
    if (weather->snow_m != NULL) {
        add_years(&snow, weather->snow_m, weather, list);
        make_snow(out->snow_m, &snow);
    }
}

enum uf_status uf_winter_mean_year(struct uf_winter_mean_year *out,
                                   const struct uf_weather *weather,
                                   const struct uf_winter_list *list, struct uf_error *err)
{
    struct slot_sums sums = {{0.0}, {0}, {0}};
    memset(out, 0, sizeof *out);
    if (list->n_usable == 0) {
        return uf_fail(err, UF_E_INPUT,
                       "no winter of the record is whole, from %s: give a record that covers at "
                       "least one such year with no gap over a few days, or start from a measured "
                       "profile (initial.profile and initial.date)",
                       list->south ? "February to January" : "August to July");
    }
    add_years(&sums, weather->air_degC, weather, list);
    make_year(out, &sums, weather, list);
    return UF_OK;
}

bool uf_winter_mean_record(struct uf_winter_mean_year *out, const struct uf_weather *weather)
{
    struct slot_sums sums = {{0.0}, {0}, {0}};
    size_t missing = 0;
    memset(out, 0, sizeof *out);
    add_years(&sums, weather->air_degC, weather, NULL);
    for (size_t s = 0; s < SLOTS; s++) {
        const size_t before = s > 0 ? s - 1 : SLOTS - 1;
        missing += s != LEAP_SLOT && sums.n[s] == 0;
        if (sums.n[s] == 0 && sums.n[before] > 0 && s != LEAP_SLOT) {
            sums.sum[s] = sums.sum[before] / (double)sums.n[before];
            sums.n[s] = 1;
        }
    }
    if (weather->days < UF_WINTER_YEAR_DAYS || missing > MISSING_MOST || sums.n[0] == 0) {
        return false;
    }
    make_year(out, &sums, weather, NULL);
    return true;
}

/* Slot of the day winters are counted from. */
static long first_slot(bool south)
{
    return uf_calendar_day(2000, south ? 2 : 8, 1) - uf_calendar_day(2000, 1, 1);
}

double uf_winter_mean_index(const struct uf_winter_mean_year *year, bool south)
{
    double air_degC[SLOTS];
    for (size_t s = 0; s < SLOTS; s++) {
        air_degC[s] = year->air_degC[(s + (size_t)first_slot(south)) % SLOTS];
    }
    return uf_winter_index(air_degC, SLOTS);
}

bool uf_winter_mean_fits(const struct uf_winter_mean_year *year, bool south)
{
    const long apart = labs(year->warmest_day - first_slot(south));
    return (apart < SLOTS - apart ? apart : SLOTS - apart) <= SLOTS / 4;
}

void uf_winter_mean_days(const struct uf_winter_mean_year *year, long start_day, double *air_degC,
                         double *snow_m)
{
    size_t i = 0;
    for (long day = start_day; i < UF_WINTER_YEAR_DAYS; day++) {
        const size_t slot = slot_of(day);
        if (slot != LEAP_SLOT) {
            air_degC[i] = year->air_degC[slot];
            snow_m[i++] = year->snow_m[slot];
        }
    }
}

void uf_winter_mean_day(const struct uf_winter_mean_year *year, long day, double *air_degC,
                        double *snow_m)
{
    const size_t slot = slot_of(day);
    *air_degC = year->air_degC[slot];
    *snow_m = year->snow_m[slot];
}
