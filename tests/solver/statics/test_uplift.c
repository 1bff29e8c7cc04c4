#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/uplift.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct uf_case design;
static struct uf_column_soils soils;

static void setup(void)
{
    statics_design(&design, &soils);
    design.tank.empty_mass_kg = 900.0;
    design.burial.bedding_m = 0.4;
}
TestSuite(uplift, .init = setup);

static struct uf_uplift check(void)
{
    struct uf_uplift out;
    struct uf_error err = {0};
    cr_assert_eq(uf_uplift(&out, &design, &soils, &err), UF_OK, "%s", err.text);
    return out;
}

static double factor_at(double water_m)
{
    struct uf_holddown balance;
    cr_assert_eq(uf_holddown_at(&balance, &design, &soils, water_m, NULL), UF_OK);
    return balance.factor_submerged;
}

/* c = (FS Fb - W - (1/2 - pi/8) D^2 L gamma') / (D L gamma'), all under water. */
Test(uplift, least_cover_by_its_closed_form_and_put_back)
{
    const double buoyancy_N = 9810.0 * 0.25 * UF_PI * 2.4 * 2.4 * 6.0;
    const double W_N = 900.0 * UF_GRAVITY_M_S2;
    const double shoulder_N = (0.5 - UF_PI / 8.0) * 2.4 * 2.4 * 6.0 * 10000.0;
    const double expected_m = (1.3 * buoyancy_N - W_N - shoulder_N) / (2.4 * 6.0 * 10000.0);
    const struct uf_uplift got = check();
    near(got.least_cover_m, expected_m, 1e-9, "least cover");
    design.burial.cover_m = got.least_cover_m;
    near(factor_at(0.0), 1.3, 1e-9, "put back");
}

Test(uplift, least_cover_with_a_low_table_looks_from_below)
{
    design.ground.water_highest_m = 0.8;
    const double least_m = check().least_cover_m;
    for (double cover_m = least_m + 1e-9; cover_m < 20.0; cover_m += 0.037) {
        design.burial.cover_m = cover_m;
        const double factor = factor_at(0.8);
        cr_expect(factor >= 1.3 - 1e-9, "cover %.3f m: %.4f", cover_m, factor);
    }
    design.burial.cover_m = least_m;
    near(factor_at(0.8), 1.3, 1e-9, "put back");
}

Test(uplift, least_cover_stops_at_the_board_or_is_not_reached)
{
    design.tank.empty_mass_kg = 90000.0;
    near(check().least_cover_m, 0.0, 0.0, "heavy tank");
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.density_kg_m3 = 30.0;
    near(check().least_cover_m, 0.25, 1e-12, "room for the board");
    design.tank.empty_mass_kg = 0.0;
    soils.layers[0].unit_weight_saturated_N_m3 = 9900.0;
    cr_expect(isnan(check().least_cover_m), "peat that nearly floats");
}

/* The concrete asked for, laid under the tank's middle where no soil counts over it,
   closes the gap. */
Test(uplift, needed_ballast_put_back)
{
    design.burial.cover_m = 1.7;
    const struct uf_uplift got = check();
    cr_expect_gt(got.needed_ballast_m3, 0.0);
    cr_expect_not(got.ok);
    near(got.needed_ballast_m3,
         (1.3 * got.highest.uplift_N - got.highest.submerged_N) / (23500.0 - 9810.0), 1e-9,
         "formula");
    design.anchors.deadmen = 1;
    design.anchors.deadman_offset_m = 0.0;
    design.anchors.deadman_length_m = 5.0;
    design.anchors.deadman_height_m = 0.5;
    design.anchors.deadman_width_m = got.needed_ballast_m3 / 2.5;
    cr_assert_lt(design.anchors.deadman_width_m, 2.4);
    const struct uf_uplift closed = check();
    near(closed.highest.factor_submerged, 1.3, 1e-12, "put back");
    near(closed.needed_ballast_m3, 0.0, 1e-9, "nothing more");
}

/* A deep layer without a weight only ends the search for the least cover. */
Test(uplift, a_deep_soil_without_weight_is_not_needed)
{
    const double expected_m = check().least_cover_m;
    design.ground.n_layers = soils.n_layers = 2;
    design.ground.layers[0].to_m = 6.0;
    soils.layers[1].unit_weight_moist_N_m3 = NAN;
    soils.layers[1].unit_weight_saturated_N_m3 = NAN;
    near(check().least_cover_m, expected_m, 1e-9, "least cover");
}

