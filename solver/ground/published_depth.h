#ifndef UF_PUBLISHED_DEPTH_H
#define UF_PUBLISHED_DEPTH_H

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

#endif
