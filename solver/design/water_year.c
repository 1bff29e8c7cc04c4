#include "water_year.h"

#include "solver/base/calendar.h"
#include "solver/base/constants.h"

#include <math.h>

#define YEAR_DAYS 365

int uf_water_year_month_day(int month)
{
    static const int starts[13] = {1, 32, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366};
    return starts[month];
}

int uf_water_year_day(double day)
{
    const long whole = (long)floor(day);
    return (int)(whole - uf_calendar_day(uf_calendar_date(whole).year, 1, 1)) + 1;
}

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
    return 0.5 * (double)(uf_water_year_month_day(month) + uf_water_year_month_day(month + 1));
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
