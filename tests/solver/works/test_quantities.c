#include "solver/works/quantities.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define FOOT_M   0.3048
#define YARD3_M3 (27.0 * FOOT_M * FOOT_M * FOOT_M)

static struct uf_case design;
static struct uf_quantities_input input;

static void setup(void)
{
    statics_works(&design);
    design.tank.n_risers = 1;
    design.tank.risers[0] = (struct uf_riser){.diameter_m = 0.6, .above_grade_m = 0.0};
    statics_works_board(&design);
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = 0.3;
    design.anchors.deadman_length_m = 6.0;
    uf_quantities_init(&input);
}
TestSuite(quantities, .init = setup);

static struct uf_quantities order(void)
{
    struct uf_quantities got;
    struct uf_error err = {0};
    cr_assert_eq(uf_quantities(&got, &design, &input, &err), UF_OK, "%s", err.text);
    return got;
}

/* The layers make up what the pit as a whole takes. */
Test(quantities, layers_sum_to_the_fill)
{
    struct uf_quantities got = order();
    near(got.fill_m3, got.pit.backfill_m3 + got.pit.bedding_m3, 1e-9, "sum");
    near(got.layers[0].place_m3, got.pit.bedding_m3, 1e-9, "bedding");
    design.board.skirt_m = 0.5;
    got = order();
    near(got.fill_m3, got.pit.backfill_m3 + got.pit.bedding_m3, 1e-9, "with a skirt");
    design.anchors.has_pad = true;
    design.anchors.pad_length_m = 8.0;
    design.anchors.pad_width_m = 3.4;
    design.anchors.pad_thickness_m = 0.2;
    got = order();
    near(got.fill_m3, got.pit.backfill_m3 + got.pit.bedding_m3, 1e-9, "with a pad");
    design.board.present = false;
    got = order();
    near(got.fill_m3, got.pit.backfill_m3 + got.pit.bedding_m3, 1e-9, "no board");
    near(got.layers[3].top_m, 1.0, 1e-12, "0.3 m over the crown");
    design.burial.fill_over_m = INFINITY;
    near(order().layers[3].top_m, 0.0, 0.0, "to grade");
}

Test(quantities, without_backfill_only_bedding_is_brought)
{
    design.burial.has_backfill = false;
    design.burial.has_bedding_soil = true;
    struct uf_quantities got = order();
    near(got.fill_m3, got.pit.bedding_m3, 1e-12, "bedding");
    cr_expect_gt(got.fill_m3, 0.0);
    design.burial.has_bedding_soil = false;
    got = order();
    near(got.fill_m3, 0.0, 0.0, "nothing");
}

/* Sand 1.00 in the bank, 1.11 loose, 0.95 compacted; earth swells by a quarter: 544.72
   yd3 dug are 680.9 yd3 loose. */
Test(quantities, swell_and_trucks)
{
    input.fill = 0;
    design.burial.native_swell = 1;
    input.truck_m3 = 10.0;
    cr_assert_str_eq(uf_pit_swells[0].name, "sand");
    cr_assert_str_eq(uf_pit_swells[1].name, "earth");
    const struct uf_quantities got = order();
    near(got.fill_loose_m3, got.fill_m3 * 1.11 / 0.95, 1e-9, "loose fill");
    near(got.fill_trucks, ceil(got.fill_loose_m3 / 10.0), 0.0, "trucks");
    near(got.spoil_loose_m3, 1.25 * got.pit.spoil_m3, 1e-9, "loose spoil");
    near(544.72 * uf_pit_swells[design.burial.native_swell].loose, 680.9, 0.01, "published");
    setup();
    cr_expect(isnan(order().fill_trucks) && isnan(order().fill_loose_m3), "not given");
}

