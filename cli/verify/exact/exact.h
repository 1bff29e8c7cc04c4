#ifndef UF_EXACT_H
#define UF_EXACT_H

#include <stdbool.h>
#include <stddef.h>

/* Exact and published solutions that the solver is held against, by the tests and by `verify`. Pure
   functions of plain numbers, SI and degC. Depth and y point down from grade; heat flows are
   positive out of the ground's surface or out of the pipe, as each says. A case without a solution
   (latent heat below zero, a surface that does not freeze ...) gives NAN. Numbers of sections and
   equations in older books are quoted from memory.

   In the formulas: a diffusivity, k conductivity, C heat capacity, L latent heat of a volume; _f or
   1 frozen, _u or 3 thawed; T0 start, Ts surface, Tf freezing, Ta air, Tg ground's surface. */

/* ---- Special functions (exact_special.c) ---- */

/* Exponential integral, x > 0 (0 gives INFINITY, below gives NAN):

       E1(x) = integral of exp(-s)/s from x to infinity

   Abramowitz & Stegun 5.1.11 (series) and 5.1.22 (continued fraction). */
double uf_exact_e1(double x);

/* exp(x^2) erfc(x), which stays finite where its factors do not. Continued fraction from
   x = 5: Abramowitz & Stegun 7.1.14. */
double uf_exact_erfcx(double x);

/* ---- Freezing fronts (exact_front.c) ---- */

/* Ground at start_degC whose surface drops to surface_degC at t = 0. */
struct uf_exact_ground {
    const char *name;
    double k_frozen_W_mK, k_thawed_W_mK;
    double c_frozen_J_m3K, c_thawed_J_m3K;
    double latent_J_m3;
    double surface_degC, freezing_degC, start_degC; /* surface < freezing <= start */
};

/* Sets N1 to N5 used by the checks, ended by a row whose name is NULL; N5 is one-phase. */
enum { UF_EXACT_GROUNDS = 5 };
extern const struct uf_exact_ground uf_exact_grounds[UF_EXACT_GROUNDS + 1];

/* Two-phase freezing of a half-space (Neumann), equal densities. Carslaw & Jaeger, Conduction of
   Heat in Solids, 2nd ed. 1959, sec. 11.2. With start = freezing it is the one-phase case.

       X = 2 l sqrt(a_f t)

       exp(-l^2) / erf(l) - (k_u/k_f) sqrt(a_f/a_u) (T0-Tf)/(Tf-Ts)
                            exp(-l^2 a_f/a_u) / erfc(l sqrt(a_f/a_u)) = l sqrt(pi) L / (C_f (Tf-Ts))

       q = k_f (Tf-Ts) / (erf(l) sqrt(pi a_f t))       heat leaving through the surface

   _lambda  l, without unit;  _front_m  X;  _degC  temperature at a depth;  _W_m2  q */
double uf_exact_neumann_lambda(const struct uf_exact_ground *ground);
double uf_exact_neumann_front_m(const struct uf_exact_ground *ground, double t_s);
double uf_exact_neumann_degC(const struct uf_exact_ground *ground, double depth_m, double t_s);
double uf_exact_neumann_W_m2(const struct uf_exact_ground *ground, double t_s);

/* Stefan's front, sensible heat neglected, below a resistance R without heat capacity (board, film,
   snow; 0: none), m:

       X = -k R + sqrt((k R)^2 + 2 k F / L)

   TM 5-852-5 eq. 12-3 for R = 0; with R by integrating L dX/dt = dT / (R + X/k).
   index_Ks   surface freezing index F in K s (degree-days x 86400) */
double uf_exact_stefan_m(double k_W_mK, double latent_J_m3, double resistance_m2K_W,
                         double index_Ks);

/* Two layers from grade down that freeze one after the other; the upper may be dry (board). */
struct uf_exact_two_layers {
    double upper_m, upper_W_mK, upper_J_m3;
    double lower_W_mK, lower_J_m3;
};

