#include "startup.h"

#include "constants.h"
#include "sparse.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SAMPLES = 12, COLUMN_YEARS = 5, YEARS_LEAST = 2, YEARS_MOST = 8 };

/* A correction larger than this is a linear guess far from its base. */
static const double LARGEST_K = 5.0;

double uf_startup_deep_degC(const struct uf_heat *heat, const struct uf_drive *year)
{
    const struct uf_material *top = &heat->materials[heat->conducts[0]];
    const double base_degC = top->T_degC[top->n - 1];
    double sum_W_m = 0.0;
    for (size_t d = 0; d < year->days; d++) {
        sum_W_m += uf_material_U_W_m(top, year->outside_degC[d]);
    }
    return base_degC + sum_W_m / (double)year->days / top->k_W_mK[top->n - 1];
}

/* What one year of repetition needs. */
struct repeat {
    struct uf_season *season;
    const struct uf_heat *heat;
    struct uf_sparse *mean, *half; /* K, and V C + year K / 2 */
    double *H0_J_m3, *y_K;         /* [n] */
};

static void repeat_free(struct repeat *r)
{
    uf_sparse_free(r->mean);
    uf_sparse_free(r->half);
    free(r->H0_J_m3);
}

static enum uf_status repeat_create(struct repeat *r, struct uf_season *season,
                                    const struct uf_heat *heat, struct uf_error *err)
{
    size_t(*pairs)[2] = NULL;
    size_t n_pairs = 0;
    *r = (struct repeat){.season = season, .heat = heat};
    r->H0_J_m3 = calloc(2 * heat->n, sizeof *r->H0_J_m3);
    if (r->H0_J_m3 == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    r->y_K = r->H0_J_m3 + heat->n;
    enum uf_status status = uf_heat_pairs(heat, &pairs, &n_pairs, err);
    if (status == UF_OK) {
        status =
            uf_sparse_create(&r->mean, heat->n, (const size_t(*)[2])pairs, n_pairs, err);
    }
    if (status == UF_OK) {
        status =
            uf_sparse_create(&r->half, heat->n, (const size_t(*)[2])pairs, n_pairs, err);
    }
    free(pairs);
    return status;
}

static double capacity_J_K(const struct uf_heat *heat, size_t i)
{
    return heat->volume_m3[i] * heat->materials[heat->material[i]].c_thawed_J_m3K;
}

/* Solves for the correction of the end state, into r->y_K; returns its largest size. */
static enum uf_status correction(struct repeat *r, double year_s, double *largest_K,
                                 struct uf_error *err)
{
    const struct uf_heat *heat = r->heat;
    const double *H1 = uf_season_H_J_m3(r->season);
    for (size_t i = 0; i < heat->n; i++) {
        const bool fixed = heat->volume_m3[i] <= 0.0 || i == heat->held;
        *uf_sparse_diagonal(r->mean, i) += fixed ? 1e30 : 0.0;
        *uf_sparse_diagonal(r->half, i) += fixed ? 1e30 : capacity_J_K(heat, i);
        r->y_K[i] = heat->volume_m3[i] * (H1[i] - r->H0_J_m3[i]) / year_s;
    }
    enum uf_status status = uf_sparse_factor(r->mean, err);
    status = status == UF_OK ? uf_sparse_solve(r->mean, r->y_K, err) : status;
    for (size_t i = 0; i < heat->n && status == UF_OK; i++) {
        r->y_K[i] *= capacity_J_K(heat, i);
    }
    status = status == UF_OK ? uf_sparse_factor(r->half, err) : status;
    status = status == UF_OK ? uf_sparse_solve(r->half, r->y_K, err) : status;
    *largest_K = 0.0;
    for (size_t i = 0; i < heat->n; i++) {
        r->y_K[i] = fmin(LARGEST_K, fmax(-LARGEST_K, r->y_K[i]));
        *largest_K = fmax(*largest_K, fabs(r->y_K[i]));
    }
    return status;
}

/* Runs one year from start_day and corrects its end; the season is left at start_day
 * again. */
static enum uf_status repeat_year(struct repeat *r, const struct uf_drive *year,
                                  double start_day, double *largest_K,
                                  struct uf_error *err)
{
    const struct uf_heat *heat = r->heat;
    const double year_s = (double)year->days * UF_DAY_S;
    enum uf_status status = UF_OK;
    memcpy(r->H0_J_m3, uf_season_H_J_m3(r->season), heat->n * sizeof *r->H0_J_m3);
    uf_sparse_zero(r->mean);
    uf_sparse_zero(r->half);
    for (int k = 0; k < SAMPLES && status == UF_OK; k++) {
        const double day = start_day + (double)year->days * (k + 1.0) / SAMPLES;
        status = uf_season_advance(r->season, day, err);
        const struct uf_heat_now now = uf_season_now(year, day);
        const double *T = uf_season_T_degC(r->season);
        uf_heat_matrix(heat, &now, T, 1.0 / SAMPLES, r->mean);
        uf_heat_matrix(heat, &now, T, 0.5 * year_s / SAMPLES, r->half);
    }
    if (status == UF_OK) {
        status = correction(r, year_s, largest_K, err);
    }
    if (status == UF_OK) {
        const double *T = uf_season_T_degC(r->season);
        for (size_t i = 0; i < heat->n; i++) {
            r->y_K[i] += T[i];
        }
        uf_season_set(r->season, start_day, r->y_K);
    }
    return status;
}

static enum uf_status repeat_until(struct uf_season *season, const struct uf_heat *heat,
                                   const struct uf_drive *year, double tolerance_K,
                                   const int years[2], struct uf_startup_result *result,
                                   struct uf_error *err)
{
    struct repeat r;
    const double start_day = uf_season_day(season);
    enum uf_status status = repeat_create(&r, season, heat, err);
    result->last_correction_K = INFINITY;
    result->years = 0.0;
    for (int k = 0; k < years[1] && status == UF_OK; k++) {
        if (k >= years[0] && result->last_correction_K < tolerance_K) {
            break;
        }
        status = repeat_year(&r, year, start_day, &result->last_correction_K, err);
        result->years += 1.0;
    }
    repeat_free(&r);
    return status;
}

/* One column of undisturbed ground in its periodic state, temperature by row into
 * rows_degC [nz]. */
static enum uf_status settle_column(const struct uf_section *section,
                                    const struct uf_case *design,
                                    const struct uf_drive *year, double start_day,
                                    double *rows_degC, struct uf_error *err)
{
    struct uf_section *column = NULL;
    struct uf_season *season = NULL;
    struct uf_startup_result result;
    struct uf_season_options options = uf_season_defaults();
    options.steps_per_day = 2.0;
    enum uf_status status = uf_section_create_column(&column, design, section->grid, err);
    if (status == UF_OK) {
        status = uf_season_create(&season, column->heat, &options, err);
    }
    if (status == UF_OK) {
        const double deep_degC = uf_startup_deep_degC(column->heat, year);
        const struct uf_material *top =
            &column->heat->materials[column->heat->conducts[0]];
        for (size_t j = 0; j < section->grid->nz; j++) {
            rows_degC[j] = deep_degC + design->ground.geothermal_W_m2 *
                                           section->grid->z_m[j] /
                                           top->k_W_mK[top->n - 1];
        }
        uf_season_drive(season, year);
        uf_season_set(season, start_day, rows_degC);
        status = repeat_until(season, column->heat, year, 0.005,
                              (const int[2]){3, COLUMN_YEARS}, &result, err);
    }
    if (status == UF_OK) {
        memcpy(rows_degC, uf_season_T_degC(season),
               section->grid->nz * sizeof *rows_degC);
    }
    uf_season_free(season);
    uf_section_free(column);
    return status;
}

/* Copies the rows of the column over the section; bodies take the row at the tank's axis.
 */
static void spread(const struct uf_section *section, const double *rows_degC,
                   double *T_degC)
{
    const struct uf_grid *g = section->grid;
    const double axis_m = 0.5 * (section->outline.top_m + section->outline.bottom_m);
    for (size_t j = 0; j < g->nz; j++) {
        for (size_t i = 0; i < g->nx; i++) {
            T_degC[uf_grid_at(g, i, j)] = rows_degC[j];
        }
        if (g->z_edge_m[j] <= axis_m) {
            for (size_t body = section->heat->n_cells; body < section->heat->n; body++) {
                T_degC[body] = rows_degC[j];
            }
        }
    }
}

enum uf_status uf_startup(struct uf_season *season, const struct uf_section *section,
                          const struct uf_case *design, const struct uf_drive *year,
                          double tolerance_K, struct uf_startup_result *result,
                          struct uf_error *err)
{
    const double start_day = year->start_day;
    double *T_degC = calloc(section->heat->n + section->grid->nz, sizeof *T_degC);
    if (T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    double *const rows_degC = T_degC + section->heat->n;
    enum uf_status status =
        settle_column(section, design, year, start_day, rows_degC, err);
    if (status == UF_OK) {
        spread(section, rows_degC, T_degC);
        if (section->heat->held != UF_HEAT_NONE) {
            T_degC[section->heat->held] = design->tank.hold_degC;
        }
        uf_season_drive(season, year);
        uf_season_set(season, start_day, T_degC);
        status = repeat_until(season, section->heat, year, tolerance_K,
                              (const int[2]){YEARS_LEAST, YEARS_MOST}, result, err);
    }
    free(T_degC);
    return status;
}
