#ifndef UF_FAST_H
#define UF_FAST_H

#include "heat.h"

/* A heat network compiled into flat arrays for one purpose: the rate of change of
   enthalpy, many times. Same numbers as uf_heat_temperatures + uf_heat_rate, to rounding.
 */
struct uf_fast;

/* heat is borrowed. Errors: UF_E_MEMORY */
enum uf_status uf_fast_create(struct uf_fast **out, const struct uf_heat *heat,
                              struct uf_error *err);
void uf_fast_free(struct uf_fast *fast); /* NULL is fine */

/* dH/dt of every node, W/m3, and the boundary flows. H, rate [n] */
void uf_fast_rate(struct uf_fast *fast, const struct uf_heat_now *now,
                  const double *H_J_m3, double *rate_W_m3, struct uf_heat_flow *flow);

/* One stage of a three-term recurrence on increments:
     next = c[0] now + c[1] before + c[2] rate + c[3] rate0;  H = start + next
   terms: now, before, rate, rate0. Nothing overlaps. All [n] */
void uf_fast_stage(size_t n, const double c[4], const double *const terms[4],
                   const double *start, double *next, double *H_J_m3);

#endif
