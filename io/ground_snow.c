#include "climate.h"
#include "ground.h"
#include "solver/calendar.h"
#include "solver/soil.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define FILE_NAME "cssl.csv"

const char uf_ground_snow_source[] =
    "USDA NRCS SNOTEL 428, checked by Heggli et al. 2022 (read). Soil by its water "
    "readings alone, the rule of the other stations; water: the sensors' mean of all "
    "Decembers";

const double uf_ground_snow_depth_m[UF_GROUND_SNOW_SENSORS] = {0.05, 0.20, 0.50};
static const double TO_M[UF_GROUND_SNOW_SENSORS] = {0.125, 0.35, 15.0};

/* All water over all depth of the record's days with 20 cm of snow or more (swe_mm and
   snow_cm of the file, computed once). */
static const double SNOW_KG_M3 = 379.0;

/* The station's file, column by column; the record owns air and snow. */
struct station {
    struct uf_weather *record, *ts[UF_GROUND_SNOW_SENSORS],
        *sm_percent[UF_GROUND_SNOW_SENSORS];
};

static void station_free(struct station *s)
{
    uf_weather_free(s->record);
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
        uf_weather_free(s->ts[k]);
        uf_weather_free(s->sm_percent[k]);
    }
}

static enum uf_status station_read(struct station *s, struct uf_error *err)
{
    static const char *const ts[] = {"ts_005cm", "ts_020cm", "ts_050cm"};
    static const char *const sm[] = {"sm_005cm_pct", "sm_020cm_pct", "sm_050cm_pct"};
    enum uf_status status = uf_climate_read(&s->record, FILE_NAME, NULL, "", err);
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS && status == UF_OK; k++) {
        status = uf_climate_read_series(&s->ts[k], FILE_NAME, ts[k], "", err);
        if (status == UF_OK) {
            status = uf_climate_read_series(&s->sm_percent[k], FILE_NAME, sm[k], "", err);
        }
    }
    return status;
}

/* Mean reading of all Decembers, and the soil by the driest and the wettest of all days.
 */
static enum uf_status read_soil(struct uf_ground_soil *soil, double *december_m3_m3,
                                const struct uf_weather *percent, struct uf_error *err)
{
    double sum = 0.0;
    double n = 0.0;
    double driest = INFINITY;
    double wettest = -INFINITY;
    for (size_t i = 0; i < percent->days; i++) {
        const double water = 0.01 * percent->air_degC[i];
        driest = fmin(driest, water);
        wettest = fmax(wettest, water);
        if (uf_calendar_date(percent->start_day + (long)i).month == 12 &&
            isfinite(water)) {
            sum += water;
            n += 1.0;
        }
    }
    *december_m3_m3 = sum / n;
    return uf_ground_soil(soil, driest, wettest, err);
}

static enum uf_status make_case(struct uf_case *d, struct uf_ground_snow *out,
                                const struct station *s, struct uf_error *err)
{
    const size_t low = UF_GROUND_SNOW_SENSORS - 1;
    enum uf_status status = UF_OK;
    uf_case_init(d);
    out->density_kg_m3 = SNOW_KG_M3;
    d->grid.finest_m = 0.025;
    d->surface.snow = UF_SNOW_RECORDED;
    d->surface.snow_density_kg_m3 = out->density_kg_m3;
    d->ground.n_layers = UF_GROUND_SNOW_SENSORS;
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS && status == UF_OK; k++) {
        struct uf_layer *layer = &d->ground.layers[k];
        struct uf_ground_soil soil;
        layer->to_m = TO_M[k];
        layer->spec.has_thermal = true;
        d->initial.depth_m[k] = uf_ground_snow_depth_m[k];
        d->initial.degC[k] = s->ts[k]->air_degC[0];
        status = read_soil(&soil, &out->water_m3_m3[k], s->sm_percent[k], err);
        if (status == UF_OK) {
            status = uf_ground_soil_thermal(&layer->spec.thermal, &soil,
                                            out->water_m3_m3[k], d->ground.method, err);
        }
    }
    d->initial.n_profile = UF_GROUND_SNOW_SENSORS;
    if (status == UF_OK) {
        const struct uf_ground_wave wave =
            uf_ground_wave(s->ts[low]->air_degC, s->ts[low]->days);
        uf_ground_extend(&d->initial, &wave, &d->ground.layers[low].spec.thermal, 0);
    }
    return status;
}

