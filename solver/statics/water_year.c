#include "water_year.h"

#include "holddown.h"
#include "solver/base/constants.h"

#include <math.h>

#define YEAR_DAYS 365

/* Day of the year on which a month begins; the last entry closes the year. */
static const int month_start[13] = {1, 32, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366};

void uf_water_year_init(struct uf_water_year *water)
{
    *water = (struct uf_water_year){.mean_m = NAN, .amplitude_m = NAN, .highest_day = NAN};
    for (size_t i = 0; i < 12; i++) {
        water->month_m[i] = NAN;
    }
}

bool uf_water_year_given(const struct uf_water_year *water)
{
    return water->n_months > 0 || !isnan(water->mean_m);
}

static double middle_of(int month)
{
    return 0.5 * (double)(month_start[month] + month_start[month + 1]);
}

/* Straight between the middles of two months, round the year's end. */
static double by_month_m(const struct uf_water_year *water, double day)
{
    int next = 0;
    while (next < 12 && middle_of(next) <= day) {
        next++;
    }
    const int before = (next + 11) % 12, after = next % 12;
    const double from = middle_of(before) - (next == 0 ? YEAR_DAYS : 0);
    const double to = middle_of(after) + (next == 12 ? YEAR_DAYS : 0);
    const double share = (day - from) / (to - from);
    return water->month_m[before] + share * (water->month_m[after] - water->month_m[before]);
}

double uf_water_year_depth_m(const struct uf_water_year *water, double day)
{
    if (water->n_months == 12) {
        return by_month_m(water, day);
    }
    return water->mean_m -
           water->amplitude_m * cos(2.0 * UF_PI * (day - water->highest_day) / YEAR_DAYS);
}

static enum uf_status check(const struct uf_water_year *water, struct uf_error *err)
{
    if (water->n_months != 0 && water->n_months != 12) {
        return uf_fail_key(err, UF_E_INPUT, "groundwater.by_month",
                           UF_SAID("{} depths are given", UF_COUNT(water->n_months)),
                           UF_PLAIN("twelve, one a month"));
    }
    if (water->n_months == 0 && !(water->amplitude_m >= 0.0 && water->highest_day >= 1.0)) {
        return uf_fail_key(err, UF_E_INPUT, "groundwater.mean",
                           UF_PLAIN("a wave needs more than its mean"),
                           UF_PLAIN("with groundwater.amplitude and groundwater.highest_on"));
    }
    return UF_OK;
}

/* The day of a month on which the water stands highest. */
static int highest_day(const struct uf_water_year *water, int month)
{
    int best = month_start[month];
    for (int day = best + 1; day < month_start[month + 1]; day++) {
        if (uf_water_year_depth_m(water, (double)day) <
            uf_water_year_depth_m(water, (double)best)) {
            best = day;
        }
    }
    return best;
}

enum uf_status uf_water_year_least(struct uf_water_year_least *out,
                                   const struct uf_water_year *water, const struct uf_case *design,
                                   const struct uf_column_soils *soils, struct uf_error *err)
{
    enum uf_status status = check(water, err);
    *out = (struct uf_water_year_least){.depth_m = INFINITY, .factor = NAN};
    for (int month = 0; month < 12 && status == UF_OK; month++) {
        struct uf_holddown balance;
        const int day = highest_day(water, month);
        const double depth_m = uf_water_year_depth_m(water, (double)day);
        status = uf_holddown_at(&balance, design, soils, depth_m, err);
        out->month_factor[month] = balance.factor_submerged;
        if (status == UF_OK && depth_m < out->depth_m) {
            out->day = day;
            out->depth_m = depth_m;
            out->factor = balance.factor_submerged;
        }
    }
    return status;
}
