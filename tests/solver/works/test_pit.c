#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/tank.h"
#include "solver/works/pit.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define FOOT_M   0.3048
#define YARD3_M3 (27.0 * FOOT_M * FOOT_M * FOOT_M)

static struct uf_case design;

static void setup(void)
{
    statics_works(&design);
    design.burial.pit_slope = 1.0;
    design.burial.soil_class = 'B';
}
TestSuite(pit, .init = setup);

static struct uf_pit dig(void)
{
    struct uf_pit pit;
    struct uf_error err = {0};
    cr_assert_eq(uf_pit(&pit, &design, &err), UF_OK, "%s", err.text);
    return pit;
}

/* 12 x 30 ft, 13 ft deep and 3.6 x 8.0 m, 4 m deep; the mean of the end areas would give
   16,172 instead of 14,707 ft3. */
Test(pit, exact_volumes)
{
    static const double rows[][3] = {{0.0, 4680.0, 0.0},
                                     {0.75, 11651.25, 302.400},
                                     {1.0, 14707.33, 386.133},
                                     {1.5, 21918.0, 585.600}};
    for (size_t i = 0; i < 4; i++) {
        near(uf_dig_frustum_m3(12.0, 30.0, 13.0, rows[i][0]), rows[i][1], 5e-3, "ft3");
        if (rows[i][2] > 0.0) {
            near(uf_dig_frustum_m3(3.6, 8.0, 4.0, rows[i][0]), rows[i][2], 5e-4, "m3");
        }
    }
}

/* Table B-1: 53, 45 and 34 degrees for types A, B, C. */
Test(pit, slopes_by_class)
{
    static const char letters[] = {'A', 'B', 'C'};
    static const double degrees[] = {53.130, 45.000, 33.690};
    for (size_t i = 0; i < 3; i++) {
        const struct uf_pit_class *row = uf_pit_class_find(letters[i]);
        cr_assert_not_null(row);
        near(atan(1.0 / row->slope) * 180.0 / UF_PI, degrees[i], 5e-4, row->name);
        cr_expect(strlen(row->source) > 5);
    }
    cr_expect_eq(uf_pit_class_find(0)->soil_class, 'C', "not classified counts as C");
    cr_expect_null(uf_pit_class_find('X'));
    near(UF_PIT_ENGINEER_M / FOOT_M, 20.0, 1e-9, "ft");
    near(UF_PIT_PROTECT_M / FOOT_M, 5.0, 1e-9, "ft");
}

/* 12 x 30 ft floor, 13 ft deep, slope 1: 544.72 yd3; a tank of 49.52 yd3 leaves 495.20
   yd3 to fill, 13.33 yd3 of it 12 in. of bedding where the sides are upright. */
Test(pit, published_quantities)
{
    design.tank.diameter_m = 8.0 * FOOT_M;
    design.tank.length_m = 26.6 * FOOT_M;
    design.burial.pit_clearance_m = 2.0 * FOOT_M;
    design.burial.bedding_m = 1.0 * FOOT_M;
    design.burial.cover_m = 4.0 * FOOT_M;
    design.burial.fill_over_m = INFINITY;
    struct uf_pit pit = dig();
    near(pit.base_width_m / FOOT_M, 12.0, 1e-9, "floor");
    near(pit.depth_m / FOOT_M, 13.0, 1e-9, "depth");
    design.tank.length_m = 26.0 * FOOT_M;
    pit = dig();
    near(pit.excavation_m3 / YARD3_M3, 544.72, 5e-3, "yd3");
    near(uf_tank_volume_m3(&design.tank) / YARD3_M3, 48.40, 5e-3, "tank");
    near((pit.backfill_m3 + pit.bedding_m3) / YARD3_M3, 544.72 - 48.40, 1e-2, "fill");
    design.burial.pit_slope = 0.0;
    near(dig().bedding_m3 / YARD3_M3, 13.33, 5e-3, "bedding");
}

/* All that is dug is either filled, put back, or replaced by something else. */
static void expect_closed(void)
{
    const struct uf_pit pit = dig();
    const double hole_m3 = uf_case_has_board(&design) ? 0.09 * UF_PI * design.board.thickness_m : 0;
    const double put_m3 = pit.bedding_m3 + pit.backfill_m3 + pit.native_m3 + pit.displaced_m3 +
                          pit.board_m3 - hole_m3 + pit.concrete_m3;
    near(put_m3, pit.excavation_m3, 1e-9, "volumes close");
    near(pit.spoil_m3, pit.excavation_m3 - pit.native_m3, 1e-12, "spoil");
}