Test(uplift, no_water_no_lift)
{
    design.ground.water_highest_m = 5.0;
    const struct uf_uplift got = check();
    cr_expect(isnan(got.highest.factor_submerged));
    cr_expect(got.ok);
    near(got.needed_ballast_m3, 0.0, 0.0, "ballast");
    near(got.upl_submerged[0].use, 0.0, 0.0, "limit state");
}

Test(uplift, sweep_from_grade_to_invert)
{
    const struct uf_uplift got = check();
    near(got.sweep[0].water_m, 0.0, 0.0, "first");
    near(got.sweep[UF_UPLIFT_SWEEP - 1].water_m, 3.6, 1e-12, "last");
    near(got.sweep[0].factor, got.highest.factor_submerged, 1e-12, "grade");
    cr_expect(isnan(got.sweep[UF_UPLIFT_SWEEP - 1].factor));
    for (size_t i = 1; i + 1 < UF_UPLIFT_SWEEP; i++) {
        cr_expect_gt(got.sweep[i].factor, got.sweep[i - 1].factor, "a lower table lifts less");
    }
}

/* FEMA form counts the tank alone; both limit-state sums follow from the parts. */
Test(uplift, published_forms_beside_each_other)
{
    const struct uf_uplift got = check();
    const double W_N = 900.0 * UF_GRAVITY_M_S2;
    near(got.volume_m3, 0.25 * UF_PI * 2.4 * 2.4 * 6.0, 1e-12, "volume");
    near(got.fema.net_N, 1.3 * 9810.0 * got.volume_m3 - W_N, 1e-6, "FEMA");
    near(got.upl_submerged[0].use, 1.0 / (0.9 * got.highest.factor_submerged), 1e-9, "submerged");
    near(got.upl_total[1].use, 1.1 / (0.9 * got.highest.factor_total), 1e-9, "whole");
}

/* The board's displaced water is on the destabilising side of every form, and in FEMA's. */
Test(uplift, board_is_destabilising)
{
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.density_kg_m3 = 30.0;
    const struct uf_uplift got = check();
    const double board_m3 = 2.4 * 6.0 * 0.1, lifts_N = 9810.0 * (got.volume_m3 + board_m3);
    const double dead_N = (900.0 + 30.0 * board_m3) * UF_GRAVITY_M_S2;
    const double soil_N = (2.4 * 6.0 * 1.1 + (0.5 - UF_PI / 8.0) * 5.76 * 6.0) * 10000.0;
    near(got.upl_submerged[1].dst_N, 1.1 * lifts_N, 1e-6, "dst");
    near(got.upl_submerged[1].stb_N, 0.9 * (dead_N + soil_N), 1e-6, "stb");
    near(got.fema.net_N, 1.3 * lifts_N - dead_N, 1e-6, "FEMA");
}

/* T = N_u / (2 n cos a): what tank, board and soil leave over at the required factor. */
Test(uplift, straps)
{
    cr_expect(isnan(check().straps.leg_N), "no straps");
    design.burial.cover_m = 0.5;
    design.anchors.straps = 4;
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = 0.4;
    design.anchors.deadman_height_m = 0.4;
    design.anchors.deadman_length_m = 6.0;
    design.anchors.strap_strength_N = 50000.0;
    const struct uf_uplift got = check();
    const double a = uf_flotation_leg_angle_rad(1.2, 1.4, 1.2);
    const double soil_N = (2.4 * 0.5 + (0.5 - UF_PI / 8.0) * 5.76) * 6.0 * 10000.0;
    const double W_N = 900.0 * UF_GRAVITY_M_S2, bare_N = 1.3 * 9810.0 * got.volume_m3 - W_N;
    near(got.straps.leg_angle_rad, a, 1e-12, "angle");
    near(got.straps.leg_N, (bare_N - soil_N) / (8.0 * cos(a)), 1e-6, "leg");
    near(got.straps.bare_leg_N, bare_N / (8.0 * cos(a)), 1e-6, "before cover");
    near(got.straps.use, got.straps.bare_leg_N / 50000.0, 1e-12, "share of strength");
    design.tank.n_risers = 1; /* in water to grade a riser lifts too */
    design.tank.risers[0] = (struct uf_riser){.diameter_m = 0.6, .above_grade_m = 0.0};
    near(check().straps.bare_net_N, bare_N + 1.3 * 9810.0 * UF_PI / 4.0 * 0.6 * 0.6 * 0.5, 1e-6,
         "with its riser");
    design.tank.n_risers = 0;
    design.tank.shape = UF_BOX;
    design.tank.width_m = 2.4;
    design.tank.height_m = 2.0;
    near(check().straps.leg_angle_rad, atan2(0.2, 2.0), 1e-12, "over a box's edge");
    design.anchors.deadmen = 0;
    near(check().straps.leg_angle_rad, 0.0, 0.0, "straight down to a pad");
}