/* A box 3.6 x 8.0 m, upright sides, 2.5 m deep: floor and top 28.8 m2 each, sides 58 m2. */
Test(quantities, geotextile)
{
    design.board.present = false;
    design.burial.pit_slope = 0.0;
    design.burial.cover_m = 0.2; /* less than the fill over the crown: to grade */
    design.burial.bedding_m = 0.0;
    design.anchors.deadmen = 0;
    design.tank.n_risers = 0;
    input.roll_m = 4.0;
    input.lap_m = 0.5;
    struct uf_quantities got = order();
    near(got.geotextile_m2, 2.0 * 28.8 + 2.0 * (3.6 + 8.0) * 2.6, 1e-9, "area");
    near(got.geotextile_lapped_m2, got.geotextile_m2 * 4.0 / 3.5, 1e-9, "with laps");
    design.burial.pit_slope = 1.0;
    got = order();
    /* floor, top 8.8 x 13.2, sides of slant 2.6 sqrt 2 */
    near(got.geotextile_m2, 28.8 + 8.8 * 13.2 + (3.6 + 8.8 + 8.0 + 13.2) * 2.6 * sqrt(2.0), 1e-9,
         "sloped");
    input.lap_m = 4.0;
    struct uf_error err = {0};
    cr_expect_eq(uf_quantities(&got, &design, &input, &err), UF_E_INPUT);
}

/* 9.2 x 4.8 m from sheets of 2.4 x 1.2 m: along, 3 x 4 whole sheets and 4 pieces of 2.0
   m, one a sheet: 16; the other way 7 x 2 and 2 pieces of 0.8 m, one a sheet: 16. */
Test(quantities, cut_plan)
{
    struct uf_quantities_cut cut = uf_quantities_cut_plan(9.2, 4.8, 2.4, 1.2);
    cr_expect_eq(cut.sheets, 16u);
    cr_expect_eq(cut.full, 12u);
    near(cut.end_strip_m, 2.0, 1e-9, "strip");
    near(cut.waste_share, 1.0 - 9.2 * 4.8 / (16.0 * 2.88), 1e-12, "waste");
    cut = uf_quantities_cut_plan(4.8, 2.4, 2.4, 1.2);
    cr_expect_eq(cut.sheets, 4u, "no waste");
    near(cut.waste_share, 0.0, 1e-12, "no waste");
    cut = uf_quantities_cut_plan(1.0, 0.5, 2.4, 1.2);
    cr_expect_eq(cut.sheets, 1u, "one corner");
    cut = uf_quantities_cut_plan(2.6, 1.3, 2.4, 1.2);
    /* whole one, an end strip of 0.2 m and the corner from one sheet, a side strip of 0.1 m */
    cr_expect_eq(cut.sheets, 3u);
}

/* Pieces of a plan never need more foam than is bought, and cover the board. */
Test(quantities, cut_plan_covers_for_random_boards)
{
    unsigned seed = 5u;
    for (int i = 0; i < 300; i++) {
        seed = seed * 1664525u + 1013904223u;
        const double length_m = 0.5 + (double)(seed >> 20) * 0.004;
        seed = seed * 1664525u + 1013904223u;
        const double width_m = 0.5 + (double)(seed >> 20) * 0.002;
        const struct uf_quantities_cut cut = uf_quantities_cut_plan(length_m, width_m, 2.4, 1.2);
        const double covered_m = (double)cut.full_along * cut.along_m + cut.end_strip_m;
        cr_expect(cut.waste_share > -1e-9 && cut.waste_share < 1.0);
        near(covered_m, length_m, 2e-6, "length");
        cr_expect_eq(cut.sheets, cut.full + cut.for_ends + cut.for_sides);
    }
}

static size_t count_of(const struct uf_quantities_cut *cut, double along_m, double across_m)
{
    for (size_t i = 0; i < cut->n_pieces; i++) {
        if (fabs(cut->pieces[i].along_m - along_m) < 1e-9 &&
            fabs(cut->pieces[i].across_m - across_m) < 1e-9) {
            return cut->pieces[i].count;
        }
    }
    return 0;
}

/* 9.6 x 4.8 m of sheets 2.4 x 1.2 m, half a sheet aside both ways: along 1.2, 3 x 2.4, 1.2 m; across
   0.6, 3 x 1.2, 0.6 m. By hand: 9 whole ones; 6 halves at the ends, two a sheet; 6 at the sides, two a
   sheet; 4 corners, a quarter each: 9 + 3 + 3 + 1 = 16, no waste. */
