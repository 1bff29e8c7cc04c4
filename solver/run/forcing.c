#include "forcing.h"

#include "solver/weather/surface.h"

#include <math.h>
#include <stdlib.h>

enum { AROUND_DAY = 15 };

/* The mean year is smooth: what whole days leave of a start is within a millikelvin of half days
   (the examples), 0.02 K at a bare crown. */
static const double SMOOTH_STEPS_PER_DAY = 1.0;

/* Is the mean of the days around i below freezing? */
static bool cold_around(const double *air_degC, size_t days, size_t i)
{
    const size_t from = i > AROUND_DAY ? i - AROUND_DAY : 0;
    const size_t to = i + AROUND_DAY < days ? i + AROUND_DAY + 1 : days;
    double sum = 0.0;
    for (size_t k = from; k < to; k++) {
        sum += air_degC[k];
    }
    return sum < 0.0;
}

enum { OUTSIDE, FILM, AIR, SNOW, ROWS };

/* One series of days: outside, film, air and snow into the rows of out. */
static void apply(const struct uf_surface_input *surface, size_t days, const double *air_degC,
                  const double *snow_m, double *out)
{
    for (size_t i = 0; i < days; i++) {
        const double depth_m = uf_surface_snow_m(surface, snow_m != NULL ? snow_m[i] : 0.0,
                                                 cold_around(air_degC, days, i));
        const struct uf_face_law today = uf_surface_law(surface, air_degC[i], depth_m);
        out[OUTSIDE * days + i] = today.outside_degC;
        out[FILM * days + i] = today.h_W_m2K;
        out[AIR * days + i] = air_degC[i];
        out[SNOW * days + i] = depth_m;
    }
}

static struct uf_drive drive_of(long start_day, size_t days, bool periodic, const double *rows)
{
    return (struct uf_drive){.start_day = (double)start_day,
                             .days = days,
                             .periodic = periodic,
                             .outside_degC = rows + OUTSIDE * days,
                             .h_W_m2K = rows + FILM * days,
                             .air_degC = rows + AIR * days,
                             .snow_m = rows + SNOW * days};
}

enum uf_status uf_forcing_create(struct uf_forcing **out, const struct uf_surface_input *surface,
                                 const struct uf_forcing_weather *weather, struct uf_error *err)
{
    *out = NULL;
    if (uf_surface_reads_snow(surface) && weather->snow_m == NULL) {
        return uf_fail_key(err, UF_E_INPUT, "surface.snow",
                           UF_PLAIN("is `recorded` but the climate file holds no snow depth"),
                           UF_PLAIN("`none` or {depth, density}"));
    }
    struct uf_forcing *f = calloc(1, sizeof *f);
    if (f != NULL) {
        f->block = calloc(ROWS * (weather->days + weather->year_days) + 1, sizeof *f->block);
    }
    if (f == NULL || f->block == NULL) {
        free(f);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the weather");
    }
    double *const year = f->block + ROWS * weather->days;
    apply(surface, weather->days, weather->air_degC, weather->snow_m, f->block);
    apply(surface, weather->year_days, weather->year_air_degC, weather->year_snow_m, year);
    f->season = drive_of(weather->start_day, weather->days, false, f->block);
    f->year = drive_of(weather->start_day, weather->year_days, true, year);
    f->year.steps_per_day = SMOOTH_STEPS_PER_DAY;
    f->film_least_W_m2K = INFINITY;
    for (size_t i = 0; i < weather->days; i++) {
        f->freezing_degC_day += fmax(0.0, -f->season.outside_degC[i]);
        f->film_least_W_m2K = fmin(f->film_least_W_m2K, f->season.h_W_m2K[i]);
    }
    double sum = 0.0;
    for (size_t i = 0; i < weather->year_days; i++) {
        sum += uf_surface_law(surface, weather->year_air_degC[i], 0.0).outside_degC;
    }
    f->year_surface_degC = weather->year_days > 0 ? sum / (double)weather->year_days : (double)NAN;
    *out = f;
    return UF_OK;
}

void uf_forcing_free(struct uf_forcing *forcing)
{
    if (forcing != NULL) {
        free(forcing->block);
        free(forcing);
    }
}
