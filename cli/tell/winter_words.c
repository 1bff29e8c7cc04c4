#include "winter_words.h"

#include <math.h>
#include <stdio.h>

/* A yearly cycle. */
static void cycle_words(char *text, size_t size, const struct uf_site_weather *weather,
                        enum uf_units units)
{
    double low_degC = INFINITY;
    double high_degC = -INFINITY;
    for (size_t i = 0; i < weather->weather.year_days; i++) {
        low_degC = fmin(low_degC, weather->weather.year_air_degC[i]);
        high_degC = fmax(high_degC, weather->weather.year_air_degC[i]);
    }
    (void)snprintf(text, size, "a yearly cycle, its days between %s and %s",
                   UF_TEXT(TEMPERATURE, units, low_degC), UF_TEXT(TEMPERATURE, units, high_degC));
}

/* A winter scaled to an index, a mean year, or one as recorded. */
static void season_words(char *text, size_t size, const struct uf_site_weather *weather,
                         enum uf_units units)
{
    const struct uf_winter_season *season = weather->season;
    const bool south = weather->winters != NULL && weather->winters->south;
    char label[16];
    char asked[64];
    (void)uf_winter_label(season->recorded_year, south, label, sizeof label);
    if (weather->winter.kind == UF_WINTER_RETURN) {
        (void)snprintf(asked, sizeof asked, "1 in %g winter", weather->winter.return_years);
    } else {
        (void)snprintf(asked, sizeof asked, "mean of the three coldest in thirty");
    }
    if (season->scale == 0.0) {
        (void)snprintf(text, size, "mean year, freezing index %s (mean of the winters %s)",
                       UF_TEXT(INDEX, units, season->got_index_degC_day),
                       UF_TEXT(INDEX, units, season->asked_index_degC_day));
    } else if (weather->winter.kind == UF_WINTER_RETURN ||
               weather->winter.kind == UF_WINTER_THREE_IN_THIRTY) {
        (void)snprintf(text, size,
                       "%s, freezing index %s: winter %s (%s) with its departure from "
                       "the mean year times %.3f",
                       asked, UF_TEXT(INDEX, units, season->asked_index_degC_day), label,
                       UF_TEXT(INDEX, units, season->recorded_index_degC_day), season->scale);
    } else {
        (void)snprintf(text, size, "winter %s as recorded, freezing index %s", label,
                       UF_TEXT(INDEX, units, season->recorded_index_degC_day));
    }
}

char *uf_winter_words(char *text, size_t size, const struct uf_site_weather *weather,
                      enum uf_units units)
{
    if (units == UF_UNITS_US && weather->season != NULL) {
        season_words(text, size, weather, units);
    } else if (units == UF_UNITS_US && weather->source == UF_SOURCE_CYCLE) {
        cycle_words(text, size, weather, units);
    } else {
        (void)snprintf(text, size, "%s", weather->text);
    }
    return text;
}
