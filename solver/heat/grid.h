#ifndef UF_GRID_H
#define UF_GRID_H

#include "solver/design/case.h"

#include <math.h>

/* A graded rectangular grid. Row 0 lies at the top, z positive down; column 0 at the
   tank's axis; slice 0 at mid-tank, y along the axis. A field has shape [ny][nz][nx],
   row-major; a plane section is one slice, a metre thick. */
struct uf_grid {
    size_t nx, nz, ny;
    bool radial;                            /* x is a radius */
    double *x_edge_m, *z_edge_m, *y_edge_m; /* [nx+1], [nz+1], [ny+1] */
    double *x_m, *z_m, *y_m;                /* [nx], [nz], [ny] centres */
};

/* Cell of the first slice, and of any. */
static inline size_t uf_grid_at(const struct uf_grid *grid, size_t i, size_t j)
{
    return j * grid->nx + i;
}
static inline size_t uf_grid_in(const struct uf_grid *grid, size_t i, size_t j, size_t k)
{
    return (k * grid->nz + j) * grid->nx + i;
}

/* Column, row and slice of a cell. */
static inline size_t uf_grid_i(const struct uf_grid *grid, size_t cell)
{
    return cell % grid->nx;
}
static inline size_t uf_grid_j(const struct uf_grid *grid, size_t cell)
{
    return cell / grid->nx % grid->nz;
}
static inline size_t uf_grid_k(const struct uf_grid *grid, size_t cell)
{
    return cell / (grid->nx * grid->nz);
}
static inline size_t uf_grid_cells(const struct uf_grid *grid)
{
    return grid->nx * grid->nz * grid->ny;
}

/* How fine cells must be along one axis: `size_m` down to `to_m`; rows in ascending to_m.
   Beyond the last row cells grow by `growth` up to `largest_m`. */
struct uf_grid_zone {
    double to_m, size_m;
};

/* A span between two lines is thin where it is narrower than this and than this share of the cells
   beside it: a board that ends a millimetre past the tank. It is one cell, cells beside it do not
   shrink towards it, and it borrows their volume (section_thin.c), so that its steady resistance
   counts and its small capacity does not set the time step. */
#define UF_GRID_THIN_M         0.012
#define UF_GRID_THIN_OF_FINEST 0.15 /* ... and of so much of the finest row, where that is more */
#define UF_GRID_THIN_SHARE     0.2
static inline double uf_grid_thin_m(double finest_m)
{
    return fmax(UF_GRID_THIN_M, UF_GRID_THIN_OF_FINEST * finest_m);
}

/* Edges from start_m to end_m that hit every line of `hard` (sorted inside), and those of `soft`
   that do not come closer than half a cell to a line already there. Coordinates
   within a micrometre are one.
   edges_m   *edges_m is allocated [*n + 1], the caller's to free
   Errors: UF_E_MEMORY */
struct uf_grid_axis {
    double start_m, end_m;
    const struct uf_grid_zone *zones;
    size_t n_zones;
    const double *hard, *soft;
    size_t n_hard, n_soft;
    double growth, largest_m;
    double thin_m; /* a span up to this is thin, at least UF_GRID_THIN_M */
};
enum uf_status uf_grid_edges(double **edges_m, size_t *n, const struct uf_grid_axis *axis,
                             struct uf_error *err);

/* A grid from edges that the grid takes over (freed with it, also on failure): one slice
   a metre thick. uf_grid_slice repeats it as slices between ny + 1 edges, taken over too. */
enum uf_status uf_grid_create(struct uf_grid **out, double *x_edge_m, size_t nx, double *z_edge_m,
                              size_t nz, bool radial, struct uf_error *err);
enum uf_status uf_grid_slice(struct uf_grid *grid, double *y_edge_m, size_t ny,
                             struct uf_error *err);

/* Grid for a design: rows of grid.finest down past frost_m (an upper guess of the frost
   depth), columns of up to four times that beside the tank, lines on the board and the
   sides of a box; slices where the tank's ends are counted. A case without a tank gets one
   column. */
enum uf_status uf_grid_for_case(struct uf_grid **out, const struct uf_case *design, double frost_m,
                                struct uf_error *err);

void uf_grid_free(struct uf_grid *grid); /* NULL is fine */

#endif