Test(pit, volumes_close_in_every_make_up)
{
    expect_closed();
    design.tank.n_risers = 1;
    design.tank.risers[0] = (struct uf_riser){.diameter_m = 0.6, .above_grade_m = 0.0};
    expect_closed();
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 1.2;
    expect_closed();
    design.board.beyond_tank_m = 6.0;
    design.board.skirt_m = 0.4;
    expect_closed();
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = 0.4;
    design.anchors.deadman_length_m = 6.0;
    expect_closed();
    design.anchors.has_pad = true;
    design.anchors.pad_length_m = 9.0;
    design.anchors.pad_width_m = 3.4;
    design.anchors.pad_thickness_m = 0.2;
    expect_closed();
    design.burial.has_backfill = false;
    expect_closed();
    near(dig().backfill_m3, 0.0, 0.0, "the ground goes back");
}

/* The board sits in the sloped pit, or on a shelf of its own. */
Test(pit, board_wider_than_the_pit_needs_a_shelf)
{
    const double bare_m3 = dig().excavation_m3;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 1.2;
    near(dig().excavation_m3, bare_m3, 1e-9, "fits");
    near(dig().board_area_m2, 4.8 * 9.2, 1e-9, "area");
    near(dig().board_m3, 0.48 * 9.2, 1e-9, "foam");
    design.burial.pit_slope = 0.0;
    const struct uf_pit pit = dig();
    near(pit.excavation_m3, 3.6 * 8.0 * (4.0 - 1.15) + 4.8 * 9.2 * 1.15, 1e-9, "shelf");
    near(pit.native_m3, 4.8 * 9.2 * 1.0, 1e-9, "ground from 0.3 m over the crown up");
}

/* Brought-in fill is the same with and without board but for the board's own place; native ground
   goes back over it, and what it shrinks by comes out of the bank: 0.9 m3 in place of 1. */
Test(pit, like_with_like)
{
    design.burial.fill_over_m = 0.3;
    const struct uf_pit bare = dig();
    design.board.present = true;
    design.board.thickness_m = 0.05;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 0.6;
    const struct uf_pit with = dig();
    near(with.excavation_m3, bare.excavation_m3, 1e-9, "dug");
    near(with.backfill_m3, bare.backfill_m3 - with.board_m3, 1e-9, "fill");
    near(with.native_m3, bare.native_m3, 1e-9, "native");
    design.burial.native_swell = 1; /* earth */
    near(dig().spoil_m3, with.excavation_m3 - with.native_m3 / 0.9, 1e-9, "spoil");
    design.burial.fill_over_m = INFINITY;
    near(dig().native_m3, 0.0, 0.0, "fill to grade");
    design.burial.has_backfill = false;
    const struct uf_pit none = dig();
    near(none.spoil_m3, 0.0, 0.0, "all of it goes back");
    near(none.lack_m3, none.native_m3 - 0.9 * none.excavation_m3, 1e-9, "and more is wanted");
}

Test(pit, anchors_widen_and_never_deepen)
{
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = 0.4;
    design.anchors.deadman_height_m = 0.5;
    design.anchors.deadman_length_m = 9.0;
    design.anchors.deadman_offset_m = 2.5;
    const struct uf_pit pit = dig();
    near(pit.base_width_m, 5.4, 1e-12, "width");
    near(pit.base_length_m, 9.0, 1e-12, "length");
    near(pit.depth_m, 1.3 + 2.4 + 0.3, 1e-12, "depth: the bedding as asked");
    near(uf_anchor_at(UF_ANCHOR_DEADMEN)->body(&design).top_m, 4.0 - 0.5, 1e-12,
         "it stands on the floor");
    near(pit.concrete_m3, 2.0 * 0.4 * 0.5 * 9.0, 1e-12, "concrete");
}

Test(pit, rules_of_safety)
{
    struct uf_pit pit = dig();
    cr_expect(pit.needs_protection && !pit.needs_engineer && !pit.too_steep);
    design.burial.soil_class = 'C';
    cr_expect(dig().too_steep, "1:1 in type C");
    design.burial.soil_class = 0;
    cr_expect(dig().too_steep, "1:1 in soil that is not classified");
    design.burial.cover_m = 3.5;
    cr_expect(dig().needs_engineer, "6.2 m is deeper than 20 ft");
    design.burial.soil_class = 'X';
    struct uf_error err = {0};
    cr_expect_eq(uf_pit(&pit, &design, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "soil_class") != NULL);
    setup();
    design.burial.pit_clearance_m = NAN;
    pit = dig();
    cr_expect_not(pit.given);
    near(pit.base_width_m, 2.4, 1e-12, "no clearance known");
    design.tank.diameter_m = NAN;
    cr_expect_eq(uf_pit(&pit, &design, &err), UF_E_INPUT);
    design.tank.shape = UF_NO_TANK;
    cr_expect_eq(uf_pit(&pit, &design, &err), UF_E_INPUT);
}
