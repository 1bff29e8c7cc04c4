#ifndef UF_RUN_H
#define UF_RUN_H

#include "forcing.h"
#include "record.h"
#include "solver/heat/section.h"
#include "startup.h"

/* One design through one season: builds the section, starts from the repeated mean year
   (or the measured profile), and steps day by day, keeping the extremes. The caller owns
   the loop:

       uf_run_create(&run, &design, forcing, &options, &err);
       while (uf_run_next(run, &err) == UF_OK && !uf_run_done(run)) { ... } */
struct uf_run_options {
    struct uf_season_options season;
    double startup_tolerance_K; /* 0.02 */
    bool inflow;                /* count the tank's inflow; off for the verdict */
    bool brief; /* ends once nothing that gets coldest, freezes or thaws can do so any more: what a
                   limit asks is known; what needs the whole season (heat balance, reach of the domain,
                   swing at its bottom) is of the days that were run */
    double frost_m;           /* rows are fine down to it; 0: guessed from the season's frost */
    const double *start_degC; /* [n_start] nodes of the very same section to start from,
                                 in place of the start-up; NULL: none. Borrowed */
    size_t n_start;
    const double
        *shift_K; /* [n_shift] what a neighbour of the very same nodes settled to more than its
                              first guess (uf_run_startup_found): added to this one's, which may spare
                              its start-up a year. NULL: nothing; other nodes: left alone. Borrowed */
    size_t n_shift;
    const double
        *beside_K; /* [n_beside] what a neighbour of the very same nodes settled to more than its
                               column of undisturbed ground (uf_run_startup_beside), in place of a first
                               guess of its own. NULL, or other nodes: nothing. Borrowed */
    size_t n_beside;
    const struct uf_startup_matrices
        *lent;                        /* of that neighbour, for corrections; NULL: none. Borrowed */
    struct uf_startup_matrices *kept; /* this one's, the caller's to free; NULL: not wanted */
    const double
        *plane_K; /* [n_plane] of a design with slices: what its plane section found under the
                              same mean year, so that it is not run again. NULL: it is. Borrowed */
    size_t n_plane;
};

/* The values named in the struct, the fast integrator, no inflow, no start of one's own. */
struct uf_run_options uf_run_defaults(void);

struct uf_run;

/* design and forcing are borrowed until the run is freed.
   Errors: UF_E_INPUT for ground that stays frozen all year (mean surface at or below 0
   degC with no initial profile); those of soils, grid, integrator and memory. */
enum uf_status uf_run_create(struct uf_run **out, const struct uf_case *design,
                             const struct uf_forcing *forcing, const struct uf_run_options *options,
                             struct uf_error *err);
void uf_run_free(struct uf_run *run); /* NULL is fine */

/* Advances one day and takes the day's extremes. Not to be called once the run is done.
   Errors: UF_E_SOLVER, UF_E_MEMORY. */
enum uf_status uf_run_next(struct uf_run *run, struct uf_error *err);

/* Has the last day of the forcing been run, or a brief run ended before it? */
bool uf_run_done(const struct uf_run *run);

/* Days of the run in all, without the start-up, and those that are done. */
size_t uf_run_days(const struct uf_run *run);
size_t uf_run_day(const struct uf_run *run);

/* What came of it so far. Plain copy. */
struct uf_summary uf_run_summary(const struct uf_run *run);

/* Begins a new summary from the present day on; the state and the counters go on. */
void uf_run_forget(struct uf_run *run);

/* How the start was found: years repeated, what was still changing. Plain copy. */
struct uf_startup_result uf_run_startup(const struct uf_run *run);

/* What the start-up settled to more than its first guess, K, [*n] nodes; NULL where there was none.
   Borrowed from the run. */
const double *uf_run_startup_found(const struct uf_run *run, size_t *n);

/* What it settled to more than the column of undisturbed ground, in the same way. */
const double *uf_run_startup_beside(const struct uf_run *run, size_t *n);

/* Section and season for those who want to look closer; borrowed. */
const struct uf_section *uf_run_section(const struct uf_run *run);
const struct uf_season *uf_run_season(const struct uf_run *run);

/* An empty record that fits the run: every `every`-th day; keep: bits of enum uf_record_keep. */
enum uf_status uf_run_record(struct uf_record **out, const struct uf_run *run, size_t every,
                             unsigned keep, struct uf_error *err);

/* The same for series of so many days. */
enum uf_status uf_run_record_days(struct uf_record **out, const struct uf_run *run, size_t days,
                                  struct uf_error *err);

/* Writes the present day into entry `at` of a record. */
void uf_run_store(const struct uf_run *run, struct uf_record *record, size_t at);

/* The whole of it: create, run, summary; record may be NULL, *record is NULL after a failure. stop (may be NULL) is asked
   once a day whether to give up with UF_E_STOPPED. */
enum uf_status uf_run_all(struct uf_summary *summary, struct uf_record **record,
                          const struct uf_case *design, const struct uf_forcing *forcing,
                          const struct uf_run_options *options, bool (*stop)(void),
                          struct uf_error *err);

/* Upper guess of the frost depth for the grid, m, with the layer that lets frost deepest, between 1
   and 4.5 m; Stefan:

       X = sqrt(2 k F / L) */
double uf_run_frost_guess_m(const struct uf_case *design, double freezing_degC_day);

#endif
