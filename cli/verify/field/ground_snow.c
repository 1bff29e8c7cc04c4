#include "ground.h"
#include "io/weather/climate.h"
#include "solver/base/calendar.h"
#include "solver/study/score.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define FILE_NAME "cssl.csv"

const char uf_ground_snow_source[] =
    "USDA NRCS SNOTEL 428, checked by Heggli et al. 2022 (read). Soil by its water "
    "readings alone, profile and water of each autumn as measured: the rules of the other stations";

const double uf_ground_snow_depth_m[UF_GROUND_SNOW_SENSORS] = {0.05, 0.20, 0.50};
/* All water over all depth of the record's days with 20 cm of snow or more (swe_mm and
   snow_cm of the file, computed once). */
static const double SNOW_KG_M3 = 379.0;

/* The station's file, column by column; the record owns air and snow. */
struct station {
    struct uf_weather *record, *ts[UF_GROUND_SNOW_SENSORS], *sm[UF_GROUND_SNOW_SENSORS];
    struct uf_ground_soil soil[UF_GROUND_SNOW_SENSORS];
};

static void station_free(struct station *s)
{
    uf_weather_free(s->record);
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
        uf_weather_free(s->ts[k]);
        uf_weather_free(s->sm[k]);
    }
}

/* From percent to m3/m3; the soil by the driest and the wettest of all days. */
static enum uf_status read_soil(struct uf_ground_soil *soil, struct uf_weather *water,
                                struct uf_error *err)
{
    double driest = INFINITY;
    double wettest = -INFINITY;
    for (size_t i = 0; i < water->days; i++) {
        water->air_degC[i] *= 0.01;
        driest = fmin(driest, water->air_degC[i]);
        wettest = fmax(wettest, water->air_degC[i]);
    }
    return uf_ground_soil(soil, driest, wettest, err);
}

static enum uf_status station_read(struct station *s, struct uf_error *err)
{
    static const char *const ts[] = {"ts_005cm", "ts_020cm", "ts_050cm"};
    static const char *const sm[] = {"sm_005cm_pct", "sm_020cm_pct", "sm_050cm_pct"};
    enum uf_status status = uf_climate_read(&s->record, FILE_NAME, NULL, "", err);
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS && status == UF_OK; k++) {
        status = uf_climate_read_series(&s->ts[k], FILE_NAME, ts[k], "", err);
        if (status == UF_OK) {
            status = uf_climate_read_series(&s->sm[k], FILE_NAME, sm[k], "", err);
        }
        if (status == UF_OK) {
            status = read_soil(&s->soil[k], s->sm[k], err);
        }
    }
    return status;
}

/* First day of October with all sensors reading temperature and water; false when there is none. */
static bool first_day(size_t *out, const struct station *s, int year)
{
    const long october = uf_calendar_day(year, 10, 1) - s->record->start_day;
    for (long i = october < 0 ? 0 : october; i < october + 31; i++) {
        bool all = i < (long)s->record->days;
        for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS && all; k++) {
            all = isfinite(s->ts[k]->air_degC[i]) && isfinite(s->sm[k]->air_degC[i]);
        }
        if (all) {
            *out = (size_t)i;
            return true;
        }
    }
    return false;
}

/* Squares of what the run is off, over all winters. */
struct tally {
    double square[UF_GROUND_SNOW_SENSORS], n;
};

/* One day of the run against the readings of day i; November to April count. */
static void compare(struct uf_ground_winter *w, struct tally *tally,
                    const struct uf_ground_column *column, const struct station *s, size_t i)
{
    const int month = uf_calendar_date(s->record->start_day + (long)i).month;
    const double *depth_m = uf_ground_snow_depth_m;
    double got[UF_GROUND_SNOW_SENSORS];
    double read[UF_GROUND_SNOW_SENSORS];
    bool all = true;
    if (month == 10) {
        return;
    }
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
        got[k] = uf_ground_column_degC(column, depth_m[k]);
        read[k] = s->ts[k]->air_degC[i];
        all = all && isfinite(read[k]);
    }
    w->snow_m = fmax(w->snow_m, s->record->snow_m[i]);
    w->frost_line_m = fmax(w->frost_line_m, uf_ground_column_frost_m(column));
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS && all; k++) {
        w->least_degC[k] = fmin(w->least_degC[k], got[k]);
        w->measured_least_degC[k] = fmin(w->measured_least_degC[k], read[k]);
        tally->square[k] += (got[k] - read[k]) * (got[k] - read[k]);
    }
    if (all) {
        w->read_days++;
        tally->n += 1.0;
        w->frost_m = fmax(w->frost_m, uf_score_frost_m(depth_m, got, UF_GROUND_SNOW_SENSORS));
        w->measured_frost_m =
            fmax(w->measured_frost_m, uf_score_frost_m(depth_m, read, UF_GROUND_SNOW_SENSORS));
    }
}