Test(uplift, deadman_side_put_back)
{
    double side_m = NAN;
    cr_assert_eq(uf_uplift_deadman_side(&side_m, &design, &soils, NULL), UF_OK);
    cr_assert(side_m > 0.0 && side_m < UF_UPLIFT_WIDEST_M);
    design.anchors.deadmen = 2;
    design.anchors.deadman_length_m = 6.0;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = side_m;
    near(factor_at(0.0), 1.3, 1e-9, "put back");
    design.tank.empty_mass_kg = 90000.0;
    cr_assert_eq(uf_uplift_deadman_side(&side_m, &design, &soils, NULL), UF_OK);
    near(side_m, 0.0, 0.0, "none is needed");
    design.tank.empty_mass_kg = 0.0;
    design.burial.cover_m = 0.0;
    design.anchors.deadman_length_m = 0.2;
    cr_assert_eq(uf_uplift_deadman_side(&side_m, &design, &soils, NULL), UF_OK);
    cr_expect(isnan(side_m), "too short to help");
}

/* A reproducible number in low..high. */
static double random_in(unsigned *seed, double low, double high)
{
    *seed = *seed * 1664525u + 1013904223u;
    return low + (high - low) * (double)(*seed >> 8) / 16777216.0;
}

static void random_design(unsigned *seed)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    setup();
    design.tank.shape = shapes[(size_t)random_in(seed, 0.0, 2.999)];
    design.tank.heads = (enum uf_heads)random_in(seed, 0.0, 2.999);
    design.tank.diameter_m = random_in(seed, 0.9, 3.2);
    design.tank.width_m = random_in(seed, 0.9, 3.2);
    design.tank.height_m = random_in(seed, 3.3, 4.5);
    design.tank.length_m = random_in(seed, 2.0, 12.0);
    design.tank.empty_mass_kg = random_in(seed, 100.0, 3000.0);
    design.tank.n_risers = 1;
    design.tank.risers[0].diameter_m = random_in(seed, 0.2, 0.8);
    const double riser_m = random_in(seed, 0.2, 1.5);
    soils.layers[0].unit_weight_saturated_N_m3 = random_in(seed, 11000.0, 22000.0);
    design.burial.cover_m = random_in(seed, 1.6, 3.0);
    design.tank.risers[0].above_grade_m = riser_m - design.burial.cover_m;
    design.board.present = true;
    design.board.thickness_m = random_in(seed, 0.0, 0.3);
    design.board.above_crown_m = random_in(seed, 0.0, 0.3);
    design.board.density_kg_m3 = random_in(seed, 12.0, 48.0);
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = random_in(seed, 0.2, 0.6);
    design.anchors.deadman_length_m = random_in(seed, 2.0, 8.0);
}

Test(uplift, more_cover_never_lowers_and_thicker_board_never_raises_the_factor)
{
    unsigned seed = 20240607u;
    for (int i = 0; i < 500; i++) {
        random_design(&seed);
        const double before = factor_at(0.0);
        const double more_m = random_in(&seed, 0.0, 1.0);
        design.burial.cover_m += more_m;
        design.tank.risers[0].above_grade_m -= more_m; /* a longer one lifts more */
        const double deeper = factor_at(0.0);
        cr_expect(deeper >= before - 1e-12, "case %d: %.9f then %.9f", i, before, deeper);
        design.board.thickness_m += random_in(&seed, 0.0, 0.2);
        const double thicker = factor_at(0.0);
        cr_expect(thicker <= deeper + 1e-12, "case %d: %.9f then %.9f", i, deeper, thicker);
    }
}

Test(uplift, solved_values_close_for_random_designs)
{
    unsigned seed = 77u;
    for (int i = 0; i < 60; i++) {
        random_design(&seed);
        const struct uf_uplift got = check();
        const double gap_N = 1.3 * got.highest.uplift_N - got.highest.submerged_N -
                             got.needed_ballast_m3 * (23500.0 - 9810.0);
        cr_expect(got.needed_ballast_m3 > 0.0 ? fabs(gap_N) < 1e-6 : gap_N <= 0.0);
        if (!isnan(got.least_cover_m)) {
            const double least_m = design.board.above_crown_m + design.board.thickness_m;
            design.burial.cover_m = got.least_cover_m;
            const double factor = factor_at(0.0);
            cr_expect(got.least_cover_m > least_m + 1e-9 ? fabs(factor - 1.3) < 1e-8
                                                         : factor >= 1.3 - 1e-12,
                      "case %d: factor %.9f at %.6f m", i, factor, got.least_cover_m);
        }
    }
}
