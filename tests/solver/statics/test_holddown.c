#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/holddown.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define LB_N 4.4482216152605

static struct uf_case design;
static struct uf_column_soils soils;

static void setup(void)
{
    statics_design(&design, &soils);
    design.tank.empty_mass_kg = 900.0;
    design.burial.bedding_m = 0.3;
}
TestSuite(holddown, .init = setup);

static struct uf_holddown at(double water_m)
{
    struct uf_holddown balance;
    struct uf_error err = {0};
    cr_assert_eq(uf_holddown_at(&balance, &design, &soils, water_m, &err), UF_OK, "%s", err.text);
    return balance;
}

static double part_N(const struct uf_holddown *balance, const char *name)
{
    const struct uf_holddown_part *part = uf_holddown_find(balance, name);
    return part == NULL ? (double)NAN : part->submerged_N;
}

/* (W + D L c gamma' + (1/2 - pi/8) D^2 L gamma') / (gamma_w pi D^2 L / 4) and the same
   with total weights over all displaced water. */
Test(holddown, lying_cylinder_by_the_closed_forms)
{
    const struct uf_holddown got = at(0.0);
    const double above_m3 = 2.4 * 6.0 * 1.2, shoulder_m3 = 0.1073009 * 2.4 * 2.4 * 6.0;
    const double tank_m3 = 0.25 * UF_PI * 2.4 * 2.4 * 6.0, W_N = 900.0 * UF_GRAVITY_M_S2;
    near(part_N(&got, "soil above"), above_m3 * 10000.0, 1e-6, "soil");
    near(part_N(&got, "shoulder soil"), shoulder_m3 * 10000.0, 2e-2, "shoulder");
    near(got.uplift_N, 9810.0 * tank_m3, 1e-6, "uplift");
    near(got.factor_submerged, (W_N + (above_m3 + shoulder_m3) * 10000.0) / (9810.0 * tank_m3),
         1e-6, "submerged");
    near(got.factor_total,
         (W_N + (above_m3 + shoulder_m3) * 19810.0) / (9810.0 * (tank_m3 + above_m3 + shoulder_m3)),
         1e-6, "total");
    near(got.factor_em, got.factor_submerged, 1e-12, "EM form has only the tank as structure");
}

Test(holddown, a_standing_tank_lower_than_its_heads_is_told_by_its_height)
{
    struct uf_holddown balance;
    struct uf_error err = {0};
    design.tank.shape = UF_VERTICAL_CYLINDER;
    design.tank.heads = UF_HEMISPHERICAL;
    design.tank.height_m = 2.0;
    cr_expect_eq(uf_holddown_at(&balance, &design, &soils, 0.0, &err), UF_E_INPUT);
    cr_expect(strncmp(err.text, "tank.height: 2 m", 16) == 0, "%s", err.text);
}

/* A box tank 68 x 126 x 64 in. is lifted by 19,802 lb, one 67 in. across and 65 in. high
   by 8,271 lb (published, 62.4 lb/ft3; the unit weight of water here is 0.08 % more). */
Test(holddown, published_uplift)
{
    const double inch_m = 0.0254, pcf = LB_N / pow(0.3048, 3.0);
    design.tank.shape = UF_BOX;
    design.tank.width_m = 68.0 * inch_m;
    design.tank.length_m = 126.0 * inch_m;
    design.tank.height_m = 64.0 * inch_m;
    near(at(0.0).uplift_N / LB_N * 62.4 * pcf / 9810.0, 19802.0, 1.0, "box");
    design.tank.shape = UF_VERTICAL_CYLINDER;
    design.tank.diameter_m = 67.0 * inch_m;
    design.tank.height_m = 65.0 * inch_m;
    near(at(0.0).uplift_N / LB_N * 62.4 * pcf / 9810.0, 8271.0, 5.0, "upright");
    const struct uf_holddown got = at(0.0);
    cr_expect_null(uf_holddown_find(&got, "shoulder soil"), "a flat top has no shoulder");
}

Test(holddown, level_and_flood_do_not_change_a_tank_without_risers)
{
    const double empty = at(0.0).factor_submerged;
    design.tank.level_m = 2.2;
    near(at(0.0).factor_submerged, empty, 0.0, "contents");
    near(at(-2.0).factor_submerged, empty, 1e-12, "flood");
    cr_expect(isnan(at(3.6).factor_submerged), "water at the invert lifts nothing");
    cr_expect(isnan(at(3.6).factor_total));
    near(at(9.0).uplift_N, 0.0, 0.0, "below the tank");
}