/* The winter of a day, a new row when it is the first of its winter; NULL out of season
   (November to April count). */
static struct uf_ground_winter *winter_of(struct uf_ground_snow *out, long day)
{
    const struct uf_date date = uf_calendar_date(day);
    const int year = date.month >= 11 ? date.year : date.year - 1;
    if (date.month > 4 && date.month < 11) {
        return NULL;
    }
    if ((out->n == 0 || out->winters[out->n - 1].year != year) &&
        out->n < UF_GROUND_SNOW_WINTERS) {
        struct uf_ground_winter *w = &out->winters[out->n++];
        *w = (struct uf_ground_winter){.year = year};
        for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
            w->least_degC[k] = w->measured_least_degC[k] = INFINITY;
        }
    }
    return &out->winters[out->n - 1];
}

/* One day of the run against the readings; square and n add up over the winters. */
static void compare(struct uf_ground_snow *out, const struct uf_run *run,
                    const struct station *s, double *square, double *n)
{
    const size_t i = uf_run_day(run) - 1;
    const struct uf_section *section = uf_run_section(run);
    const double *T = uf_season_T_degC(uf_run_season(run));
    struct uf_ground_winter *w = winter_of(out, s->record->start_day + (long)i);
    double got[UF_GROUND_SNOW_SENSORS];
    double read[UF_GROUND_SNOW_SENSORS];
    bool all = true;
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
        got[k] = uf_section_at_degC(section, T, 0.0, uf_ground_snow_depth_m[k]);
        read[k] = s->ts[k]->air_degC[i];
        all = all && isfinite(read[k]);
    }
    if (w == NULL) {
        return;
    }
    w->snow_m = fmax(w->snow_m, s->record->snow_m[i]);
    w->frost_line_m = fmax(w->frost_line_m, uf_grid_frost_m(section->grid, T, 1));
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS && all; k++) {
        w->least_degC[k] = fmin(w->least_degC[k], got[k]);
        w->measured_least_degC[k] = fmin(w->measured_least_degC[k], read[k]);
        square[k] += (got[k] - read[k]) * (got[k] - read[k]);
    }
    if (all) {
        const double *depth_m = uf_ground_snow_depth_m;
        w->read_days++;
        *n += 1.0;
        w->frost_m =
            fmax(w->frost_m, uf_ground_frost_m(depth_m, got, UF_GROUND_SNOW_SENSORS));
        w->measured_frost_m =
            fmax(w->measured_frost_m,
                 uf_ground_frost_m(depth_m, read, UF_GROUND_SNOW_SENSORS));
    }
}

static enum uf_status run_all(struct uf_ground_snow *out, struct uf_run *run,
                              const struct station *s, struct uf_error *err)
{
    double square[UF_GROUND_SNOW_SENSORS] = {0.0};
    double n = 0.0;
    enum uf_status status = UF_OK;
    while (status == UF_OK && !uf_run_done(run)) {
        status = uf_run_next(run, err);
        if (status == UF_OK) {
            compare(out, run, s, square, &n);
        }
    }
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k++) {
        out->rmse_K[k] = sqrt(square[k] / n);
    }
    out->heat_balance_relative = uf_run_summary(run).heat_balance_relative;
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
                                  const struct uf_season_options *options,
                                  struct uf_error *err)
{
    struct station s = {.record = NULL};
    struct uf_case design;
    struct uf_forcing *forcing = NULL;
    struct uf_run *run = NULL;
    struct uf_run_options run_options = uf_run_defaults();
    run_options.season = *options;
    *out = (struct uf_ground_snow){.n = 0};
    enum uf_status status = station_read(&s, err);
    if (status == UF_OK) {
        status = make_case(&design, out, &s, err);
    }
    if (status == UF_OK) {
        bridge(s.record->air_degC, s.record->days);
        const struct uf_forcing_weather weather = {.start_day = s.record->start_day,
                                                   .days = s.record->days,
                                                   .air_degC = s.record->air_degC,
                                                   .snow_m = s.record->snow_m};
        status = uf_forcing_create(&forcing, &design.surface, &weather, err);
    }
    if (status == UF_OK) {
        status = uf_run_create(&run, &design, forcing, &run_options, err);
    }
    if (status == UF_OK) {
        status = run_all(out, run, &s, err);
    }
    uf_run_free(run);
    uf_forcing_free(forcing);
    station_free(&s);
    return status;
}
