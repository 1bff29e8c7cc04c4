#include "draft_private.h"
#include "solver/base/constants.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>

/* Outlines of the tank. */

#define ARC 32 /* points of a half circle */

/* A body of half width half_u between two levels, with heads that bulge out at its ends (bulge_u) or
   at top and bottom (bulge_v, within the levels). */
static size_t body(struct uf_point *points, const struct uf_view *view, double half_u, double top,
                   double bottom, double bulge_u, double bulge_v)
{
    const double middle = 0.5 * (top + bottom), half_v = 0.5 * (bottom - top);
    size_t n = 0;
    for (int side = 0; side < 4; side++) {
        const double right = side == 0 || side == 3 ? 1.0 : -1.0;
        for (int k = 0; k <= ARC / 2; k++) {
            const double t = 0.5 * UF_PI * (side + (double)k / (ARC / 2));
            const double u = bulge_v > 0.0   ? half_u * cos(t)
                             : bulge_u > 0.0 ? right * half_u + bulge_u * cos(t)
                                             : right * half_u;
            const double v = bulge_v > 0.0
                                 ? -(half_v - bulge_v) * (side < 2 ? 1.0 : -1.0) - bulge_v * sin(t)
                             : bulge_u > 0.0 ? -half_v * sin(t)
                                             : -half_v * (side < 2 ? 1.0 : -1.0);
            points[n++] = uf_view_at(view, u, middle + v);
        }
    }
    return n;
}

size_t uf_draft_tank_across(struct uf_point *points, const struct uf_draft *draft,
                            const struct uf_view *view, double wall_m)
{
    const struct uf_tank *tank = &draft->design->tank;
    const bool stands = uf_shape_is_radial(tank);
    const double half = draft->half_width_m - wall_m;
    const double head = stands                    ? uf_tank_head_depth_m(tank)
                        : uf_shape_is_round(tank) ? draft->half_width_m
                                                  : 0.0;
    return body(points, view, half, draft->crown_m + wall_m, draft->invert_m - wall_m, 0.0,
                head > wall_m ? head - wall_m : 0.0);
}

size_t uf_draft_tank_along(struct uf_point *points, const struct uf_draft *draft,
                           const struct uf_view *view, double wall_m)
{
    const double head = uf_tank_head_depth_m(&draft->design->tank);
    const double end = head > 0.0 ? 0.0 : wall_m;
    return body(points, view, draft->half_length_m - head - end, draft->crown_m + wall_m,
                draft->invert_m - wall_m, head > wall_m ? head - wall_m : 0.0, 0.0);
}

size_t uf_draft_tank_plan(struct uf_point *points, const struct uf_draft *draft,
                          const struct uf_view *view)
{
    const struct uf_tank *tank = &draft->design->tank;
    const double half = draft->half_width_m;
    const double head = uf_tank_head_depth_m(tank);
    return uf_shape_is_radial(tank)
               ? body(points, view, half, -half, half, 0.0, half)
               : body(points, view, draft->half_length_m - head, -half, half, head, 0.0);
}

void uf_draft_tank_ring(struct uf_point points[UF_DRAFT_RING], const struct uf_view *view,
                        double at_m, double across_m, double radius_m)
{
    for (size_t k = 0; k < UF_DRAFT_RING; k++) {
        const double angle = 2.0 * UF_PI * (double)k / UF_DRAFT_RING;
        points[k] =
            uf_view_at(view, at_m + radius_m * cos(angle), across_m + radius_m * sin(angle));
    }
}
