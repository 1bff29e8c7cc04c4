#ifndef UF_SEASON_H
#define UF_SEASON_H

#include "solver/base/counters.h"
#include "solver/heat/heat.h"

/* Time integration of a heat network. The caller owns the loop: create, set a state and a drive,
   advance, look, free. Two integrators behind one interface:

   UF_FAST   explicit super-time-stepping RKL2 (Meyer, Balsara & Aslam 2014, J. Comput. Phys. 257,
             594-626), fixed steps; stages from the network's largest eigenvalue, by power iteration
             with a twentieth to spare, at most its Gershgorin bound (uf_spectrum_fastest_1_s)
   UF_BDF    SUNDIALS CVODE, BDF up to order 2, error-controlled, Newton with a fresh matrix
             whenever a cell has changed its branch, factored by KLU

   Both keep enthalpy as the state and carry the boundary heat in the same scheme, so that heat in
   minus heat stored is a measure of the solver alone. */
enum uf_integrator { UF_FAST, UF_BDF };

/* What drives a run: one set of numbers a day, meant at noon, straight lines between. */
struct uf_drive {
    double start_day; /* day number of the first entry, days since 1970-01-01 */
    size_t days;
    double steps_per_day;       /* of the fast integrator; 0: as the season's options say */
    bool periodic;              /* wraps round after `days` */
    const double *outside_degC; /* [days] behind the film */
    const double *h_W_m2K; /* [days] film with snow; INFINITY: the surface itself is outside_degC */
    const double *air_degC; /* [days] for lids of risers */
    const double *snow_m;   /* [days] snow on the ground, or NULL: none */
};

/* Whether to give up, asked between two steps by the thread that runs; NULL: never. */
struct uf_stop {
    bool (*asked)(void *who);
    void *who;
};

struct uf_season_options {
    enum uf_integrator integrator;
    double steps_per_day;   /* fast: 1 to 24; 4 with weather, 1 or 2 on a smooth year */
    double rtol, atol_J_m3; /* bdf: 1e-4 and 0.1e6 */
    struct uf_stop stop;
    struct uf_lanes *lanes; /* the fast integrator beside those of others: lanes.h; NULL: alone */
};

/* The fast integrator and the values named in the struct. */
struct uf_season_options uf_season_defaults(void);

struct uf_season;

/* Asked before each whole day of a run whether the network is to change: see uf_season_change. */
struct uf_season_watch {
    enum uf_status (*day)(void *who, struct uf_season *season, struct uf_error *err);
    void *who;
};

/* heat is borrowed and must outlive the season. Errors: UF_E_MEMORY, UF_E_SOLVER. */
enum uf_status uf_season_create(struct uf_season **out, const struct uf_heat *heat,
                                const struct uf_season_options *options, struct uf_error *err);
void uf_season_free(struct uf_season *season); /* NULL is fine */

/* Sets the state at a time; counters and heat totals go on. T_degC [n] */
void uf_season_set(struct uf_season *season, double day, const double *T_degC);

/* Drive from now on; the struct is copied, its arrays borrowed. */
void uf_season_drive(struct uf_season *season, const struct uf_drive *drive);

/* Whom to ask from now on; day NULL: nobody. */
void uf_season_watch(struct uf_season *season, const struct uf_season_watch *watch);

/* Lets change alter the network in its place: the same nodes, other substances and links. Every node
   keeps its temperature; what its enthalpy gains or loses by that is a boundary's heat of its own,
   counted by uf_season_changed_J and in no budget, and none of it is a leak.
   Errors: those of change, memory. */
enum uf_status uf_season_change(struct uf_season *season,
                                enum uf_status (*change)(void *who, struct uf_error *err),
                                void *who, struct uf_error *err);

/* Heat that changes of the network have brought since creation, J. */
double uf_season_changed_J(const struct uf_season *season);

/* Runs to `day`, and judges the state there. Errors: UF_E_SOLVER with the day reached,
   UF_E_MEMORY; UF_E_STOPPED, after which the season waits for a uf_season_set. */
enum uf_status uf_season_advance(struct uf_season *season, double day, struct uf_error *err);

/* Heat flows from warm to cold, so that no temperature leaves the range of what drives it:
   the outside, the air where a riser meets it, 0 degC under snow, inflow, what is held, heat
   from below (its flux times the largest resistance of a column beyond), and with_start the
   state last set. A kelvin beyond is allowed. Errors: UF_E_SOLVER that says where, when, how far. */
enum uf_status uf_season_judge(const struct uf_season *season, bool with_start,
                               struct uf_error *err);

/* Stages that a step of the fast integrator takes where the network's fastest rate is so. */
size_t uf_season_fast_stages(double step_s, double fastest_1_s);

/* The options it was made with, borrowed. */
const struct uf_season_options *uf_season_asked(const struct uf_season *season);

/* The day reached, days since 1970-01-01, with its fraction. */
double uf_season_day(const struct uf_season *season);

/* Temperature in degC and enthalpy in J/m3 of every node of the network, [n] in the order
   of its nodes. Borrowed, good until the next call with this season. */
const double *uf_season_T_degC(const struct uf_season *season);
const double *uf_season_H_J_m3(const struct uf_season *season);

/* Heat through the boundaries since creation, J, by boundary. */
struct uf_heat_budget uf_season_heat_J(const struct uf_season *season);

/* Heat put in less heat stored since the last uf_season_set, J, and heat exchanged at the
   surface in that time (sum of the daily amounts without sign), J. */
double uf_season_leak_J(const struct uf_season *season);

/* Steps, evaluations and matrices since creation. Plain copy. */
struct uf_counters uf_season_counters(const struct uf_season *season);

/* The outside at an instant, from a drive: temperatures on straight lines between the
   noons, the first and the last held beyond them unless the drive is periodic; film and
   snow are those of a whole day. day in days since 1970-01-01. */
struct uf_heat_now uf_season_now(const struct uf_drive *drive, double day);

#endif
