#ifndef UF_UPLIFT_H
#define UF_UPLIFT_H

#include "column.h"
#include "flotation.h"
#include "holddown.h"
#include "solver/design/case.h"

/* The whole groundwater check of a design: forces at the highest water table, published
   forms side by side, straps, and what is solved for: concrete to add, least cover, the
   factor over the water's depth. Judged on factor_submerged with the tank empty. */

struct uf_uplift_sweep {
    double water_m, factor; /* factor_submerged; NAN where nothing lifts */
};
#define UF_UPLIFT_SWEEP 21

/* Straps, or whatever else fastens the tank to its anchors, must bring to the anchors
   what tank, board and the soil over the tank leave over. */
struct uf_uplift_straps {
    double net_N;                /* that force at the required factor, >= 0; NAN: no anchors */
    double bare_net_N;           /* the same before any soil lies on the tank, all under water */
    double tie_x_m, tie_below_m; /* where a leg ends: beside the tank's middle, and below a round
                                    tank's axis or any other's crown */
    double leg_angle_rad;        /* from the vertical */
    double leg_N;                /* each leg at the required factor, soil over the tank counted */
    double bare_leg_N;           /* the same before any soil lies on the tank, all under water */
    double use;                  /* larger of the two over the strength given; NAN: not given */
};

struct uf_uplift {
    double volume_m3;              /* tank, outside, without risers */
    double required;               /* the factor asked for */
    bool ok;                       /* factor_submerged >= required, or nothing lifts; and
                                      no strap carries more than its strength */
    struct uf_holddown highest;    /* water at groundwater.highest */
    struct uf_flotation_fema fema; /* tank, risers and board over it, no soil, all under water */
    struct uf_flotation_upl
        upl_submerged[UF_FLOTATION_PARTIALS];                 /* rows of uf_flotation_partials */
    struct uf_flotation_upl upl_total[UF_FLOTATION_PARTIALS]; /* total weights on both sides */
    struct uf_uplift_straps straps;                           /* its legs NAN without straps */
    double needed_ballast_m3; /* concrete to add, at UF_UPLIFT_CONCRETE_N_M3, under water */
    double least_cover_m;     /* from which on the required factor holds at every depth down to
                             UF_UPLIFT_DEEPEST_M, everything else as designed (the board keeps its
                             distance to the crown); NAN: not reached */
    struct uf_uplift_sweep sweep[UF_UPLIFT_SWEEP]; /* from grade to the invert */
};
#define UF_UPLIFT_CONCRETE_N_M3 23500.0
#define UF_UPLIFT_DEEPEST_M     20.0

/* The whole check at groundwater.highest. Errors as uf_holddown_at. */
enum uf_status uf_uplift(struct uf_uplift *out, const struct uf_case *design,
                         const struct uf_column_soils *soils, struct uf_error *err);

/* The same without least_cover_m and sweep, which are left as they are: for a verdict, at a tenth of the
   time. */
enum uf_status uf_uplift_held(struct uf_uplift *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, struct uf_error *err);

/* Side of square deadmen with which the required factor holds at groundwater.highest:
   count, length, top and offset as designed (two as long as the tank where there are
   none). *out NAN: not even UF_UPLIFT_WIDEST_M is enough, or the tallest that the pit has room
   for. 0: no deadman is needed. */
enum uf_status uf_uplift_deadman_side(double *out_m, const struct uf_case *design,
                                      const struct uf_column_soils *soils, struct uf_error *err);
#define UF_UPLIFT_WIDEST_M 3.0

/* Concrete to add under water so that the factor becomes `factor`, m3, >= 0, with
   gamma_c = UF_UPLIFT_CONCRETE_N_M3:

       V = (FS U - N) / (gamma_c - gamma_w) */
double uf_uplift_needed_ballast_m3(const struct uf_holddown *balance, double factor);

#endif
