#ifndef UF_TANK_H
#define UF_TANK_H

#include "case.h"

/* Volumes and surfaces of the tank. Exact geometry; no file. */

/* Share of a circle's area below height h (0..2R), and of a sphere's or 2:1 ellipsoidal pair of
   heads: 3 x^2 - 2 x^3, x = h/D. */
double uf_tank_segment_m2(double radius_m, double height_m);

/* Outside volume of the whole tank without risers, m3. */
double uf_tank_volume_m3(const struct uf_tank *tank);

/* Volume inside the shell up to a water depth level_m above the inside invert, m3. Wall thickness NAN = 0. */
double uf_tank_content_m3(const struct uf_tank *tank, double level_m);

/* Outside volume below a water table that stands height_m above the invert (0 .. tank height), m3. */
double uf_tank_submerged_m3(const struct uf_tank *tank, double height_m);

/* Heat: area of the two ends and of the side (outside), m2; the ratio divides the water's heat per
   metre by (1 + ends / side). For flat heads the ends are circles; hemispherical: half spheres;
   2:1: the ellipsoid's surface. Box: the two width x height ends against the four sides. */
double uf_tank_end_area_m2(const struct uf_tank *tank);
double uf_tank_side_area_m2(const struct uf_tank *tank);

/* Plan of the tank: length (with heads) and width, m. */
double uf_tank_plan_length_m(const struct uf_tank *tank);
double uf_tank_plan_width_m(const struct uf_tank *tank);

#endif
