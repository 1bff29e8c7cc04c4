#include "solver/choice/remark.h"
#include "solver/ground/soil.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_case plain(void)
{
    struct uf_case d;
    uf_case_init(&d);
    d.ground.n_layers = 2;
    d.ground.layers[0].to_m = 2.0;
    d.ground.layers[1].to_m = 15.0;
    d.ground.layers[0].spec.soil = d.ground.layers[1].spec.soil = uf_soil_find("silt");
    return d;
}

static bool says(const struct uf_remarks *remarks, const char *part)
{
    for (size_t i = 0; i < remarks->n; i++) {
        if (strstr(remarks->rows[i].text, part) != NULL) {
            return true;
        }
    }
    return false;
}

Test(remark, nothing_to_say_of_a_sound_run)
{
    const struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.002, .bottom_effect_K = 0.01};
    struct uf_remarks remarks;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0, "%s", remarks.rows[0].text);
}

/* Kersten's regression for fine soil begins at 7 % of water (from memory). */
Test(remark, methods_outside_their_range_are_told)
{
    struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    d.ground.method = UF_KERSTEN;
    d.ground.layers[0].spec.moisture_by_mass = 0.03;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "ground layer 1") && says(&remarks, "Kersten"),
              "%zu: %s", remarks.n, remarks.rows[0].text);
    d.ground.water_winter_m = 0.0; /* full of water: the method holds again */
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0, "%s", remarks.rows[0].text);
}

Test(remark, a_small_domain_and_a_lost_balance_are_told)
{
    const struct uf_case d = plain();
    const struct uf_summary s = {
        .side_effect_m = 0.02, .bottom_effect_K = 0.3, .heat_balance_relative = NAN};
    struct uf_remarks remarks;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 3);
    cr_expect(says(&remarks, "grid.width") && says(&remarks, "grid.depth") &&
              says(&remarks, "do not use"));
}

/* A quarter beside a published depth is let pass, more is not; snow and its absence are told. */
Test(remark, a_depth_apart_from_published_ones_is_told)
{
    struct uf_case d = plain();
    struct uf_summary s = {.frost_undisturbed_m = 1.24,
                           .berggren_m = 1.0,
                           .relations_m = 1.6,
                           .frost_without_snow_m = NAN};
    struct uf_remarks remarks;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0, "%s", remarks.rows[0].text);
    s.frost_undisturbed_m = 1.3;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "30 percent deeper than by the modified Berggren"),
              "%s", remarks.rows[0].text);
    s.frost_undisturbed_m = 0.7;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 2 && says(&remarks, "30 percent shallower than by the modified") &&
              says(&remarks, "shallower than published relations"));
    s.frost_without_snow_m = 1.21; /* the formulas know no snow */
    d.surface.kind = UF_SURFACE_FILM;
    d.surface.snow = UF_SNOW_FIXED;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "threefold") && says(&remarks, "1.21 m"), "%s",
              remarks.rows[0].text);
}

/* The surface may be above zero in the mean and the ground below it not: frozen ground
   conducts better than thawed. */
Test(remark, ground_frozen_to_the_bottom_is_told)
{
    struct uf_case d = plain();
    struct uf_summary s = {.frost_undisturbed_m = d.grid.depth_m};
    struct uf_remarks remarks;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "permafrost"), "%zu", remarks.n);
    s.frost_undisturbed_m = d.grid.depth_m - 0.1;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0);
}

/* 0.02 K is asked of the start-up; what it left beyond that is told with how much. */
Test(remark, a_start_that_has_not_settled_is_told)
{
    const struct uf_case d = plain();
    struct uf_summary s = {.startup_left_K = 0.019};
    struct uf_remarks remarks;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0);
    s.startup_left_K = 0.078;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "0.078 K") && says(&remarks, "initial"), "%s",
              remarks.rows[0].text);
}

Test(remark, heads_that_the_section_leaves_out_are_told)
{
    struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    d.tank.shape = UF_VERTICAL_CYLINDER;
    d.tank.diameter_m = 2.0;
    d.tank.height_m = 3.0;
    d.tank.heads = UF_HEMISPHERICAL;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "ends were flat"), "%zu", remarks.n);
    d.tank.shape = UF_HORIZONTAL_CYLINDER;
    d.tank.length_m = 8.0;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0);
}

Test(remark, a_short_tank_is_told)
{
    struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    d.tank.shape = UF_HORIZONTAL_CYLINDER;
    d.tank.diameter_m = 2.0;
    d.tank.length_m = 5.9;
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "2.95 times"), "%zu", remarks.n);
    d.tank.length_m = 6.0;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0);
    d.tank.shape = UF_VERTICAL_CYLINDER;
    d.tank.length_m = 1.0;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0, "a vertical tank is round");
}

/* Still water is no one body: what runs in is not counted there, and that is said. */
Test(remark, an_inflow_into_still_water_is_told)
{
    struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    d.tank.inflow_m3_s = 1e-5;
    cr_expect(uf_case_has_inflow(&d));
    uf_remarks(&remarks, &d, &s);
    cr_expect(!says(&remarks, "inflow"));
    d.tank.mixing_W_mK = 20.0;
    cr_expect(!uf_case_has_inflow(&d));
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "the inflow is not counted in unmixed water"));
}

