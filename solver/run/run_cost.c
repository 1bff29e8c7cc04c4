#include "run_cost.h"

#include "run_private.h"
#include "solver/base/constants.h"
#include "solver/heat/spectrum.h"

#include <math.h>

/* Years that a start-up usually takes; see startup.h. */
static const double STARTUP_YEARS = 2.25;

/* For a cell and a day of the reference integrator. */
static const double REFERENCE_UPDATES = 200.0;

static double strongest_film_W_m2K(const struct uf_drive *drive)
{
    double most_W_m2K = 0.0;
    for (size_t d = 0; d < drive->days; d++) {
        most_W_m2K = fmax(most_W_m2K, drive->h_W_m2K[d]);
    }
    return most_W_m2K;
}

/* Right-hand sides of a stretch of weather. fastest_1_s: the network's, for the fast integrator. */
static double stretch(const struct uf_drive *drive, const struct uf_season_options *options,
                      double fastest_1_s)
{
    if (options->integrator == UF_BDF) {
        return REFERENCE_UPDATES * (double)drive->days;
    }
    const double pace = drive->steps_per_day > 0.0 ? drive->steps_per_day : options->steps_per_day;
    return (double)drive->days * pace * (double)uf_season_fast_stages(UF_DAY_S / pace, fastest_1_s);
}

double uf_run_cost_updates(const struct uf_case *design, const struct uf_forcing *forcing,
                           const struct uf_run_options *options)
{
    struct uf_section *section = NULL;
    const double frost_m = options->frost_m > 0.0
                               ? options->frost_m
                               : uf_run_frost_guess_m(design, forcing->freezing_degC_day);
    if (uf_section_create(&section, design, frost_m, NULL) != UF_OK) {
        return NAN;
    }
    const struct uf_season_options season = uf_run_season_options(design, options);
    const double film_W_m2K =
        fmax(strongest_film_W_m2K(&forcing->season), strongest_film_W_m2K(&forcing->year));
    const double fastest_1_s =
        season.integrator == UF_FAST ? uf_spectrum_fastest_1_s(section->heat, film_W_m2K) : 0.0;
    double rhs = stretch(&forcing->season, &season, fastest_1_s);
    if (design->initial.n_profile == 0 && options->start_degC == NULL && forcing->year.days > 0) {
        rhs += STARTUP_YEARS * stretch(&forcing->year, &season, fastest_1_s);
    }
    const double updates = rhs * (double)section->heat->n_cells;
    uf_section_free(section);
    return updates;
}
