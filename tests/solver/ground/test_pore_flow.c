#include "solver/base/constants.h"
#include "solver/ground/pore_flow.h"
#include "solver/heat/layers.h"

#include <criterion/criterion.h>

#include <math.h>

/* The least of (pi^2 + a^2)^2 / a^2, searched for. */
Test(pore_flow, turns_over_at_four_pi_squared)
{
    double least = INFINITY;
    for (double a = 0.5; a < 10.0; a += 1e-3) {
        const double sum = UF_PI * UF_PI + a * a;
        least = fmin(least, sum * sum / (a * a));
    }
    cr_expect_float_eq(UF_PORE_FLOW_TURNS, least, 1e-5);
}

/* Carman's 180, by hand: 5 mm, 0.4: 25e-6 x 0.064 / (180 x 0.36). */
Test(pore_flow, grains_let_through_by_their_square)
{
    cr_expect_float_eq(uf_pore_flow_permeability_m2(5e-3, 0.4), 2.4691e-8, 1e-12);
    cr_expect_float_eq(uf_pore_flow_permeability_m2(0.01, 0.3) /
                           uf_pore_flow_permeability_m2(0.001, 0.3),
                       100.0, 1e-9);
}

/* Open stone of 0.7 W/mK, 3 m high, two fifths pores: still at 10 mm, turning over at 20 mm. */
Test(pore_flow, air_turns_over_in_large_stones)
{
    cr_expect_lt(uf_pore_flow_air_rayleigh(uf_pore_flow_permeability_m2(0.010, 0.4), 3.0, 0.7),
                 UF_PORE_FLOW_TURNS);
    cr_expect_gt(uf_pore_flow_air_rayleigh(uf_pore_flow_permeability_m2(0.020, 0.4), 3.0, 0.7),
                 UF_PORE_FLOW_TURNS);
}

/* Water turns over in gravel, not in sand; it flows through sand, not through silt. */
Test(pore_flow, water_in_gravel_and_sand)
{
    const double gravel = uf_pore_flow_permeability_m2(5e-3, 0.4);
    const double sand = uf_pore_flow_permeability_m2(0.2e-3, 0.4);
    const double silt = uf_pore_flow_permeability_m2(0.01e-3, 0.4);
    cr_expect_gt(uf_pore_flow_water_rayleigh(gravel, 2.0, 2.3), UF_PORE_FLOW_TURNS);
    cr_expect_lt(uf_pore_flow_water_rayleigh(sand, 5.0, 2.3), UF_PORE_FLOW_TURNS);
    cr_expect_lt(uf_pore_flow_gradient(sand, 2.3), 0.01);
    cr_expect_gt(uf_pore_flow_gradient(silt, 1.8), 0.5);
    const double lighter = 1.0 - uf_layers_density_kg_m3(8.0) / uf_layers_density_kg_m3(3.983035);
    cr_expect_float_eq(uf_pore_flow_water_rayleigh(sand, 1.0, 2.3),
                       UF_GRAVITY_M_S2 * lighter * sand * UF_WATER_CAPACITY_J_M3K / (1.57e-6 * 2.3),
                       0.01 * uf_pore_flow_water_rayleigh(sand, 1.0, 2.3));
    /* Pe = rho c v / k with v = K g i / nu over a metre. */
    const double i = uf_pore_flow_gradient(sand, 2.3);
    const double v = sand * UF_GRAVITY_M_S2 / 1.57e-6 * i;
    cr_expect_float_eq(UF_WATER_CAPACITY_J_M3K * v / 2.3, 1.0, 1e-12);
}
