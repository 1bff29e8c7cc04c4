#ifndef UF_OUTLINE_H
#define UF_OUTLINE_H

#include "solver/design/case.h"

/* The tank's outline in the section: a circle on the axis x = 0, or a rectangle |x| <=
   half. Exact areas and crossings. The half x >= 0 is meant; z positive down. */
struct uf_outline {
    bool circle;
    double half_m, top_m, bottom_m; /* circle: half_m is the radius */
    double wall_m;                  /* 0: none */
};

/* Outline of a design's tank. */
struct uf_outline uf_outline_of(const struct uf_case *design);

/* The same, moved inward by the wall. */
struct uf_outline uf_outline_inside(const struct uf_outline *outline);

/* Is the point (x from the axis, z below grade, m) inside the outline? On it is not inside. */
bool uf_outline_contains(const struct uf_outline *outline, double x_m, double z_m);

/* Share of the rectangle's area that lies inside, 0 to 1; exact. radial: areas of rings. */
double uf_outline_share(const struct uf_outline *outline, double x0_m, double x1_m, double z0_m,
                        double z1_m, bool radial);

/* Where the line along one axis from (x, z) outside crosses the outline.
   along_x      true: the line runs in x at height z; false: in z at x
   distance_m   from that point to the outline
   normal       |component of the unit normal along the line|, 0.05 to 1 */
void uf_outline_cross(const struct uf_outline *outline, bool along_x, double x_m, double z_m,
                      double *distance_m, double *normal);

/* Half section below depth z of a full outline, m2 (x >= 0), and the length of the wetted
   line of the half outline below z, m. */
double uf_outline_area_below_m2(const struct uf_outline *outline, double z_m, bool radial);
double uf_outline_perimeter_below_m(const struct uf_outline *outline, double z_m, bool radial);
double uf_outline_chord_m(const struct uf_outline *outline, double z_m, bool radial);

#endif
