#ifndef UF_SEASON_PRIVATE_H
#define UF_SEASON_PRIVATE_H

#include "season.h"

struct uf_season_range {
    double least_degC, most_degC;
};

/* A season in progress. H, T and the boundary heat are kept by season.c; an integrator moves
   them. */
struct uf_season {
    const struct uf_heat *heat;
    struct uf_season_options options;
    struct uf_drive drive;
    double day;
    double *H_J_m3, *T_degC;         /* [n] */
    struct uf_heat_budget heat_J;    /* through each boundary since creation */
    double set_stored_J, set_heat_J; /* at the last uf_season_set */
    double changed_J;                /* brought by changes of the network */
    struct uf_season_watch watch;
    struct uf_counters earlier;             /* of the integrators before the last change */
    struct uf_season_range driven, started; /* see uf_season_judge */
    struct uf_counters counters;
    const struct uf_stepper *stepper;
    void *state; /* the integrator's own */
};

/* An integrator: one row. advance moves H_J_m3, heat_J and day to `day`; restart forgets
   history after H_J_m3 was set from outside. */
struct uf_stepper {
    const char *name;
    enum uf_status (*create)(struct uf_season *season, struct uf_error *err);
    void (*restart)(struct uf_season *season);
    enum uf_status (*advance)(struct uf_season *season, double day, struct uf_error *err);
    void (*free)(struct uf_season *season);
    /* Leaves T_degC as well and has seen that it is in range; NULL: leaves H_J_m3 alone. false: that is
       not sure. */
    bool (*told)(struct uf_season *season);
};

/* season_range.c: take the ranges of a new drive and of a new start; what they allow. */
void uf_season_range_drive(struct uf_season *season);
void uf_season_range_start(struct uf_season *season);
struct uf_season_range uf_season_range_allowed(const struct uf_season *season, bool with_start);

/* Is nothing frozen, and can nothing freeze in a step under this outside? */
bool uf_season_stays_thawed(const struct uf_heat *heat, const double *H_J_m3,
                            const struct uf_heat_now *now);
/* The same in two: the outside, and the enthalpy that every node of a substance must be above. */
bool uf_season_drives_thawed(const struct uf_heat *heat, const struct uf_heat_now *now);
double uf_season_warm_J_m3(const struct uf_material *material);

/* Is the run to be given up? */
bool uf_season_stops(const struct uf_season *season);

extern const struct uf_stepper uf_season_fast_stepper, uf_season_bdf_stepper,
    uf_season_lanes_stepper;

/* season_fast.c: factors of stage j of s, 1 <= j <= s, of a step: mu, nu, mu~ tau, gamma~ tau of
   rkl2_step; of the first w_1 b_1 tau alone, as mu~ tau. */
void uf_season_fast_weights(double c[4], size_t j, size_t s, double step_s);

/* A step whose state leaves the range of what drives it is taken again in halves: the bound
   on the stages is one of linear steps, and a cell that freezes through between two stages is
   not. So often at most. */
enum { UF_SEASON_HALVINGS = 8 };

#endif
