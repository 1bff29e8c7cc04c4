#ifndef UF_WATER_LEAST_H
#define UF_WATER_LEAST_H

#include "column.h"
#include "solver/design/case.h"

/* The day of the year on which the tank is held down least. */

struct uf_water_least {
    int day;                 /* of the year, 1 to 365 */
    double depth_m, factor;  /* factor_submerged; NAN: nothing lifts all year */
    double month_factor[12]; /* least factor in each month; NAN as above */
};

/* Goes through the days of a year of 365 of ground.year; the higher the water, the lower the factor.
   Errors: UF_E_INPUT for months that are not twelve or a wave without amplitude or day;
   as uf_holddown_at. */
enum uf_status uf_water_least(struct uf_water_least *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, struct uf_error *err);

#endif
