#include "climate_days.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MOST_DAYS 146097 /* 400 years: longer is a slip in a date */

static const struct uf_climate_day empty = {NAN, NAN, NAN, NAN};

/* Adds empty rows: `before` at the front, `after` at the end. */
static enum uf_status grow(struct uf_climate_days *days, size_t before, size_t after,
                           struct uf_error *err)
{
    const size_t n = days->n + before + after;
    if (n > days->room) {
        const size_t room = n + n / 2 + 1024;
        struct uf_climate_day *rows = realloc(days->rows, room * sizeof *rows);
        if (rows == NULL) {
            return uf_fail(err, UF_E_MEMORY, "no memory for %zu days of weather", room);
        }
        days->rows = rows;
        days->room = room;
    }
    if (before > 0) {
        memmove(days->rows + before, days->rows, days->n * sizeof *days->rows);
    }
    for (size_t i = 0; i < before; i++) {
        days->rows[i] = empty;
    }
    for (size_t i = before + days->n; i < n; i++) {
        days->rows[i] = empty;
    }
    days->n = n;
    days->start -= (long)before;
    days->ahead += before;
    return UF_OK;
}

enum uf_status uf_climate_days_at(struct uf_climate_day **row, struct uf_climate_days *days,
                                  long day, const struct uf_climate_text *text,
                                  struct uf_error *err)
{
    enum uf_status status = UF_OK;
    days->start = days->n == 0 ? day : days->start;
    const long end = days->start + (long)days->n, first = days->start + (long)days->ahead;
    if (day - first >= MOST_DAYS || end - day > MOST_DAYS) {
        return uf_climate_text_fail(text, err,
                                    "a date 400 years from others of the file: correct it");
    }
    if (day < days->start) { /* more than is needed, so that going back day by day stays
                                cheap */
        status = grow(days, (size_t)(days->start - day) + days->n / 2, 0, err);
    } else if (day >= end) {
        status = grow(days, 0, (size_t)(day - end) + 1, err);
    }
    const size_t i = (size_t)(day - days->start);
    days->ahead = i < days->ahead ? i : days->ahead;
    *row = status == UF_OK ? &days->rows[i] : NULL;
    return status;
}

static enum uf_status no_air(const struct uf_climate_text *text, struct uf_error *err)
{
    return uf_fail(err, UF_E_INPUT, "%s: no day of it has an air temperature", text->name);
}

enum uf_status uf_climate_days_finish(struct uf_weather **out, const struct uf_climate_days *days,
                                      const struct uf_climate_text *text, struct uf_error *err)
{
    if (days->n == 0) {
        *out = NULL;
        return no_air(text, err);
    }
    const struct uf_climate_day *rows = days->rows + days->ahead;
    const size_t n = days->n - days->ahead;
    size_t with_air = 0, with_snow = 0;
    *out = NULL;
    for (size_t i = 0; i < n; i++) {
        with_snow += isnan(rows[i].snow_m) ? 0 : 1;
    }
    struct uf_weather *weather = NULL;
    const enum uf_status status =
        uf_weather_create(&weather, days->start + (long)days->ahead, n, with_snow > 0, err);
    for (size_t i = 0; status == UF_OK && i < n; i++) {
        const double half_sum = 0.5 * (rows[i].min_degC + rows[i].max_degC);
        weather->air_degC[i] = isnan(rows[i].mean_degC) ? half_sum : rows[i].mean_degC;
        with_air += isnan(weather->air_degC[i]) ? 0 : 1;
        if (weather->snow_m != NULL) {
            weather->snow_m[i] = rows[i].snow_m;
        }
    }
    if (status == UF_OK && with_air == 0) {
        uf_weather_free(weather);
        return no_air(text, err);
    }
    *out = weather;
    return status;
}

void uf_climate_days_clear(struct uf_climate_days *days)
{
    free(days->rows);
    *days = (struct uf_climate_days){NULL, 0, 0, 0, 0};
}