/* Half under water: half the volume lifts; soil above the table weighs its moist weight. */
Test(holddown, water_at_the_springline)
{
    const struct uf_holddown got = at(2.4);
    near(got.uplift_N, 0.5 * 9810.0 * uf_tank_volume_m3(&design.tank), 1e-6, "uplift");
    near(part_N(&got, "soil above"), 2.4 * 6.0 * 1.2 * 17500.0, 1e-6, "moist");
    near(got.total_below_m3, got.displaced_m3, 1e-12, "no soil below the table");
}

/* The shoulder is cut exactly where the table crosses it. */
Test(holddown, water_in_the_shoulder)
{
    const struct uf_holddown got = at(1.8);
    const double quarter_m3 =
        2.4 * 6.0 * 0.6 - 6.0 * (0.5 * UF_PI * 1.44 - uf_tank_segment_m2(1.2, 0.6));
    const double all_m3 = (0.5 - UF_PI / 8.0) * 2.4 * 2.4 * 6.0;
    near(part_N(&got, "shoulder soil"), quarter_m3 * 10000.0 + (all_m3 - quarter_m3) * 17500.0,
         1e-6, "shoulder");
}

/* 100 mm of board at 30 kg/m3 floats with 0.9516 kPa; it also takes the soil's place. */
Test(holddown, board_replaces_soil_and_floats)
{
    const double bare = at(0.0).factor_submerged;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 1.2;
    design.board.density_kg_m3 = 30.0;
    const struct uf_holddown got = at(0.0);
    const struct uf_holddown_part *board = uf_holddown_find(&got, "board");
    cr_assert_not_null(board);
    near((board->submerged_N - board->lifts_N) / (2.4 * 6.0), -951.6, 0.05, "kPa of flotation");
    near(board->submerged_N, 2.4 * 6.0 * 0.1 * 30.0 * UF_GRAVITY_M_S2, 1e-6, "its weight holds");
    near(got.uplift_N, 9810.0 * (uf_tank_volume_m3(&design.tank) + 2.4 * 6.0 * 0.1), 1e-6,
         "its displacement lifts");
    near(part_N(&got, "soil above"), 2.4 * 6.0 * 1.1 * 10000.0, 1e-6, "soil");
    const double share = 1.0 - got.factor_submerged / bare;
    cr_expect(share > 0.08 && share < 0.15, "the board costs %.3f of the factor", share);
    design.board.beyond_tank_m = 3.0;
    near(at(0.0).factor_submerged, got.factor_submerged, 0.0, "only the board over the tank");
    const struct uf_holddown dry = at(3.0);
    near(part_N(&dry, "board"), 2.4 * 6.0 * 0.1 * 30.0 * UF_GRAVITY_M_S2, 1e-6, "dry board weighs");
}

/* Every method closes by hand with a board of 100 mm: what displaces water lifts, what
   weighs holds. The board taken off the weights instead gave 0.716 where 0.730 is meant. */
Test(holddown, board_lifts_in_every_method)
{
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.density_kg_m3 = 30.0;
    const struct uf_holddown got = at(0.0);
    const double soil_m3 = 2.4 * 6.0 * 1.1 + (0.5 - UF_PI / 8.0) * 2.4 * 2.4 * 6.0;
    const double board_m3 = 2.4 * 6.0 * 0.1, tank_m3 = 0.25 * UF_PI * 2.4 * 2.4 * 6.0;
    const double dead_N = (900.0 + 30.0 * board_m3) * UF_GRAVITY_M_S2;
    const double lifts_N = 9810.0 * (tank_m3 + board_m3);
    near(got.factor_submerged, (dead_N + soil_m3 * 10000.0) / lifts_N, 1e-9, "submerged");
    near(got.factor_total, (dead_N + soil_m3 * 19810.0) / (lifts_N + 9810.0 * soil_m3), 1e-9,
         "total weights");
    near(got.factor_em, got.factor_submerged, 1e-12, "EM 1110-2-2100");
    near(got.total_below_m3, tank_m3 + board_m3 + soil_m3, 1e-9, "all displaced");
}

/* Board and skirt over an anchor take the soil's place and float there. Deadmen from 1.2 to
   1.5 m, board to 1.4 m, its skirt from 1.3 to 1.4 m and 0.5 m down; both as long as asked. */
