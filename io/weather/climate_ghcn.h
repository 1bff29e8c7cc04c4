#ifndef UF_CLIMATE_GHCN_H
#define UF_CLIMATE_GHCN_H

#include "climate_days.h"

/* Values of NOAA's GHCN-Daily as its several files hold them: one station, element by
   element. Source: the data set's own readme, section III: TMAX, TMIN and TAVG in tenths
   of degC, SNWD in mm, -9999 = missing; a quality flag that is not blank marks a value
   that failed a check. */

#define UF_CLIMATE_GHCN_ID_SIZE 24

struct uf_climate_ghcn_units {
    const char *name;                          /* as in a note `# units: degF` */
    double temperature, freezing_degC, snow_m; /* degC = temperature * value + freezing */
};

/* The data set's own units (tenths of degC), then degC with mm, then degF with inches. */
extern const struct uf_climate_ghcn_units uf_climate_ghcn_tenths, uf_climate_ghcn_metric,
    uf_climate_ghcn_us;

struct uf_climate_ghcn {
    struct uf_climate_days days;
    const struct uf_climate_ghcn_units *units;
    const char *asked;                     /* station asked for, "" = the only one */
    char station[UF_CLIMATE_GHCN_ID_SIZE]; /* the one that is read */
    size_t flagged, outside;               /* values left out: quality flag; impossible */
};

/* Is this line of the station that is read? Errors: UF_E_INPUT for a second station when
   none was asked for. */
enum uf_status uf_climate_ghcn_wants(bool *wanted, struct uf_climate_ghcn *ghcn,
                                     const char *station, const struct uf_climate_text *text,
                                     struct uf_error *err);

/* Takes one value of a day. element: its four letters, others than the four above are
   passed over. quality: the flag, ' ' = passed all checks. Errors: UF_E_INPUT for a
   second, different value of the same day. */
enum uf_status uf_climate_ghcn_put(struct uf_climate_ghcn *ghcn, long day, const char *element,
                                   double value, char quality, const struct uf_climate_text *text,
                                   struct uf_error *err);

/* The record: half the sum of TMIN and TMAX, TAVG on days that lack one of them; station,
   source, licence and note filled. Errors: UF_E_INPUT when there is no temperature. */
enum uf_status uf_climate_ghcn_finish(struct uf_weather **out, struct uf_climate_ghcn *ghcn,
                                      const struct uf_climate_text *text, struct uf_error *err);

#endif
