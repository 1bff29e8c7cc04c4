#include "ground_column.h"

#include "solver/base/constants.h"
#include "solver/heat/front.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const double uf_ground_thawed_degC = 0.3;
static const size_t WEEK = 7;
/* Rows are fine down to it: the same grid whatever the water. */
static const double FINE_M = 1.5;
static const double FINEST_M = 0.025;

struct uf_ground_column {
    struct uf_ground_column_input input;
    struct uf_case design;
    struct uf_forcing *forcing;
    struct uf_section *section;
    struct uf_season *season;
    double water_m3_m3[UF_GROUND_LAYERS];
    size_t day;
    double leak_J, exchanged_J, surface_J; /* leak of the sections before this one */
};

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
    static const double below_m[] = {0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 7.0, 9.0, 14.0};
    const double wt = 2.0 * UF_PI * (double)day / UF_YEAR_DAY;
    const double damping_m =
        sqrt(soil->k_thawed_W_mK / soil->c_thawed_J_m3K * UF_YEAR_DAY * UF_DAY_S / UF_PI);
    const size_t low = profile->n_profile - 1;
    const double beside_K =
        profile->degC[low] - (wave->mean_degC + wave->a_K * cos(wt) + wave->b_K * sin(wt));
    for (size_t i = 0; i < sizeof below_m / sizeof below_m[0]; i++) {
        const double x = below_m[i] / damping_m;
        profile->depth_m[profile->n_profile] = profile->depth_m[low] + below_m[i];
        profile->degC[profile->n_profile++] =
            wave->mean_degC +
            exp(-x) * (wave->a_K * cos(wt - x) + wave->b_K * sin(wt - x) + beside_K);
    }
}

double uf_ground_week_m3_m3(const struct uf_ground_layer *layer, size_t week, size_t days)
{
    double sum = 0.0;
    double n = 0.0;
    for (size_t i = week * WEEK; i < days && i < (week + 1) * WEEK; i++) {
        if (layer->T_degC[i] >= uf_ground_thawed_degC && isfinite(layer->water_m3_m3[i])) {
            sum += layer->water_m3_m3[i];
            n += 1.0;
        }
    }
    return n > 0.0 ? sum / n : (double)NAN;
}

static enum uf_status set_water(struct uf_ground_column *column, size_t k, double water_m3_m3,
                                struct uf_error *err)
{
    const struct uf_ground_column_input *in = &column->input;
    column->water_m3_m3[k] = water_m3_m3;
    return uf_ground_soil_thermal(&column->design.ground.layers[k].spec.thermal,
                                  &in->layers[k].soil, water_m3_m3 * in->water_factor, in->method,
                                  err);
}

/* Layers with the water first read, and the profile of the first day. */
static enum uf_status set_ground(struct uf_ground_column *column, struct uf_error *err)
{
    const struct uf_ground_column_input *in = &column->input;
    struct uf_case *design = &column->design;
    struct uf_ground_input *ground = &design->ground;
    enum uf_status status = UF_OK;
    uf_case_init(design);
    design->grid.finest_m = FINEST_M;
    design->surface = in->surface;
    ground->method = in->method;
    ground->n_layers = design->initial.n_profile = in->n;
    for (size_t k = 0; k < in->n && status == UF_OK; k++) {
        const struct uf_ground_layer *layer = &in->layers[k];
        const bool last = k + 1 == in->n;
        double water = NAN;
        for (size_t week = 0; week * WEEK < in->weather.days && isnan(water); week++) {
            water = uf_ground_week_m3_m3(layer, week, in->weather.days);
        }
        if (isnan(water)) {
            return uf_fail(err, UF_E_INPUT, "no reading of thawed water at %.2f m", layer->depth_m);
        }
        ground->layers[k].to_m =
            last ? design->grid.depth_m : 0.5 * (layer->depth_m + layer[1].depth_m);
        ground->layers[k].spec.has_thermal = true;
        design->initial.depth_m[k] = layer->depth_m;
        design->initial.degC[k] = layer->T_degC[0];
        status = set_water(column, k, water, err);
    }
    if (status == UF_OK) {
        uf_ground_extend(&design->initial, &in->wave, &ground->layers[in->n - 1].spec.thermal,
                         in->wave_day);
    }
    return status;
}

/* Measured profile at a depth: straight lines between its points, constant beyond. */
static double profile_degC(const struct uf_initial *initial, double depth_m)
{
    const size_t n = initial->n_profile;
    size_t k = 1;
    while (k + 1 < n && initial->depth_m[k] < depth_m) {
        k++;
    }
    const double share =
        (depth_m - initial->depth_m[k - 1]) / (initial->depth_m[k] - initial->depth_m[k - 1]);
    return initial->degC[k - 1] +
           fmin(fmax(share, 0.0), 1.0) * (initial->degC[k] - initial->degC[k - 1]);
}

