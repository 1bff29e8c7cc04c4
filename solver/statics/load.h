#ifndef UF_LOAD_H
#define UF_LOAD_H

#include "column.h"
#include "solver/base/constants.h"
#include "solver/design/case.h"

/* Soil and wheel on the foam board, against what polystyrene bears for long: a third of
   its strength under dead load, a fifth under live load (common practice, as in published
   load tables for boards). Depths in m below grade, wheel loads in N, pressures in Pa. */

/* Ways to spread a wheel's load, side by side. */
enum uf_load_method {
    UF_LOAD_TABLE,  /* published H-20 pressures, impact included */
    UF_LOAD_SPREAD, /* square of side 1.75 H */
    UF_LOAD_POINT,  /* Boussinesq, point load */
    UF_LOAD_PATCH,  /* Boussinesq, under the middle of a 20 x 10 in. tyre */
    UF_LOAD_LRFD,   /* tyre spread by 1.15 H, with its own impact */
    UF_LOAD_METHODS
};
struct uf_load_method_row {
    const char *name, *source;
};
extern const struct uf_load_method_row uf_load_methods[UF_LOAD_METHODS];

/* H-20: 16 kip a wheel, wheels 6 ft apart (AASHTO, from memory). */
#define UF_LOAD_H20_N   71171.5457
#define UF_LOAD_GAUGE_M 1.8288

/* Published H-20 pressure with impact, straight between its rows from 1 ft to 8 ft; below
   8 ft the last row. NAN above 1 ft, where the table has no value. */
double uf_load_table_Pa(double depth_m);

/* Square of side s = 1.75 H; from the depth where the squares of an axle's two wheels meet, both
   wheels on their common area:

       p = P / s^2,   then   p = 2 P / (s (s + gauge))

   No impact. NAN above 2 ft, where the load counts as concentrated. Source: AASHTO Standard
   Specifications 6.4: 0.875 to 1 on each side read as quoted by a pipe industry text, the common area
   of two wheels from memory. */
double uf_load_spread_Pa(double wheel_N, double depth_m);

/* 3 P / (2 pi H^2). No impact. Source: Boussinesq (1885), read as quoted. */
double uf_load_point_Pa(double wheel_N, double depth_m);

#define UF_LOAD_TYRE_LONG_M  (20.0 * UF_INCH_M)
#define UF_LOAD_TYRE_SHORT_M (10.0 * UF_INCH_M)

/* Share of a uniform pressure that arrives H deep under the corner of a rectangle m H by n H: Newmark
   (1935), the form read as quoted in a soil mechanics text (its eq. 10.47) and in a course's worksheet on
   stress under a rectangle, which adds pi to the angle where W > V:

       I = (2 m n V^1/2 / (V + W) * (V + 1) / V + atan(2 m n V^1/2 / (V - W))) / (4 pi)
       V = m^2 + n^2 + 1,   W = m^2 n^2,   the angle from 0 to pi */
double uf_load_corner_share(double m, double n);

/* Under the middle of a tyre of 20 x 10 in., four corners of its quarter: 4 I P / (20 in x 10 in),
   m = 10 in / H, n = 5 in / H. No impact. */
double uf_load_patch_Pa(double wheel_N, double depth_m);

/* AASHTO LRFD, older editions: the tyre's area by 3.6.1.2.5 (read), 1.15 H as an industry text works
   it, the allowance for impact from memory:

       p  = P (1 + IM) / ((20 in + 1.15 H) (10 in + 1.15 H))
       IM = 0.33 (1 - 0.125 H/ft) >= 0 */
double uf_load_lrfd_Pa(double wheel_N, double depth_m);

/* Factor for impact under a highway: 1.50 to 1 ft, 1.35 to 2 ft, 1.15 to 3 ft, then 1.
   Source: a textbook on buried pipe design, table 2.5. */
double uf_load_impact(double depth_m);

struct uf_load {
    bool present;                        /* false: no board, nothing below is filled */
    double depth_m;                      /* top of the board */
    double dead_Pa;                      /* soil above, the heavier of moist and saturated */
    double live_Pa[UF_LOAD_METHODS];     /* impact included; NAN where a method does not reach */
    enum uf_load_method method;          /* the one the verdict goes by */
    double dead_limit_Pa, live_limit_Pa; /* strength / 3, strength / 5 */
    double use[UF_LOAD_METHODS];         /* dead / limit + live / limit; NAN as above */
    double board_use;                    /* use by the verdict's method; holds up to 1 */
    double cover_from_m, cover_to_m;     /* covers between which board_use <= 1; NAN: none */
};
#define UF_LOAD_DEEPEST_M 20.0

/* Weight of the soil from grade to depth_m, the heavier of moist and soaked, Pa; the
   moist weight alone where the saturated one is not known. Errors: UF_E_INPUT where
   neither is. */
enum uf_status uf_load_soil_Pa(double *out, const struct uf_case *design,
                               const struct uf_column_soils *soils, double depth_m,
                               struct uf_error *err);

/* The same with the shares of that sum, under 1 m2, as dry where the moist weights are the heavier. */
enum uf_status uf_load_soil_shares(struct uf_column_log *out, const struct uf_case *design,
                                   const struct uf_column_soils *soils, double depth_m,
                                   struct uf_error *err);

/* The verdict goes by case.load_method where that reaches the board, else by the most adverse of the
   methods that apply there: the table for an H-20 wheel from 1 ft down, 1.75 H and the point load
   from 2 ft down, patch and 1.15 H everywhere. cover_from_m .. cover_to_m is the first
   stretch of covers, the board keeping its distance to the crown, at which the board
   holds. Errors: UF_E_INPUT naming the key for a strength or unit weight that is missing;
   UF_E_RANGE for a board that breaks the surface. */
enum uf_status uf_load(struct uf_load *out, const struct uf_case *design,
                       const struct uf_column_soils *soils, struct uf_error *err);

#endif
