#include "solver/base/calendar.h"
#include "solver/design/water_year.h"

#include <criterion/criterion.h>

#include <math.h>

static struct uf_water_year water;

static void setup(void)
{
    uf_water_year_init(&water);
}
TestSuite(water_year, .init = setup);

static void near_m(double got, double expected, double allowed, const char *what)
{
    cr_expect(fabs(got - expected) <= allowed, "%s: %g, not %g", what, got, expected);
}

/* Mean 1.8 m, amplitude 0.9 m: 0.9 m at its highest, the mean 91.25 days later, then 2.7 m. */
Test(water_year, published_wave)
{
    cr_expect_not(uf_water_year_given(&water));
    water.mean_m = 1.8;
    water.amplitude_m = 0.9;
    water.highest_day = 120.0;
    cr_expect(uf_water_year_given(&water));
    near_m(uf_water_year_depth_m(&water, 120.0), 0.9, 1e-12, "high");
    near_m(uf_water_year_depth_m(&water, 211.25), 1.8, 1e-12, "mean");
    near_m(uf_water_year_depth_m(&water, 302.5), 2.7, 1e-12, "low");
}

Test(water_year, months_meet_round_the_years_end)
{
    water.n_months = 12;
    for (size_t i = 0; i < 12; i++) {
        water.month_m[i] = 1.0 + 0.1 * (double)i;
    }
    near_m(uf_water_year_depth_m(&water, 16.5), 1.0, 1e-12, "middle of January");
    near_m(uf_water_year_depth_m(&water, 46.0), 1.1, 1e-12, "middle of February");
    near_m(uf_water_year_depth_m(&water, 31.25), 1.05, 1e-12, "between");
    near_m(uf_water_year_depth_m(&water, 350.5), 2.1, 1e-12, "middle of December");
    /* halfway from 350.5 to 381.5 lies at 366 = 1 January */
    near_m(uf_water_year_depth_m(&water, 1.0), 1.55, 1e-12, "new year");
    near_m(uf_water_year_depth_m(&water, 366.0), 1.55, 1e-12, "old year");
}

Test(water_year, a_day_has_its_place_in_the_year)
{
    cr_expect_eq(uf_water_year_day((double)uf_calendar_day(2015, 1, 1)), 1);
    cr_expect_eq(uf_water_year_day((double)uf_calendar_day(2015, 12, 31) + 0.9), 365);
    cr_expect_eq(uf_water_year_day((double)uf_calendar_day(2016, 12, 31)), 366);
    cr_expect_eq(uf_water_year_day((double)uf_calendar_day(1968, 3, 1)), 61, "before 1970");
}
