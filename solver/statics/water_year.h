#ifndef UF_WATER_YEAR_H
#define UF_WATER_YEAR_H

#include "column.h"
#include "solver/design/case.h"

/* The water table through a year, and the day on which the tank is held down least. */

struct uf_water_year {
    double month_m[12];         /* depth at the middle of each month; NAN: not given so */
    size_t n_months;            /* 12, or 0 */
    double mean_m, amplitude_m; /* a yearly wave instead; NAN mean: not given so */
    double highest_day;         /* day of the year on which the wave is highest, 1 to 366 */
};

/* Nothing given. */
void uf_water_year_init(struct uf_water_year *water);

/* Is there a level for every day: twelve months, or a wave? */
bool uf_water_year_given(const struct uf_water_year *water);

/* Depth below grade on a day of the year (1 = 1 January; fractions allowed), m. Months: straight
   between their middles, round the year's end. Wave (common practice, no source):

       z = mean - amplitude cos(2 pi (day - highest_day) / 365)

   NAN where nothing is given. */
double uf_water_year_depth_m(const struct uf_water_year *water, double day);

struct uf_water_year_least {
    int day;                 /* of the year, 1 to 365 */
    double depth_m, factor;  /* factor_submerged; NAN: nothing lifts all year */
    double month_factor[12]; /* least factor in each month; NAN as above */
};

/* Goes through the days of a year of 365; the higher the water, the lower the factor.
   Errors: UF_E_INPUT for months that are not twelve or a wave without amplitude or day;
   as uf_holddown_at. */
enum uf_status uf_water_year_least(struct uf_water_year_least *out,
                                   const struct uf_water_year *water, const struct uf_case *design,
                                   const struct uf_column_soils *soils, struct uf_error *err);

#endif
