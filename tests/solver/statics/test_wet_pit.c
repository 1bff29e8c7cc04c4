#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/holddown.h"
#include "solver/statics/wet_pit.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_case design;
static struct uf_column_soils soils;

static void setup(void)
{
    statics_design(&design, &soils);
    design.tank.empty_mass_kg = 900.0;
    design.tank.wall_thickness_m = 0.01;
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = 0.3;
    design.anchors.deadman_length_m = 6.0;
}
TestSuite(wet_pit, .init = setup);

static struct uf_wet_pit stages(void)
{
    struct uf_wet_pit pit;
    struct uf_error err = {0};
    cr_assert_eq(uf_wet_pit(&pit, &design, &soils, &err), UF_OK, "%s", err.text);
    return pit;
}

Test(wet_pit, stages_by_hand)
{
    const struct uf_wet_pit got = stages();
    const double U_N = 9810.0 * uf_tank_volume_m3(&design.tank);
    const double bare_N = 900.0 * UF_GRAVITY_M_S2 + 2.0 * 0.09 * 6.0 * (23500.0 - 9810.0);
    const double shoulder_N = (0.5 - UF_PI / 8.0) * 5.76 * 6.0 * 10000.0;
    struct uf_holddown finished;
    near(got.stages[0].factor, bare_N / U_N, 1e-9, "strapped");
    near(got.stages[1].factor, (bare_N + 2.0 * 0.3 * 6.0 * 1.2 * 10000.0) / U_N, 1e-9,
         "springline");
    near(got.stages[2].factor, (bare_N + 2.0 * 0.3 * 6.0 * 2.4 * 10000.0 + shoulder_N) / U_N, 1e-9,
         "crown");
    cr_assert_eq(uf_holddown_at(&finished, &design, &soils, 0.0, NULL), UF_OK);
    near(got.stages[3].factor, finished.factor_submerged, 1e-12, "grade");
}

/* The water that floats the tank, put back, gives a factor of one; the water inside gives
   the required one. */
Test(wet_pit, solved_levels_put_back)
{
    const struct uf_wet_pit got = stages();
    for (size_t i = 0; i < UF_WET_PIT_STAGES; i++) {
        const struct uf_wet_pit_stage *stage = &got.stages[i];
        struct uf_holddown balance;
        if (!isnan(stage->floats_at_m)) {
            cr_assert_eq(uf_holddown_filled(&balance, &design, &soils, 3.6 - stage->floats_at_m,
                                            stage->fill_m, NULL),
                         UF_OK);
            near(balance.factor_submerged, 1.0, 1e-9, stage->name);
        }
        cr_assert_eq(uf_holddown_filled(&balance, &design, &soils, 0.0, stage->fill_m, NULL),
                     UF_OK);
        if (stage->inside_m > 0.0) {
            near((balance.submerged_N + 9810.0 * stage->inside_m3) / balance.uplift_N, 1.3, 1e-9,
                 stage->name);
        }
    }
    cr_expect_lt(got.stages[0].floats_at_m, got.stages[2].floats_at_m, "fill helps");
}

Test(wet_pit, water_inside_at_its_ends)
{
    near(uf_wet_pit_inside_m(&design.tank, 1000.0, 2000.0, 1.3), 0.0, 0.0, "none is needed");
    cr_expect(isnan(uf_wet_pit_inside_m(&design.tank, 1e6, 0.0, 1.3)), "a full tank is not enough");
    const double half_N = 0.5 * 9810.0 * uf_tank_content_m3(&design.tank, 9.0);
    near(uf_wet_pit_inside_m(&design.tank, half_N, 0.0, 1.0), 1.19, 1e-9, "half full");
}

Test(wet_pit, board_comes_with_the_last_stage)
{
    const double crown = stages().stages[2].factor, grade = stages().stages[3].factor;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.density_kg_m3 = 30.0;
    near(stages().stages[2].factor, crown, 1e-12, "not there yet");
    cr_expect_lt(stages().stages[3].factor, grade);
}

Test(wet_pit, errors_come_through)
{
    struct uf_wet_pit pit;
    struct uf_error err = {0};
    design.anchors.deadman_width_m = NAN;
    cr_expect_eq(uf_wet_pit(&pit, &design, &soils, &err), UF_E_INPUT);
}
