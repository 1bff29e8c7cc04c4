#ifndef UF_STEADY_H
#define UF_STEADY_H

#include "solver/heat/heat.h"

/* The state in which every node takes in as much heat as it gives off. Newton in
   temperature with the matrix of uf_heat_matrix, KLU; conductivities may depend on
   temperature.

   T_degC   [n] a guess, then the answer
   fixed    [n] nodes that keep their temperature; NULL: none besides heat->held

   Errors: UF_E_SOLVER when no state is found in 50 steps, as when nothing fixes the level
   of temperature (no fixed node, no open top); UF_E_MEMORY. */
enum uf_status uf_steady_solve(const struct uf_heat *heat, const struct uf_heat_now *now,
                               const bool *fixed, double *T_degC, struct uf_error *err);

#endif
