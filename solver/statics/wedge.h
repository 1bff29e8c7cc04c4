#ifndef UF_WEDGE_H
#define UF_WEDGE_H

#include "column.h"
#include "solver/design/case.h"

/* Soil beside the upright prism that an anchor could lift with it: a wedge on the outer
   side of each deadman and of a pad's two long sides, widening upward at an angle from
   the vertical, clipped where it would stand within the tank's footprint. No wedge at the ends
   and none towards the tank, so that none meets another. Under the board it holds foam
   that floats. It rests on the soil's strength:
   shown beside the verdict, never in it. */

struct uf_wedge {
    double angle_rad;
    double soil_N[UF_ANCHORS]; /* buoyant weight of the wedges at each kind of anchor */
    double soil_m3[UF_ANCHORS];
    double factor; /* factor_submerged with them; NAN where nothing lifts */
};

/* angle_rad   0 to below pi/2
   Errors: UF_E_RANGE for the angle; as uf_holddown_at. */
enum uf_status uf_wedge(struct uf_wedge *out, const struct uf_case *design,
                        const struct uf_column_soils *soils, double water_m, double angle_rad,
                        struct uf_error *err);

#endif
