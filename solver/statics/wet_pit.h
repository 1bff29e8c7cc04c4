#ifndef UF_WET_PIT_H
#define UF_WET_PIT_H

#include "column.h"
#include "solver/design/case.h"

/* What water in the open pit does before the cover is on, and how much water to leave in
   the tank against it. The pit is taken as full to grade, the worst it can be. */

struct uf_wet_pit_stage {
    const char *name;   /* for people, static */
    double fill_m;      /* depth of the fill's surface */
    double factor;      /* factor_submerged, tank empty; NAN: nothing lifts */
    double floats_at_m; /* water above the invert that floats the empty tank; NAN: none
                           can */
    double inside_m;    /* depth of water inside that keeps the required factor, 0: none is
                        needed; NAN: a full tank is not enough */
    double inside_m3;
};
#define UF_WET_PIT_STAGES 4

struct uf_wet_pit {
    double required;                                   /* the factor asked for */
    struct uf_wet_pit_stage stages[UF_WET_PIT_STAGES]; /* set, and
                                                          strapped where there are straps;
                                                          filled to the widest level, the
                                                          crown, grade */
};

/* One stage: out->name and out->fill_m are read, the rest is filled for water in the pit up to
   water_m below grade. Errors as uf_holddown_at. */
enum uf_status uf_wet_pit_stage(struct uf_wet_pit_stage *out, const struct uf_case *design,
                                const struct uf_column_soils *soils, double water_m,
                                struct uf_error *err);

/* Errors as uf_holddown_at. Water held is counted as in EM 1110-2-2100: (N + gamma_w V) / U. */
enum uf_status uf_wet_pit(struct uf_wet_pit *out, const struct uf_case *design,
                          const struct uf_column_soils *soils, struct uf_error *err);

/* Depth of water inside so that (N + gamma_w V(depth)) / U reaches the factor, N and U in
   N. 0: none is needed; NAN: a full tank is not enough. A temporary measure: the tank
   must stay so filled. */
double uf_wet_pit_inside_m(const struct uf_tank *tank, double uplift_N, double holddown_N,
                           double factor);

#endif
