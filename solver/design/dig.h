#ifndef UF_DIG_H
#define UF_DIG_H

#include "case.h"

/* The pit as it is dug, once for all: the heat run paints by it, quantities and costs count by it,
   pictures draw it. Depths below grade, halves from the tank's axis (radius for a standing tank),
   m. The floor is the underside of the bedding as asked, or of the pad under it, and wide enough for the
   tank with its clearance and every anchor; the sides rise by the slope; a
   board that reaches further than the sides stands on a shelf, from which the sides rise anew. */
struct uf_dig {
    double floor_m;                       /* depth: under bedding and pad */
    double across_m, along_m;             /* half width and half length of the floor */
    double slope;                         /* horizontal per vertical */
    double shelf_m;                       /* the board's underside; 0: no board */
    double shelf_across_m, shelf_along_m; /* halves on the shelf, at least the sides' there */
    double invert_m;                      /* bedding lies below */
    double fill_top_m; /* brought-in fill reaches up to here, native ground goes back above */
};

/* The pit of a design with a tank; without burial.pit it has no clearance. NAN sizes stay NAN. */
struct uf_dig uf_dig_of(const struct uf_case *design);

/* Half width and half length at a depth; on the shelf the smaller, below it. */
double uf_dig_half_width_m(const struct uf_dig *dig, double depth_m);
double uf_dig_half_length_m(const struct uf_dig *dig, double depth_m);

/* Volume dug between two depths, m3, exact; 0 above grade and below the floor. A frustum with base
   a x b, height h and slope m on all four sides holds
     V = h (a b + m h (a + b) + (4/3) m^2 h^2) */
double uf_dig_volume_m3(const struct uf_dig *dig, double top_m, double bottom_m);
double uf_dig_frustum_m3(double a_m, double b_m, double height_m, double slope);

/* Area of floor, sides and shelf up to a depth, m2. */
double uf_dig_skin_m2(const struct uf_dig *dig, double top_m);

/* What stands in the pit between two depths and is no soil, m3: tank, risers, concrete, board with
   its skirt. Where a riser passes the board the hole counts once, as riser; a riser
   with its sleeve, which the first counts alone. */
double uf_dig_solids_m3(const struct uf_case *design, double top_m, double bottom_m);
double uf_dig_sleeves_m3(const struct uf_case *design, double top_m, double bottom_m);
double uf_dig_risers_m3(const struct uf_case *design, double top_m, double bottom_m);

/* Foam of the skirt, m3; 0 without one. */
double uf_dig_skirt_m3(const struct uf_case *design);

/* Which soil lies at a place beside the axis, board and tank apart. */
enum uf_dig_soil { UF_DIG_NATIVE, UF_DIG_FILL, UF_DIG_BEDDING };
enum uf_dig_soil uf_dig_soil_at(const struct uf_dig *dig, const struct uf_burial *burial,
                                double x_m, double depth_m);

#endif
