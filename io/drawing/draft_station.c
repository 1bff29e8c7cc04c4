#include "draft_station.h"

#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>

size_t uf_draft_station_in_row(const struct uf_anchor_body *body)
{
    return body->axis_m > 0.0 ? (size_t)ceil(0.5 * body->count) : (size_t)body->count;
}

double uf_draft_station_reach_m(const struct uf_case *design, const char **key)
{
    const double head_m = /* of a standing tank they are above and below */
        uf_shape_is_radial(&design->tank) ? 0.0 : uf_tank_head_depth_m(&design->tank);
    double half_m = 0.5 * uf_tank_plan_length_m(&design->tank) - head_m;
    *key = NULL;
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        const struct uf_anchor_body body = row->body(design);
        const double row_m = 0.5 * body.length_m * (double)uf_draft_station_in_row(&body);
        if (body.count > 0.0 && row_m < half_m) {
            half_m = row_m;
            *key = row->key;
        }
    }
    return half_m;
}

double uf_draft_station_strap_m(const struct uf_site *site, size_t i)
{
    const char *key;
    const double straps = (double)site->design.anchors.straps;
    return i < site->drawing.n_straps
               ? site->drawing.strap_m[i] - 0.5 * uf_tank_plan_length_m(&site->design.tank)
               : 2.0 * uf_draft_station_reach_m(&site->design, &key) *
                     (((double)i + 0.5) / straps - 0.5);
}

double uf_draft_station_riser_m(const struct uf_site *site, size_t i)
{
    const struct uf_tank *tank = &site->design.tank;
    const double station_m = tank->risers[i].station_m;
    return isnan(station_m) && uf_shape_is_radial(tank) && i == 0
               ? 0.0
               : station_m - 0.5 * uf_tank_plan_length_m(tank);
}
