#include "slice.h"

#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdlib.h>

/* Slices in columns beside the tank: inside its end, in a head, over a board that reaches past
   the end, on either side of that board's edge, where most of the error is made. They grow by so
   much from one to the next, up to so long, so far past the board's edge. The example, layered:
   8 slices 1.82 degC, 14 1.81, 38 1.80, wall 1.77, 1.76 and 1.76; a slice of 1.4 m past the edge
   costs 0.06 K. */
static const double INSIDE = 5.0;
static const double HEAD = 4.0;
static const double OVER = 4.0;
static const double EDGE = 2.0;
static const double GROWTH = 2.5;
static const double LONGEST_M = 8.0;
static const double PAST_EDGE_M = 5.0;
/* Least part of a normal along a line, as in outline.c. */
static const double LEAST_NORMAL = 0.05;

bool uf_slice_wanted(const struct uf_case *design)
{
    return design->tank.ends == UF_ENDS_THREE_DIMENSIONAL && uf_case_has_tank(design) &&
           !uf_shape_is_radial(&design->tank);
}

static double wall_m(const struct uf_case *design)
{
    return isnan(design->tank.wall_thickness_m) ? 0.0 : design->tank.wall_thickness_m;
}

static double half_plan_m(const struct uf_case *design)
{
    return 0.5 * uf_tank_plan_length_m(&design->tank);
}

/* Mean over [y0, y1] of max(0, 1 - (y / h)^2), h > 0: the share of its circle that a head
   has there; y from where the head begins. 0 to 1 before it. */
static double head_share(double h, double y0, double y1)
{
    const double a = fmin(h, fmax(0.0, y0));
    const double b = fmin(h, fmax(0.0, y1));
    const double straight = fmax(0.0, fmin(y1, 0.0) - y0);
    const double round = (b - a) - (b * b * b - a * a * a) / (3.0 * h * h);
    return (straight + fmax(0.0, round)) / (y1 - y0);
}

/* Radius and height of a head at a place past its beginning: the unit normal there.
   x^2 / R^2 + y^2 / h^2 = 1, normal along (x / R^2, y / h^2) */
static double axial_normal(double R, double h, double across)
{
    const double x = fmin(R, across);
    const double y = h * sqrt(fmax(0.0, 1.0 - x * x / (R * R)));
    const double nx = x / (R * R);
    const double ny = y / (h * h);
    return ny / hypot(nx, ny);
}

struct uf_slice uf_slice_of(const struct uf_case *design, const struct uf_grid *grid, size_t k)
{
    const struct uf_outline whole = uf_outline_of(design);
    struct uf_slice s = {.outline = whole, .inside = uf_outline_inside(&whole), .lean = 1.0};
    s.thick_m = s.inside_m = grid->y_edge_m[k + 1] - grid->y_edge_m[k];
    if (grid->ny == 1) {
        return s;
    }
    const double head_m = uf_tank_head_depth_m(&design->tank);
    const double straight_m = 0.5 * design->tank.length_m;
    const double y0 = grid->y_edge_m[k] - straight_m;
    const double y1 = grid->y_edge_m[k + 1] - straight_m;
    if (head_m > wall_m(design) && y1 > 1e-9 && y0 < head_m - 1e-9) {
        const double R = whole.half_m;
        const double inner_m = head_m - wall_m(design);
        const double middle = fmin(head_m, 0.5 * (y0 + y1)) / head_m;
        const double round_m = 0.5 * (whole.top_m + whole.bottom_m);
        s.outline.half_m = R * sqrt(head_share(head_m, y0, y1));
        s.inside.half_m *= sqrt(head_share(inner_m, y0, y1));
        s.outline.top_m = round_m - s.outline.half_m;
        s.outline.bottom_m = round_m + s.outline.half_m;
        s.inside.top_m = round_m - s.inside.half_m;
        s.inside.bottom_m = round_m + s.inside.half_m;
        const double across = R * sqrt(1.0 - middle * middle);
        const double along = axial_normal(R, head_m, across);
        s.lean = fmax(LEAST_NORMAL, sqrt(fmax(0.0, 1.0 - along * along)));
    } else if (y1 > 1e-9) {
        s.outline.half_m = s.inside.half_m = 0.0;
    } else if (head_m <= 0.0) {
        s.inside_m = fmax(0.0, fmin(y1, -wall_m(design)) - y0);
    }
    if (!(s.inside.half_m > 0.0) || !(s.inside_m > 0.0)) {
        s.outline.half_m = s.inside.half_m = 0.0;
    }
    return s;
}

