#ifndef UF_CLIMATE_DAYS_H
#define UF_CLIMATE_DAYS_H

#include "climate_text.h"
#include "solver/weather.h"

/* Days as a reader meets them, some of them absent, gathered into a record without holes.
 */

struct uf_climate_day {
    double mean_degC, min_degC, max_degC, snow_m; /* NAN = not read */
};

struct uf_climate_days {
    struct uf_climate_day *rows; /* [n], day start + i */
    long start;
    size_t n, room;
};

/* The row of a day; days between the last one and it are added, empty. The first day
   asked for begins the record. Errors: UF_E_INPUT for a day before the first or 400 years
   after it. */
enum uf_status uf_climate_days_at(struct uf_climate_day **row,
                                  struct uf_climate_days *days, long day,
                                  const struct uf_climate_text *text,
                                  struct uf_error *err);

/* A record of the days. Mean air temperature where there is one, else half the sum of
   least and largest (usual for stations that read two thermometers). snow_m only where
   any was read. Errors: UF_E_INPUT when no day has a temperature. */
enum uf_status uf_climate_days_finish(struct uf_weather **out,
                                      const struct uf_climate_days *days,
                                      const struct uf_climate_text *text,
                                      struct uf_error *err);

void uf_climate_days_clear(struct uf_climate_days *days);

#endif
