#ifndef UF_TEST_STATICS_H
#define UF_TEST_STATICS_H

#include "solver/design/case.h"
#include "solver/statics/column.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* What the tests of the statics share: an empty horizontal tank, 2.4 m by 6.0 m with flat
   heads and 1.2 m of cover, in one soil of 17.5 kN/m3 moist and 10 kN/m3 submerged. */
static inline void statics_design(struct uf_case *design, struct uf_column_soils *soils)
{
    uf_case_init(design);
    memset(soils, 0, sizeof *soils);
    design->ground.n_layers = soils->n_layers = 1;
    soils->layers[0].unit_weight_moist_N_m3 = 17500.0;
    soils->layers[0].unit_weight_saturated_N_m3 = 19810.0;
    design->tank.shape = UF_HORIZONTAL_CYLINDER;
    design->tank.diameter_m = 2.4;
    design->tank.length_m = 6.0;
    design->burial.cover_m = 1.2;
    design->burial.bedding_m = 0.5; /* room for a deadman's top at the invert */
}

/* What the tests of the works share: a tank of 2.4 m by 6.8 m, 1.3 m of cover, a pit with backfill. */
static inline void statics_works(struct uf_case *design)
{
    uf_case_init(design);
    design->tank.shape = UF_HORIZONTAL_CYLINDER;
    design->tank.diameter_m = 2.4;
    design->tank.length_m = 6.8;
    design->burial.cover_m = 1.3;
    design->burial.bedding_m = 0.3;
    design->burial.pit_clearance_m = 0.6;
    design->burial.has_backfill = true;
}

/* A board of 100 mm over it. */
static inline void statics_works_board(struct uf_case *design)
{
    design->board.present = true;
    design->board.thickness_m = 0.1;
    design->board.above_crown_m = 0.15;
    design->board.beyond_tank_m = 1.2;
}

static inline void near(double got, double expected, double allowed, const char *what)
{
    cr_expect(fabs(got - expected) <= allowed, "%s: got %.9g, expected %.9g", what, got, expected);
}

#endif
