#ifndef UF_WATER_YEAR_H
#define UF_WATER_YEAR_H

#include <stdbool.h>
#include <stddef.h>

/* The water table through a year. */
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

/* Day of the year on which a month (0 = January) of a year of 365 days begins; 12 closes it. */
int uf_water_year_month_day(int month);

/* Day of the year of a day number (days since 1970-01-01), 1 to 366. */
int uf_water_year_day(double day);

#endif
