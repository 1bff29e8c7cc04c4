#include "solver/base/constants.h"
#include "solver/design/dig.h"
#include "solver/ground/soil.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>

static void near(double got, double expected, const char *what)
{
    cr_expect(fabs(got - expected) <= 1e-9 * fmax(1.0, fabs(expected)),
              "%s: got %.12g, expected %.12g", what, got, expected);
}

/* Crown at 1.0 m, 1.6 m across, 4.0 m long, bedding 0.3 m, clearance 0.5 m, slope 0.5. */
static struct uf_case bare(void)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0);
    d.board.present = false;
    return d;
}

Test(dig, sides_by_hand)
{
    const struct uf_case d = bare();
    const struct uf_dig dig = uf_dig_of(&d);
    near(dig.floor_m, 2.9, "floor");
    near(dig.across_m, 1.3, "half width");
    near(dig.along_m, 2.5, "half length");
    near(dig.fill_top_m, 0.7, "fill ends 0.3 m over the crown");
    near(uf_dig_half_width_m(&dig, 0.9), 2.3, "half width at 0.9 m");
    near(uf_dig_volume_m3(&dig, 0.0, 9.0), uf_dig_frustum_m3(2.6, 5.0, 2.9, 0.5), "whole");
    near(uf_dig_volume_m3(&dig, -1.0, 0.8) + uf_dig_volume_m3(&dig, 0.8, 2.9),
         uf_dig_volume_m3(&dig, 0.0, 2.9), "in two parts");
}

Test(dig, a_wide_board_stands_on_a_shelf)
{
    struct uf_case d = bare();
    d.board.present = true; /* underside at 0.8 m, the sides there at 2.35 m */
    d.board.beyond_tank_m = 3.0;
    const struct uf_dig dig = uf_dig_of(&d);
    near(uf_dig_half_width_m(&dig, 0.8), 2.35, "below the shelf");
    near(uf_dig_half_width_m(&dig, 0.79), 3.805, "over the shelf");
    near(uf_dig_volume_m3(&dig, 0.0, 2.9),
         uf_dig_frustum_m3(2.6, 5.0, 2.1, 0.5) + uf_dig_frustum_m3(7.6, 10.0, 0.8, 0.5), "volume");
    near(uf_dig_skin_m2(&dig, 0.8),
         2.6 * 5.0 + 2.0 * (2.6 + 5.0 + 4.7 + 7.1) * 0.5 * 2.1 * hypot(1.0, 0.5),
         "skin up to the shelf");
    near(uf_dig_skin_m2(&dig, 0.7) - uf_dig_skin_m2(&dig, 0.8),
         7.6 * 10.0 - 4.7 * 7.1 + (7.6 + 10.0 + 0.1) * 2.0 * 0.1 * hypot(1.0, 0.5), "and past it");
}

Test(dig, soil_by_place)
{
    struct uf_case d = bare();
    const struct uf_dig dig = uf_dig_of(&d);
    cr_expect_eq(uf_dig_soil_at(&dig, &d.burial, 0.0, 0.6), UF_DIG_NATIVE, "goes back");
    cr_expect_eq(uf_dig_soil_at(&dig, &d.burial, 0.0, 0.8), UF_DIG_FILL);
    cr_expect_eq(uf_dig_soil_at(&dig, &d.burial, -2.5, 0.8), UF_DIG_NATIVE, "beside the pit");
    cr_expect_eq(uf_dig_soil_at(&dig, &d.burial, 0.0, 2.7), UF_DIG_BEDDING);
    cr_expect_eq(uf_dig_soil_at(&dig, &d.burial, 0.0, 3.0), UF_DIG_NATIVE, "under the floor");
    d.burial.has_bedding_soil = false;
    cr_expect_eq(uf_dig_soil_at(&dig, &d.burial, 0.0, 2.7), UF_DIG_FILL, "bedding is backfill");
    d.burial.has_backfill = false;
    cr_expect_eq(uf_dig_soil_at(&dig, &d.burial, 0.0, 0.8), UF_DIG_NATIVE);
}

/* A riser that passes the board is counted once. */
Test(dig, solids_by_hand)
{
    const struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0);
    const double riser_m2 = 0.09 * UF_PI;
    near(uf_dig_solids_m3(&d, 0.0, 0.7), 0.7 * riser_m2, "riser alone");
    near(uf_dig_solids_m3(&d, 0.7, 0.8), 0.1 * 2.8 * 5.2, "riser and board");
    near(uf_dig_skirt_m3(&d), 2.0 * (2.8 + 5.2) * 0.4 * 0.1, "skirt");
    near(uf_dig_risers_m3(&d, 0.0, INFINITY), riser_m2, "riser");
}
