#ifndef UF_STARTUP_H
#define UF_STARTUP_H

#include "season.h"
#include "section.h"

/* The state a place settles into when the same year comes again and again.

   Plain repetition takes decades: the slow mode of 15 m of ground shrinks by a fifth a
   year. After each year the mean flow that is still missing is solved for: with K the
   year's mean conductance matrix, K y = V (H1 - H0) / year, then (V C + year K / 2) dT =
   V C y is added to the end state; every linear mode shrinks to a twelfth or less. First
   one column of undisturbed ground, then the section, begun from the column. */
struct uf_startup_result {
    double last_correction_K; /* size of the last correction: an upper guess of what is
                                 left */
    double years;             /* simulated years of the section */
};

/* Leaves `season` (of `section`) at start_day in its periodic state under `year`
   (periodic drive). design    for the column of undisturbed ground tolerance_K   the
   correction below which it stops; at least two years are run, at most eight Errors:
   those of the integrator. */
enum uf_status uf_startup(struct uf_season *season, const struct uf_section *section,
                          const struct uf_case *design, const struct uf_drive *year,
                          double tolerance_K, struct uf_startup_result *result,
                          struct uf_error *err);

/* Mean temperature far below, by formula: the year's mean of U(T_surface) / k_thawed of
   the top soil. Exact for a layer of constant k frozen and thawed without heat from
   below. degC */
double uf_startup_deep_degC(const struct uf_heat *heat, const struct uf_drive *year);

#endif
