#include "grid.h"

#include "slice.h"
#include "solver/design/dig.h"
#include "solver/design/shape.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MAX_LINES 96
#define MAX_EDGES 2000

/* Coordinates that differ by less are one, so that no rounding of units changes a grid. */
static const double SAME_M = 1e-6;

/* Soft lines closer than this share of a row are left out. */
static const double LEAST_APART = 0.6;

/* So near to the tank's bottom or top the water's surface gets no row of its own. */
static const double LEAST_WATER_M = 0.01;

static int compare_double(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double zone_size(const struct uf_grid_axis *axis, double at_m)
{
    for (size_t k = 0; k < axis->n_zones; k++) {
        if (at_m < axis->zones[k].to_m - SAME_M) {
            return axis->zones[k].size_m;
        }
    }
    return axis->largest_m;
}

/* Size that cells have grown to at a place: beyond the zones they grow with the distance gone. */
static double size_near(const struct uf_grid_axis *axis, double at_m)
{
    struct uf_grid_zone last = {axis->start_m, axis->largest_m};
    for (size_t k = 0; k < axis->n_zones; k++) {
        if (at_m < axis->zones[k].to_m - SAME_M) {
            return axis->zones[k].size_m;
        }
        last = axis->zones[k].to_m > last.to_m + SAME_M ? axis->zones[k] : last;
    }
    return fmin(axis->largest_m, last.size_m + (axis->growth - 1.0) * (at_m - last.to_m));
}

/* Adds a line unless one lies closer than apart_m. */
static void add_line(double *lines, size_t *n, double at_m, double apart_m)
{
    for (size_t i = 0; i < *n; i++) {
        if (fabs(lines[i] - at_m) < apart_m) {
            return;
        }
    }
    if (*n < MAX_LINES) {
        lines[(*n)++] = at_m;
    }
}

/* The lines that must be hit, sorted, first and last included. */
static size_t collect_lines(double *lines, const struct uf_grid_axis *axis)
{
    size_t n = 0;
    add_line(lines, &n, axis->start_m, SAME_M);
    add_line(lines, &n, axis->end_m, SAME_M);
    for (size_t i = 0; i < axis->n_hard; i++) {
        if (axis->hard[i] > axis->start_m + SAME_M && axis->hard[i] < axis->end_m - SAME_M) {
            add_line(lines, &n, axis->hard[i], SAME_M);
        }
    }
    for (size_t i = 0; i < axis->n_soft; i++) {
        if (axis->soft[i] > axis->start_m + SAME_M && axis->soft[i] < axis->end_m - SAME_M) {
            add_line(lines, &n, axis->soft[i],
                     LEAST_APART * size_near(axis, axis->soft[i]) - SAME_M);
        }
    }
    qsort(lines, n, sizeof *lines, compare_double);
    return n;
}

/* Is a span between two lines so narrow that its neighbours take no heed of it? */
static bool is_thin(const struct uf_grid_axis *axis, double span_m, double beside_m)
{
    const double thin_m = fmax(UF_GRID_THIN_M, axis->thin_m);
    return span_m < fmin(thin_m, UF_GRID_THIN_SHARE * beside_m) - SAME_M;
}

/* Fills one span between two lines; each cell asks its zone for its size, and none is
   larger than growth times the one above it, thin spans passed over. */
static size_t fill_span(double *edges, size_t n, double from_m, double to_m, double *last_m,
                        const struct uf_grid_axis *axis)
{
    double at_m = from_m;
    double sizes[MAX_EDGES];
    size_t count = 0;
    if (n < MAX_EDGES && is_thin(axis, to_m - from_m, size_near(axis, from_m))) {
        edges[n] = to_m;
        return n + 1;
    }
    do {
        *last_m = fmin(zone_size(axis, at_m), *last_m * axis->growth);
        sizes[count++] = *last_m;
        at_m += *last_m;
    } while (at_m < to_m - SAME_M && count < MAX_EDGES - 1);
    /* Stretch or squeeze the span's cells so that the last one ends on the line. */
    const double over = (at_m - to_m) / sizes[count - 1];
    if (over > 0.5 + 1e-6 && count > 1) {
        count--;
    }
    double sum_m = 0.0;
    for (size_t i = 0; i < count; i++) {
        sum_m += sizes[i];
    }
    const double factor = (to_m - from_m) / sum_m;
    at_m = from_m;
    for (size_t i = 0; i < count && n < MAX_EDGES; i++) {
        at_m += sizes[i] * factor;
        edges[n++] = i + 1 == count ? to_m : at_m;
    }
    *last_m = sizes[count - 1] * factor;
    return n;
}

enum uf_status uf_grid_edges(double **edges_m, size_t *n, const struct uf_grid_axis *axis,
                             struct uf_error *err)
{
    double lines[MAX_LINES];
    double edges[MAX_EDGES + 1];
    const size_t n_lines = collect_lines(lines, axis);
    size_t count = 0;
    double last_m = zone_size(axis, axis->start_m);
    edges[count++] = axis->start_m;
    for (size_t i = 0; i + 1 < n_lines; i++) {
        count = fill_span(edges, count, lines[i], lines[i + 1], &last_m, axis);
    }
    if (count >= MAX_EDGES) {
        return uf_fail_key(err, UF_E_RANGE, "grid.finest", UF_PLAIN("is too fine"),
                           UF_SAID("at most {} lines of the grid", UF_COUNT(MAX_EDGES)));
    }
    *edges_m = malloc(count * sizeof **edges_m);
    if (*edges_m == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the grid");
    }
    memcpy(*edges_m, edges, count * sizeof **edges_m);
    *n = count - 1;
    return UF_OK;
}

static double *centres(const double *edge, size_t n)
{
    assert(n > 0);
    double *centre = calloc(n, sizeof *centre);
    for (size_t i = 0; centre != NULL && i < n; i++) {
        centre[i] = 0.5 * (edge[i] + edge[i + 1]);
    }
    return centre;
}

enum uf_status uf_grid_create(struct uf_grid **out, double *x_edge_m, size_t nx, double *z_edge_m,
                              size_t nz, bool radial, struct uf_error *err)
{
    struct uf_grid *grid = calloc(1, sizeof *grid);
    double *y_edge_m = calloc(2, sizeof *y_edge_m);
    *out = NULL;
    if (grid == NULL || y_edge_m == NULL) {
        free(x_edge_m);
        free(z_edge_m);
        free(y_edge_m);
        free(grid);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the grid");
    }
    *grid = (struct uf_grid){.nx = nx, .nz = nz, .radial = radial};
    grid->x_edge_m = x_edge_m;
    grid->z_edge_m = z_edge_m;
    grid->x_m = centres(x_edge_m, nx);
    grid->z_m = centres(z_edge_m, nz);
    y_edge_m[1] = 1.0;
    enum uf_status status = uf_grid_slice(grid, y_edge_m, 1, err);
    if (status == UF_OK && (grid->x_m == NULL || grid->z_m == NULL)) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for the grid");
    }
    if (status != UF_OK) {
        uf_grid_free(grid);
        return status;
    }
    *out = grid;
    return UF_OK;
}

