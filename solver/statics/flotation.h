#ifndef UF_FLOTATION_H
#define UF_FLOTATION_H

#include <stdbool.h>
#include <stddef.h>

/* Published forms of the flotation check as pure formulas, and their factors as rows of
   data. Forces in N, volumes in m3, unit weights in N/m3. A source that ends in "from
   memory" was not read in its own text. */

/* FEMA P-259, appendix C, example C7; the soil is not counted in this form:

       Fb = FS gamma_w V - W
       Vc = Fb / (gamma_c - gamma_w) */
struct uf_flotation_fema {
    double net_N;       /* Fb: what has to be held down; negative: nothing */
    double concrete_m3; /* Vc, 0 where nothing has to be held */
};
struct uf_flotation_fema uf_flotation_fema(double volume_m3, double empty_N, double factor,
                                           double water_N_m3, double concrete_N_m3);

/* USACE EM 1110-2-2100, eq. 3-2:

       SF = (Ws + Wc + S) / (U - Wg)

   Ws structure and soil over it, Wc water held inside, S surcharge, U uplift on the base, Wg water
   above the structure. NAN where U <= Wg. */
double uf_flotation_em_factor(double structure_N, double contained_N, double surcharge_N,
                              double base_uplift_N, double water_above_N);

/* Partial factors of a limit-state check, EN 1997-1 eq. 2.8 without friction:
     gamma_dst G_dst <= gamma_stb G_stb */
struct uf_flotation_partial {
    const char *name;
    const char *source;
    double destabilising, stabilising;
    bool read; /* the form in its own text; else as quoted, as all factors are */
};
#define UF_FLOTATION_EM_LEAST 1.3 /* of uf_flotation_em_factor, usual condition, from memory */

#define UF_FLOTATION_PARTIALS 3
extern const struct uf_flotation_partial uf_flotation_partials[UF_FLOTATION_PARTIALS];

struct uf_flotation_upl {
    double dst_N, stb_N; /* design values */
    double use;          /* dst / stb, holds up to 1; INFINITY where nothing stabilises */
};

/* Design values by one row of partial factors, EN 1997-1 eq. 2.8, both given in N:

       dst = destabilising x uplift
       stb = stabilising x holddown */
struct uf_flotation_upl uf_flotation_upl(const struct uf_flotation_partial *row, double uplift_N,
                                         double holddown_N);

/* Angle from the vertical of a strap leg that leaves a round tank as a tangent to an anchor at x
   beside and y below the tank's centre:

       a = atan(x/y) - asin(R / sqrt(x^2 + y^2))

   NAN for an anchor inside the tank. */
double uf_flotation_leg_angle_rad(double radius_m, double x_m, double y_m);

/* Tension of one of the two legs of each of n straps, N:

       T = N_u / (2 n cos a)

   0 where nothing is left to hold; NAN without straps. */
double uf_flotation_leg_N(double net_N, size_t straps, double angle_rad);

/* Pressure of a strap on a round shell, per strap width w:  T / (R w), Pa. */
double uf_flotation_contact_Pa(double leg_N, double radius_m, double strap_width_m);

/* Soil over an anchor of width b and length l, H deep, spreading upward on all four sides at angle
   beta from the vertical, m3:

       V = b l H + (b + l) H^2 tan(beta) + k H^3 tan^2(beta)

   k = 4/3 with flat corners, pi/3 with round. */
double uf_flotation_frustum_m3(double width_m, double length_m, double depth_m, double angle_rad,
                               bool round_corners);

/* Weightless lying cylinder, water at grade, factor 1:
     c/D = (pi/4) gamma_w/gamma' - (1/2 - pi/8) */
double uf_flotation_bare_cover_share(double water_N_m3, double submerged_N_m3);

#endif
