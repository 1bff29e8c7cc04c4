#include "solver/choice/settle.h"
#include "solver/design/foam.h"
#include "solver/statics/load.h"
#include "solver/statics/uplift.h"
#include "tests/runs.h"

static double factor_of(const struct uf_case *design)
{
    struct uf_column_soils soils;
    struct uf_holddown balance;
    cr_assert_eq(uf_column_soils(&soils, design, NULL), UF_OK);
    cr_assert_eq(uf_holddown_at(&balance, design, &soils, design->ground.water_highest_m, NULL),
                 UF_OK);
    return balance.factor_submerged;
}

static struct uf_case wet(void)
{
    struct uf_case d = runs_tank();
    d.burial.has_backfill = d.burial.has_bedding_soil = false;
    d.ground.layers[0].spec.unit_weight_moist_N_m3 = 18000.0;
    d.ground.layers[0].spec.unit_weight_saturated_N_m3 = 20000.0;
    d.ground.water_highest_m = 0.0;
    d.tank.n_risers = 0;
    d.board.present = false;
    d.anchors.least = true;
    return d;
}

/* The size found is enough, and a step less is not. */
static void expect_closed(struct uf_case *d, double *size_m)
{
    const double asked = d->limits.uplift_factor;
    cr_expect_geq(factor_of(d), asked);
    *size_m -= UF_SETTLE_STEP_M;
    cr_expect_lt(factor_of(d), asked);
}

Test(settle, deadmen_or_pad_just_large_enough)
{
    struct uf_case d = wet();
    d.limits.uplift_factor = 1.6;
    cr_assert_lt(factor_of(&d), 1.6);
    cr_assert_eq(uf_settle(&d, false, NULL), UF_OK);
    cr_assert(d.anchors.deadmen > 0 || d.anchors.has_pad);
    cr_expect_geq(d.anchors.straps, 2u);
    if (d.anchors.deadmen > 0) {
        d.anchors.deadman_height_m -= UF_SETTLE_STEP_M;
        expect_closed(&d, &d.anchors.deadman_width_m);
    } else {
        d.anchors.pad_length_m -= 2.0 * UF_SETTLE_STEP_M;
        d.anchors.pad_width_m -= UF_SETTLE_STEP_M;
        expect_closed(&d, &d.anchors.pad_width_m);
    }
}

Test(settle, none_where_none_is_needed)
{
    struct uf_case d = wet();
    d.limits.uplift_factor = 0.1;
    cr_assert_eq(uf_settle(&d, false, NULL), UF_OK);
    cr_expect(d.anchors.deadmen == 0 && !d.anchors.has_pad && d.anchors.straps == 0);
}

/* Drier soil is lighter: anchors that hold in every case are larger, unless that case is left out. */
Test(settle, a_case_that_is_left_out_sizes_nothing)
{
    struct uf_case d = wet(), sure, nominal;
    struct uf_ground_spec *soil = &d.ground.layers[0].spec;
    soil->unit_weight_moist_N_m3 = soil->unit_weight_saturated_N_m3 = NAN;
    soil->has_thermal = false;
    soil->soil = uf_soil_find("silt");
    d.ground.water_highest_m = 0.5; /* some soil over the tank is moist */
    d.limits.uplift_factor = 1.9;
    sure = nominal = d;
    cr_assert_eq(uf_settle(&nominal, false, NULL), UF_OK);
    cr_assert_eq(uf_settle(&sure, true, NULL), UF_OK);
    cr_assert_gt(nominal.anchors.deadmen, 0);
    cr_expect_gt(sure.anchors.deadman_width_m, nominal.anchors.deadman_width_m);
    d.sensitivity.left_out = ~0UL;
    cr_assert_eq(uf_settle(&d, true, NULL), UF_OK);
    cr_expect_eq(d.anchors.deadman_width_m, nominal.anchors.deadman_width_m);
}

/* The XPS types rise in strength: what is taken carries, the next weaker does not. */
Test(settle, the_weakest_board_that_carries)
{
    struct uf_case d = wet();
    struct uf_load load;
    struct uf_column_soils soils;
    double weaker_Pa = 0.0;
    d.anchors.least = false;
    d.board.present = d.board.least = true;
    d.wheel_h20 = true;
    d.wheel_N = UF_LOAD_H20_N;
    cr_assert_eq(uf_settle(&d, false, NULL), UF_OK);
    cr_assert_eq(uf_column_soils(&soils, &d, NULL), UF_OK);
    cr_assert_eq(uf_load(&load, &d, &soils, NULL), UF_OK);
    cr_expect_leq(load.board_use, 1.0);
    for (const struct uf_foam *row = uf_foam_table; row->name != NULL; row++) {
        if (row->kind[0] == 'X' && row->strength_Pa < d.board.strength_Pa) {
            weaker_Pa = fmax(weaker_Pa, row->strength_Pa);
        }
    }
    cr_assert_gt(weaker_Pa, 0.0);
    d.board.strength_Pa = weaker_Pa;
    cr_assert_eq(uf_load(&load, &d, &soils, NULL), UF_OK);
    cr_expect_gt(load.board_use, 1.0);
}