static enum uf_status run_winter(struct uf_ground_snow *out, struct tally *tally,
                                 const struct station *s, int year, size_t from,
                                 const struct uf_season_options *options, struct uf_error *err)
{
    const size_t low = UF_GROUND_SNOW_SENSORS - 1;
    struct uf_ground_winter *w = &out->winters[out->n];
    struct uf_ground_column *column = NULL;
    struct uf_case plain;
    const long start = s->record->start_day + (long)from;
    uf_case_init(&plain);
    struct uf_ground_column_input input = {
        .n = UF_GROUND_SNOW_SENSORS,
        .surface = plain.surface,
        .weather = {.start_day = start,
                    .days = (size_t)(uf_calendar_day(year + 1, 5, 1) - start),
                    .air_degC = s->record->air_degC + from,
                    .snow_m = s->record->snow_m + from},
        .wave = uf_ground_wave(s->ts[low]->air_degC, s->ts[low]->days),
        .wave_day = from,
        .method = UF_COTE_KONRAD,
        .water_factor = 1.0,
        .season = *options};
    input.surface.snow = UF_SNOW_RECORDED;
    input.surface.snow_density_kg_m3 = SNOW_KG_M3;
    *w = (struct uf_ground_winter){.year = year};
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
        w->least_degC[k] = w->measured_least_degC[k] = INFINITY;
        input.layers[k].depth_m = uf_ground_snow_depth_m[k];
        input.layers[k].soil = s->soil[k];
        input.layers[k].T_degC = s->ts[k]->air_degC + from;
        input.layers[k].water_m3_m3 = s->sm[k]->air_degC + from;
    }
    enum uf_status status = uf_ground_column_create(&column, &input, err);
    while (status == UF_OK && !uf_ground_column_done(column)) {
        status = uf_ground_column_next(column, err);
        if (status == UF_OK) {
            compare(w, tally, column, s, from + uf_ground_column_day(column) - 1);
        }
    }
    if (status == UF_OK) {
        out->n++;
        out->heat_balance_relative =
            fmax(out->heat_balance_relative, uf_ground_column_balance(column));
    }
    uf_ground_column_free(column);
    return status;
}

/* The few days without air temperature that are too many in a row to be filled: a
   straight line all the same; they lie in autumn. */
static void bridge(double *T_degC, size_t days)
{
    for (size_t i = 1; i < days; i++) {
        if (!isfinite(T_degC[i])) {
            size_t next = i;
            while (next < days && !isfinite(T_degC[next])) {
                next++;
            }
            const double to = next < days ? T_degC[next] : T_degC[i - 1];
            T_degC[i] = T_degC[i - 1] + (to - T_degC[i - 1]) / (double)(next - i + 1);
        }
    }
}

enum uf_status uf_ground_snow_run(struct uf_ground_snow *out,
                                  const struct uf_season_options *options, struct uf_error *err)
{
    struct station s = {.record = NULL};
    struct tally tally = {.n = 0.0};
    *out = (struct uf_ground_snow){.density_kg_m3 = SNOW_KG_M3};
    enum uf_status status = station_read(&s, err);
    if (status == UF_OK) {
        const int first = uf_calendar_date(s.record->start_day).year;
        const long last = s.record->start_day + (long)s.record->days;
        size_t from = 0;
        bridge(s.record->air_degC, s.record->days);
        for (int year = first; status == UF_OK && out->n < UF_GROUND_SNOW_WINTERS &&
                               uf_calendar_day(year + 1, 5, 1) <= last;
             year++) {
            if (first_day(&from, &s, year)) {
                status = run_winter(out, &tally, &s, year, from, options, err);
            }
        }
    }
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
        out->rmse_K[k] = sqrt(tally.square[k] / tally.n);
    }
    station_free(&s);
    return status;
}
