#include "result_private.h"

#include <math.h>

/* Numbers that a file may hold and no run of ours leaves: what reads them further on may then count
   on days that are dates, on axes in order, on indices that point at something. */

/* 0001-01-01 to 9999-12-31, days since 1970-01-01. */
static const double FIRST_DAY = -719162.0;
static const double LAST_DAY = 2932896.0;
static const double FARTHEST_M = 1e5;
static const double MOST_DEGC = 1e3;

static bool is_axis(const double *at, size_t n, double least, double most)
{
    bool sound = true;
    for (size_t i = 0; i < n; i++) {
        sound = sound && at[i] >= least && at[i] <= most && (i == 0 || at[i] >= at[i - 1]);
    }
    return sound;
}

static bool is_length(const double *at_m, size_t n)
{
    return is_axis(at_m, n, -FARTHEST_M, FARTHEST_M);
}

static bool are_within(const float *values, size_t n, double least, double most)
{
    size_t outside = 0;
    for (size_t i = 0; values != NULL && i < n; i++) {
        outside += !((double)values[i] >= least && (double)values[i] <= most);
    }
    return outside == 0;
}

static bool are_indices(const int8_t *values, size_t n)
{
    size_t outside = 0;
    for (size_t i = 0; i < n; i++) {
        outside += values[i] < 0 || values[i] >= UF_MAX_MATERIALS;
    }
    return outside == 0;
}

bool uf_result_sound_record(const struct uf_record *record, const char **what)
{
    const size_t cells = record->nz * record->nx, along = record->nz * record->ny;
    const struct {
        const char *what;
        bool sound;
    } rows[] = {
        {"the times", is_axis(record->time_day, record->nt, FIRST_DAY, LAST_DAY)},
        {"the grid", is_length(record->z_m, record->nz) && is_length(record->x_m, record->nx) &&
                         is_length(record->z_edge_m, record->nz + 1) &&
                         is_length(record->x_edge_m, record->nx + 1) &&
                         is_length(record->y_m, record->ny) &&
                         (record->ny == 0 || is_length(record->y_edge_m, record->ny + 1))},
        {"material",
         are_indices(record->material, cells) && are_indices(record->long_material, along)},
        {"temperature",
         are_within(record->temperature_degC, record->nt * cells, -MOST_DEGC, MOST_DEGC)},
        {"ice_fraction", are_within(record->ice_fraction, record->nt * cells, -0.1, 1.1)},
        {"long_temperature",
         are_within(record->long_degC, record->nt * along, -MOST_DEGC, MOST_DEGC)},
        {"long_ice_fraction", are_within(record->long_ice, record->nt * along, -0.1, 1.1)},
        {"zero_line",
         are_within(record->line_m, record->nt * record->nx, 0.0, FARTHEST_M) &&
             are_within(record->long_line_m, record->nt * record->ny, 0.0, FARTHEST_M)},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (!rows[i].sound) {
            *what = rows[i].what;
            return false;
        }
    }
    return true;
}

bool uf_result_sound_lists(const struct uf_result *result, const char **what)
{
    bool sound = true;
    *what = "climate_time";
    for (size_t i = 0; i < result->n_days; i++) {
        const double day = result->days[i].time_day;
        sound = sound && day >= FIRST_DAY && day <= LAST_DAY;
    }
    for (size_t i = 0; sound && i < result->n_winters; i++) {
        *what = "winter";
        sound = result->winters[i].year >= 1 && result->winters[i].year <= 9999;
    }
    return sound;
}