double uf_slice_aside_m(const struct uf_case *design, const struct uf_grid *grid, double x_m,
                        size_t k)
{
    const double past_m = grid->y_m[k] - half_plan_m(design);
    return grid->ny > 1 ? fmax(x_m, uf_case_half_width_m(design) + past_m) : x_m;
}

void uf_slice_end(const struct uf_case *design, const struct uf_grid *grid, size_t k, double x_m,
                  double z_m, double *distance_m, double *normal)
{
    const double head_m = uf_tank_head_depth_m(&design->tank);
    *distance_m = grid->y_m[k + 1] - 0.5 * design->tank.length_m;
    *normal = 1.0;
    if (head_m > 0.0) {
        const double R = uf_case_half_width_m(design);
        const double across = fmin(R, hypot(x_m, z_m - uf_case_crown_m(design) - R));
        *distance_m = fmax(0.0, grid->y_m[k + 1] - uf_tank_half_length_m(design->tank.length_m,
                                                                         head_m, R, across));
        *normal = fmax(LEAST_NORMAL, axial_normal(R, head_m, across));
    }
}

/* Lines from where the straight part ends, back to mid-tank and on past the end. */
static enum uf_status two_parts(double **in, size_t *n_in, double **out, size_t *n_out,
                                const struct uf_case *d, double near_m, struct uf_error *err)
{
    const double head_m = uf_tank_head_depth_m(&d->tank);
    const bool board = uf_case_has_board(d);
    const double past_m = board ? d->board.beyond_tank_m : 0.0;
    const double edge_m = head_m + past_m;
    const double by_edge_m = EDGE * near_m;
    const struct uf_grid_zone inner = {0.5 * near_m, INSIDE * near_m};
    const struct uf_grid_zone outer[] = {
        {head_m, HEAD * near_m},
        {edge_m - by_edge_m, fmax(by_edge_m, fmin(OVER * near_m, 0.5 * past_m))},
        {edge_m + by_edge_m, by_edge_m}};
    const double hard[] = {
        head_m, edge_m, board && d->board.skirt_m > 0.0 ? edge_m - d->board.thickness_m : edge_m};
    struct uf_grid_axis axis = {.end_m = 0.5 * d->tank.length_m,
                                .zones = &inner,
                                .n_zones = 1,
                                .growth = GROWTH,
                                .largest_m = LONGEST_M};
    enum uf_status status = uf_grid_edges(in, n_in, &axis, err);
    if (status == UF_OK) {
        axis.zones = outer;
        axis.n_zones = sizeof outer / sizeof *outer;
        axis.end_m = edge_m + PAST_EDGE_M;
        axis.hard = hard;
        axis.n_hard = sizeof hard / sizeof *hard;
        status = uf_grid_edges(out, n_out, &axis, err);
    }
    return status;
}

enum uf_status uf_slice_edges(double **edges_m, size_t *n, const struct uf_case *design,
                              double near_m, struct uf_error *err)
{
    double *in_m = NULL;
    double *out_m = NULL;
    size_t n_in = 0;
    size_t n_out = 0;
    const double straight_m = 0.5 * design->tank.length_m;
    enum uf_status status = two_parts(&in_m, &n_in, &out_m, &n_out, design, near_m, err);
    *edges_m = status == UF_OK ? calloc(n_in + n_out + 1, sizeof **edges_m) : NULL;
    if (status == UF_OK && *edges_m == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for the grid");
    }
    for (size_t k = 0; status == UF_OK && k <= n_in; k++) {
        (*edges_m)[k] = straight_m - in_m[n_in - k];
    }
    for (size_t k = 1; status == UF_OK && k <= n_out; k++) {
        (*edges_m)[n_in + k] = straight_m + out_m[k];
    }
    *n = n_in + n_out;
    free(in_m);
    free(out_m);
    return status;
}
