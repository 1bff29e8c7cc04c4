#include "solver/heat/sparse.h"
#include "startup_private.h"

#include <stdlib.h>
#include <string.h>

enum { FLOW_SAMPLES = 36 };

/* A correction of a kelvin need not be known to the last of its ten digits. */
static const double SMALL = 1e-6;

enum uf_status uf_startup_matrix(struct uf_sparse **out, const struct uf_heat *heat,
                                 struct uf_error *err)
{
    size_t(*pairs)[2] = NULL;
    size_t n_pairs = 0;
    enum uf_status status = uf_heat_pairs(heat, &pairs, &n_pairs, err);
    if (status == UF_OK) {
        status = uf_sparse_create(out, heat->n, (const size_t(*)[2])pairs, n_pairs, err);
    }
    free(pairs);
    if (status == UF_OK) {
        uf_sparse_leave(*out, SMALL);
    }
    return status;
}

bool uf_startup_fixed(const struct uf_heat *heat, size_t i)
{
    return heat->volume_m3[i] <= 0.0 || i == heat->held;
}

double uf_startup_sample_day(const struct uf_drive *year, double start_day, int k, int parts)
{
    return start_day + floor((double)year->days * (k + 1.0) / parts);
}

/* Copies the rows of the column over the section; bodies take the row at the tank's axis. */
static void spread(const struct uf_section *section, const struct uf_case *design,
                   const double *rows_degC, double *T_degC)
{
    const struct uf_grid *g = section->grid;
    const double axis_m = 0.5 * (section->outline.top_m + section->outline.bottom_m);
    for (size_t j = 0; j < g->nz; j++) {
        for (size_t i = 0; i < g->nx; i++) {
            for (size_t k = 0; k < g->ny; k++) {
                T_degC[uf_grid_in(g, i, j, k)] = rows_degC[j];
            }
        }
        if (g->z_edge_m[j] <= axis_m) {
            for (size_t body = section->heat->n_cells; body < section->heat->n; body++) {
                T_degC[body] = rows_degC[j];
            }
        }
    }
    if (section->heat->held != UF_HEAT_NONE) {
        T_degC[section->heat->held] = design->tank.hold_degC;
    }
}

/* Adds the mean flow into each node of a section that is at the column's temperatures, W,
   to mean_W [n]; less what the column's own cells take up, which comes to nothing over a
   year but not over a few instants of it. work [2 n] */
static void add_flows(const struct uf_section *section, const struct uf_startup_column *column,
                      const struct uf_heat_now *now, const double *T_degC, double *mean_W,
                      double *work)
{
    const struct uf_heat *heat = section->heat;
    const struct uf_heat *thin = column->section->heat;
    double *const W = work;
    double *const row_W = work + heat->n;
    struct uf_heat_flow flow;
    uf_heat_rate(heat, now, T_degC, W, &flow);
    uf_heat_rate(thin, now, uf_season_T_degC(column->season), row_W, &flow);
    for (size_t i = 0; i < heat->n; i++) {
        const size_t j = uf_grid_j(section->grid, i);
        const double taken_W =
            i < heat->n_cells ? heat->volume_m3[i] * row_W[j] / thin->volume_m3[j] : 0.0;
        mean_W[i] += (W[i] - taken_W) / FLOW_SAMPLES;
    }
}

/* What tank, board and pit add to the temperature of undisturbed ground in the mean of
   the year: K y = the year's mean flows into the section at the column's temperatures.
   Into offset_K [n]. Takes the column once round the year. */
static enum uf_status find_offset(const struct uf_section *section, const struct uf_case *design,
                                  struct uf_startup_column *column, const struct uf_drive *year,
                                  double *offset_K, struct uf_error *err)
{
    const struct uf_heat *heat = section->heat;
    const double begin_day = uf_season_day(column->season);
    struct uf_sparse *mean = NULL;
    double *T_degC = calloc(3 * heat->n, sizeof *T_degC);
    if (T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    enum uf_status status = uf_startup_matrix(&mean, heat, err);
    for (int k = 0; k < FLOW_SAMPLES && status == UF_OK; k++) {
        const double day = uf_startup_sample_day(year, begin_day, k, FLOW_SAMPLES);
        const struct uf_heat_now now = uf_season_now(year, day);
        status = uf_season_advance(column->season, day, err);
        spread(section, design, uf_season_T_degC(column->season), T_degC);
        add_flows(section, column, &now, T_degC, offset_K, T_degC + heat->n);
        uf_heat_matrix(heat, &now, T_degC, 1.0 / FLOW_SAMPLES, mean);
    }
    if (status == UF_OK) {
        uf_heat_join_water(heat, UF_STARTUP_JOINED_W_K, NULL, mean);
    }
    for (size_t i = 0; i < heat->n && status == UF_OK; i++) {
        if (uf_startup_fixed(heat, i)) {
            *uf_sparse_diagonal(mean, i) += UF_STARTUP_FIXED_W_K;
            offset_K[i] = 0.0;
        }
    }
    status = status == UF_OK ? uf_sparse_factor(mean, err) : status;
    status = status == UF_OK ? uf_sparse_solve(mean, offset_K, err) : status;
    uf_sparse_free(mean);
    free(T_degC);
    return status;
}

enum uf_status uf_startup_guess(const struct uf_season *season, const struct uf_section *section,
                                const struct uf_case *design, const struct uf_drive *year,
                                double begin_day, const struct uf_startup_wish *wish,
                                double *T_degC, double *undisturbed_degC, struct uf_error *err)
{
    const size_t n = section->heat->n;
    struct uf_startup_column column = {.stop = uf_season_asked(season)->stop,
                                       .lanes = uf_season_asked(season)->lanes};
    double *offset_K = calloc(n, sizeof *offset_K);
    if (offset_K == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    enum uf_status status =
        uf_startup_column_settle(&column, section, design, year, begin_day, T_degC + n, err);
    if (status == UF_OK && wish->beside_K != NULL) {
        memcpy(offset_K, wish->beside_K, n * sizeof *offset_K);
    } else if (status == UF_OK) {
        status = find_offset(section, design, &column, year, offset_K, err);
    }
    if (status == UF_OK) {
        spread(section, design, uf_season_T_degC(column.season), undisturbed_degC);
        for (size_t i = 0; i < n; i++) {
            T_degC[i] = undisturbed_degC[i] + offset_K[i];
        }
    }
    uf_startup_column_free(&column);
    free(offset_K);
    return status;
}
