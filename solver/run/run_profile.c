#include "run_private.h"
#include "solver/base/constants.h"
#include "startup_private.h"

#include <math.h>
#include <stdlib.h>

/* A measured profile at a depth: straight lines between its points, constant beyond. */
static double profile_degC(const struct uf_initial *initial, double depth_m)
{
    size_t k = 1;
    while (k < initial->n_profile && initial->depth_m[k] < depth_m) {
        k++;
    }
    if (k >= initial->n_profile || depth_m <= initial->depth_m[0]) {
        return initial->degC[depth_m <= initial->depth_m[0] ? 0 : initial->n_profile - 1];
    }
    const double w =
        (depth_m - initial->depth_m[k - 1]) / (initial->depth_m[k] - initial->depth_m[k - 1]);
    return initial->degC[k - 1] + w * (initial->degC[k] - initial->degC[k - 1]);
}

/* Undisturbed ground under the mean year, on the first day of the run, row by row. */
static enum uf_status mean_rows(struct uf_startup_column *column, const struct uf_run *run,
                                double *rows_degC, struct uf_error *err)
{
    const struct uf_drive *year = &run->forcing->year;
    const double begin_day = year->start_day + uf_startup_begin_after_days(year);
    column->stop = run->options.season.stop;
    enum uf_status status = uf_startup_column_settle(column, run->section, run->design, year,
                                                     begin_day, rows_degC, err);
    if (status == UF_OK) {
        status = uf_season_advance(column->season, year->start_day + (double)year->days, err);
    }
    for (size_t j = 0; j < run->section->grid->nz && status == UF_OK; j++) {
        rows_degC[j] = uf_season_T_degC(column->season)[j];
    }
    return status;
}

/* How far the yearly wave goes down in a row's ground, thawed. */
static double damping_m(const struct uf_heat *column, size_t row)
{
    const struct uf_material *m = &column->materials[column->material[row]];
    return sqrt(uf_material_k_W_mK(m, 1.0) / m->c_thawed_J_m3K * UF_YEAR_DAY * UF_DAY_S / UF_PI);
}

/* Puts what lies below the lowest point of the profile into rows_degC [nz], which hold the
   mean year's. */
static void extend(const struct uf_run *run, const struct uf_heat *column, double *rows_degC)
{
    const struct uf_initial *initial = &run->design->initial;
    const struct uf_grid *g = run->section->grid;
    const double low_m = initial->depth_m[initial->n_profile - 1];
    const double low_degC = initial->degC[initial->n_profile - 1];
    size_t low = 0;
    while (low + 1 < g->nz && g->z_m[low + 1] <= low_m) {
        low++;
    }
    const size_t next = low + 1 < g->nz ? low + 1 : low;
    const double w =
        next > low ? fmax(0.0, (low_m - g->z_m[low]) / (g->z_m[next] - g->z_m[low])) : 0.0;
    const double beside_K = low_degC - (rows_degC[low] + w * (rows_degC[next] - rows_degC[low]));
    const double bottom_m = g->z_edge_m[g->nz];
    const double bottom_degC = rows_degC[g->nz - 1];
    for (size_t j = 0; j < g->nz; j++) {
        const double below_m = g->z_m[j] - low_m;
        if (below_m <= 0.0) {
            rows_degC[j] = profile_degC(initial, g->z_m[j]);
        } else if (initial->below == UF_BELOW_WAVE) {
            rows_degC[j] += beside_K * exp(-below_m / damping_m(column, low));
        } else {
            rows_degC[j] = low_degC + below_m / (bottom_m - low_m) * (bottom_degC - low_degC);
        }
    }
}

static enum uf_status rows_from_profile(const struct uf_run *run, double *rows_degC,
                                        struct uf_error *err)
{
    const struct uf_initial *initial = &run->design->initial;
    const struct uf_grid *g = run->section->grid;
    struct uf_startup_column column = {.section = NULL};
    if (initial->below == UF_BELOW_CONSTANT || !uf_case_profile_ends_above(run->design)) {
        for (size_t j = 0; j < g->nz; j++) {
            rows_degC[j] = profile_degC(initial, g->z_m[j]);
        }
        return UF_OK;
    }
    if (run->forcing->year.days == 0) {
        return uf_fail_key(
            err, UF_E_INPUT, "initial.below",
            UF_SAID("the profile ends at {}, and the weather holds no whole year "
                    "from which the temperatures below would follow",
                    UF_ROUND(LENGTH, initial->depth_m[initial->n_profile - 1])),
            UF_SAID("`constant`, a record of a year and more, or a profile down to {}",
                    UF_ROUND(LENGTH, run->design->grid.depth_m)));
    }
    const enum uf_status status = mean_rows(&column, run, rows_degC, err);
    if (status == UF_OK) {
        extend(run, column.section->heat, rows_degC);
    }
    uf_startup_column_free(&column);
    return status;
}

enum uf_status uf_run_start_from_profile(const struct uf_run *run, double *T_degC,
                                         struct uf_error *err)
{
    const struct uf_section *s = run->section;
    const struct uf_grid *g = s->grid;
    const double axis_m = 0.5 * (s->outline.top_m + s->outline.bottom_m);
    double *rows_degC = calloc(g->nz, sizeof *rows_degC);
    if (rows_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a run");
    }
    const enum uf_status status = rows_from_profile(run, rows_degC, err);
    for (size_t i = 0; i < s->heat->n && status == UF_OK; i++) {
        size_t j = 0;
        if (i < s->heat->n_cells) {
            j = uf_grid_j(g, i);
        } else {
            while (j + 1 < g->nz && g->z_edge_m[j + 1] < axis_m) {
                j++;
            }
        }
        T_degC[i] = rows_degC[j];
    }
    free(rows_degC);
    return status;
}
