#include "solver/base/constants.h"
#include "solver/works/dewater.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>

static struct uf_case design;
static struct uf_column_soils soils;
static struct uf_pit pit;
static struct uf_dewater_input input;
static struct uf_dewater got;

/* Floor 4.1 m: cover 1.2, tank 2.4, bedding 0.5. */
static void setup(void)
{
    statics_design(&design, &soils);
    design.ground.layers[0].to_m = 12.0;
    design.burial.pit_clearance_m = 0.6;
    design.burial.soil_class = 'B';
    cr_assert_eq(uf_pit(&pit, &design, NULL), UF_OK);
    uf_dewater_init(&input);
}
TestSuite(dewater, .init = setup);

static void run(double table_m)
{
    struct uf_error err = {0};
    cr_assert_eq(uf_dewater(&got, &design, &soils, &pit, &input, table_m, &err), UF_OK, "%s",
                 err.text);
}

/* Closure of the form: between two radii the same Q passes every cylinder, and Q = 2 pi r h k dh/dr
   integrates to it. */
Test(dewater, inflow_is_what_passes_every_cylinder)
{
    const double k = 2e-4, R = 90.0, r = 3.0, H = 8.0, h = 5.0;
    const double Q = uf_dewater_inflow_m3_s(k, H, h, R, r);
    double head = h;
    const int n = 200000;
    for (int i = 0; i < n; i++) {
        const double at = r * pow(R / r, (i + 0.5) / n),
                     step = r * pow(R / r, (i + 1.0) / n) - r * pow(R / r, (double)i / n);
        head += Q / (2.0 * UF_PI * at * head * k) * step;
    }
    near(head, H, 1e-4, "head at the edge of influence");
    near(uf_dewater_radius_m(4.0, UF_PI), 2.0, 1e-12, "radius");
    near(uf_dewater_influence_m(2.0, 2.5, 1e-4), 77.0, 1e-12, "Sichardt");
}

/* A saturated clay 8 m thick, e = 0.86, grains 2.70, over sand whose water rises 4 m: a textbook
   exercise. gamma_sat = 9.81 x 3.56 / 1.86 = 18.776 kN/m3; the cut is at its limit 4 x 9.81 / 18.776 =
   2.090 m over the sand. */
Test(dewater, a_cut_in_clay_over_artesian_sand)
{
    soils.layers[0].unit_weight_saturated_N_m3 = 9810.0 * 3.56 / 1.86;
    pit.depth_m = 8.0 - 4.0 * 1.86 / 3.56;
    input.confined_top_m = 8.0;
    input.confined_head_m = 4.0;
    run(20.0);
    near(got.blowout_factor, 1.0, 1e-12, "at its limit");
    cr_expect(got.reasons & UF_DEWATER_BLOWOUT);
    pit.depth_m = 8.0 - 1.5 * 4.0 * 1.86 / 3.56 - 0.001;
    run(20.0);
    cr_expect(!(got.reasons & UF_DEWATER_BLOWOUT), "factor %g", got.blowout_factor);
    pit.depth_m = 8.1;
    cr_expect_eq(uf_dewater(&got, &design, &soils, &pit, &input, 20.0, NULL), UF_E_INPUT);
}

/* By hand: floor 3.6 x 7.2 m, r = 2.872 m; table 2.1 m, lowered to 4.6 m, s = 2.5 m; k = 1e-4 m/s:
   R = 77.87 m; H = 9.9, h = 7.4 m, Q = pi 1e-4 (98.01 - 54.76) / ln(27.11) = 4.118e-3 m3/s. */
Test(dewater, a_pit_in_sand_by_hand)
{
    input.permeability_m_s = 1e-4;
    run(2.1);
    near(got.radius_m, 2.872, 1e-3, "radius");
    near(got.influence_m, 77.87, 1e-2, "influence");
    near(got.inflow_m3_s, 4.118e-3, 2e-6, "inflow");
    near(got.pump_m3_s, 1.5 * got.inflow_m3_s, 1e-12, "pump");
    near(got.slope, 1.5, 0.0, "seeping sides are class C");
    cr_expect(got.too_steep, "1:1 where water seeps");
}

Test(dewater, a_dry_pit_needs_nobody_and_an_unknown_one_somebody)
{
    run(6.0);
    cr_expect(!got.wet && got.reasons == 0 && !got.too_steep);
    cr_expect(isnan(got.inflow_m3_s));
    run(3.0);
    cr_expect_eq(got.reasons, (unsigned)UF_DEWATER_UNKNOWN);
    input.permeability_m_s = 1e-7;
    run(3.0);
    cr_expect(got.reasons & UF_DEWATER_FINE);
    input.permeability_m_s = 3e-3;
    run(0.0);
    cr_expect((got.reasons & UF_DEWATER_MUCH) && (got.reasons & UF_DEWATER_DEEP));
    soils.layers[0].unit_weight_saturated_N_m3 = NAN;
    input.confined_top_m = 8.0;
    input.confined_head_m = 4.0;
    run(3.0);
    cr_expect(got.reasons & UF_DEWATER_UNWEIGHED);
}