enum uf_status uf_grid_slice(struct uf_grid *grid, double *y_edge_m, size_t ny,
                             struct uf_error *err)
{
    free(grid->y_edge_m);
    free(grid->y_m);
    grid->y_edge_m = y_edge_m;
    grid->y_m = centres(y_edge_m, ny);
    grid->ny = ny;
    return grid->y_m != NULL ? UF_OK : uf_fail(err, UF_E_MEMORY, "out of memory for the grid");
}

void uf_grid_free(struct uf_grid *grid)
{
    if (grid != NULL) {
        free(grid->x_edge_m);
        free(grid->z_edge_m);
        free(grid->y_edge_m);
        free(grid->x_m);
        free(grid->z_m);
        free(grid->y_m);
        free(grid);
    }
}

/* A layer over another of the same soil: no line between them. */
static bool is_one_with_next(const struct uf_case *d, size_t i)
{
    return i + 1 < d->ground.n_layers &&
           uf_case_same_soil(&d->ground.layers[i].spec, &d->ground.layers[i + 1].spec);
}

/* Layers so thin that the rows could pass over them keep both their faces. Returns how
   many lines were written. */
static size_t thin_layers(double *hard, const struct uf_case *d, const struct uf_grid_axis *axis)
{
    size_t n = 0;
    double top_m = 0.0;
    for (size_t i = 0; i < d->ground.n_layers; i++) {
        const double to_m = d->ground.layers[i].to_m;
        if (is_one_with_next(d, i)) {
            continue;
        }
        if (to_m - top_m < LEAST_APART * size_near(axis, to_m) - SAME_M) {
            hard[n++] = top_m;
            hard[n++] = to_m;
        }
        top_m = to_m;
    }
    return n;
}