Test(remark, a_shell_that_conducts_along_itself_is_told)
{
    struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    d.tank.shape = UF_VERTICAL_CYLINDER;
    d.tank.height_m = 2.0;
    d.tank.level_m = 1.4;
    d.tank.wall_thickness_m = 0.01;
    d.tank.wall_k_W_mK = 0.25;
    uf_remarks(&remarks, &d, &s);
    cr_expect(!says(&remarks, "along the shell"), "fibreglass");
    d.tank.wall_thickness_m = 0.15;
    d.tank.wall_k_W_mK = 1.7;
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "along the shell"), "concrete");
    for (double level_m = 0.0; level_m < 2.0; level_m += 1.7) {
        d.tank.level_m = level_m;
        uf_remarks(&remarks, &d, &s);
        cr_expect(!says(&remarks, "along the shell"), "empty, or full: no dry part");
    }
}

Test(remark, how_the_ground_goes_on_below_a_measured_profile_is_told)
{
    static const char *const words[] = {"(initial.below: wave)", "(initial.below: line)",
                                        "(initial.below: constant)"};
    struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    d.initial.n_profile = 1;
    d.initial.depth_m[0] = 1.0;
    for (int below = UF_BELOW_WAVE; below <= UF_BELOW_CONSTANT; below++) {
        d.initial.below = (enum uf_below)below;
        uf_remarks(&remarks, &d, &s);
        cr_expect(remarks.n == 1 && says(&remarks, words[below]) && says(&remarks, "1 m"), "%s",
                  remarks.rows[0].text);
    }
    d.initial.depth_m[0] = d.grid.depth_m;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0, "%s", remarks.rows[0].text);
}

/* A gravel bed in fine ground is a basin: nothing flows through it that the ground round it does not
   take. */
Test(remark, wet_gravel_in_a_pit_in_fine_ground_is_no_flowing_groundwater)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    const struct uf_ground_spec silt = plain().ground.layers[0].spec;
    for (size_t i = 0; i < d.ground.n_layers; i++) {
        d.ground.layers[i].spec = silt;
    }
    d.ground.water_winter_m = 0.5;
    d.burial.pit_clearance_m = 0.6;
    d.burial.has_backfill = d.burial.has_bedding_soil = true;
    d.burial.backfill = d.burial.bedding_soil = silt;
    d.burial.backfill.soil = d.burial.bedding_soil.soil = uf_soil_find("pea_gravel");
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "backfill: in autumn the water in its pores may turn over"), "seen");
    cr_expect(!says(&remarks, "flowing groundwater"), "%s", remarks.rows[0].text);
    d.ground.layers[0].spec.soil = uf_soil_find("pea_gravel");
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "ground layer 1, below the water table"), "%s", remarks.rows[0].text);
}

Test(remark, ground_that_lets_water_or_air_through_is_told)
{
    struct uf_case d = plain();
    const struct uf_summary s = {.side_effect_m = 0.0};
    struct uf_remarks remarks;
    struct uf_ground_spec *top = &d.ground.layers[0].spec;
    top->soil = uf_soil_find("crushed_stone");
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0, "stones of a few millimetres: %s", remarks.rows[0].text);
    top->grain_m = 0.03;
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "ground layer 1: air may turn over"), "%s",
              remarks.rows[0].text);
    top->grain_m = NAN;
    d.ground.water_winter_m = 0.5;
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "flowing groundwater") && says(&remarks, "the water in its pores"),
              "%s", remarks.rows[0].text);
    cr_expect(!says(&remarks, "layer 2"), "silt is too fine");
    top->soil = uf_soil_find("sand");
    uf_remarks(&remarks, &d, &s);
    cr_expect(remarks.n == 1 && says(&remarks, "flowing groundwater") &&
                  says(&remarks, "slopes by more than 0.2 percent"),
              "%zu: %s", remarks.n, remarks.rows[0].text);
    d.ground.water_winter_m = 3.0;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0, "dry sand: %s", remarks.rows[0].text);
}

Test(remark, risers_and_standpipes)
{
    struct uf_case d = plain();
    struct uf_summary s = {.n_standpipes = 1};
    struct uf_remarks remarks;
    d.tank.n_risers = 1;
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "neither wall nor sleeve") && !says(&remarks, "no sleeve"));
    d.tank.risers[0].lid_at = UF_LID_CROWN;
    uf_remarks(&remarks, &d, &s);
    cr_expect(!says(&remarks, "neither wall nor sleeve") && !says(&remarks, "ends below grade"));
    d.tank.risers[0].above_grade_m = -0.1;
    uf_remarks(&remarks, &d, &s);
    cr_expect(says(&remarks, "ends below grade"));
    d.tank.risers[0].above_grade_m = 0.0;
    d.tank.risers[0].lid_at = UF_LID_TOP;
    d.tank.risers[0].shell.sleeve_m = 0.1;
    s.standpipes[0] = (struct uf_standpipe_summary){.ice_share = 1.0, .sleeve_m = NAN};
    uf_remarks(&remarks, &d, &s);
    cr_expect(!says(&remarks, "neither wall nor sleeve") &&
              says(&remarks, "no sleeve of up to 200 mm"));
    s.standpipes[0].sleeve_m = 0.1;
    uf_remarks(&remarks, &d, &s);
    cr_expect_eq(remarks.n, 0);
}
