#include "solver/base/constants.h"
#include "solver/statics/load.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define FOOT_M 0.3048
#define PSF_PA 47.88026
#define KIP_N  4448.2216152605

static struct uf_case design;
static struct uf_column_soils soils;

static void setup(void)
{
    statics_design(&design, &soils);
    soils.layers[0].unit_weight_saturated_N_m3 = 20000.0;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.strength_Pa = 173000.0;
    design.wheel_N = UF_LOAD_H20_N;
    design.wheel_h20 = true;
}
TestSuite(load, .init = setup);

static struct uf_load press(void)
{
    struct uf_load load;
    struct uf_error err = {0};
    cr_assert_eq(uf_load(&load, &design, &soils, &err), UF_OK, "%s", err.text);
    return load;
}

/* Published H-20 pressures with impact, psf, and the other methods for a 16 kip wheel
   without impact (LRFD with its own), computed from their formulas. 0 stands for "does
   not reach". */
Test(load, methods_side_by_side)
{
    static const double rows[][7] = {/* ft, table, one wheel, two wheels, point, patch, LRFD */
                                     {2.0, 800.0, 1306.1, 0.0, 1909.9, 1620.7, 1605.9},
                                     {4.0, 400.0, 0.0, 351.6, 477.5, 456.9, 547.4},
                                     {6.0, 200.0, 0.0, 184.7, 212.2, 208.0, 261.4},
                                     {8.0, 100.0, 0.0, 114.3, 119.4, 118.0, 146.8}};
    for (size_t i = 0; i < 4; i++) {
        const double depth_m = rows[i][0] * FOOT_M, wheel_N = 16.0 * KIP_N;
        const double spread_psf = uf_load_spread_Pa(wheel_N, depth_m) / PSF_PA;
        near(uf_load_table_Pa(depth_m) / PSF_PA, rows[i][1], 1.2, "table");
        near(spread_psf, rows[i][2] > 0.0 ? rows[i][2] : rows[i][3], 0.06, "1.75 H");
        near(uf_load_point_Pa(wheel_N, depth_m) / PSF_PA, rows[i][4], 0.06, "point");
        near(uf_load_patch_Pa(wheel_N, depth_m) / PSF_PA, rows[i][5], 0.06, "patch");
        near(uf_load_lrfd_Pa(wheel_N, depth_m) / PSF_PA, rows[i][6], 0.06, "LRFD");
    }
}

/* The whole published table in kPa: 86.2 (1 ft, from memory), 38.3 ... 4.8. */
Test(load, published_table)
{
    static const double rows_kPa[] = {86.2, 38.3, 28.7, 19.2, 12.0, 9.6, 8.4, 4.8};
    for (size_t i = 0; i < 8; i++) {
        near(uf_load_table_Pa((double)(i + 1) * FOOT_M) / 1000.0, rows_kPa[i], 0.06, "kPa");
    }
    near(uf_load_table_Pa(2.5 * FOOT_M) / 6894.757, 0.5 * (5.56 + 4.17), 1e-6, "between rows");
    cr_expect(isnan(uf_load_table_Pa(0.9 * FOOT_M)), "the table begins at 1 ft");
    near(uf_load_table_Pa(20.0 * FOOT_M), uf_load_table_Pa(8.0 * FOOT_M), 0.0, "and ends at 8 ft");
    cr_expect(isnan(uf_load_spread_Pa(1.0, 1.9 * FOOT_M)), "concentrated above 2 ft");
}

/* The squares of two wheels 6 ft apart meet at 6/1.75 = 3.43 ft; the pressure does not jump
   there. */
Test(load, wheels_merge_without_a_jump)
{
    const double meet_m = 6.0 / 1.75 * FOOT_M;
    near(meet_m / FOOT_M, 3.43, 5e-3, "depth");
    near(uf_load_spread_Pa(1e5, meet_m - 1e-9) / uf_load_spread_Pa(1e5, meet_m + 1e-9), 1.0, 1e-6,
         "ratio");
    near(UF_LOAD_H20_N / KIP_N, 16.0, 1e-6, "wheel");
}

Test(load, impact_steps)
{
    static const double rows[][2] = {{0.5, 1.50}, {1.0, 1.35}, {1.5, 1.35}, {2.0, 1.15},
                                     {2.9, 1.15}, {3.0, 1.00}, {7.0, 1.00}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        near(uf_load_impact(rows[i][0] * FOOT_M), rows[i][1], 0.0, "impact");
    }
}

/* Under a corner: Boussinesq's point load (1885) summed over the rectangle, and the 0.137 that a course's
   worksheet on stress under a rectangle prints for 8 by 1.5 at a depth of 3. */
Test(load, corner_of_a_rectangle)
{
    static const double sides[][2] = {{8.0 / 3.0, 0.5}, {1.0, 1.0}, {2.0, 3.0}};
    enum { PARTS = 400 };
    near(uf_load_corner_share(sides[0][0], sides[0][1]), 0.137, 0.0005, "as printed");
    for (size_t k = 0; k < sizeof sides / sizeof sides[0]; k++) {
        const double dx = sides[k][0] / PARTS, dy = sides[k][1] / PARTS;
        double sum = 0.0;
        for (int i = 0; i < PARTS * PARTS; i++) {
            const double x = (i % PARTS + 0.5) * dx, y = ((double)(i / PARTS) + 0.5) * dy;
            sum += 1.5 / acos(-1.0) * dx * dy / pow(1.0 + x * x + y * y, 2.5);
        }
        near(uf_load_corner_share(sides[k][0], sides[k][1]), sum, 1e-5, "summed");
    }
}

