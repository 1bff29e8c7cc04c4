#ifndef UF_FAST_H
#define UF_FAST_H

#include "solver/heat/heat.h"

/* A heat network compiled into flat arrays for one purpose: the rate of change of
   enthalpy, many times. Same numbers as uf_heat_temperatures + uf_heat_rate, to rounding. */
struct uf_fast;

/* heat is borrowed. Errors: UF_E_MEMORY */
enum uf_status uf_fast_create(struct uf_fast **out, const struct uf_heat *heat,
                              struct uf_error *err);
void uf_fast_free(struct uf_fast *fast); /* NULL is fine */

/* dH/dt of every node, W/m3, and the boundary flows. H, rate [n] */
void uf_fast_rate(struct uf_fast *fast, const struct uf_heat_now *now, const double *H_J_m3,
                  double *rate_W_m3, struct uf_heat_flow *flow);

/* The arrays of a three-term recurrence on increments from a step's start, all [n]. */
struct uf_fast_terms {
    const double *start, *now, *rate0;
    double *turn; /* before, and after the stage next; overlaps none of the others */
};

/* One stage of it:
     next = c[0] now + c[1] before + c[2] dH/dt(start + now) + c[3] rate0
   in one pass over the cells; the boundary flows at start + now in *flow. */
void uf_fast_stage(struct uf_fast *fast, const struct uf_heat_now *outside, const double c[4],
                   const struct uf_fast_terms *terms, struct uf_heat_flow *flow);

#endif
