#include "ground.h"

#include "climate.h"
#include "solver/calendar.h"
#include "solver/constants.h"
#include "solver/soil.h"
#include "solver/surface.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Below this a sensor's water may be partly ice; readings are to 0.1 K. */
static const double THAWED_DEGC = 0.3;
enum { WEEK = 7 };

static const char *const NAMES[UF_GROUND_SENSORS] = {"005cm", "010cm", "020cm", "050cm",
                                                     "100cm"};

/* One column of the file; all columns of a file have the same days. */
static enum uf_status read_column(struct uf_ground_record *r, size_t at, double **out,
                                  const char *file, const char *column,
                                  struct uf_error *err)
{
    const enum uf_status status =
        uf_climate_read_series(&r->columns[at], file, column, "", err);
    if (status == UF_OK) {
        *out = r->columns[at]->air_degC;
        r->start_day = r->columns[at]->start_day;
        r->days = r->columns[at]->days;
    }
    return status;
}

enum uf_status uf_ground_read(struct uf_ground_record **out, const char *file,
                              struct uf_error *err)
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
        status = read_column(r, (size_t)2 * UF_GROUND_SENSORS, &r->air_degC, file,
                             "tair_avg", err);
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
static bool span(const struct uf_ground_record *r, const struct uf_ground_part *part,
                 size_t *from, size_t *to)
{
    const long first = day_of(part->first) - r->start_day;
    const long end = day_of(part->end) - r->start_day;
    *from = (size_t)first;
    *to = (size_t)end;
    return first >= 0 && end > first && end <= (long)r->days;
}

double uf_ground_water_m3_m3(const struct uf_ground_record *record, size_t sensor,
                             const struct uf_ground_part *part)
{
    const double *sm = record->sm_m3_m3[sensor];
    const double *ts = record->ts_degC[sensor];
    size_t from = 0;
    size_t to = 0;
    double sum = 0.0;
    int taken = 0;
    if (!span(record, part, &from, &to)) {
        return NAN;
    }
    if (part->autumn) { /* backward from where the readings first stop */
        size_t stop = from;
        while (stop < to && isfinite(sm[stop])) {
            stop++;
        }
        for (size_t i = stop; i-- > from && taken < WEEK;) {
            if (ts[i] >= THAWED_DEGC) {
                sum += sm[i];
                taken++;
            }
        }
    } else {
        for (size_t i = from; i < to && taken < WEEK; i++) {
            if (isfinite(sm[i]) && ts[i] >= THAWED_DEGC) {
                sum += sm[i];
                taken++;
            } else if (taken > 0 && !isfinite(sm[i])) {
                break;
            }
        }
    }
    return taken > 0 ? sum / taken : (double)NAN;
}

enum uf_status uf_ground_soil_of(struct uf_ground_soil *out,
                                 const struct uf_ground_record *record, size_t sensor,
                                 struct uf_error *err)
{
    double driest = INFINITY;
    double wettest = -INFINITY;
    for (size_t i = 0; i < record->days; i++) {
        if (record->ts_degC[sensor][i] >= THAWED_DEGC) {
            driest = fmin(driest, record->sm_m3_m3[sensor][i]);
            wettest = fmax(wettest, record->sm_m3_m3[sensor][i]);
        }
    }
    if (!isfinite(driest)) {
        return uf_fail(err, UF_E_INPUT, "no water reading at %.2f m",
                       uf_ground_depth_m[sensor]);
    }
    return uf_ground_soil(out, driest, wettest, err);
}

static double factor_or_1(double factor)
{
    return factor > 0.0 ? factor : 1.0;
}

