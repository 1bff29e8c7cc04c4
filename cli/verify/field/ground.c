#include "ground.h"

#include "io/weather/climate.h"
#include "solver/base/calendar.h"
#include "solver/weather/surface.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char *const NAMES[UF_GROUND_SENSORS] = {"005cm", "010cm", "020cm", "050cm", "100cm"};

/* One column of the file; all columns of a file have the same days. */
static enum uf_status read_column(struct uf_ground_record *r, size_t at, double **out,
                                  const char *file, const char *column, struct uf_error *err)
{
    const enum uf_status status = uf_climate_read_series(&r->columns[at], file, column, "", err);
    if (status == UF_OK) {
        *out = r->columns[at]->air_degC;
        r->start_day = r->columns[at]->start_day;
        r->days = r->columns[at]->days;
    }
    return status;
}

enum uf_status uf_ground_read(struct uf_ground_record **out, const char *file, struct uf_error *err)
{
    struct uf_ground_record *r = calloc(1, sizeof *r);
    enum uf_status status = UF_OK;
    *out = NULL;
    if (r == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a station");
    }
    for (size_t s = 0; s < UF_GROUND_SENSORS && status == UF_OK; s++) {
        char column[16];
        (void)snprintf(column, sizeof column, "ts_%s", NAMES[s]);
        status = read_column(r, 2 * s, &r->ts_degC[s], file, column, err);
        (void)snprintf(column, sizeof column, "sm_%s", NAMES[s]);
        if (status == UF_OK) {
            status = read_column(r, 2 * s + 1, &r->sm_m3_m3[s], file, column, err);
        }
    }
    if (status == UF_OK) {
        status = read_column(r, (size_t)2 * UF_GROUND_SENSORS, &r->air_degC, file, "tair_avg", err);
    }
    if (status != UF_OK) {
        uf_ground_record_free(r);
        return status;
    }
    *out = r;
    return UF_OK;
}

void uf_ground_record_free(struct uf_ground_record *record)
{
    if (record != NULL) {
        for (size_t i = 0; i < sizeof record->columns / sizeof record->columns[0]; i++) {
            uf_weather_free(record->columns[i]);
        }
        free(record);
    }
}

static long day_of(struct uf_ground_day date)
{
    return uf_calendar_day(date.year, date.month, date.day);
}

/* Index of the part's first day and of the day after its last; false when the record does
   not hold them. */
static bool span(const struct uf_ground_record *r, const struct uf_ground_part *part, size_t *from,
                 size_t *to)
{
    const long first = day_of(part->first) - r->start_day;
    const long end = day_of(part->end) - r->start_day;
    *from = (size_t)first;
    *to = (size_t)end;
    return first >= 0 && end > first && end <= (long)r->days;
}

enum uf_status uf_ground_soil_of(struct uf_ground_soil *out, const struct uf_ground_record *record,
                                 size_t sensor, struct uf_error *err)
{
    double driest = INFINITY;
    double wettest = -INFINITY;
    for (size_t i = 0; i < record->days; i++) {
        if (record->ts_degC[sensor][i] >= uf_ground_thawed_degC) {
            driest = fmin(driest, record->sm_m3_m3[sensor][i]);
            wettest = fmax(wettest, record->sm_m3_m3[sensor][i]);
        }
    }
    if (!isfinite(driest)) {
        return uf_fail(err, UF_E_INPUT, "no water reading at %.2f m", uf_ground_depth_m[sensor]);
    }
    return uf_ground_soil(out, driest, wettest, err);
}

static double factor_or_1(double factor)
{
    return factor > 0.0 ? factor : 1.0;
}

/* The soil round a sensor with what the setup moves. */
static enum uf_status moved_soil(struct uf_ground_soil *out, const struct uf_ground_record *record,
                                 size_t sensor, const struct uf_ground_setup *setup,
                                 struct uf_error *err)
{
    enum uf_status status = uf_ground_soil_of(out, record, sensor, err);
    if (status == UF_OK && setup->driest_factor > 0.0) {
        const double driest = out->driest_m3_m3 * setup->driest_factor;
        status = uf_ground_soil(out, driest, fmax(driest, out->wettest_m3_m3), err);
    }
    if (status == UF_OK) {
        const double solid_share = 1.0 - out->porosity;
        const double density = factor_or_1(setup->density_factor);
        out->dry_density_kg_m3 *= density;
        out->porosity = 1.0 - density * solid_share;
    }
    return status;
}

static struct uf_surface_input surface_of(enum uf_ground_drive drive)
{
    struct uf_case plain;
    uf_case_init(&plain);
    struct uf_surface_input surface = plain.surface;
    if (drive == UF_GROUND_SENSOR) {
        surface.kind = UF_SURFACE_MEASURED;
        surface.measured_depth_m = uf_ground_depth_m[0];
    } else if (drive == UF_GROUND_SNOW) {
        surface.snow = UF_SNOW_FIXED;
        surface.snow_depth_m = 0.2;
        surface.snow_density_kg_m3 = 200.0;
    } else {
        surface.kind = UF_SURFACE_N_FACTOR;
        surface.row = uf_surface_find("turf");
    }
    return surface;
}

enum uf_status uf_ground_start(struct uf_ground_column **out, const struct uf_ground_record *record,
                               const struct uf_ground_setup *setup,
                               const struct uf_season_options *options, struct uf_error *err)
{
    const size_t low = UF_GROUND_SENSORS - 1;
    const double *outside_degC =
        setup->drive == UF_GROUND_SENSOR ? record->ts_degC[0] : record->air_degC;
    enum uf_status status = UF_OK;
    size_t from = 0;
    size_t to = 0;
    *out = NULL;
    if (!span(record, setup->part, &from, &to)) {
        return uf_fail(err, UF_E_INPUT, "%s does not hold %s", setup->site->file, setup->part->doc);
    }
    struct uf_ground_column_input input = {.n = UF_GROUND_SENSORS,
                                           .surface = surface_of(setup->drive),
                                           .weather = {.start_day = day_of(setup->part->first),
                                                       .days = to - from,
                                                       .air_degC = outside_degC + from},
                                           .wave =
                                               uf_ground_wave(record->ts_degC[low], record->days),
                                           .wave_day = from,
                                           .method = setup->method,
                                           .water_factor = factor_or_1(setup->water_factor),
                                           .season = *options};
    for (size_t s = 0; s < UF_GROUND_SENSORS && status == UF_OK; s++) {
        struct uf_ground_layer *layer = &input.layers[s];
        layer->depth_m = uf_ground_depth_m[s];
        layer->T_degC = record->ts_degC[s] + from;
        layer->water_m3_m3 = record->sm_m3_m3[s] + from;
        status = moved_soil(&layer->soil, record, s, setup, err);
    }
    return status == UF_OK ? uf_ground_column_create(out, &input, err) : status;
}
