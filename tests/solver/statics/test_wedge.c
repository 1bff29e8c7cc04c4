#include "solver/base/constants.h"
#include "solver/statics/flotation.h"
#include "solver/statics/holddown.h"
#include "solver/statics/wedge.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_case design;
static struct uf_column_soils soils;

static void setup(void)
{
    statics_design(&design, &soils);
    design.anchors.deadmen = 2;
    design.anchors.deadman_width_m = design.anchors.deadman_height_m = 0.3;
    design.anchors.deadman_length_m = 5.0;
}
TestSuite(wedge, .init = setup);

static struct uf_wedge at(double angle_degree)
{
    struct uf_wedge got;
    struct uf_error err = {0};
    cr_assert_eq(uf_wedge(&got, &design, &soils, 0.0, angle_degree * UF_PI / 180.0, &err), UF_OK,
                 "%s", err.text);
    return got;
}

/* H^2 tan / 2 on each outer side. */
Test(wedge, beside_the_tank)
{
    const struct uf_wedge got = at(30.0);
    const double area_m2 = 0.5 * 3.6 * 3.6 * tan(UF_PI / 6.0);
    struct uf_holddown balance;
    near(got.soil_m3[UF_ANCHOR_DEADMEN], 2.0 * 5.0 * area_m2, 1e-9, "volume");
    near(got.soil_N[UF_ANCHOR_DEADMEN], 10000.0 * got.soil_m3[UF_ANCHOR_DEADMEN], 1e-6, "weight");
    cr_assert_eq(uf_holddown_at(&balance, &design, &soils, 0.0, NULL), UF_OK);
    near(got.factor, (balance.submerged_N + got.soil_N[UF_ANCHOR_DEADMEN]) / balance.uplift_N,
         1e-12, "factor");
    near(at(0.0).factor, balance.factor_submerged, 1e-12, "no angle, no wedge");
}

/* A deadman under the tank: the wedge only counts where it has left the shadow. */
Test(wedge, clipped_at_the_shadow)
{
    design.anchors.deadman_offset_m = 0.45; /* outer edge at 0.6, shadow to 1.2 */
    const double slope = tan(UF_PI / 6.0), past_m = 3.6 * slope - 0.6;
    near(at(30.0).soil_m3[UF_ANCHOR_DEADMEN], 10.0 * 0.5 * past_m * past_m / slope, 1e-9,
         "clipped");
    near(at(5.0).soil_m3[UF_ANCHOR_DEADMEN], 0.0, 0.0, "never leaves it");
}

Test(wedge, pad_on_its_long_sides)
{
    design.anchors.deadmen = 0;
    design.anchors.has_pad = true;
    design.anchors.pad_length_m = 7.0;
    design.anchors.pad_width_m = 3.4;
    design.anchors.pad_thickness_m = 0.2;
    design.burial.bedding_m = 0.3;
    near(at(45.0).soil_m3[UF_ANCHOR_PAD], 2.0 * 7.0 * 0.5 * 3.9 * 3.9, 1e-9, "two sides");
}

/* Deadmen end at 1.5 m, board at 2.1 m, 0.15 to 0.25 m over the crown: foam in the wedge is
   no soil, and floats. 2.6 m over the deadmen the wedge is 2.65 m tan 30 = 1.53 m wide. */
Test(wedge, foam_in_a_wedge_is_no_soil)
{
    const struct uf_wedge bare = at(30.0);
    struct uf_holddown balance;
    design.board.present = true;
    design.board.thickness_m = 0.1;
    design.board.above_crown_m = 0.15;
    design.board.beyond_tank_m = 0.9;
    design.board.density_kg_m3 = 30.0;
    const struct uf_wedge got = at(30.0);
    const double foam_m3 = 2.0 * 5.0 * 0.6 * 0.1;
    near(bare.soil_m3[UF_ANCHOR_DEADMEN] - got.soil_m3[UF_ANCHOR_DEADMEN], foam_m3, 1e-9, "foam");
    cr_assert_eq(uf_holddown_at(&balance, &design, &soils, 0.0, NULL), UF_OK);
    near(got.factor,
         (balance.submerged_N + got.soil_N[UF_ANCHOR_DEADMEN] + foam_m3 * 30.0 * UF_GRAVITY_M_S2) /
             (balance.uplift_N + 9810.0 * foam_m3),
         1e-12, "factor");
}

Test(wedge, angle_out_of_range)
{
    struct uf_wedge got;
    struct uf_error err = {0};
    cr_expect_eq(uf_wedge(&got, &design, &soils, 0.0, 1.5, &err), UF_E_RANGE);
    cr_expect_eq(uf_wedge(&got, &design, &soils, 0.0, NAN, &err), UF_E_RANGE);
}
