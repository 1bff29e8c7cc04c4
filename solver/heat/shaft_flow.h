#ifndef UF_SHAFT_FLOW_H
#define UF_SHAFT_FLOW_H

#include "heat.h"
#include "solver/base/constants.h"

/* What runs through the side of a shaft at given temperatures of all nodes, degC. */

/* How much of it is stirred, 0 to 1, and by how much that rises with the node's temperature, 1/K. */
static inline double uf_heat_shaft_stirred(const struct uf_heat_shaft *shaft, const double *T_degC,
                                           double *per_K)
{
    const double over_K = T_degC[shaft->node] - UF_WATER_DENSEST_DEGC;
    const bool colder = T_degC[shaft->node] > T_degC[shaft->cell];
    const bool ramp = shaft->water && colder && over_K > 0.0 && over_K < 1.0;
    *per_K = ramp ? 1.0 : 0.0;
    return !colder ? 0.0 : ramp ? over_K : !shaft->water || over_K > 0.0 ? 1.0 : 0.0;
}

/* Its conductance at these temperatures, W/K. */
static inline double uf_heat_shaft_W_K(const struct uf_heat_shaft *shaft, const double *T_degC)
{
    double per_K = 0.0;
    const double stirred = uf_heat_shaft_stirred(shaft, T_degC, &per_K);
    return shaft->still_W_K + stirred * (shaft->W_K - shaft->still_W_K);
}

/* Heat from the node to the cell, W. */
static inline double uf_heat_shaft_W(const struct uf_heat_shaft *shaft, const double *T_degC)
{
    return uf_heat_shaft_W_K(shaft, T_degC) * (T_degC[shaft->node] - T_degC[shaft->cell]);
}

/* Derivative of that by the node's temperature, W/K; by the cell's it is the conductance, less. */
static inline double uf_heat_shaft_slope_W_K(const struct uf_heat_shaft *shaft,
                                             const double *T_degC)
{
    double per_K = 0.0;
    (void)uf_heat_shaft_stirred(shaft, T_degC, &per_K);
    return uf_heat_shaft_W_K(shaft, T_degC) +
           per_K * (shaft->W_K - shaft->still_W_K) * (T_degC[shaft->node] - T_degC[shaft->cell]);
}

#endif
