#ifndef UF_LAYERS_H
#define UF_LAYERS_H

#include "heat.h"

/* Water in rows, one on the other. Each row is mixed sideways, rows conduct (heat.c); what lies
   unstably is turned over here, with its heat: the convective adjustment of one-dimensional lake
   models (Hostetler & Bartlein 1990, Water Resour. Res. 26: 2603-2612; Subin, Riley & Mironov
   2012, J. Adv. Model. Earth Syst. 4: M02001):

     1. ice floats: what a row has frozen goes up, where it takes the place of water, the topmost
        row first until it is ice throughout; the heat goes the other way;
     2. from the top down a row of water that is heavier than the one below it mixes with it, and
        the mixed ones with those above them while these are heavier still.

   Rows are of one substance, the water's nodes of a network. */

/* Density of water without air at one atmosphere, kg/m3:

     rho = a5 (1 - (T + a1)^2 (T + a2) / (a3 (T + a4)))

   largest at 3.983 degC. Tanaka, Girard, Davis, Peuto & Bignell 2001, Metrologia 38: 301-309, for
   0 to 40 degC; only its order is used.
   T_degC   -1 to 60 */
double uf_layers_density_kg_m3(double T_degC);

/* Turns over the rows of a network whose water has more than one; heat is kept to rounding.
   H_J_m3 [n]. */
void uf_layers_settle(const struct uf_heat *heat, double *H_J_m3);

/* For an integrator of fixed steps: rows of one temperature that mix during a step. Above 3.98 degC
   they do where the upper one would cool faster, below it where it would warm faster. Writes
   which rows are joined to the next one down, joined [n_water], and gives them one rate, that of
   all their heat. H, rate [n] of settled rows */
void uf_layers_join(const struct uf_heat *heat, const double *H_J_m3, double *rate_W_m3,
                    bool *joined);

/* Gives rows that are joined the mean by volume of any quantity by volume. x [n] */
void uf_layers_average(const struct uf_heat *heat, const bool *joined, double *x);

/* For an integrator that goes on between two looks: which rows to join to the next one down by a
   conductance that mixes them, joined [n_water], false to begin with. Rows are joined while the
   upper one is the heavier. Returns whether that has changed since the last look, or ice lies
   below water: the rows are then to be settled. H_J_m3 [n] */
bool uf_layers_look(const struct uf_heat *heat, const double *H_J_m3, bool *joined);

/* Where water of in_degC that runs in comes to rest among settled rows: between the row
   *row and the next one down, with the part *below of it in the latter. T_degC [n] */
void uf_layers_level(const struct uf_heat *heat, const double *T_degC, double in_degC, size_t *row,
                     double *below);

#endif
