#ifndef UF_RUN_PRIVATE_H
#define UF_RUN_PRIVATE_H

#include "run.h"
#include "soak.h"

struct uf_run {
    const struct uf_case *design;
    const struct uf_forcing *forcing;
    struct uf_run_options options;
    struct uf_section *section;
    struct uf_season *season;
    struct uf_soak *soak; /* where the groundwater moves; else NULL */
    struct uf_startup_result startup;
    double *found_K; /* [2][n] more than its first guess, than its column; NULL: no start-up */
    size_t day;
    bool settled; /* a brief run has ended */
    struct uf_summary summary;
    double surface_before_J, exchanged_J;
    struct uf_soak_water water_before; /* when the summary began */
    double changed_before_J;
    double vent_before_J, vent_loss_J, line_loss_J, wall_loss_J, held_before_J;
    double bottom_least_degC[2], bottom_most_degC[2]; /* lowest cells at the axis, far away */
    double *side_least_degC; /* [2 nz] coldest so far, row by row: outermost column, the next */
    int8_t *body;            /* [n_cells] what fills the tank there: enum uf_section_body */
    double *still_m3; /* [n_cells] unmixed water in each; NULL: the water is mixed or in rows */
    struct uf_run_standpipes *standpipes; /* NULL: there are none */
    double frost_now_m, frost_above_now_m, thaw_now_m, surface_now_W;
};

/* The options of a design's season: fewer steps under a board. */
struct uf_season_options uf_run_season_options(const struct uf_case *design,
                                               const struct uf_run_options *options);

/* run_profile.c: the first day of a measured profile, T_degC [n]. Below its lowest point, by
   initial.below:

     wave       undisturbed ground under the mean year, that day; what the lowest point reads
                beside it fades as exp(-z / d), d = sqrt(k year / (pi C)) of the thawed ground there
     line       straight on to what the mean year gives at the section's bottom
     constant   the lowest point's

   Errors: UF_E_INPUT where wave or line is asked of weather with no year; of the integrator. */
enum uf_status uf_run_start_from_profile(const struct uf_run *run, double *T_degC,
                                         struct uf_error *err);

/* run_watch.c: takes the extremes of the present day. */
void uf_run_watch_begin(struct uf_run *run);
void uf_run_watch(struct uf_run *run);
double uf_run_watch_balance(const struct uf_run *run); /* heat_balance_relative so far */
/* run_settled.c: can none of the coldest temperatures, of ice and frost get worse in the days that are left?
   Heat flows from warm to cold, so that no place gets colder than the coldest of the network and of what
   drives it from now on: where these are warmer than each of the coldest so far, and thawed, nothing can.
   Never said of a run with what has a state of its own: standpipes, groundwater that moves, water that is
   kept warm, inflow. */
bool uf_run_settled(const struct uf_run *run);

/* run_store.c: the node that a cell shows: its own, or that of the body in the tank there. */
size_t uf_run_shown_node(const struct uf_run *run, size_t cell);

/* run_line.c: depth of the 0 degC line in a column of a slice, m, 0 where nothing is frozen: over
   the tank that of the frost above it, down to its outline at most, by straight lines between centres
   of cells; elsewhere the deepest, by front.h. */
double uf_run_line_m(const struct uf_run *run, size_t column, size_t slice);

/* run_standpipe.c: the water in standpipes, beside the run. Errors: UF_E_MEMORY. */
enum uf_status uf_run_standpipes_begin(struct uf_run *run, struct uf_error *err);
void uf_run_standpipes_watch(struct uf_run *run, long day);

/* run_water.c: finds where unmixed water is. Errors: UF_E_MEMORY. */
enum uf_status uf_run_still_begin(struct uf_run *run, struct uf_error *err);
/* Coldest water; share of it that is ice; thickness of the ice, of layered water what
   floats at the top, else as an even ring on the wetted wall. */
double uf_run_water_degC(const struct uf_run *run);
double uf_run_ice_share(const struct uf_run *run);
double uf_run_ice_thickness_m(const struct uf_run *run, double ice_share);
double uf_run_wall_degC(const struct uf_run *run);
double uf_run_crown_degC(const struct uf_run *run); /* its inner face; NAN: no tank */

#endif
