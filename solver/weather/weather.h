#ifndef UF_WEATHER_H
#define UF_WEATHER_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* A station's daily record, gaps and all. Day i is start_day + i (days since 1970-01-01). */
struct uf_weather {
    long start_day;
    size_t days;
    double *air_degC; /* [days] daily mean; NAN = missing */
    double *snow_m;   /* [days] depth on the ground; NULL when the file has none; NAN =
                         missing */
    char station[128], source[256], licence[256];
    double latitude_deg, longitude_deg; /* north and east positive; NAN: not stated */
    double elevation_m;                 /* NAN: not stated */
    bool typical_year;   /* months put together from several years: no winter of its own */
    size_t filled_days;  /* short gaps that were filled (air) */
    size_t missing_days; /* without air, once short gaps were filled */
    char note[512];      /* what a reader found worth telling, "" */
};

/* Empty record of n days from start_day, all NAN. with_snow: allocate snow_m too. */
enum uf_status uf_weather_create(struct uf_weather **out, long start_day, size_t days,
                                 bool with_snow, struct uf_error *err);
void uf_weather_free(struct uf_weather *weather); /* NULL is fine */

/* Fills gaps of air of at most longest_days by a straight line between their neighbours,
   and snow gaps likewise; counts the filled air days in weather->filled_days
   and those still without in weather->missing_days. */
void uf_weather_fill(struct uf_weather *weather, size_t longest_days);

#endif
