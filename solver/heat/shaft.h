#ifndef UF_SHAFT_H
#define UF_SHAFT_H

#include "solver/design/case.h"

/* Heat from inside a round pipe or shaft that stands upright in the ground, through its side. */

/* How far the ground reaches at a depth that a shaft buried over a length H draws on, as the ln of a
   radius over its own: a line source of even strength from grade down to H and its mirrored sink
   above, so that grade keeps its temperature,

     lambda = arsinh(z / r) + [ arsinh((H - z) / r) - arsinh((H + z) / r) ] / 2

   (derived here). Against conduction in (r, z) with the shaft's own radius: 2 % too much heat for a
   slender pipe, a sleeve or not, up to a fifth for one as wide as deep (verify riser). The handbooks'
   ln(4 H / d) for the whole of an upright cylinder takes the surface as insulated: 25 to 45 % too
   little. z from 0 to H, r above 0, m. */
double uf_shaft_reach(double depth_m, double buried_m, double radius_m);

/* A metre of shaft, inside to ground that it does not disturb, m K/W: films and rings in series,

     R = 1 / (2 pi) [ R_film / r_in + ln(r / r_in) / k_wall + ln(r_out / r) / k_sleeve
                      + lambda / k_ground ]

   exact for radial flow in the rings. depth_m: where; the sleeve goes from grade to its length.
   film_m2K_W  on the inner face, 0: none */
struct uf_shaft_side {
    double diameter_m; /* outside of the wall, without the sleeve */
    struct uf_shell shell;
    double buried_m, film_m2K_W;
};
double uf_shaft_mK_W(const struct uf_shaft_side *side, double depth_m, double ground_W_mK);

/* Radius inside the wall, m: half the diameter where no wall is given. */
double uf_shaft_inner_m(double diameter_m, const struct uf_shell *shell);

#endif
