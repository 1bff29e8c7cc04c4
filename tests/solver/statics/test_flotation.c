#include "solver/base/constants.h"
#include "solver/statics/flotation.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define LB_N     4.4482216152605
#define FOOT_M   0.3048
#define FOOT3_M3 (FOOT_M * FOOT_M * FOOT_M)
#define PCF_N_M3 (LB_N / FOOT3_M3)
#define DEGREE   (UF_PI / 180.0)

static struct uf_flotation_fema example_c7(double gallon_ft3, double water_pcf)
{
    return uf_flotation_fema(250.0 * gallon_ft3 * FOOT3_M3, 670.0 * LB_N, 1.3, water_pcf * PCF_N_M3,
                             150.0 * PCF_N_M3);
}

/* FEMA P-259, appendix C, example C7 prints 2,048 lb and 23.4 ft3. */
Test(flotation, fema_example_c7)
{
    const struct uf_flotation_fema got = example_c7(0.134, 62.4);
    near(got.net_N / LB_N, 2047.52, 5e-3, "net buoyancy, lb");
    near(got.concrete_m3 / FOOT3_M3, 23.374, 5e-4, "concrete, ft3");
    near(example_c7(0.133681, 62.4).net_N / LB_N, 2041.04, 2e-2, "exact gallons");
    near(example_c7(0.134, 64.1).net_N / LB_N, 2121.56, 6e-3, "salt water");
}

/* The same concrete gives 1.300 by buoyant weights and 1.177 by total weights over all
   the water displaced. */
Test(flotation, bookkeeping_changes_the_factor)
{
    const double tank_m3 = 250.0 * 0.134 * FOOT3_M3, water = 62.4 * PCF_N_M3;
    const double concrete_m3 = example_c7(0.134, 62.4).concrete_m3;
    const double submerged =
        (670.0 * LB_N + concrete_m3 * (150.0 - 62.4) * PCF_N_M3) / (water * tank_m3);
    const double whole = uf_flotation_em_factor(670.0 * LB_N + concrete_m3 * 150.0 * PCF_N_M3, 0.0,
                                                0.0, water * (tank_m3 + concrete_m3), 0.0);
    near(submerged, 1.300, 5e-4, "submerged");
    near(whole, 1.177, 5e-4, "whole");
}

Test(flotation, fema_asks_for_no_concrete_where_nothing_lifts)
{
    const struct uf_flotation_fema got = uf_flotation_fema(1.0, 30000.0, 1.3, 9810.0, 23500.0);
    cr_expect_lt(got.net_N, 0.0);
    near(got.concrete_m3, 0.0, 0.0, "concrete");
}

Test(flotation, em_form_counts_water_and_surcharge)
{
    near(uf_flotation_em_factor(70.0, 20.0, 10.0, 120.0, 40.0), 1.25, 1e-12, "by hand");
    cr_expect(isnan(uf_flotation_em_factor(70.0, 0.0, 0.0, 40.0, 40.0)));
}

/* A ballasted structure in a published Eurocode 7 check: 922.6 against 839.8 with UK
   factors, 99.9 % and 109.9 %. U = 838.7 and W = 933.1 follow from the printed figures. */
Test(flotation, published_upl_check)
{
    const struct uf_flotation_upl plain = uf_flotation_upl(&uf_flotation_partials[0], 838.7, 933.1);
    const struct uf_flotation_upl uk = uf_flotation_upl(&uf_flotation_partials[1], 838.7, 933.1);
    near(plain.use, 0.999, 5e-4, "plain");
    near(uk.dst_N, 922.6, 0.05, "destabilising");
    near(uk.stb_N, 839.8, 0.05, "stabilising");
    near(uk.use, 1.099, 5e-4, "UK");
    near(1.0 / 0.9, 1.111, 5e-4, "single factor, plain");
    near(uf_flotation_partials[1].destabilising / uf_flotation_partials[1].stabilising, 1.222, 5e-4,
         "single factor, UK");
    near(uf_flotation_partials[2].destabilising / uf_flotation_partials[2].stabilising, 1.47, 5e-3,
         "single factor, Canada");
    cr_expect(isinf(uf_flotation_upl(&uf_flotation_partials[0], 5.0, -1.0).use));
    near(uf_flotation_upl(&uf_flotation_partials[0], 0.0, 0.0).use, 0.0, 0.0, "nothing lifts");
}

Test(flotation, every_row_has_a_source)
{
    for (size_t i = 0; i < UF_FLOTATION_PARTIALS; i++) {
        cr_expect(strlen(uf_flotation_partials[i].source) > 5);
    }
}

/* x = R is a vertical leg whatever the depth; the tangent meets the radius at a right angle. */
Test(flotation, strap_legs)
{
    near(uf_flotation_leg_angle_rad(1.2, 1.2, 1.7), 0.0, 1e-12, "vertical");
    const double a = uf_flotation_leg_angle_rad(1.2, 1.9, 1.6);
    /* distance of the centre from the line through the anchor at that angle is R */
    near(fabs(1.9 * cos(a) - 1.6 * sin(a)), 1.2, 1e-12, "tangent");
    cr_expect_gt(a, 0.0);
    cr_expect(isnan(uf_flotation_leg_angle_rad(1.2, 0.5, 0.5)));
    near(uf_flotation_leg_N(80000.0, 4, 0.0), 10000.0, 1e-9, "legs");
    near(uf_flotation_leg_N(80000.0, 4, 60.0 * DEGREE), 20000.0, 1e-6, "slanted legs");
    near(uf_flotation_leg_N(-5.0, 4, 0.3), 0.0, 0.0, "nothing left");
    cr_expect(isnan(uf_flotation_leg_N(1.0, 0, 0.0)));
    near(uf_flotation_contact_Pa(9000.0, 1.2, 0.05), 150000.0, 1e-9, "contact");
}

/* A deadman 1 x 26.6 ft, 11 ft deep: prism 292.6 ft3, four-sided frustum at 30 deg 2812.3 ft3. */
Test(flotation, soil_over_an_anchor)
{
    near(uf_flotation_frustum_m3(1.0, 26.6, 11.0, 0.0, false), 292.6, 1e-9, "prism");
    near(uf_flotation_frustum_m3(1.0, 26.6, 11.0, 30.0 * DEGREE, false), 2812.3, 0.05, "frustum");
    cr_expect_lt(uf_flotation_frustum_m3(1.0, 26.6, 11.0, 30.0 * DEGREE, true), 2812.3);
}

/* c/D = (pi/4) gamma_w/gamma' - 0.1073009 */
Test(flotation, weightless_tank)
{
    near(uf_flotation_bare_cover_share(9810.0, 9810.0), 0.25 * UF_PI - 0.1073009, 5e-8, "unit");
}
