#include "solver/base/constants.h"
#include "solver/statics/lifting.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define LB_N   4.4482216152605
#define DEGREE (UF_PI / 180.0)

/* 1 / sin(angle from the horizontal), as in published sling charts. */
Test(lifting, published_factors)
{
    static const double rows[][2] = {{90, 1.000}, {75, 1.035}, {70, 1.064}, {65, 1.103},
                                     {60, 1.155}, {55, 1.221}, {50, 1.305}, {45, 1.414},
                                     {40, 1.556}, {35, 1.743}, {30, 2.000}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        near(uf_lifting_leg_N(1.0, 1.0, rows[i][0] * DEGREE), rows[i][1], 6e-4, "factor");
    }
    near(uf_lifting_leg_N(1000.0, 2.0, 60.0 * DEGREE), 577.0, 0.5, "1,000 lb at 60 degrees");
    near(uf_lifting_leg_N(1000.0, 2.0, 45.0 * DEGREE), 707.0, 0.5, "1,000 lb at 45 degrees");
    near(uf_lifting_leg_N(12.0, 2.0, 60.0 * DEGREE), 6.928, 5e-4, "12 kN, 60 included");
    near(uf_lifting_leg_N(12.0, 2.0, 45.0 * DEGREE), 8.485, 5e-4, "12 kN, 90 included");
    near(uf_lifting_leg_N(12.0, 2.0, 30.0 * DEGREE), 12.000, 5e-4, "12 kN, 120 included");
}

static struct uf_lifting lift(const struct uf_lifting_input *input, double mass_kg)
{
    struct uf_lifting got;
    struct uf_error err = {0};
    cr_assert_eq(uf_lifting(&got, input, mass_kg, &err), UF_OK, "%s", err.text);
    return got;
}

/* Picks 4.0 m apart at 60 degrees included: leg 4.000 m, height 3.464 m. */
Test(lifting, least_sling)
{
    struct uf_lifting_input input;
    uf_lifting_init(&input);
    input.picks = 2;
    input.spacing_m = 4.0;
    const struct uf_lifting got = lift(&input, 900.0);
    near(got.least_sling_m, 4.0, 1e-12, "leg");
    near(got.at_least.headroom_m, 3.464, 5e-4, "height");
    near(got.at_least.included_rad / DEGREE, 60.0, 1e-9, "included");
    near(got.at_least.from_horizontal_rad / DEGREE, 60.0, 1e-9, "from the horizontal");
    near(got.at_least.from_vertical_rad / DEGREE, 30.0, 1e-9, "from the vertical");
    cr_expect(got.at_least.allowed && got.at_least.preferred);
    cr_expect(isnan(got.given.two_N) && isnan(got.hoist_use));
    cr_expect(isnan(got.at_least.four_N), "two picks have no four legs");
}

/* 3,600 lb at 60 degrees: two legs or a rigid load on four 2,078.5, three 1,385.6, four
   1,039.2 lb; two legs at 45 degrees 2,545.6 lb. */
Test(lifting, four_picks_of_a_rigid_tank)
{
    struct uf_lifting_input input;
    uf_lifting_init(&input);
    input.picks = 4;
    input.spacing_m = 3.0;
    input.width_m = 1.25;
    input.mass_kg = 3600.0 * LB_N / UF_GRAVITY_M_S2;
    input.hoist_N = 10000.0 * LB_N;
    input.rigging_kg = 400.0 * LB_N / UF_GRAVITY_M_S2;
    struct uf_lifting got = lift(&input, NAN);
    near(got.reach_m, 0.5 * 3.25, 1e-12, "reach");
    near(got.at_least.two_N / LB_N, 2078.5, 0.05, "as two");
    near(got.at_least.three_N / LB_N, 1385.6, 0.05, "as three");
    near(got.at_least.four_N / LB_N, 1039.2, 0.05, "as four");
    near(got.hoist_use, 0.4, 1e-12, "hoist");
    input.sling_m = got.reach_m / cos(45.0 * DEGREE);
    got = lift(&input, NAN);
    near(got.given.two_N / LB_N, 2545.6, 0.05, "at 45 degrees");
    cr_expect(got.given.allowed && !got.given.preferred);
}

/* 10 ft of sling on 5 ft of height is 30 degrees, the least allowed. */
Test(lifting, the_least_angle)
{
    struct uf_lifting_input input;
    uf_lifting_init(&input);
    input.picks = 2;
    input.spacing_m = 2.0 * sqrt(100.0 - 25.0);
    input.sling_m = 10.0;
    struct uf_lifting got = lift(&input, 900.0);
    near(got.given.from_horizontal_rad / DEGREE, 30.0, 1e-9, "angle");
    cr_expect(got.given.allowed);
    input.sling_m = 9.9;
    got = lift(&input, 900.0);
    cr_expect_not(got.given.allowed);
}

Test(lifting, what_is_missing_is_named)
{
    struct uf_lifting_input input;
    struct uf_lifting got;
    struct uf_error err = {0};
    uf_lifting_init(&input);
    cr_expect_eq(uf_lifting(&got, &input, 900.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "lifting.picks") != NULL);
    input.picks = 4;
    cr_expect_eq(uf_lifting(&got, &input, 900.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "lifting.spacing") != NULL);
    input.spacing_m = 4.0;
    cr_expect_eq(uf_lifting(&got, &input, 900.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "lifting.width") != NULL);
    input.picks = 2;
    cr_expect_eq(uf_lifting(&got, &input, NAN, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "lifting.mass") != NULL);
    input.sling_m = 1.9;
    cr_expect_eq(uf_lifting(&got, &input, 900.0, &err), UF_E_RANGE);
}
