#include "climate_ghcn.h"

#include "solver/base/constants.h"

#include <math.h>
#include <string.h>

#define MISSING (-9999.0)

const struct uf_climate_ghcn_units uf_climate_ghcn_tenths = {"tenths of degC", 0.1, 0.0, 0.001};
const struct uf_climate_ghcn_units uf_climate_ghcn_metric = {"degC", 1.0, 0.0, 0.001};
const struct uf_climate_ghcn_units uf_climate_ghcn_us = {"degF", 5.0 / 9.0, -160.0 / 9.0,
                                                         UF_INCH_M};

enum uf_status uf_climate_ghcn_wants(bool *wanted, struct uf_climate_ghcn *ghcn,
                                     const char *station, const struct uf_climate_text *text,
                                     struct uf_error *err)
{
    char shown[48];
    *wanted = false;
    if (ghcn->asked[0] != '\0' && strcmp(station, ghcn->asked) != 0) {
        return UF_OK;
    }
    if (ghcn->station[0] == '\0') {
        uf_climate_text_copy(ghcn->station, sizeof ghcn->station, station);
    } else if (strcmp(station, ghcn->station) != 0) {
        return uf_climate_text_fail(
            text, err, "a second station, %s, after %s: name one of them as the column",
            uf_climate_text_shown(station, shown), ghcn->station);
    }
    *wanted = true;
    return UF_OK;
}

/* Where a value of that element goes, and in what range it must lie; NULL: not of ours. */
static double *place_of(struct uf_climate_day *row, const char *element, double *lowest,
                        double *highest)
{
    const struct {
        const char *element;
        double *to, lowest, highest;
    } places[] = {
        {"TMAX", &row->max_degC, UF_CLIMATE_DAYS_LOWEST_DEGC, UF_CLIMATE_DAYS_HIGHEST_DEGC},
        {"TMIN", &row->min_degC, UF_CLIMATE_DAYS_LOWEST_DEGC, UF_CLIMATE_DAYS_HIGHEST_DEGC},
        {"TAVG", &row->mean_degC, UF_CLIMATE_DAYS_LOWEST_DEGC, UF_CLIMATE_DAYS_HIGHEST_DEGC},
        {"SNWD", &row->snow_m, 0.0, UF_CLIMATE_DAYS_DEEPEST_M},
    };
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        if (strncmp(element, places[i].element, 4) == 0) {
            *lowest = places[i].lowest;
            *highest = places[i].highest;
            return places[i].to;
        }
    }
    return NULL;
}

enum uf_status uf_climate_ghcn_put(struct uf_climate_ghcn *ghcn, long day, const char *element,
                                   double value, char quality, const struct uf_climate_text *text,
                                   struct uf_error *err)
{
    struct uf_climate_day *row = NULL, other = {NAN, NAN, NAN, NAN};
    double lowest = 0.0, highest = 0.0;
    if (place_of(&other, element, &lowest, &highest) == NULL || value <= MISSING) {
        return UF_OK;
    }
    if (quality != ' ') {
        ghcn->flagged++;
        return UF_OK;
    }
    const double in_SI = strncmp(element, "SNWD", 4) == 0
                             ? value * ghcn->units->snow_m
                             : value * ghcn->units->temperature + ghcn->units->freezing_degC;
    if (!(in_SI >= lowest && in_SI <= highest)) {
        ghcn->outside++;
        return UF_OK;
    }
    const enum uf_status status = uf_climate_days_at(&row, &ghcn->days, day, text, err);
    if (status != UF_OK) {
        return status;
    }
    double *to = place_of(row, element, &lowest, &highest);
    if (!isnan(*to) && *to != in_SI) {
        return uf_climate_text_fail(text, err, "a second value of %.4s for one day: keep one",
                                    element);
    }
    *to = in_SI;
    return UF_OK;
}

enum uf_status uf_climate_ghcn_finish(struct uf_weather **out, struct uf_climate_ghcn *ghcn,
                                      const struct uf_climate_text *text, struct uf_error *err)
{
    size_t averaged = 0, crossed = 0;
    for (size_t i = 0; i < ghcn->days.n; i++) {
        struct uf_climate_day *row = &ghcn->days.rows[i];
        if (row->min_degC > row->max_degC) {
            row->min_degC = row->max_degC = NAN;
            crossed++;
        }
        if (!isnan(row->min_degC) && !isnan(row->max_degC)) {
            row->mean_degC = NAN;
        }
        averaged += isnan(row->mean_degC) ? 0 : 1;
    }
    const enum uf_status status = uf_climate_days_finish(out, &ghcn->days, text, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_weather *weather = *out;
    (void)snprintf(weather->station, sizeof weather->station, "%s", ghcn->station);
    (void)snprintf(weather->source, sizeof weather->source, "NOAA NCEI, GHCN-Daily");
    (void)snprintf(
        weather->licence, sizeof weather->licence,
        "US government data, public domain; records of other countries under their own terms");
    char *note = weather->note;
    const size_t size = sizeof weather->note;
    uf_climate_text_count(note, size, ghcn->flagged, "values left out by their quality flag");
    uf_climate_text_count(note, size, ghcn->outside, "impossible values left out");
    uf_climate_text_count(note, size, crossed, "days with TMIN above TMAX, left out");
    uf_climate_text_count(note, size, averaged, "days from TAVG for want of TMIN or TMAX");
    return UF_OK;
}