/* Freezing over a range of temperature, half-space in three zones: frozen below mushy_degC (Tm),
   between it and freezing_degC (Tf) the latent heat spread evenly, thawed above. Lunardini 1985
   (ASME OMAE), as restated by McKenzie, Voss & Siegel 2007, Adv. Water Resour. 30, 966-983.

       a4 = k2 / (C2 + L / (Tf-Tm))
       X1 = 2 psi sqrt(a1 t)          depth of Tm
       X  = 2 gamma sqrt(a4 t)        depth of Tf

   psi and gamma from the heat flow being continuous at both. */
struct uf_exact_three_zone {
    const char *name;
    double k_W_mK[3], c_J_m3K[3]; /* frozen, mushy, thawed */
    double latent_J_m3;
    double surface_degC, mushy_degC, freezing_degC, start_degC; /* in rising order */
};
struct uf_exact_three_zone_roots {
    double psi, gamma;
};
/* Ended by a NULL name. */
enum { UF_EXACT_THREE_ZONES = 4 };
extern const struct uf_exact_three_zone uf_exact_three_zones[UF_EXACT_THREE_ZONES + 1];
struct uf_exact_three_zone_roots
uf_exact_three_zone_solve(const struct uf_exact_three_zone *ground);
double uf_exact_three_zone_degC(const struct uf_exact_three_zone *ground,
                                const struct uf_exact_three_zone_roots *roots, double depth_m,
                                double t_s);
/* Depths of the two lines: [0] X1, everything frozen; [1] X, first ice. */
void uf_exact_three_zone_fronts_m(double out_m[2], const struct uf_exact_three_zone *ground,
                                  const struct uf_exact_three_zone_roots *roots, double t_s);

/* Freezing around a line that takes out Q = sink_W_m from t = 0 in ground at start_degC
   (surface_degC is not read). Carslaw & Jaeger sec. 11.6.

       R = 2 l sqrt(a_f t)

       Q/(4 pi) exp(-l^2) - k_u (T0-Tf) exp(-l^2 a_f/a_u) / E1(l^2 a_f/a_u) = l^2 a_f L */
double uf_exact_line_lambda(const struct uf_exact_ground *ground, double sink_W_m);
double uf_exact_line_front_m(const struct uf_exact_ground *ground, double sink_W_m, double t_s);
double uf_exact_line_degC(const struct uf_exact_ground *ground, double sink_W_m, double radius_m,
                          double t_s);

/* ---- Conduction without freezing (exact_wave.c) ---- */

/* Quarter space from start_degC, both faces at surface_degC. Carslaw & Jaeger sec. 5.6:

       T = Ts + (T0-Ts) erf(x / (2 sqrt(a t))) erf(y / (2 sqrt(a t)))

   y = INFINITY: half-space. */
double uf_exact_quarter_degC(double diffusivity_m2_s, double surface_degC, double start_degC,
                             double x_m, double y_m, double t_s);

/* Periodic half-space under a film or board of resistance R. Carslaw & Jaeger sec. 2.6, with
   d = sqrt(2 a / w) and b = k R / d:

       amplitude at z   A exp(-z/d) / sqrt(1 + 2 b + 2 b^2)
       phase at z       z/d + atan(b / (1 + b)) */
struct uf_exact_wave {
    double mean_degC, amplitude_K; /* of the air */
    double coldest_day, period_day;
    double k_W_mK, diffusivity_m2_s;
    double resistance_m2K_W; /* 0: the surface itself follows the wave */
};
double uf_exact_wave_depth_m(const struct uf_exact_wave *wave); /* d */
double uf_exact_wave_amplitude_K(const struct uf_exact_wave *wave, double depth_m);
double uf_exact_wave_lag_day(const struct uf_exact_wave *wave, double depth_m);
double uf_exact_wave_degC(const struct uf_exact_wave *wave, double depth_m, double day);

/* Half-space from start_degC under a film to air. Carslaw & Jaeger sec. 2.7, with
   e = x / (2 sqrt(a t)) and n = h sqrt(a t) / k:

       T = T0 + (Ta-T0) (erfc(e) - exp(-e^2) erfcx(e + n))

   the usual exp(h x / k + n^2) erfc(e + n) written so that it cannot overflow. */
struct uf_exact_film {
    double k_W_mK, c_J_m3K, film_W_m2K;
    double start_degC, air_degC;
};
double uf_exact_film_degC(const struct uf_exact_film *film, double depth_m, double t_s);

