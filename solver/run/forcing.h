#ifndef UF_FORCING_H
#define UF_FORCING_H

#include "solver/time/season.h"

/* Daily weather turned into what drives the ground's surface. */

/* Gap-free daily weather of a run: the season itself, and the year that is repeated
   before it (year_days 0: none, the run starts from a measured profile). */
struct uf_forcing_weather {
    long start_day; /* first day of both, days since 1970-01-01 */
    size_t days, year_days;
    const double *air_degC, *snow_m;           /* [days]; snow NULL: none */
    const double *year_air_degC, *year_snow_m; /* [year_days], the first is start_day's date */
};

struct uf_forcing {
    struct uf_drive season, year; /* arrays owned by block */
    double year_surface_degC;     /* mean temperature behind the film with no snow; NAN
                                     without a year */
    double freezing_degC_day;     /* sum of freezing degree-days of the season behind the film */
    double film_least_W_m2K;
    double *block;
};

/* Applies the surface's law day by day. Snow of fixed depth is taken to lie while the
   mean of the 30 days around is below 0 degC. Errors: UF_E_MEMORY, UF_E_INPUT when
   recorded snow is asked for and there is none. */
enum uf_status uf_forcing_create(struct uf_forcing **out, const struct uf_surface_input *surface,
                                 const struct uf_forcing_weather *weather, struct uf_error *err);
void uf_forcing_free(struct uf_forcing *forcing); /* NULL is fine */

#endif
