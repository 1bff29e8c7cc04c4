#ifndef UF_STARTUP_PRIVATE_H
#define UF_STARTUP_PRIVATE_H

#include "soak.h"
#include "startup.h"

/* When to stop: share of a correction that is left below the tolerance, or so many years. yields: or
   where frost stays and corrections keep swinging, to years as they come. */
struct uf_startup_convergence {
    double tolerance_K, share, most;
    bool yields;
    const struct uf_startup_matrices *lent; /* of uf_startup_wish */
    struct uf_startup_matrices *kept;
};

/* Years until share x correction is below the tolerance, at most `most`. Where groundwater moves the
   network does not stay the same: that of mid-winter stands for it in the corrections, which only
   have to lead somewhere near. */
enum uf_status uf_startup_repeat(struct uf_season *season, const struct uf_section *section,
                                 const struct uf_case *design, const struct uf_drive *year,
                                 const struct uf_startup_convergence *criterion,
                                 struct uf_startup_result *result, struct uf_error *err);

/* Rows of water that overturn once or twice a year are one body to what repeats year by year:
   a conductance between them far above the water's own. */
#define UF_STARTUP_JOINED_W_K 10.0
#define UF_STARTUP_FIXED_W_K  1e30 /* weight of a node that no correction moves */

/* A matrix that fits a network. */
enum uf_status uf_startup_matrix(struct uf_sparse **out, const struct uf_heat *heat,
                                 struct uf_error *err);

/* A node that no correction moves: out of use, or kept at its temperature. */
bool uf_startup_fixed(const struct uf_heat *heat, size_t node);

/* The end of part k of a year. Whole days, so that the steps are those of any other run. */
double uf_startup_sample_day(const struct uf_drive *year, double start_day, int k, int parts);

/* startup_guess.c: the section at begin_day, the column's rows and what tank, board and pit add to them,
   or what wish has for that. T_degC [n + nz]; undisturbed_degC [n]: the rows alone; season: the one
   that will run it, for whom stops it. */
enum uf_status uf_startup_guess(const struct uf_season *season, const struct uf_section *section,
                                const struct uf_case *design, const struct uf_drive *year,
                                double begin_day, const struct uf_startup_wish *wish,
                                double *T_degC, double *undisturbed_degC, struct uf_error *err);

/* startup_plane.c: adds to the first guess of slices, T_degC [n], what the plane section of the design
   settles to more than its own: between the tank's ends the plane's cells, past them those as far past its
   side; the bodies' where both have the same ones. season: of the slices, for its options.
   wish: of the slices; with its plane_K nothing is run. */
enum uf_status uf_startup_plane(double *T_degC, const struct uf_season *season,
                                const struct uf_section *slices, const struct uf_case *design,
                                const struct uf_drive *year, const struct uf_startup_wish *wish,
                                struct uf_error *err);

/* A season's corrected years from a first guess, with shift_K [n] (NULL: none) more; at begin_day, the
   longer steps of repeated years behind it. found_K [n] (or NULL): what it settled to more than the guess. */
enum uf_status uf_startup_settle(struct uf_season *season, const struct uf_section *section,
                                 const struct uf_case *design, const struct uf_drive *year,
                                 const struct uf_startup_wish *wish,
                                 struct uf_startup_result *result, struct uf_error *err);

/* Days from the first of the year to the one at which its corrections are made: at least
   one, at most all. */
double uf_startup_begin_after_days(const struct uf_drive *year);

/* One column of undisturbed ground. */
struct uf_startup_column {
    struct uf_section *section;
    struct uf_season *season;
    struct uf_soak *soak; /* where the groundwater moves */
    struct uf_stop stop;
    struct uf_lanes *lanes; /* as of the section's season */
};
void uf_startup_column_free(struct uf_startup_column *column);

/* Makes the column that goes with a section and brings it to its periodic state at
   begin_day. column has its stop alone; it is to be freed in any case. rows_degC [nz] is
   work space. */
enum uf_status uf_startup_column_settle(struct uf_startup_column *column,
                                        const struct uf_section *section,
                                        const struct uf_case *design, const struct uf_drive *year,
                                        double begin_day, double *rows_degC, struct uf_error *err);

/* Is there frost under thawed ground, left from an earlier winter, or in the lowest row? */
bool uf_startup_frost_stays(const struct uf_heat *heat, const double *T_degC);

/* Years as they come, until one ends within the tolerance of where it began. What is left
   then is the rest of a geometric series of the yearly changes. A correction that is right
   for heat does not know which cell of lasting frost it tips over. */
enum uf_status uf_startup_repeat_plainly(struct uf_season *season, const struct uf_heat *heat,
                                         const struct uf_drive *year, double tolerance_K,
                                         struct uf_startup_result *result, struct uf_error *err);

#endif