/* ---- Buried cylinders, steady (exact_pipe.c) ---- */

/* Isothermal cylinder below an isothermal surface; conduction shape factor of the heat-transfer
   handbooks. Foci at depth a = sqrt(z^2 - R^2).

       q' = 2 pi k (Tp-Tg) / acosh(z/R)                                  W/m
       T  = Tg + q'/(4 pi k) ln((x^2 + (y+a)^2) / (x^2 + (y-a)^2))
       q  = q' a / (pi (x^2 + a^2))                                     through the surface, W/m2 */
struct uf_exact_cylinder {
    double k_W_mK;
    double depth_m, radius_m; /* of the axis; depth > radius */
    double wall_degC, surface_degC;
};
double uf_exact_cylinder_shape(double depth_m, double radius_m); /* S = 2 pi/acosh(z/R) */
double uf_exact_cylinder_W_m(const struct uf_exact_cylinder *pipe);
double uf_exact_cylinder_degC(const struct uf_exact_cylinder *pipe, double x_m, double y_m);
double uf_exact_cylinder_W_m2(const struct uf_exact_cylinder *pipe, double x_m);

/* A circle in the section: an isotherm round a buried cylinder. */
struct uf_exact_circle {
    double depth_m, radius_m; /* of its centre */
};

/* Pipe with a ring of other material and a film inside, exact by multipoles about the axis and
   their images, 80 orders. Heat out of the fluid, W/m. inner_m NAN: no ring; film NAN: none. With
   neither it is the isothermal cylinder. Good to 1e-9 for depth/outer >= 1.03. */
struct uf_exact_pipe {
    const char *name;
    double k_W_mK, depth_m, inner_m, outer_m, ring_W_mK, film_W_m2K;
    double fluid_degC, surface_degC;
};
extern const struct uf_exact_pipe uf_exact_pipes[]; /* P1 to P6, ended by a NULL name */
double uf_exact_pipe_W_m(const struct uf_exact_pipe *pipe);

/* Thaw bulb about a warm pipe in frozen ground (or frozen bulb, signs turned), steady, conductivity
   differing across the front. TM 5-852-5 fig. 12-6:

       U0 = k_f (Tf-Tg),  Up = k_t (Tw-Tf),  c = sqrt(H^2 - r^2)
       Lam = U0 / (U0 + Up) acosh(H/r)
       front: centre c coth(Lam), radius c csch(Lam)
       q' = 2 pi (U0 + Up) / acosh(H/r)

   The radius 2.08 ft printed there is a slip: csch(1.268) is 0.6119, so 2.44 ft. */
struct uf_exact_bulb {
    const char *name;
    double k_inside_W_mK, k_outside_W_mK; /* between pipe and front; beyond the front */
    double depth_m, radius_m;
    double wall_degC, freezing_degC, surface_degC;
};
extern const struct uf_exact_bulb uf_exact_bulbs[]; /* B1, B2, ended by a NULL name */
struct uf_exact_circle uf_exact_bulb_front(const struct uf_exact_bulb *bulb);
double uf_exact_bulb_W_m(const struct uf_exact_bulb *bulb);

/* ---- Other sections (exact_section.c) ---- */

/* Slab of width B at inside_degC, falling evenly to outside_degC over a wall W at each edge. 2D
   case of Delsante, Stokes & Walsh 1983, Int. J. Heat Mass Transfer 26(1), 121-132, derived again.

       q' = 2 k dT / (pi W) ((B+W) ln(B+W) - B ln B - W ln W)

   both edges, per metre of length; x from the middle of the slab. */
struct uf_exact_slab {
    double width_m, wall_m, k_W_mK;
    double inside_degC, outside_degC;
};
double uf_exact_slab_W_m(const struct uf_exact_slab *slab);
double uf_exact_slab_degC(const struct uf_exact_slab *slab, double x_m, double y_m);