Test(holddown, foam_over_deadmen_is_no_soil)
{
    design.burial.bedding_m = 0.4; /* room for a deadman below the invert */
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = 0.3;
    design.anchors.deadman_height_m = 0.4;
    design.anchors.deadman_length_m = 5.0;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 0.2;
    design.board.density_kg_m3 = 30.0;
    struct uf_holddown got = at(0.0);
    const double slab_m3 = 2.0 * 5.0 * 0.2 * 0.1, all_m3 = 2.0 * 5.0 * 0.3 * 3.6;
    const struct uf_holddown_part *foam = uf_holddown_find(&got, "board over deadmen");
    cr_assert_not_null(foam);
    near(part_N(&got, "soil over deadmen"), (all_m3 - slab_m3) * 10000.0, 1e-6, "soil");
    near(foam->volume_m3, slab_m3, 1e-9, "foam");
    near(foam->lifts_N, 9810.0 * slab_m3, 1e-6, "floats");
    near(foam->submerged_N, slab_m3 * 30.0 * UF_GRAVITY_M_S2, 1e-6, "weighs");
    design.board.skirt_m = 0.5;
    got = at(0.0);
    const double skirt_m3 = 2.0 * 5.0 * 0.1 * 0.5;
    near(part_N(&got, "soil over deadmen"), (all_m3 - slab_m3 - skirt_m3) * 10000.0, 1e-6, "skirt");
    near(uf_holddown_find(&got, "board over deadmen")->volume_m3, slab_m3 + skirt_m3, 1e-9,
         "skirt's foam");
    /* longer than the board: its ends at 3.2 m, the skirt there too */
    design.board.skirt_m = 0.0;
    design.anchors.deadman_length_m = 8.0;
    got = at(0.0);
    near(uf_holddown_find(&got, "board over deadmen")->volume_m3, 2.0 * 6.4 * 0.2 * 0.1, 1e-9,
         "to the board's ends");
}

Test(holddown, foam_over_a_pad_is_no_soil)
{
    design.anchors.has_pad = true;
    design.anchors.pad_length_m = 7.0;
    design.anchors.pad_width_m = 3.4;
    design.anchors.pad_thickness_m = 0.2;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 0.3;
    design.board.density_kg_m3 = 30.0;
    const struct uf_holddown got = at(0.0);
    const double clear_m2 = 7.0 * 3.4 - 6.0 * 2.4, foam_m2 = 6.6 * 3.0 - 6.0 * 2.4;
    near(part_N(&got, "soil over pad"), (clear_m2 * 3.9 - foam_m2 * 0.1) * 10000.0, 1e-6, "soil");
    near(uf_holddown_find(&got, "board over pad")->lifts_N, 981.0 * foam_m2, 1e-6, "floats");
}

Test(holddown, risers_lift_and_take_soil)
{
    const struct uf_holddown bare = at(0.0);
    design.tank.n_risers = 1;
    design.tank.risers[0] = (struct uf_riser){.diameter_m = 0.6, .above_grade_m = 0.2};
    const struct uf_holddown got = at(0.0);
    const double area_m2 = 0.25 * UF_PI * 0.36;
    near(got.uplift_N - bare.uplift_N, 9810.0 * area_m2 * 1.2, 1e-6, "up to grade");
    near(part_N(&bare, "soil above") - part_N(&got, "soil above"), area_m2 * 1.2 * 10000.0, 1e-6,
         "soil removed");
    near(at(-0.1).uplift_N - bare.uplift_N, 9810.0 * area_m2 * 1.3, 1e-6, "flood on the riser");
    near(at(-5.0).uplift_N - bare.uplift_N, 9810.0 * area_m2 * 1.4, 1e-6, "all of it");
}

/* Per metre: b h (gamma_c - gamma_w) + b H gamma', H from the deadman's top to grade. */
Test(holddown, deadmen_beside_the_tank)
{
    design.burial.bedding_m = 0.4; /* room for a deadman below the invert */
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = 0.3;
    design.anchors.deadman_height_m = 0.4;
    design.anchors.deadman_length_m = 5.0;
    struct uf_holddown got = at(0.0);
    near(part_N(&got, "deadmen"), 2.0 * 5.0 * 0.3 * 0.4 * (23500.0 - 9810.0), 1e-6, "concrete");
    near(part_N(&got, "soil over deadmen"), 2.0 * 5.0 * 0.3 * 3.6 * 10000.0, 1e-6, "prism");
    /* halfway under the tank only the outer half of the prism counts */
    design.anchors.deadman_offset_m = 1.2;
    got = at(0.0);
    near(part_N(&got, "soil over deadmen"), 2.0 * 5.0 * 0.15 * 3.6 * 10000.0, 1e-6, "clipped");
    /* longer than the tank: the ends stand clear */
    design.anchors.deadman_length_m = 8.0;
    got = at(0.0);
    near(part_N(&got, "soil over deadmen"), 2.0 * (8.0 * 0.3 - 6.0 * 0.15) * 3.6 * 10000.0, 1e-6,
         "ends");
    design.anchors.deadman_offset_m = 0.0;
    design.anchors.deadman_length_m = 5.0;
    got = at(0.0);
    cr_expect_null(uf_holddown_find(&got, "soil over deadmen"), "wholly under the tank");
    const double concrete_m3 = 2.0 * 5.0 * 0.3 * 0.4, W_N = 900.0 * UF_GRAVITY_M_S2;
    const double soil_N = part_N(&got, "soil above") + part_N(&got, "shoulder soil");
    near(got.factor_em,
         (W_N + soil_N + concrete_m3 * 23500.0) / (got.uplift_N + concrete_m3 * 9810.0), 1e-12,
         "the concrete's own water counts as uplift in the EM form");
}

