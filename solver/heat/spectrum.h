#ifndef UF_SPECTRUM_H
#define UF_SPECTRUM_H

#include "heat.h"

/* How fast a heat network can relax: the largest eigenvalue of (V dH/dT)^-1 K, which
   decides how many stages an explicit step needs. Taken with every substance at its most
   conducting and its least heat capacity, frozen or thawed, so that it bounds every
   state: the eigenvalue rises with any conductance and falls with any capacity. A link's
   conductance is the steepest that its heat flow can rise with one end's temperature. */

/* The eigenvalue by power iteration, with a twentieth to spare, at most the largest row sum
   (Gershgorin), 1/s. A cell that is stiff alone is overrated by up to two in the row sum; here it is
   not. h_W_m2K: the strongest film. INFINITY when memory runs out. */
double uf_spectrum_fastest_1_s(const struct uf_heat *heat, double h_W_m2K);

/* The same where nothing is frozen: every substance as it conducts and stores thawed. */
double uf_spectrum_thawed_1_s(const struct uf_heat *heat, double h_W_m2K);

#endif
