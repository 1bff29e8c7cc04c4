#include "solver/base/constants.h"
#include "solver/statics/column.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* Two native layers over gravel backfill, unit weights by hand. */
static struct uf_case design;
static struct uf_column_soils soils;

static void set_weights(struct uf_soil_state *soil, double moist_N_m3, double saturated_N_m3)
{
    soil->unit_weight_moist_N_m3 = moist_N_m3;
    soil->unit_weight_saturated_N_m3 = saturated_N_m3;
}

static void setup(void)
{
    uf_case_init(&design);
    memset(&soils, 0, sizeof soils);
    design.ground.n_layers = soils.n_layers = 2;
    design.ground.layers[0].to_m = 0.4;
    design.ground.layers[1].to_m = 3.0;
    design.tank.shape = UF_HORIZONTAL_CYLINDER;
    design.tank.diameter_m = 2.4;
    design.tank.length_m = 6.0;
    design.burial.cover_m = 1.2;
    set_weights(&soils.layers[0], 15000.0, 17000.0);
    set_weights(&soils.layers[1], 18000.0, 20000.0);
    set_weights(&soils.backfill, 16000.0, 19500.0);
}
TestSuite(column, .init = setup);

static struct uf_column_weight weigh(bool under_board, double top_m, double bottom_m,
                                     double water_m)
{
    const struct uf_column_span span = {top_m, bottom_m, water_m};
    struct uf_column column;
    struct uf_column_weight weight;
    uf_column_build(&column, &design, &soils, under_board ? design.board.thickness_m : 0.0);
    cr_assert_eq(uf_column_prism(&weight, &column, &span, 2.0, NULL), UF_OK);
    return weight;
}

Test(column, native_layers_by_hand)
{
    const struct uf_column_weight weight = weigh(false, 0.0, 1.2, 0.7);
    cr_expect_float_eq(weight.total_N, 2.0 * (0.4 * 15000.0 + 0.3 * 18000.0 + 0.5 * 20000.0), 1e-8);
    cr_expect_float_eq(weight.submerged_N, weight.total_N - 2.0 * 0.5 * 9810.0, 1e-8);
    cr_expect_float_eq(weight.volume_m3, 2.4, 1e-12);
    cr_expect_float_eq(weight.below_m3, 1.0, 1e-12);
}

Test(column, the_last_layer_goes_on_and_flood_adds_nothing)
{
    const struct uf_column_weight deep = weigh(false, 3.0, 5.0, 9.0);
    cr_expect_float_eq(deep.total_N, 2.0 * 2.0 * 18000.0, 1e-8);
    const struct uf_column_weight grade = weigh(false, 0.0, 1.2, 0.0);
    const struct uf_column_weight flood = weigh(false, 0.0, 1.2, -3.0);
    cr_expect_float_eq(grade.submerged_N, flood.submerged_N, 1e-9);
    cr_expect_float_eq(grade.total_N, flood.total_N, 1e-9);
}

Test(column, backfill_reaches_as_high_with_a_board_as_without)
{
    design.burial.has_backfill = true;
    design.burial.fill_over_m = INFINITY;
    cr_expect_float_eq(weigh(false, 0.0, 1.2, 9.0).total_N, 2.0 * 1.2 * 16000.0, 1e-8);
    design.burial.fill_over_m = 0.3;
    const double over_N = 0.4 * 15000.0 + 0.5 * 18000.0, low_N = 0.3 * 16000.0;
    cr_expect_float_eq(weigh(false, 0.0, 1.2, 9.0).total_N, 2.0 * (over_N + low_N), 1e-8);
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    /* board from 0.95 to 1.05 m: nothing in its slot */
    cr_expect_float_eq(weigh(true, 0.0, 1.2, 9.0).total_N, 2.0 * (over_N + 0.2 * 16000.0), 1e-8);
    cr_expect_float_eq(weigh(false, 0.0, 1.2, 9.0).total_N, 2.0 * (over_N + low_N), 1e-8);
    design.burial.fill_over_m = 0.2; /* the board half in the fill */
    cr_expect_float_eq(weigh(true, 0.0, 1.2, 9.0).total_N,
                       2.0 * (0.4 * 15000.0 + 0.55 * 18000.0 + 0.15 * 16000.0), 1e-8);
    cr_expect_float_eq(weigh(true, 0.95, 1.05, 9.0).volume_m3, 0.0, 1e-12);
}

Test(column, a_weight_that_is_not_known_names_its_key_only_where_it_counts)
{
    const struct uf_column_span low = {1.0, 2.0, 0.5}, high = {0.0, 0.3, 0.5};
    struct uf_column column;
    struct uf_column_weight weight;
    struct uf_error err = {0};
    set_weights(&soils.layers[1], NAN, NAN);
    uf_column_build(&column, &design, &soils, 0.0);
    cr_expect_eq(uf_column_prism(&weight, &column, &high, 1.0, &err), UF_OK);
    cr_expect_eq(uf_column_prism(&weight, &column, &low, 1.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "ground[1]") != NULL, "%s", err.text);
    cr_expect(strstr(err.text, "unit_weight_saturated") != NULL, "%s", err.text);
    set_weights(&soils.backfill, 16000.0, NAN);
    design.burial.has_backfill = true;
    design.burial.pit_clearance_m = 0.6;
    uf_column_build(&column, &design, &soils, 0.0);
    cr_expect_eq(uf_column_prism(&weight, &column, &low, 1.0, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "burial.backfill") != NULL, "%s", err.text);
}