/* Far below the tyre Boussinesq's patch is a point; right under it the tyre's own pressure. */
Test(load, patch_limits)
{
    near(uf_load_patch_Pa(1e5, 9.0) / uf_load_point_Pa(1e5, 9.0), 1.0, 2e-3, "deep");
    near(uf_load_patch_Pa(1e5, 1e-4) / (1e5 / (0.508 * 0.254)), 1.0, 1e-6, "shallow");
}

/* XPS IV: 173 kPa bears 57.7 kPa dead and 34.6 kPa live; 0.95 m of soaked soil and the table. */
Test(load, use_of_the_board)
{
    design.load_method = UF_LOAD_TABLE;
    const struct uf_load got = press();
    near(got.depth_m, 0.95, 1e-12, "depth");
    near(got.dead_Pa, 0.95 * 20000.0, 1e-9, "soil");
    near(got.dead_limit_Pa, 57667.0, 1.0, "dead limit");
    near(got.live_limit_Pa, 34600.0, 1e-6, "live limit");
    cr_expect_eq(got.method, UF_LOAD_TABLE);
    near(got.board_use, 19000.0 * 3.0 / 173000.0 + uf_load_table_Pa(0.95) * 5.0 / 173000.0, 1e-12,
         "use");
    near(got.use[UF_LOAD_SPREAD],
         19000.0 * 3.0 / 173000.0 +
             5.0 * uf_load_spread_Pa(UF_LOAD_H20_N, 0.95) * uf_load_impact(0.95) / 173000.0,
         1e-12, "1.75 H with impact");
}

Test(load, method_of_the_verdict)
{
    struct uf_load got = press();
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        cr_expect(!(got.use[i] > got.board_use), "%s is more adverse", uf_load_methods[i].name);
    }
    design.wheel_h20 = false;
    design.load_method = UF_LOAD_SPREAD;
    got = press();
    cr_expect_eq(got.method, UF_LOAD_SPREAD);
    cr_expect(isnan(got.use[UF_LOAD_TABLE]), "the table is for H-20 only");
    design.burial.cover_m = 0.6;
    got = press();
    cr_expect_neq(got.method, UF_LOAD_SPREAD, "1.75 H does not reach 0.35 m");
    cr_expect(isnan(got.use[UF_LOAD_POINT]), "nor is the tyre a point there");
    design.wheel_N = 0.0;
    got = press();
    near(got.board_use, 0.35 * 20000.0 * 3.0 / 173000.0, 1e-12, "no wheel");
    near(got.cover_from_m, 0.25, 1e-5, "no wheel: right from the board's top at grade");
}

Test(load, covers_between_which_it_holds)
{
    const struct uf_load got = press();
    cr_assert_not(isnan(got.cover_from_m));
    design.burial.cover_m = got.cover_from_m;
    near(press().board_use, 1.0, 1e-9, "least cover put back");
    design.burial.cover_m = got.cover_to_m;
    near(press().board_use, 1.0, 1e-9, "greatest cover put back");
    design.burial.cover_m = got.cover_to_m + 0.01;
    cr_expect_gt(press().board_use, 1.0);
    design.burial.cover_m = got.cover_from_m - 0.01;
    cr_expect_gt(press().board_use, 1.0);
    design.board.strength_Pa = 35000.0;
    cr_expect(isnan(press().cover_from_m), "the weakest board never carries the wheel");
}

/* A deep layer without a weight only ends the search for the greatest cover. */
Test(load, a_deep_soil_without_weight_is_not_needed)
{
    const double from_m = press().cover_from_m;
    design.ground.n_layers = soils.n_layers = 2;
    design.ground.layers[0].to_m = 2.0;
    soils.layers[1].unit_weight_moist_N_m3 = NAN;
    soils.layers[1].unit_weight_saturated_N_m3 = NAN;
    const struct uf_load got = press();
    near(got.cover_from_m, from_m, 1e-9, "from");
    near(got.cover_to_m, 2.25, 0.021, "to where the weights end, above the board");
}

Test(load, no_board_and_missing_values)
{
    struct uf_load got;
    struct uf_error err = {0};
    design.board.thickness_m = 0.0;
    cr_expect_not(press().present);
    setup();
    design.board.strength_Pa = NAN;
    cr_expect_eq(uf_load(&got, &design, &soils, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "strength") != NULL);
    setup();
    design.burial.cover_m = 0.2;
    cr_expect_eq(uf_load(&got, &design, &soils, &err), UF_E_RANGE);
    setup();
    soils.layers[0].unit_weight_saturated_N_m3 = NAN;
    near(press().dead_Pa, 0.95 * 17500.0, 1e-9, "moist weight alone");
    soils.layers[0].unit_weight_moist_N_m3 = NAN;
    cr_expect_eq(uf_load(&got, &design, &soils, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "ground[0]") != NULL);
}
