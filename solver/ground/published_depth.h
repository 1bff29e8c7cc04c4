#ifndef UF_PUBLISHED_DEPTH_H
#define UF_PUBLISHED_DEPTH_H

#include <stddef.h>

/* Published relations of frost depth with the freezing index of a winter: what others found in
   snow-free ground, to stand beside a computed depth. */

/* ISO 13793:2001, undisturbed snow-free ground (formula from memory):

       H0 = sqrt(7200 F k_f / (L + C te))

   index_Kh        freezing index F                     [K h]     >= 0
   k_frozen_W_mK   conductivity of the frozen ground    [W/(m K)] > 0
   latent_J_m3     latent heat L                        [J/m3]    > 0
   c_thawed_J_m3K  heat capacity C of the thawed ground [J/(m3 K)]
   annual_degC     mean air temperature te of the year  [degC]    > 0
   returns         depth                                [m]       */
double uf_published_depth_iso13793_m(double index_Kh, double k_frozen_W_mK, double latent_J_m3,
                                     double c_thawed_J_m3K, double annual_degC);

/* Chisholm & Phang 1983, Transportation Research Record 918, snow-free Ontario highways
   (coefficients from memory):

       P = -0.328 + 0.0578 sqrt(F)

   index_Kday  freezing index F [K day] >= 0
   returns     depth [m], never below 0 */
double uf_published_depth_chisholm_phang_m(double index_Kday);

/* Fair, Geyer & Okun, Water and Wastewater Engineering, eq. 5.41b:

       d = 55.18 mm F^0.468

   index_Kday  freezing index F [K day] >= 0
   returns     depth [m] */
double uf_published_depth_fair_m(double index_Kday);

/* Coefficient of the modified Berggren formula, UFC 3-130-04 and TM 5-852-6:

       X = lambda sqrt(2 k n F / L)

   thermal_ratio  alpha = v0 / vs, v0 the mean annual temperature above freezing
   fusion         mu = C vs / L, vs = n F over the length of the season, C the mean of frozen and
                  thawed

   The coefficient is the Neumann ratio with equal properties, lambda = g sqrt(2 / mu) with g from

       exp(-g^2) / erf(g) - alpha exp(-g^2) / erfc(g) = g sqrt(pi) / mu

   returns        1 for fusion 0; NAN for fusion < 0 */
double uf_published_depth_berggren_lambda(double thermal_ratio, double fusion);

/* Layered modified Berggren (TM 5-852-6; the form from memory). A layer of thickness d under the
   resistance R takes of the surface freezing index

       nF = L d / lambda^2 (R + d / (2 k))

   lambda by the mean, over the depth to there, of L and C; k and C the means of frozen and thawed.

   layers               [n], from grade down; the last one goes on
   resistance_m2K_W     of a film at the surface
   surface_index_Kday   nF
   season_day           length of the freezing season
   annual_degC          mean annual temperature > 0
   returns              depth [m]; NAN where the ground is cold all year or an argument is not a number */
struct uf_published_layer {
    double to_m, k_W_mK, latent_J_m3, c_J_m3K;
};
struct uf_published_winter {
    double resistance_m2K_W, surface_index_Kday, season_day, annual_degC;
};
double uf_published_depth_berggren_m(const struct uf_published_layer *layers, size_t n,
                                     const struct uf_published_winter *winter);

#endif