Test(quantities, a_layer_half_a_sheet_aside)
{
    const struct uf_quantities_cut below = uf_quantities_cut_plan(9.6, 4.8, 2.4, 1.2);
    const struct uf_quantities_cut cut = uf_quantities_cut_staggered(&below, 9.6, 4.8);
    double at_m[8];
    cr_expect_eq(below.sheets, 16u);
    cr_expect_eq(below.n_pieces, 1u);
    cr_expect_eq(cut.sheets, 16u);
    near(cut.waste_share, 0.0, 1e-12, "no waste");
    cr_expect_eq(cut.n_pieces, 4u);
    cr_expect_eq(count_of(&cut, 2.4, 1.2), 9u);
    cr_expect_eq(count_of(&cut, 1.2, 1.2), 6u);
    cr_expect_eq(count_of(&cut, 2.4, 0.6), 6u);
    cr_expect_eq(count_of(&cut, 1.2, 0.6), 4u);
    cr_expect_eq(uf_quantities_cut_joints(at_m, 8, 1.2, 3, 2.4, 1.2), 6u);
    near(at_m[1], 1.2, 1e-12, "first joint");
    near(at_m[4], 8.4, 1e-12, "last joint");
    near(at_m[5], 9.6, 1e-12, "far edge");
}

/* The pieces of a layer are the board, area for area, and no joint of a staggered layer lies over one of
   the layer below: the shift is half a sheet. */
Test(quantities, staggered_layers_cover_and_their_joints_keep_apart)
{
    unsigned seed = 11u;
    for (int i = 0; i < 300; i++) {
        seed = seed * 1664525u + 1013904223u;
        const double length_m = 2.5 + (double)(seed >> 20) * 0.004;
        seed = seed * 1664525u + 1013904223u;
        const double width_m = 2.5 + (double)(seed >> 20) * 0.002;
        const struct uf_quantities_cut a = uf_quantities_cut_plan(length_m, width_m, 2.4, 1.2);
        const struct uf_quantities_cut b = uf_quantities_cut_staggered(&a, length_m, width_m);
        double area_m2 = 0.0, on_a_m[64], on_b_m[64];
        for (size_t k = 0; k < b.n_pieces; k++) {
            area_m2 += (double)b.pieces[k].count * b.pieces[k].along_m * b.pieces[k].across_m;
        }
        near(area_m2, length_m * width_m, 1e-4, "area");
        cr_expect(b.waste_share > -1e-9 && b.waste_share < 1.0);
        const size_t n_a = uf_quantities_cut_joints(on_a_m, 64, a.first_end_m, a.full_along,
                                                    a.along_m, a.end_strip_m);
        const size_t n_b = uf_quantities_cut_joints(on_b_m, 64, b.first_end_m, b.full_along,
                                                    b.along_m, b.end_strip_m);
        for (size_t k = 1; k + 1 < n_a; k++) {
            for (size_t m = 1; m + 1 < n_b; m++) {
                cr_expect_gt(fabs(on_a_m[k] - on_b_m[m]), 0.3);
            }
        }
    }
}

Test(quantities, sheets_of_a_board_in_layers_with_skirt)
{
    struct uf_error err = {0};
    struct uf_quantities got;
    input.sheet_length_m = 2.4;
    input.sheet_width_m = 1.2;
    input.sheet_thickness_m = 0.05;
    got = order();
    cr_expect_eq(got.board_layers, 2u);
    cr_expect_eq(got.sheets, got.cut.sheets + got.staggered.sheets);
    design.board.skirt_m = 0.6;
    got = order();
    /* 2 (9.2 + 4.8) = 28 m in 12 strips of 2.4 m, two from a sheet: 6 sheets a layer */
    cr_expect_eq(got.skirt_sheets, 12u);
    input.sheet_thickness_m = 0.03;
    cr_expect_eq(uf_quantities(&got, &design, &input, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "sheet.thickness") != NULL, "%s", err.text);
    setup();
    got = order();
    cr_expect_eq(got.sheets, 0u, "no sheet size given");
}
