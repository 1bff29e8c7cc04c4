#ifndef UF_SLICE_H
#define UF_SLICE_H

#include "grid.h"
#include "outline.h"

/* The third dimension of a lying tank: its section repeated as slices along the axis, from
   mid-tank past the end. One quarter of it is enough, by symmetry. A slice is painted and
   linked as the plane section is, with its own outline: the tank's, a smaller circle in a
   head, none past the end. Board and pit reach past the end as far as they do past the
   side; deadmen and risers are not in it. */
struct uf_slice {
    struct uf_outline outline, inside; /* half_m 0: no tank in it. In a head the circle of the
                                          slice's own volume */
    double thick_m, inside_m;          /* of the slice, and of the room inside along it */
    double lean;                       /* radial part of the wall's normal, 0.05 to 1 */
};

/* Slice k of a grid. A plane section is one slice a metre thick. */
struct uf_slice uf_slice_of(const struct uf_case *design, const struct uf_grid *grid, size_t k);

/* Edges of the slices, finest at the edge of the board past the end, in columns of near_m;
   lines on the end, a head's tip and the board's edge. *edges_m [*n + 1] is the caller's to free.
   Errors: UF_E_MEMORY, UF_E_RANGE */
enum uf_status uf_slice_edges(double **edges_m, size_t *n, const struct uf_case *design,
                              double near_m, struct uf_error *err);

/* Is the design one with slices? */
bool uf_slice_wanted(const struct uf_case *design);

/* Where in the plane section's plan a point of a slice counts: x, or so far past the tank's
   side as the point lies past its end, whichever is further out. */
double uf_slice_aside_m(const struct uf_case *design, const struct uf_grid *grid, double x_m,
                        size_t k);

/* The end wall between slices k and k + 1 over the point (x, z): its distance from the
   centre of slice k + 1, and the part of its normal along the axis, 0.05 to 1. */
void uf_slice_end(const struct uf_case *design, const struct uf_grid *grid, size_t k, double x_m,
                  double z_m, double *distance_m, double *normal);

#endif
