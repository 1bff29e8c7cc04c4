#ifndef UF_SUCTION_H
#define UF_SUCTION_H

#include "solver/design/case.h"

/* A suction pipe for fire use: can a pump draw the flow through it, and how much water is
   there. Total head H = static lift + loss of strainer and standpipe + loss of the pipe,
   by NRCS NE-ENG-76 (2004). Lengths and heads in m, flow in m3/s. */

struct uf_suction_input {
    double flow_m3_s;
    double pipe_m;   /* nominal inside diameter: 6, 8, 10 or 12 in. */
    double length_m; /* straight pipe, standpipe to intake */
    size_t elbows_90, elbows_45, reducers;
    double pump_above_grade_m;    /* axis of the pump */
    double intake_above_invert_m; /* top of the strainer above the inside invert */
    double cover_m;               /* water kept over the intake; 2 ft by the method */
    double ice_m;                 /* thickness of ice on the water */
    double altitude_m;            /* of the site */
};
void uf_suction_init(struct uf_suction_input *input);

/* Loss of strainer and standpipe, 1.2 ft at 250 gpm and as the flow squared. */
double uf_suction_intake_loss_m(double flow_m3_s);

/* Loss of head in a straight pipe and its fittings, m; NAN for a size the table has not.
   Equivalent lengths: elbow of 90 degrees 20 ft, of 30 or 45 degrees 10 ft, reducer 10
   ft. */
double uf_suction_pipe_loss_m(double flow_m3_s, double pipe_m, double length_m);
double uf_suction_equivalent_m(const struct uf_suction_input *input);

/* Head of the air at an altitude, m of water: 10.33 m at sea level, standard atmosphere.
 */
double uf_suction_air_m(double altitude_m);

struct uf_suction {
    double static_m, intake_loss_m, pipe_loss_m, total_m;
    double most_m, recommended_m, preferred_m; /* 22, 20, 15 ft less what the altitude takes */
    double greatest_static_m;                  /* 15 ft, NRCS Code 432 (South Dakota 2004) */
    bool ok, recommended, preferred, static_ok;
    double full_m3;      /* in the tank at tank.contents.level */
    double available_m3; /* below the ice and above the lowest water the intake can use */
    double minutes;      /* of the flow that is; INFINITY at no flow */
    double two_hours_m3; /* the flow for two hours */
    bool enough;         /* available covers two hours */
};

/* The water is taken at its lowest: intake covered by cover_m. Errors: UF_E_INPUT naming
 * the key. */
enum uf_status uf_suction(struct uf_suction *out, const struct uf_suction_input *input,
                          const struct uf_case *design, struct uf_error *err);

#endif
