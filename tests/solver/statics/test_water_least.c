#include "solver/statics/holddown.h"
#include "solver/statics/water_least.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_case design;
static struct uf_column_soils soils;

static void setup(void)
{
    statics_design(&design, &soils);
}
TestSuite(water_least, .init = setup);

Test(water_least, least_factor_has_a_date)
{
    struct uf_water_least got;
    struct uf_holddown balance;
    design.ground.year.mean_m = 1.8;
    design.ground.year.amplitude_m = 0.9;
    design.ground.year.highest_day = 120.0;
    cr_assert_eq(uf_water_least(&got, &design, &soils, NULL), UF_OK);
    cr_expect_eq(got.day, 120);
    cr_assert_eq(uf_holddown_at(&balance, &design, &soils, 0.9, NULL), UF_OK);
    near(got.factor, balance.factor_submerged, 1e-12, "factor");
    near(got.month_factor[3], got.factor, 1e-12, "day 120 is the last of April");
    cr_expect_gt(got.month_factor[9], got.factor);
}

Test(water_least, nothing_lifts_all_year)
{
    struct uf_water_least got;
    design.ground.year.n_months = 12;
    for (size_t i = 0; i < 12; i++) {
        design.ground.year.month_m[i] = i == 5 ? 4.0 : 5.0;
    }
    cr_assert_eq(uf_water_least(&got, &design, &soils, NULL), UF_OK);
    cr_expect(isnan(got.factor) && isnan(got.month_factor[5]));
    near(got.depth_m, 4.0, 0.04, "still the highest water");
}

Test(water_least, what_is_missing_is_named)
{
    struct uf_water_least got;
    struct uf_error err = {0};
    design.ground.year.n_months = 7;
    cr_expect_eq(uf_water_least(&got, &design, &soils, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "by_month") != NULL, "%s", err.text);
    uf_water_year_init(&design.ground.year);
    design.ground.year.mean_m = 2.0;
    cr_expect_eq(uf_water_least(&got, &design, &soils, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "amplitude") != NULL, "%s", err.text);
}
