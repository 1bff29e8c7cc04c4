#include "solver/statics/holddown.h"
#include "solver/statics/water_year.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_case design;
static struct uf_column_soils soils;
static struct uf_water_year water;

static void setup(void)
{
    statics_design(&design, &soils);
    uf_water_year_init(&water);
}
TestSuite(water_year, .init = setup);

/* Mean 1.8 m, amplitude 0.9 m: 0.9 m at its highest, the mean 91.25 days later, then 2.7 m. */
Test(water_year, published_wave)
{
    cr_expect_not(uf_water_year_given(&water));
    water.mean_m = 1.8;
    water.amplitude_m = 0.9;
    water.highest_day = 120.0;
    cr_expect(uf_water_year_given(&water));
    near(uf_water_year_depth_m(&water, 120.0), 0.9, 1e-12, "high");
    near(uf_water_year_depth_m(&water, 211.25), 1.8, 1e-12, "mean");
    near(uf_water_year_depth_m(&water, 302.5), 2.7, 1e-12, "low");
}

Test(water_year, months_meet_round_the_years_end)
{
    water.n_months = 12;
    for (size_t i = 0; i < 12; i++) {
        water.month_m[i] = 1.0 + 0.1 * (double)i;
    }
    near(uf_water_year_depth_m(&water, 16.5), 1.0, 1e-12, "middle of January");
    near(uf_water_year_depth_m(&water, 46.0), 1.1, 1e-12, "middle of February");
    near(uf_water_year_depth_m(&water, 31.25), 1.05, 1e-12, "between");
    near(uf_water_year_depth_m(&water, 350.5), 2.1, 1e-12, "middle of December");
    /* halfway from 350.5 to 381.5 lies at 366 = 1 January */
    near(uf_water_year_depth_m(&water, 1.0), 1.55, 1e-12, "new year");
    near(uf_water_year_depth_m(&water, 366.0), 1.55, 1e-12, "old year");
}

Test(water_year, least_factor_has_a_date)
{
    struct uf_water_year_least got;
    struct uf_holddown balance;
    water.mean_m = 1.8;
    water.amplitude_m = 0.9;
    water.highest_day = 120.0;
    cr_assert_eq(uf_water_year_least(&got, &water, &design, &soils, NULL), UF_OK);
    cr_expect_eq(got.day, 120);
    cr_assert_eq(uf_holddown_at(&balance, &design, &soils, 0.9, NULL), UF_OK);
    near(got.factor, balance.factor_submerged, 1e-12, "factor");
    near(got.month_factor[3], got.factor, 1e-12, "day 120 is the last of April");
    cr_expect_gt(got.month_factor[9], got.factor);
}

Test(water_year, nothing_lifts_all_year)
{
    struct uf_water_year_least got;
    water.n_months = 12;
    for (size_t i = 0; i < 12; i++) {
        water.month_m[i] = i == 5 ? 4.0 : 5.0;
    }
    cr_assert_eq(uf_water_year_least(&got, &water, &design, &soils, NULL), UF_OK);
    cr_expect(isnan(got.factor) && isnan(got.month_factor[5]));
    near(got.depth_m, 4.0, 0.04, "still the highest water");
}

Test(water_year, what_is_missing_is_named)
{
    struct uf_water_year_least got;
    struct uf_error err = {0};
    water.n_months = 7;
    cr_expect_eq(uf_water_year_least(&got, &water, &design, &soils, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "by_month") != NULL, "%s", err.text);
    uf_water_year_init(&water);
    water.mean_m = 2.0;
    cr_expect_eq(uf_water_year_least(&got, &water, &design, &soils, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "amplitude") != NULL, "%s", err.text);
}
