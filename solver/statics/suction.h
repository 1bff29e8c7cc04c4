#ifndef UF_SUCTION_H
#define UF_SUCTION_H

#include "solver/design/case.h"

/* A suction pipe for fire use: can a pump draw the flow through it, and how much water is
   there. Total head H = static lift + loss of strainer and standpipe + loss of the pipe,
   by NRCS NE-ENG-76 (2004), whose tables hold 6, 8, 10 and 12 in. and 250, 500 and 750 gpm.
   Outside those its own laws are carried on, and the answer says so. Lengths and heads in m, flow in m3/s. */

struct uf_suction_input {
    double flow_m3_s;
    double pipe_m;   /* inside diameter */
    double length_m; /* straight pipe, standpipe to intake */
    size_t elbows_90, elbows_45, reducers;
    double pump_above_grade_m;    /* axis of the pump */
    double intake_above_invert_m; /* top of the strainer above the inside invert */
    double cover_m;               /* water kept over the intake; 2 ft by the method */
    double ice_m;                 /* thickness of ice on the water */
    double altitude_m;            /* of the site */
    double intake_loss_m; /* of strainer and standpipe at the flow, by their manufacturer; NAN: by
                             the method */
};
void uf_suction_init(struct uf_suction_input *input);

/* Loss of strainer and standpipe, by velocity head:

   h = 1.2 ft (Q / 250 gpm)^2 (6 in. / d)^4

   The published figure names no pipe; it is taken as that of 6 in., the least size of its
   table, which makes K = 9.6 velocity heads. */
double uf_suction_intake_loss_m(double flow_m3_s, double pipe_m);

/* Loss of head in a straight pipe and its fittings, m, by Manning's formula for a full pipe,

   h / L = 4^(10/3) n^2 Q^2 / (pi^2 d^(16/3)),   n = 0.010

   which is the law of the published table: with 250 gpm
   rounded to 0.558 ft3/s, as here, its rows come out within half a percent. Equivalent lengths: elbow
   of 90 degrees 20 ft, of 30 or 45 degrees 10 ft, reducer 10 ft. */
double uf_suction_pipe_loss_m(double flow_m3_s, double pipe_m, double length_m);
double uf_suction_equivalent_m(const struct uf_suction_input *input);

/* Head of the air at an altitude, m of water: 10.33 m at sea level, standard atmosphere. */
double uf_suction_air_m(double altitude_m);

struct uf_suction {
    double static_m, intake_loss_m, pipe_loss_m, total_m;
    double most_m, recommended_m, preferred_m; /* 22, 20, 15 ft less what the altitude takes */
    double greatest_static_m;                  /* 15 ft, NRCS Code 432 (South Dakota 2004) */
    bool ok, recommended, preferred, static_ok;
    bool published;      /* pipe of 6 to 12 in. and flow of 250 to 750 gpm: the published range */
    double full_m3;      /* in the tank at tank.contents.level */
    double available_m3; /* below the ice and above the lowest water the intake can use */
    double minutes;      /* of the flow that is; INFINITY at no flow */
    double two_hours_m3; /* the flow for two hours */
    bool enough;         /* available covers two hours */
};

/* The water is taken at its lowest: intake covered by cover_m. Errors: UF_E_INPUT naming the
   key. */
enum uf_status uf_suction(struct uf_suction *out, const struct uf_suction_input *input,
                          const struct uf_case *design, struct uf_error *err);

#endif
