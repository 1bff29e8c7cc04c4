#include "climate_days.h"

#include <math.h>
#include <stdlib.h>

#define MOST_DAYS 146097 /* 400 years: longer is a slip in a date */

static enum uf_status grow(struct uf_climate_days *days, size_t n, struct uf_error *err)
{
    if (n > days->room) {
        const size_t room = n + n / 2 + 1024;
        struct uf_climate_day *rows = realloc(days->rows, room * sizeof *rows);
        if (rows == NULL) {
            return uf_fail(err, UF_E_MEMORY, "no memory for %zu days of weather", room);
        }
        days->rows = rows;
        days->room = room;
    }
    for (; days->n < n; days->n++) {
        days->rows[days->n] = (struct uf_climate_day){NAN, NAN, NAN, NAN};
    }
    return UF_OK;
}

enum uf_status uf_climate_days_at(struct uf_climate_day **row,
                                  struct uf_climate_days *days, long day,
                                  const struct uf_climate_text *text,
                                  struct uf_error *err)
{
    if (days->n == 0) {
        days->start = day;
    }
    if (day < days->start) {
        return uf_climate_text_fail(text, err,
                                    "a date before the first of the file: sort by date");
    }
    if (day - days->start >= MOST_DAYS) {
        return uf_climate_text_fail(
            text, err, "a date 400 years after the first of the file: correct it");
    }
    const size_t i = (size_t)(day - days->start);
    const enum uf_status status = i >= days->n ? grow(days, i + 1, err) : UF_OK;
    *row = status == UF_OK ? &days->rows[i] : NULL;
    return status;
}

enum uf_status uf_climate_days_finish(struct uf_weather **out,
                                      const struct uf_climate_days *days,
                                      const struct uf_climate_text *text,
                                      struct uf_error *err)
{
    size_t with_air = 0, with_snow = 0;
    *out = NULL;
    for (size_t i = 0; i < days->n; i++) {
        with_snow += isnan(days->rows[i].snow_m) ? 0 : 1;
    }
    struct uf_weather *weather = NULL;
    const enum uf_status status =
        uf_weather_create(&weather, days->start, days->n, with_snow > 0, err);
    for (size_t i = 0; status == UF_OK && i < days->n; i++) {
        const struct uf_climate_day *day = &days->rows[i];
        const double half_sum = 0.5 * (day->min_degC + day->max_degC);
        weather->air_degC[i] = isnan(day->mean_degC) ? half_sum : day->mean_degC;
        with_air += isnan(weather->air_degC[i]) ? 0 : 1;
        if (weather->snow_m != NULL) {
            weather->snow_m[i] = day->snow_m;
        }
    }
    if (status == UF_OK && with_air == 0) {
        uf_weather_free(weather);
        return uf_fail(err, UF_E_INPUT, "%s: no day of it has an air temperature",
                       text->name);
    }
    *out = weather;
    return status;
}

void uf_climate_days_clear(struct uf_climate_days *days)
{
    free(days->rows);
    *days = (struct uf_climate_days){NULL, 0, 0, 0};
}