/* A section of the present water, at temperatures that were: the profile at first, those
   of the section before afterwards. */
static enum uf_status build(struct uf_ground_column *column, struct uf_error *err)
{
    struct uf_section *section = NULL;
    struct uf_season *season = NULL;
    double *T_degC = NULL;
    enum uf_status status = uf_section_create(&section, &column->design, FINE_M, err);
    if (status == UF_OK) {
        status = uf_season_create(&season, section->heat, &column->input.season, err);
    }
    if (status == UF_OK) {
        T_degC = calloc(section->heat->n, sizeof *T_degC);
        if (T_degC == NULL) {
            status = uf_fail(err, UF_E_MEMORY, "out of memory for a column");
        }
    }
    if (status != UF_OK || T_degC == NULL) {
        uf_season_free(season);
        uf_section_free(section);
        return status;
    }
    for (size_t i = 0; i < section->heat->n_cells; i++) {
        T_degC[i] =
            column->season != NULL
                ? uf_season_T_degC(column->season)[i]
                : profile_degC(&column->design.initial, section->grid->z_m[i / section->grid->nx]);
    }
    if (column->season != NULL) {
        column->leak_J += uf_season_leak_J(column->season);
    }
    uf_season_drive(season, &column->forcing->season);
    uf_season_set(season, column->forcing->season.start_day + (double)column->day, T_degC);
    free(T_degC);
    uf_season_free(column->season);
    uf_section_free(column->section);
    column->season = season;
    column->section = section;
    column->surface_J = 0.0;
    return UF_OK;
}

enum uf_status uf_ground_column_create(struct uf_ground_column **out,
                                       const struct uf_ground_column_input *input,
                                       struct uf_error *err)
{
    struct uf_ground_column *column = calloc(1, sizeof *column);
    *out = NULL;
    if (column == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a column");
    }
    column->input = *input;
    enum uf_status status = set_ground(column, err);
    if (status == UF_OK) {
        status = uf_forcing_create(&column->forcing, &column->design.surface, &input->weather, err);
    }
    if (status == UF_OK) {
        status = build(column, err);
    }
    if (status != UF_OK) {
        uf_ground_column_free(column);
        return status;
    }
    *out = column;
    return UF_OK;
}

void uf_ground_column_free(struct uf_ground_column *column)
{
    if (column != NULL) {
        uf_season_free(column->season);
        uf_section_free(column->section);
        uf_forcing_free(column->forcing);
        free(column);
    }
}

/* The week's water, where it was read and nothing is frozen. */
static enum uf_status new_week(struct uf_ground_column *column, struct uf_error *err)
{
    const struct uf_ground_column_input *in = &column->input;
    enum uf_status status = UF_OK;
    bool changed = false;
    for (size_t k = 0; k < in->n && status == UF_OK; k++) {
        const struct uf_ground_layer *layer = &in->layers[k];
        const double water = uf_ground_week_m3_m3(layer, column->day / WEEK, in->weather.days);
        if (isfinite(water) && uf_ground_column_degC(column, layer->depth_m) > 0.0) {
            changed = changed || water != column->water_m3_m3[k];
            status = set_water(column, k, water, err);
        }
    }
    return status == UF_OK && changed ? build(column, err) : status;
}

enum uf_status uf_ground_column_next(struct uf_ground_column *column, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    if (column->day > 0 && column->day % WEEK == 0) {
        status = new_week(column, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(
            column->season, column->forcing->season.start_day + (double)column->day + 1.0, err);
    }
    if (status == UF_OK) {
        const double surface_J = uf_season_heat_J(column->season).surface_J;
        column->exchanged_J += fabs(surface_J - column->surface_J);
        column->surface_J = surface_J;
        column->day++;
    }
    return status;
}

bool uf_ground_column_done(const struct uf_ground_column *column)
{
    return column->day >= column->input.weather.days;
}

size_t uf_ground_column_day(const struct uf_ground_column *column)
{
    return column->day;
}

double uf_ground_column_degC(const struct uf_ground_column *column, double depth_m)
{
    return uf_section_at_degC(column->section, uf_season_T_degC(column->season), 0.0, depth_m);
}

double uf_ground_column_frost_m(const struct uf_ground_column *column)
{
    return uf_front_line_m(column->section->heat, uf_season_T_degC(column->season), 0);
}

double uf_ground_column_water_m3_m3(const struct uf_ground_column *column, size_t layer)
{
    return column->water_m3_m3[layer];
}

double uf_ground_column_balance(const struct uf_ground_column *column)
{
    const double leak_J = column->leak_J + uf_season_leak_J(column->season);
    return column->exchanged_J > 0.0 ? fabs(leak_J) / column->exchanged_J : 0.0;
}
