#ifndef UF_LIFTING_H
#define UF_LIFTING_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* Slings from one hook to two or four picks of the empty tank. An angle is named by what
   it is measured from: the horizontal, the vertical, or between two opposite legs
   (included). */

struct uf_lifting_input {
    size_t picks;      /* 2 or 4; 0: not given */
    double spacing_m;  /* along the tank, from pick to pick */
    double width_m;    /* across, four picks only */
    double sling_m;    /* length of one leg; NAN: not given */
    double hoist_N;    /* capacity at the reach it is used at; NAN: not given */
    double rigging_kg; /* hook block, slings, shackles; 0 */
    double mass_kg;    /* what is lifted; NAN: the tank's empty mass */
};

/* Nothing given, no rigging. */
void uf_lifting_init(struct uf_lifting_input *input);

#define UF_LIFTING_LEAST_RAD     0.52359877559829887 /* 30 degrees from the horizontal, ASME B30.9 */
#define UF_LIFTING_PREFERRED_RAD 1.04719755119659775 /* 60 degrees from the horizontal */

struct uf_lifting_legs {
    double from_horizontal_rad, from_vertical_rad, included_rad;
    double two_N;           /* each leg when two carry it all: two picks, or a rigid load on four */
    double three_N, four_N; /* four picks only, for comparison; NAN */
    double headroom_m;      /* hook to the picks */
    bool allowed;           /* at least 30 degrees from the horizontal */
    bool preferred;         /* at least 60 degrees from the horizontal */
};

struct uf_lifting {
    double load_N;                   /* hanging from the legs */
    double reach_m;                  /* hook to pick, horizontal */
    double least_sling_m;            /* for 60 degrees included = 60 from the horizontal */
    struct uf_lifting_legs at_least; /* with that sling */
    struct uf_lifting_legs given;    /* with the sling given; NAN where it is not */
    double hoist_use;                /* load and rigging over capacity; NAN: not given */
};

/* Tension of each of n legs carrying load_N, N:

       T = load / (n sin(angle from the horizontal)) */
double uf_lifting_leg_N(double load_N, double legs, double from_horizontal_rad);

/* empty_mass_kg stands in where the input has no mass.
   Errors: UF_E_INPUT naming the key for what is missing; UF_E_RANGE for a sling that does
   not reach. */
enum uf_status uf_lifting(struct uf_lifting *out, const struct uf_lifting_input *input,
                          double empty_mass_kg, struct uf_error *err);

#endif
