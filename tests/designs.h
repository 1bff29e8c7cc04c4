#ifndef UF_TEST_DESIGNS_H
#define UF_TEST_DESIGNS_H

#include "cli/verify/verify.h"
#include "solver/ground/soil.h"
#include "solver/heat/section.h"

#include <math.h>

/* Designs that the tests of the heat solver share: coarse, small, each with everything a
   section may hold. */

/* The soil of the reference problem with unfrozen water after Fairbanks silt (Anderson, Tice & McKim 1973). */
static inline struct uf_thermal designs_curved_soil(void)
{
    struct uf_thermal soil = uf_verify_silt();
    soil.unfrozen_A_percent = 4.8;
    soil.unfrozen_B = -0.326;
    soil.water_percent = 18.0;
    return soil;
}

static inline struct uf_case designs_ground(const struct uf_thermal *soil)
{
    struct uf_case d = uf_verify_plain(*soil, 8.0, 0.1);
    d.ground.geothermal_W_m2 = 0.06;
    return d;
}

/* A tank with shell, water to `level_m`, pit, bedding, board with skirt, a riser. */
static inline struct uf_case designs_tank(enum uf_shape shape, double level_m)
{
    const struct uf_thermal soil = uf_verify_silt();
    struct uf_case d = designs_ground(&soil);
    d.tank.shape = shape;
    d.tank.diameter_m = d.tank.width_m = 1.6;
    d.tank.height_m = 1.4;
    d.tank.length_m = 4.0;
    d.tank.wall_thickness_m = 0.02;
    d.tank.wall_k_W_mK = 0.25;
    d.tank.level_m = level_m;
    d.tank.water = UF_WATER_MIXED; /* layers have tests of their own */
    d.tank.start_degC = 5.0;
    d.tank.n_risers = 1;
    d.tank.risers[0] = (struct uf_riser){
        .diameter_m = 0.6, .above_grade_m = 0.0, .lid_m2K_W = 0.5, .lid_at = UF_LID_CROWN};
    d.burial.cover_m = 1.0;
    d.burial.bedding_m = 0.3;
    d.burial.pit_clearance_m = 0.5;
    d.burial.pit_slope = 0.5;
    d.burial.has_backfill = d.burial.has_bedding_soil = true;
    d.burial.backfill.soil = uf_soil_find("pea_gravel");
    d.burial.bedding_soil.has_thermal = true;
    d.burial.bedding_soil.thermal = designs_curved_soil();
    d.board.present = true;
    d.board.k_W_mK = 0.034;
    d.board.density_kg_m3 = 30.0;
    d.board.thickness_m = 0.1;
    d.board.beyond_tank_m = 0.6;
    d.board.above_crown_m = 0.2;
    d.board.skirt_m = 0.4;
    return d;
}

/* A number from -1 to 1 that comes out the same everywhere. */
static inline double designs_noise(unsigned *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return (double)(*seed >> 8) / 8388608.0 - 1.0;
}

/* Heat through all boundaries, W. */
static inline double designs_total_W(const struct uf_heat_flow *flow)
{
    return flow->surface_W + flow->bottom_W + flow->vent_W + flow->held_W + flow->inflow_W;
}

#endif