/* Surface of the water, where its wetted wall ends; NAN where it fills the tank or nothing. */
static double water_surface_m(const struct uf_case *d)
{
    const double wall_m = isnan(d->tank.wall_thickness_m) ? 0.0 : d->tank.wall_thickness_m;
    const double up_m = wall_m + d->tank.level_m;
    const double room_m = uf_case_tank_height_m(d) - wall_m - up_m;
    const bool part = d->tank.level_m > LEAST_WATER_M && room_m > LEAST_WATER_M;
    return part ? uf_case_invert_m(d) - up_m : (double)NAN;
}

/* Rows: fine past the frost, at most 0.2 m past the bedding, growing below. */
static enum uf_status rows_for_case(double **edges, size_t *n, const struct uf_case *d,
                                    double frost_m, struct uf_error *err)
{
    const double finest_m = d->grid.finest_m;
    const double coarse_m = fmax(finest_m, fmin(0.2, 4.0 * finest_m));
    const bool tank = uf_case_has_tank(d);
    const double foot_m = tank ? uf_case_invert_m(d) + d->burial.bedding_m + 0.3 : 0.0;
    const struct uf_grid_zone zones[] = {{frost_m, finest_m}, {fmax(foot_m, frost_m), coarse_m}};
    double hard[5 + 2 * UF_MAX_LAYERS];
    double soft[UF_MAX_LAYERS + 7];
    size_t n_hard = 0, n_soft = 0;
    if (tank && uf_case_has_board(d)) {
        hard[n_hard++] = uf_case_board_top_m(d);
        hard[n_hard++] = uf_case_board_bottom_m(d);
    }
    if (tank && !uf_shape_is_round(&d->tank)) {
        hard[n_hard++] = uf_case_crown_m(d);
        hard[n_hard++] = uf_case_invert_m(d);
    } else if (tank) {
        soft[n_soft++] = uf_case_crown_m(d);
        soft[n_soft++] = uf_case_invert_m(d);
    }
    if (tank && !isnan(water_surface_m(d))) {
        hard[n_hard++] = water_surface_m(d);
    }
    if (tank) {
        const struct uf_dig dig = uf_dig_of(d);
        soft[n_soft++] = dig.floor_m;
        soft[n_soft++] = dig.fill_top_m > 0.0 ? dig.fill_top_m : dig.floor_m;
        soft[n_soft++] = uf_case_board_bottom_m(d) + d->board.skirt_m;
    }
    for (size_t i = 0; i + 1 < d->ground.n_layers; i++) {
        if (!is_one_with_next(d, i)) {
            soft[n_soft++] = d->ground.layers[i].to_m;
        }
    }
    if (!isnan(d->ground.water_winter_m)) {
        soft[n_soft++] = d->ground.water_winter_m;
    }
    struct uf_grid_axis axis = {.start_m = d->surface.measured_depth_m,
                                .end_m = d->grid.depth_m,
                                .zones = zones,
                                .n_zones = 2,
                                .hard = hard,
                                .n_hard = n_hard,
                                .soft = soft,
                                .n_soft = n_soft,
                                .growth = 1.5,
                                .largest_m = 4.0,
                                .thin_m = uf_grid_thin_m(d->grid.finest_m)};
    axis.n_hard += thin_layers(hard + n_hard, d, &axis);
    return uf_grid_edges(edges, n, &axis, err);
}

