#ifndef UF_NEWTON_PRIVATE_H
#define UF_NEWTON_PRIVATE_H

#include "solver/heat/heat.h"

/* Newton in temperature for one implicit step of a heat network:

       find H with   rl1 zn1 + (H - predicted) - gamma f(H) = 0,   f = W / V

   the form in which CVODE asks. The unknown of each iteration is the change of temperature,

       (V (dH/dT) / gamma + K) dT = W - V residual / gamma

   and H follows by the cell's own law, so that no iteration can step over latent heat. dT/dH jumps
   where a cell begins or ends to freeze: the matrix is made afresh whenever any cell has changed
   its branch. */

#define UF_NEWTON_FLOWS 5 /* surface, bottom, vents, held, inflow */

struct uf_newton_counts {
    long rates, iterations, factorisations, failures;
};

struct uf_newton {
    const struct uf_heat *heat; /* borrowed */
    struct uf_sparse *matrix;
    double *T_degC, *H_J_m3, *W, *step_K, *slope_J_m3K; /* [n]; T, H: the state in hand */
    bool *joined;          /* [n_water] rows of water that mix with the next; all false: none */
    double factored_gamma; /* 0: no factors yet, or rows were joined since */
    struct uf_newton_counts counts;
};

/* What is asked at one step; arrays [n]. */
struct uf_newton_question {
    double gamma_s, rl1;
    struct uf_heat_now now;
    const double *predicted, *zn1, *weight;
};

enum uf_status uf_newton_create(struct uf_newton **out, const struct uf_heat *heat,
                                struct uf_error *err);
void uf_newton_free(struct uf_newton *newton); /* NULL is fine */

/* Solves to a weighted change per iteration below `tolerance`, and until the whole
   network loses less than a millionth of the heat that moves. The answer is in H_J_m3;
   boundary_W takes the boundary flows at it, W. false: not converged, or singular. */
bool uf_newton_solve(struct uf_newton *newton, const struct uf_newton_question *question,
                     double tolerance, double boundary_W[UF_NEWTON_FLOWS]);

/* W [n] and boundary flows at a state of enthalpies, counted as one rate. */
void uf_newton_rate(struct uf_newton *newton, const struct uf_heat_now *now, const double *H_J_m3,
                    double boundary_W[UF_NEWTON_FLOWS]);

#endif