/* The same slab, a strip of the surface of half width b, where a temperature goes up and down by 1 K: heat
   out of the ground into the strip where the outside swings (exact_strip.c), by the surface's Fourier transform (theory of Delsante,
   Stokes & Walsh 1983, derived again). With s^2 = i w C / k and F the transform of strip and edges,

       k J,   J = 1/pi int_0^inf F(p) 2 sin(b p)/p (sqrt(p^2 + s^2) - s) dp

   W/m per kelvin, and how far it leads that temperature, radians. Both are the steady slab's where
   the period is without end. Good to 1e-5. */
struct uf_exact_strip {
    double k_W_mK, c_J_m3K, half_m, edge_m, period_day;
};
struct uf_exact_harmonic {
    double W_mK, lead_rad;
};
struct uf_exact_harmonic uf_exact_strip_outside(const struct uf_exact_strip *strip);

/* ISO 10211 case 1: half a square column, width 1, height 2, top at 20 degC, other faces 0, axis
   adiabatic. x from the cold side face (1 = axis), y from the hot face, both in widths; y > 0.
   Fourier series; the standard lists 28 points to 0.1 degC. */
double uf_exact_iso_column_degC(double x, double y);

/* ISO 10211 case 2: published temperatures (degC, allowed 0.1) and heat flow 9.5 W/m
   (allowed 0.1, 2007 edition). x from the symmetry plane, y up from the warm side. */
struct uf_exact_iso_point {
    const char *name;
    double x_m, y_m, degC;
};
extern const struct uf_exact_iso_point uf_exact_iso_points[]; /* ended by a NULL name */
#define UF_EXACT_ISO_CASE2_W_M 9.5

/* Freezing in a corner, two-phase, equal properties, both faces at one temperature: problem of
   Rathjen & Jiji 1971, J. Heat Transfer 93, 101-109, computed by the moving-source integral
   equation, not by their fit. Lengths in sqrt(4 a t), Th = (T-Tf)/(Tf-Tw). Front good to 2e-5, Th
   to 1e-4. NAN: not computed. */
#define UF_EXACT_CORNER_X 7
struct uf_exact_corner {
    double beta;                 /* L/(C (Tf-Tw)); 0 ends the table */
    double start;                /* (Ti-Tf)/(Tf-Tw) */
    double lambda;               /* far from the corner */
    double diagonal;             /* front on x = y */
    double y[UF_EXACT_CORNER_X]; /* front at x = 0.6, 0.7, 0.8, 1, 1.2, 1.5, 2 */
    double theta_05, theta_15;   /* at (0.5, 0.5) and (1.5, 1.5) */
};
enum { UF_EXACT_CORNERS = 6 };
extern const struct uf_exact_corner uf_exact_corners[UF_EXACT_CORNERS + 1];

/* ---- Freeze-up times, rules for foundations (exact_rules.c) ---- */

/* Lumped cooling of water (ASHRAE Fundamentals, pipes), s:

       t = C R ln((t0-ta) / (t1-ta))

   capacity C in J/(m K), resistance R in m K/W, target t1 between outside ta and start t0. */
double uf_exact_cooling_s(double capacity_J_mK, double resistance_mK_W, double start_degC,
                          double target_degC, double outside_degC);

/* Time until a share f of the water in a pipe is frozen, from the wall inward, the resistance R
   outside the water ruling, quasi-steady (London & Seban 1943), s:

       t = f pi r^2 L R / dT

   R in m K/W; dT from freezing down to the outside. */
double uf_exact_share_s(double share, double radius_m, double latent_J_m3, double resistance_mK_W,
                        double below_K);

/* Resistance of a ring, ln(ro/ri)/(2 pi k), m K/W. */
double uf_exact_ring_mK_W(double inner_m, double outer_m, double k_W_mK);

/* Least insulation of frost-protected shallow foundations of heated buildings, IRC table
   R403.3(1). A plausibility check, not a rule for tanks. NAN: none asked. */
struct uf_exact_irc {
    double index_Kday; /* 100-year air freezing index, at most; 0 ends the table */
    double vertical_m2K_W, footing_m;
    double wall_m2K_W, corner_m2K_W; /* horizontal board along walls and at corners */
    double a_m, b_m, c_m;            /* widths along walls, at corners; corner length */
    const char *source;              /* which figures were read and which are from memory */
};
extern const struct uf_exact_irc uf_exact_irc_rows[];

#endif
