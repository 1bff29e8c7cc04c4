#ifndef UF_STANDPIPE_H
#define UF_STANDPIPE_H

#include "shaft.h"

#include <stddef.h>

/* Water that stands in an upright pipe in the ground - a hydrant line, a suction line, a vent that
   fills - and whether it freezes shut. A fin in rows along its axis, each with its heat E from water
   at 0 degC:

     dE_i/dt = K (T_up - T_i) + K (T_down - T_i) + (T_ground,i - T_i) dz / R_i

   K = (k_water or k_ice x bore + k_wall x wall) / dz; R by uf_shaft_mK_W, and while a row freezes
   ln(r / r_front) / (2 pi k_ice) more, the front standing at 0 degC: quasi-steady freezing inward
   (London & Seban 1943; from memory). Water that is heavier than what lies below it turns over. Above
   the water the pipe is dry: its air mixes, and stands between the ground there, the cap and the
   water's surface. Ice and salt do not lower the freezing point and nothing is undercooled; the
   pipe's lower end lets no heat through. One step is backward Euler, exact in its heat. */

#define UF_STANDPIPE_ROWS 40

struct uf_standpipe_water {
    struct uf_shaft_side side;
    size_t n; /* rows of water, surface first; 0: it is dry */
    double top_m, row_m;
    double bore_m2, wall_m2, inner_m;
    double R_mK_W[UF_STANDPIPE_ROWS]; /* inner face to ground */
    double E_J[UF_STANDPIPE_ROWS];    /* heat of a row, its wall's with it */
    double T_degC[UF_STANDPIPE_ROWS]; /* 0 while it freezes */
    double ice[UF_STANDPIPE_ROWS];    /* share of the row's bore */
    double base_degC;                 /* temperature kept at the lower end; NAN: none */
    double cap_m2K_W;                 /* resistance of the cap without its films; 0: bare */
};

/* The ground beside it: temperature and conductivity (frozen) at a depth. */
struct uf_standpipe_ground {
    double (*degC)(const void *who, double depth_m);
    double (*W_mK)(const void *who, double depth_m);
    const void *who;
    double outside_degC; /* over the cap */
};

/* A pipe whose water stands from surface_m down to side->buried_m, at the ground's temperature,
   bare cap. */
void uf_standpipe_begin(struct uf_standpipe_water *pipe, const struct uf_shaft_side *side,
                        double surface_m, const struct uf_standpipe_ground *ground);

/* One step of time, s, of any length; an hour or so resolves a day. */
void uf_standpipe_step(struct uf_standpipe_water *pipe, const struct uf_standpipe_ground *ground,
                       double step_s);

/* Coldest content, degC; the most ice in any row, 1: frozen shut. Of a dry pipe NAN, 0. */
double uf_standpipe_coldest_degC(const struct uf_standpipe_water *pipe);
double uf_standpipe_most_ice(const struct uf_standpipe_water *pipe);

#endif