/* Columns beside the tank, and slices at its end: a sixth of its half width, at most 0.2 m. */
static double near_tank_m(const struct uf_case *d)
{
    return fmax(d->grid.finest_m,
                fmin(fmin(0.2, 4.0 * d->grid.finest_m), uf_case_half_width_m(d) / 6.0));
}

/* Columns: a sixth of the tank's half width, at most 0.2 m, to the edge of tank or board and
   past it, half of that round the board's edge, growing outside. */
static const double PAST_M = 0.4;

static enum uf_status columns_for_case(double **edges, size_t *n, const struct uf_case *d,
                                       struct uf_error *err)
{
    const double half_m = uf_case_half_width_m(d);
    const double near_m = near_tank_m(d);
    const bool board = uf_case_has_board(d);
    const double edge_m = board ? uf_case_board_half_width_m(d) : half_m;
    const double corner_m = board ? fmax(d->grid.finest_m, 0.5 * near_m) : near_m;
    const struct uf_grid_zone zones[] = {{edge_m - 0.5 * PAST_M, near_m},
                                         {edge_m + 0.5 * PAST_M, corner_m},
                                         {edge_m + PAST_M, near_m}};
    double hard[4];
    size_t n_hard = 0;
    if (board) {
        hard[n_hard++] = uf_case_board_half_width_m(d);
        if (d->board.skirt_m > 0.0) {
            hard[n_hard++] = uf_case_board_half_width_m(d) - d->board.thickness_m;
        }
    }
    if (!uf_shape_is_round(&d->tank)) {
        hard[n_hard++] = half_m;
    }
    const double soft[] = {half_m, uf_dig_of(d).across_m};
    const struct uf_grid_axis axis = {.start_m = 0.0,
                                      .end_m = d->grid.width_m,
                                      .zones = zones,
                                      .n_zones = 3,
                                      .hard = hard,
                                      .n_hard = n_hard,
                                      .soft = soft,
                                      .n_soft = 2,
                                      .growth = 1.5,
                                      .largest_m = 4.0,
                                      .thin_m = uf_grid_thin_m(d->grid.finest_m)};
    return uf_grid_edges(edges, n, &axis, err);
}

enum uf_status uf_grid_for_case(struct uf_grid **out, const struct uf_case *design, double frost_m,
                                struct uf_error *err)
{
    double *x_edge_m = NULL;
    double *z_edge_m = NULL;
    size_t nx = 0;
    size_t nz = 0;
    enum uf_status status = rows_for_case(&z_edge_m, &nz, design, frost_m, err);
    *out = NULL;
    if (status == UF_OK && !uf_case_has_tank(design)) {
        x_edge_m = malloc(2 * sizeof *x_edge_m);
        if (x_edge_m == NULL) {
            status = uf_fail(err, UF_E_MEMORY, "out of memory for the grid");
        } else {
            x_edge_m[0] = 0.0;
            x_edge_m[1] = 1.0;
            nx = 1;
        }
    } else if (status == UF_OK) {
        status = columns_for_case(&x_edge_m, &nx, design, err);
    }
    if (status != UF_OK) {
        free(x_edge_m);
        free(z_edge_m);
        return status;
    }
    status =
        uf_grid_create(out, x_edge_m, nx, z_edge_m, nz, uf_shape_is_radial(&design->tank), err);
    if (status == UF_OK && uf_slice_wanted(design)) {
        double *y_edge_m = NULL;
        size_t ny = 0;
        status = uf_slice_edges(&y_edge_m, &ny, design, near_tank_m(design), err);
        status = status == UF_OK ? uf_grid_slice(*out, y_edge_m, ny, err) : status;
    }
    if (status != UF_OK) {
        uf_grid_free(*out);
        *out = NULL;
    }
    return status;
}
