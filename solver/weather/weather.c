#include "weather.h"

#include <math.h>
#include <stdlib.h>

static double *all_missing(size_t n)
{
    double *values = malloc((n > 0 ? n : 1) * sizeof *values);
    for (size_t i = 0; values != NULL && i < n; i++) {
        values[i] = NAN;
    }
    return values;
}

enum uf_status uf_weather_create(struct uf_weather **out, long start_day, size_t days,
                                 bool with_snow, struct uf_error *err)
{
    *out = NULL;
    struct uf_weather *weather = calloc(1, sizeof *weather);
    if (weather == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory for %zu days of weather", days);
    }
    weather->start_day = start_day;
    weather->days = days;
    weather->latitude_deg = weather->longitude_deg = weather->elevation_m = NAN;
    weather->air_degC = all_missing(days);
    weather->snow_m = with_snow ? all_missing(days) : NULL;
    if (weather->air_degC == NULL || (with_snow && weather->snow_m == NULL)) {
        uf_weather_free(weather);
        return uf_fail(err, UF_E_MEMORY, "no memory for %zu days of weather", days);
    }
    *out = weather;
    return UF_OK;
}

void uf_weather_free(struct uf_weather *weather)
{
    if (weather != NULL) {
        free(weather->air_degC);
        free(weather->snow_m);
        free(weather);
    }
}

/* Straight lines across the gaps of at most `longest` between two values; returns values put in. */
static size_t fill(double *values, size_t n, size_t longest)
{
    size_t filled = 0, last = n; /* n: no value met yet */
    for (size_t i = 0; i < n; i++) {
        if (isnan(values[i])) {
            continue;
        }
        const size_t gap = last < n ? i - last - 1 : 0;
        if (gap > 0 && gap <= longest) {
            const double slope = (values[i] - values[last]) / (double)(gap + 1);
            for (size_t k = 1; k <= gap; k++) {
                values[last + k] = values[last] + slope * (double)k;
            }
            filled += gap;
        }
        last = i;
    }
    return filled;
}

void uf_weather_fill(struct uf_weather *weather, size_t longest_days)
{
    weather->filled_days += fill(weather->air_degC, weather->days, longest_days);
    weather->missing_days = 0;
    for (size_t i = 0; i < weather->days; i++) {
        weather->missing_days += isnan(weather->air_degC[i]) ? 1 : 0;
    }
    if (weather->snow_m != NULL) {
        (void)fill(weather->snow_m, weather->days, longest_days);
    }
}
