#ifndef UF_ENDS_H
#define UF_ENDS_H

#include "limit.h"

/* The tank's ends, at the price of a plane section. An option whose design counts them is first run
   as its plane section, an eighth of the cells and mostly the warm side: what misses a limit there by
   more than uf_ends_slack_K is not run again. What holds is run in three dimensions, and its numbers
   are those. Its sensitivity cases run plane and carry what the ends change in the design case:

       margin of a case = its plane margin + (design's margin, three dimensions - plane)

   Measured on the shipped example, 13 cases: nine within 0.11 K; up to UF_ENDS_CARRIED_K too warm
   where water lies in layers in the case alone; an open lid 0.25 K too cold. A case that comes within
   UF_ENDS_NEAR_K of a limit, on either side, is therefore run in three dimensions itself. */

#define UF_ENDS_CARRIED_K 0.6
#define UF_ENDS_NEAR_K    0.8
#define UF_ENDS_CLOSE_K   0.2 /* a plane run so near to a limit mostly fails in three dimensions */

/* The design's plane section. */
struct uf_case uf_ends_plane(const struct uf_case *design);

/* How much warmer three dimensions may come out. Grids differ, 0.05 K; and a tank that loses its heat
   through risers, not through its shell, gains by its ends: 1.2 K times the risers' share of the loss,
   times width over length. Measured in 84 random designs of a box 1.5 m wide, 1.5 to 8 m long, with one
   or two risers: at most 1.06 in place of 1.2, and in 70 more with the uppermost row of water parted
   1.10. plane: of the plane run. */
double uf_ends_slack_K(const struct uf_case *design, const struct uf_summary *plane);

/* A plane run's verdict at its best in three dimensions: with that slack, times uf_limit.per_K. */
struct uf_verdict uf_ends_warmest(const struct uf_verdict *verdict, const struct uf_case *design,
                                  const struct uf_summary *plane);

/* A case's verdict from its plane run and the design's two. */
struct uf_verdict uf_ends_carried(const struct uf_verdict *plane_case,
                                  const struct uf_verdict *plane, const struct uf_verdict *solid);

/* Least margin to a limit of a winter's temperatures, K; INFINITY: none applies. */
double uf_ends_least_K(const struct uf_verdict *verdict);

/* Is a carried verdict too near to a limit to stand? water_degC: carried, the coldest; near freezing
   it says nothing of ice. */
bool uf_ends_near(const struct uf_verdict *carried, double water_degC);

#endif
