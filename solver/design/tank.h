#ifndef UF_TANK_H
#define UF_TANK_H

#include "case.h"

/* Volumes and surfaces of the tank. Exact geometry; no file. The heads of a horizontal
   cylinder stand outside its length; those of a vertical cylinder are part of its height.
   A box has none. */

/* Area of a circle's segment, m2: R^2 acos((R-h)/R) - (R-h) sqrt(2Rh - h^2), h held in 0..2R. */
double uf_tank_segment_m2(double radius_m, double height_m);

/* Share of a sphere or an ellipsoid (both heads together) below x = h/D: 3 x^2 - 2 x^3. */
double uf_tank_heads_share(double x);

/* How far one head reaches out, m: flat 0, hemispherical D/2, 2:1 ellipsoidal D/4; box 0. */
double uf_tank_head_depth_m(const struct uf_tank *tank);

/* Half the tank's length so far off its axis, m: half the straight part and what a head adds there,

       h sqrt(1 - (r / R)^2),   h the head's depth, R the tank's radius

   length_m of the straight part, head_m 0 for flat ends; off_axis_m 0 .. radius_m. */
double uf_tank_half_length_m(double length_m, double head_m, double radius_m, double off_axis_m);

/* Crown to invert, outside, m. */
double uf_tank_height_m(const struct uf_tank *tank);

/* Outside volume of both heads together, m3: half ellipsoids, pi D^2 h / 6 each; 0 where they are flat. */
double uf_tank_heads_m3(const struct uf_tank *tank);

/* Outside volume of the whole tank without risers, m3. */
double uf_tank_volume_m3(const struct uf_tank *tank);

/* Volume inside the shell up to a water depth level_m above the inside invert, m3. Wall
   thickness NAN = 0. */
double uf_tank_content_m3(const struct uf_tank *tank, double level_m);

/* Outside volume below a water table that stands height_m above the invert (0 .. tank height),
   m3. */
double uf_tank_submerged_m3(const struct uf_tank *tank, double height_m);

/* Height above the invert up to which the tank is at its widest seen from above, m: the
   springline of a horizontal cylinder, the foot of a vertical tank's upper head, the roof
   of a box. */
double uf_tank_widest_m(const struct uf_tank *tank);

/* Heat: area of the two ends (outside), m2. For flat heads the ends are circles;
   hemispherical: half spheres; 2:1: the ellipsoid's surface. Box: width x height. */
double uf_tank_end_area_m2(const struct uf_tank *tank);

/* Plan of the tank: length (with heads) and width, m; area of its footprint, m2. */
double uf_tank_plan_length_m(const struct uf_tank *tank);
double uf_tank_plan_width_m(const struct uf_tank *tank);
double uf_tank_plan_area_m2(const struct uf_tank *tank);

#endif