Test(holddown, pad_under_the_bedding)
{
    design.anchors.has_pad = true;
    design.anchors.pad_length_m = 7.0;
    design.anchors.pad_width_m = 3.4;
    design.anchors.pad_thickness_m = 0.2;
    struct uf_holddown got = at(0.0);
    near(part_N(&got, "pad"), 7.0 * 3.4 * 0.2 * (23500.0 - 9810.0), 1e-6, "concrete");
    near(part_N(&got, "soil over pad"), (7.0 * 3.4 - 6.0 * 2.4) * (1.2 + 2.4 + 0.3) * 10000.0, 1e-6,
         "soil");
    design.anchors.pad_width_m = 2.0;
    got = at(0.0);
    near(part_N(&got, "soil over pad"), (7.0 - 6.0) * 2.0 * 3.9 * 10000.0, 1e-6, "narrow pad");
    /* round heads: the corners between head and rectangle hold soil */
    design.anchors.pad_width_m = 3.4;
    design.anchors.pad_length_m = 9.0;
    design.tank.heads = UF_HEMISPHERICAL;
    got = at(0.0);
    near(part_N(&got, "soil over pad"), (9.0 * 3.4 - 6.0 * 2.4 - UF_PI * 1.44) * 3.9 * 10000.0,
         1e-6, "round heads");
}

Test(holddown, what_is_missing_is_named)
{
    struct uf_holddown got;
    struct uf_error err = {0};
    soils.layers[0].unit_weight_saturated_N_m3 = NAN;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "ground[0]") != NULL, "%s", err.text);
    setup();
    design.board.present = true;
    design.board.thickness_m = 0.1;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "density") != NULL, "%s", err.text);
    setup();
    design.anchors.deadmen = 2;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "anchors.deadmen") != NULL, "%s", err.text);
    setup();
    design.anchors.has_pad = true;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "anchors.pad") != NULL, "%s", err.text);
    setup();
    design.tank.diameter_m = NAN;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
    setup();
    design.burial.cover_m = NAN;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
    design.tank.shape = UF_NO_TANK;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
    setup();
    design.tank.shape = UF_VERTICAL_CYLINDER;
    design.tank.heads = UF_HEMISPHERICAL;
    design.tank.height_m = 2.0;
    cr_expect_eq(uf_holddown_at(&got, &design, &soils, 0.0, &err), UF_E_INPUT);
}

/* The layers that are written down are what each part's volume and weights are the sums of, each once and
   from the part's top down. */
Test(holddown, the_shares_of_its_soils_sum_up_to_the_parts)
{
    static struct uf_column_log shares;
    struct uf_error err = {0};
    design.anchors.deadmen = 2;
    design.anchors.deadman_length_m = 6.0;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = 0.4;
    design.anchors.deadman_top_m = 3.0;
    design.anchors.deadman_offset_m = 1.5;
    const struct uf_holddown sums = at(0.9);
    cr_assert_eq(uf_holddown_shares(&shares, &design, &soils, 0.9, &err), UF_OK, "%s", err.text);
    cr_assert_eq(shares.n, 3);
    for (size_t i = 0; i < sums.n_parts; i++) {
        const struct uf_holddown_part *part = &sums.parts[i];
        double volume_m3 = 0.0, total_N = 0.0, below_m3 = 0.0, foot_m = 0.0;
        for (size_t k = 0; k < shares.n; k++) {
            const struct uf_column_share *share = &shares.shares[k];
            if (strcmp(share->part, part->part) == 0) {
                volume_m3 += share->dry_m3 + share->wet_m3;
                below_m3 += share->wet_m3;
                total_N += share->dry_m3 * share->soil.moist_N_m3 +
                           share->wet_m3 * share->soil.saturated_N_m3;
                cr_expect_geq(share->soil.top_m, foot_m);
                foot_m = share->soil.bottom_m;
            }
        }
        if (!part->structure) {
            near(volume_m3, part->volume_m3, 1e-9, part->part);
            near(below_m3, part->below_m3, 1e-9, part->part);
            near(total_N, part->total_N, 1e-6, part->part);
        }
    }
}
