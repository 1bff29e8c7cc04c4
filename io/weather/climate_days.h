#ifndef UF_CLIMATE_DAYS_H
#define UF_CLIMATE_DAYS_H

#include "climate_text.h"
#include "solver/weather/weather.h"

/* Days as a reader meets them, some of them absent, gathered into a record without holes. */

/* Beyond these no station has measured: common practice, no source. */
#define UF_CLIMATE_DAYS_LOWEST_DEGC  (-80.0)
#define UF_CLIMATE_DAYS_HIGHEST_DEGC 60.0
#define UF_CLIMATE_DAYS_DEEPEST_M    20.0

struct uf_climate_day {
    double mean_degC, min_degC, max_degC, snow_m; /* NAN = not read */
};

struct uf_climate_days {
    struct uf_climate_day *rows; /* [n], day start + i */
    long start;
    size_t n, room;
    size_t ahead; /* of the first rows, how many only keep room before the record */
};

/* The row of a day, in any order; days between it and the others are added, empty.

   Errors: UF_E_INPUT when the days then span more than 400 years. */
enum uf_status uf_climate_days_at(struct uf_climate_day **row, struct uf_climate_days *days,
                                  long day, const struct uf_climate_text *text,
                                  struct uf_error *err);

/* A record of the days. Mean air temperature where there is one, else half the sum of
   least and largest (usual for stations that read two thermometers). snow_m only where
   any was read. Errors: UF_E_INPUT when no day has a temperature. */
enum uf_status uf_climate_days_finish(struct uf_weather **out, const struct uf_climate_days *days,
                                      const struct uf_climate_text *text, struct uf_error *err);

void uf_climate_days_clear(struct uf_climate_days *days);

#endif