/* The soil round a sensor with what the setup moves. */
static enum uf_status moved_soil(struct uf_ground_soil *out,
                                 const struct uf_ground_record *record, size_t sensor,
                                 const struct uf_ground_setup *setup,
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

/* Layers half way between the sensors, each with the water measured in it. */
static enum uf_status set_ground(struct uf_case *out,
                                 const struct uf_ground_record *record,
                                 const struct uf_ground_setup *setup,
                                 struct uf_error *err)
{
    enum uf_status status = UF_OK;
    out->ground.method = setup->method;
    out->ground.n_layers = UF_GROUND_SENSORS;
    for (size_t s = 0; s < UF_GROUND_SENSORS && status == UF_OK; s++) {
        struct uf_layer *layer = &out->ground.layers[s];
        const double water = uf_ground_water_m3_m3(record, s, setup->part);
        const bool last = s + 1 == UF_GROUND_SENSORS;
        struct uf_ground_soil soil;
        layer->to_m = last ? out->grid.depth_m
                           : 0.5 * (uf_ground_depth_m[s] + uf_ground_depth_m[s + 1]);
        if (!isfinite(water)) {
            return uf_fail(err, UF_E_INPUT, "%s: no water reading at %.2f m in %s",
                           setup->site->name, uf_ground_depth_m[s], setup->part->doc);
        }
        status = moved_soil(&soil, record, s, setup, err);
        if (status == UF_OK) {
            layer->spec.has_thermal = true;
            status = uf_ground_soil_thermal(&layer->spec.thermal, &soil,
                                            water * factor_or_1(setup->water_factor),
                                            setup->method, err);
        }
    }
    return status;
}

struct uf_ground_wave uf_ground_wave(const double *T_degC, size_t days)
{
    struct uf_ground_wave wave = {0.0, 0.0, 0.0};
    double n = 0.0;
    for (size_t i = 0; i < days; i++) {
        if (isfinite(T_degC[i])) {
            const double wt = 2.0 * UF_PI * ((double)i + 0.5) / UF_YEAR_DAY;
            wave.mean_degC += T_degC[i];
            wave.a_K += 2.0 * T_degC[i] * cos(wt);
            wave.b_K += 2.0 * T_degC[i] * sin(wt);
            n += 1.0;
        }
    }
    wave.mean_degC /= n;
    wave.a_K /= n;
    wave.b_K /= n;
    return wave;
}

void uf_ground_extend(struct uf_initial *profile, const struct uf_ground_wave *wave,
                      const struct uf_thermal *soil, size_t day)
{
    static const double below_m[] = {0.25, 0.5, 0.75, 1.0, 1.5, 2.0,
                                     3.0,  4.0, 5.0,  7.0, 9.0, 14.0};
    const double wt = 2.0 * UF_PI * (double)day / UF_YEAR_DAY;
    const double damping_m =
        sqrt(soil->k_thawed_W_mK / soil->c_thawed_J_m3K * UF_YEAR_DAY * UF_DAY_S / UF_PI);
    const size_t low = profile->n_profile - 1;
    const double beside_K = profile->degC[low] -
                            (wave->mean_degC + wave->a_K * cos(wt) + wave->b_K * sin(wt));
    for (size_t i = 0; i < sizeof below_m / sizeof below_m[0]; i++) {
        const double x = below_m[i] / damping_m;
        profile->depth_m[profile->n_profile] = profile->depth_m[low] + below_m[i];
        profile->degC[profile->n_profile++] =
            wave->mean_degC +
            exp(-x) * (wave->a_K * cos(wt - x) + wave->b_K * sin(wt - x) + beside_K);
    }
}

double uf_ground_frost_m(const double *depth_m, const double *T_degC, size_t n)
{
    for (size_t s = n; s-- > 0;) {
        if (T_degC[s] < 0.0) {
            if (s + 1 == n || !isfinite(T_degC[s + 1])) {
                return depth_m[s];
            }
            const double share = T_degC[s] / (T_degC[s] - T_degC[s + 1]);
            return depth_m[s] + share * (depth_m[s + 1] - depth_m[s]);
        }
    }
    return 0.0;
}

static enum uf_status set_profile(struct uf_case *out,
                                  const struct uf_ground_record *record,
                                  const struct uf_ground_setup *setup, size_t from,
                                  struct uf_error *err)
{
    const size_t low = UF_GROUND_SENSORS - 1;
    struct uf_soil_state soil;
    struct uf_initial *p = &out->initial;
    const enum uf_status status =
        uf_soil_resolve(&soil, &out->ground.layers[low].spec, setup->method, false, err);
    for (size_t s = 0; s < UF_GROUND_SENSORS && status == UF_OK; s++) {
        p->depth_m[p->n_profile] = uf_ground_depth_m[s];
        p->degC[p->n_profile++] = record->ts_degC[s][from];
    }
    if (status == UF_OK) {
        const struct uf_ground_wave wave =
            uf_ground_wave(record->ts_degC[low], record->days);
        uf_ground_extend(p, &wave, &soil.thermal, from);
    }
    return status;
}

enum uf_status uf_ground_case(struct uf_case *out, const struct uf_ground_record *record,
                              const struct uf_ground_setup *setup, struct uf_error *err)
{
    size_t from = 0;
    size_t to = 0;
    uf_case_init(out);
    (void)snprintf(out->name, sizeof out->name, "%s", setup->site->name);
    if (!span(record, setup->part, &from, &to)) {
        return uf_fail(err, UF_E_INPUT, "%s does not hold %s", setup->site->file,
                       setup->part->doc);
    }
    out->grid.finest_m = 0.025;
    if (setup->drive == UF_GROUND_SENSOR) {
        out->surface.kind = UF_SURFACE_MEASURED;
        out->surface.measured_depth_m = uf_ground_depth_m[0];
    } else if (setup->drive == UF_GROUND_SNOW) {
        out->surface.snow = UF_SNOW_FIXED;
        out->surface.snow_depth_m = 0.2;
        out->surface.snow_density_kg_m3 = 200.0;
    } else {
        out->surface.kind = UF_SURFACE_N_FACTOR;
        out->surface.row = uf_surface_find("turf");
    }
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        out->probes[s].depth_m = uf_ground_depth_m[s];
        out->probes[s].least_degC = NAN;
        (void)snprintf(out->probes[s].name, UF_NAME_SIZE, "%.2f m", uf_ground_depth_m[s]);
    }
    out->n_probes = UF_GROUND_SENSORS;
    enum uf_status status = set_ground(out, record, setup, err);
    if (status == UF_OK) {
        status = set_profile(out, record, setup, from, err);
    }
    return status;
}
