#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/backfill.h"
#include "solver/statics/uplift.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>

static struct uf_case design;
static struct uf_column_soils soils;
static struct uf_backfill_input input;
static struct uf_backfill table;

static void setup(void)
{
    statics_design(&design, &soils);
    soils.backfill = soils.layers[0];
    design.tank.empty_mass_kg = 900.0;
    design.tank.wall_thickness_m = 0.01;
    design.burial.bedding_m = 0.3;
    design.burial.pit_clearance_m = 0.6;
    design.burial.has_backfill = true;
    design.burial.fill_over_m = 0.3;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 0.6;
    design.board.density_kg_m3 = 30.0;
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = 0.3;
    design.anchors.deadman_length_m = 6.0;
    design.anchors.straps = 4;
    uf_backfill_init(&input);
}
TestSuite(backfill, .init = setup);

static void fill(void)
{
    struct uf_error err = {0};
    cr_assert_eq(uf_backfill(&table, &design, &soils, &input, &err), UF_OK, "%s", err.text);
}

/* By hand: floor 3.9 m, invert 3.6, springline 2.4, crown 1.2, board 1.05 to 0.95, fill to 0.9. */
Test(backfill, steps_follow_each_other_to_grade)
{
    static const double tops_m[] = {3.6, 3.6, 3.6, 2.4, 1.2, 1.05, 0.95, 0.9, 0.0};
    static const enum uf_backfill_kind kinds[] = {
        UF_BACKFILL_LIFT,  UF_BACKFILL_SET,  UF_BACKFILL_STRAPPED,
        UF_BACKFILL_LIFT,  UF_BACKFILL_LIFT, UF_BACKFILL_LIFT,
        UF_BACKFILL_BOARD, UF_BACKFILL_LIFT, UF_BACKFILL_LIFT};
    fill();
    cr_assert_eq(table.n, 9u);
    for (size_t i = 0; i < table.n; i++) {
        near(table.rows[i].top_m, tops_m[i], 1e-9, "top");
        cr_expect_eq(table.rows[i].kind, kinds[i], "row %zu", i);
        near(table.rows[i].bottom_m, i > 0 ? tops_m[i - 1] : 3.9, 1e-9, "bottom");
    }
    cr_expect(!table.rows[2].beside && table.rows[3].beside && table.rows[4].beside &&
              !table.rows[5].beside);
    cr_expect_eq(table.rows[7].soil, UF_DIG_FILL);
    cr_expect_eq(table.rows[8].soil, UF_DIG_NATIVE);
}

Test(backfill, no_lift_is_thicker_than_asked_and_none_is_missing)
{
    double sum_m = 0.0;
    input.lift_m = 0.25;
    fill();
    for (size_t i = 0; i < table.n; i++) {
        const struct uf_backfill_row *row = &table.rows[i];
        cr_expect_leq(row->bottom_m - row->top_m, 0.25 + 1e-9);
        sum_m += row->bottom_m - row->top_m;
    }
    near(sum_m, 3.9, 1e-9, "all of the pit");
}

/* Before its straps hold nothing but its own weight keeps the tank down; by hand. */
Test(backfill, straps_count_only_once_they_hold)
{
    fill();
    const double uplift_N = UF_WATER_UNIT_N_M3 * uf_tank_volume_m3(&design.tank);
    const double mass_N = 900.0 * UF_GRAVITY_M_S2;
    near(table.rows[1].stage.factor, mass_N / uplift_N, 1e-9, "set");
    near(table.rows[2].stage.factor,
         (mass_N + 2.0 * 0.09 * 6.0 * (23500.0 - UF_WATER_UNIT_N_M3)) / uplift_N, 1e-9, "strapped");
}

/* Every row put back into the flotation check: the head that floats gives 1, the water inside the
   factor asked for; with the last lift it is the check of the finished works. */
Test(backfill, every_lift_agrees_with_the_flotation_check)
{
    struct uf_uplift finished;
    struct uf_holddown balance;
    input.lift_m = 0.3;
    input.water_m = 0.7;
    fill();
    cr_assert_gt(table.n, 12u);
    for (size_t i = 3; i < table.n; i++) {
        const struct uf_backfill_row *row = &table.rows[i];
        near(row->outside_m, 2.9, 1e-9, "outside");
        if (!isnan(row->stage.floats_at_m)) {
            cr_assert_eq(uf_holddown_filled(&balance, &design, &soils, 3.6 - row->stage.floats_at_m,
                                            row->top_m, NULL),
                         UF_OK);
            near(balance.factor_submerged, 1.0, 1e-9, "floats");
        }
        cr_assert_eq(uf_holddown_filled(&balance, &design, &soils, 0.7, row->top_m, NULL), UF_OK);
        near(row->stage.factor, balance.factor_submerged, 1e-12, "factor");
        if (row->stage.inside_m > 0.0) {
            near((balance.submerged_N + UF_WATER_UNIT_N_M3 * row->stage.inside_m3) /
                     balance.uplift_N,
                 1.3, 1e-9, "inside");
        }
    }
    design.ground.water_highest_m = 0.7;
    cr_assert_eq(uf_uplift(&finished, &design, &soils, NULL), UF_OK);
    near(table.rows[table.n - 1].stage.factor, finished.highest.factor_submerged, 1e-12,
         "finished");
}

Test(backfill, a_dry_pit_lifts_nothing)
{
    input.water_m = 3.7;
    fill();
    cr_expect(isnan(table.rows[3].stage.factor));
    near(table.rows[3].stage.inside_m, 0.0, 0.0, "no water inside");
    near(table.rows[3].outside_m, 0.0, 0.0, "none outside");
}

Test(backfill, lifts_too_thin_are_refused)
{
    struct uf_error err = {0};
    input.lift_m = 0.02;
    cr_expect_eq(uf_backfill(&table, &design, &soils, &input, &err), UF_E_INPUT);
    cr_expect_str_eq(err.fault.key, "works.lift");
}
