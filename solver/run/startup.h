#ifndef UF_STARTUP_H
#define UF_STARTUP_H

#include "solver/heat/section.h"
#include "solver/time/season.h"

/* The state a place settles into when the same year comes again and again.

   Plain repetition takes decades: the slow mode of 15 m of ground shrinks by a fifth a year. Three
   things stand for it. One column of undisturbed ground, cheap, is brought to its periodic state.
   What tank, board and pit add to it in the mean of the year, y, follows from the year's mean flows
   W into the section at the column's temperatures, with K the year's mean conductances:

       K y = W

   From there the section runs a year, and the mean flow that is still missing is solved for and
   its correction dT added to the end state, V volumes, C heat capacities, H0 and H1 the enthalpies
   at the year's begin and end:

       K y = V (H1 - H0) / year
       (V C + year K / 2) dT = V C y

   Every linear mode shrinks to a twelfth or less.

   Of slices the plane section settles first, an eighth of the cells: what it comes to more than its own
   first guess (how its water lies, what froze) is added to theirs, and one corrected year is then enough.
   Nine designs: water and wall within 0.005 K of where two corrected years more lead, a bare crown 0.014 K.

   The section's year begins in late autumn and the run then goes on to the season's first day, so
   that what no linear correction gets right, a cell that froze in one year and not in the next, is
   healed by the winter and the summer that follow. A correction that does not shrink is taken by
   half as much, and by an eighth no more where frost stays. Where it stays from year to year, years are
   repeated plainly after that, at most twelve, six where their changes do not shrink by half. */
struct uf_startup_result {
    double left_K; /* guess of what is left, from the size of the last correction */
    double years; /* simulated years of the section (not of the plane one of slices): 1.75, or whole
                         years more */
    bool frost_stays; /* perennial frost: years were repeated plainly after the corrections */
};

struct uf_sparse; /* sparse.h */

/* K and V C + year K / 2 of a start-up, factored. */
struct uf_startup_matrices {
    struct uf_sparse *mean, *half; /* NULL: none */
};
void uf_startup_matrices_free(struct uf_startup_matrices *matrices); /* what they hold */

/* How a start is looked for. */
struct uf_startup_wish {
    double tolerance_K; /* as of uf_startup */
    /* Added to the first guess of a section's nodes [n], or NULL: what a neighbour, the same nodes with a
       little changed, settled to more than its own first guess. A good one spares a year; no less is
       asked of the corrections. */
    const double *shift_K;
    double *found_K; /* [n] or NULL: the same of this section */
    /* In place of what tank, board and pit are solved to add to the column of undisturbed ground, [n] or
       NULL: what a neighbour settled to more than its own column. Of one under like weather it leads
       nearer than solving, and costs nothing. */
    const double *beside_K;
    double *found_beside_K; /* [n] or NULL: the same of this section */
    /* Factored matrices of a neighbour to make corrections with, in place of its own, or NULL: they say how
       far a correction goes, not what is missing. Those of this section's last year into kept, or NULL. */
    const struct uf_startup_matrices *lent;
    struct uf_startup_matrices *kept;
    const double *plane_K; /* [n_plane] or NULL: of slices, the same of their plane section */
    size_t n_plane;
};

/* Leaves `season` (of `section`) at year->start_day in its periodic state under `year`
   (a periodic drive, whole days).
   design         for the column of undisturbed ground
   tolerance_K    largest difference from the periodic state anywhere, as far as the last
                  correction tells; at most eight corrected years are run
   Errors: those of the integrator; UF_E_STOPPED when the season's options ask for it. */
enum uf_status uf_startup(struct uf_season *season, const struct uf_section *section,
                          const struct uf_case *design, const struct uf_drive *year,
                          double tolerance_K, struct uf_startup_result *result,
                          struct uf_error *err);

/* The same, as wished. */
enum uf_status uf_startup_near(struct uf_season *season, const struct uf_section *section,
                               const struct uf_case *design, const struct uf_drive *year,
                               const struct uf_startup_wish *wish, struct uf_startup_result *result,
                               struct uf_error *err);

/* Mean temperature far below, by formula: where U of the top soil is the year's mean of
   U(T_surface), which is that mean over k_thawed where it is positive, and never leaves the
   range of the surface. Exact for ground of that soil without heat from below. degC */
double uf_startup_deep_degC(const struct uf_heat *heat, const struct uf_drive *year);

#endif
