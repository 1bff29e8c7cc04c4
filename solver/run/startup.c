#include "startup.h"

#include "solver/base/constants.h"
#include "solver/heat/sparse.h"
#include "startup_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SAMPLES = 12, FLOW_SAMPLES = 36, YEARS_MOST = 8 };

/* A correction larger than this is a linear guess far from its base. */
static const double LARGEST_K = 5.0;

/* What a correction leaves when the season begins, as a share of its own size: 0.02 to
   0.08 with a winter or more between (nine sites: cold, snowy, with a tank kept warm),
   up to half of it where the season begins soon after. */
static const double LEFT = 0.1;
static const double LEFT_SOON = 0.5;
static const double SOON_YEARS = 0.5;
/* In layers a little decides whether a row near 4 degC joins the pool: 16 mK a correction away,
   rows beside the pool were 0.3 K from where they settle. */
static const double LAYERED = 4.0;

/* Corrections are made so long before the coldest day of the year's wave, in late autumn:
   summer has wiped out what the last frost left, which no linear correction understands. */
static const double BEFORE_COLDEST_YEARS = 1.0 / 6.0;

/* A correction that has not come down to this share of the one before it swings to and fro
   across a kink: the next is taken by half as much. */
static const double SWINGS = 0.7;
static const double LEAST_RELAX = 0.125;

/* Rows of water that overturn once or twice a year are one body to what repeats year by year:
   a conductance between them far above the water's own. */
static const double JOINED_W_K = 10.0;

/* Repeated years take longer steps than the part of one that follows them: the state they settle into
   is within 3 mK of that of whole steps (the examples), and the rest of the year heals most of it. */
static const double REPEAT_PACE = 0.5;

static const double FIXED_W_K = 1e30; /* weight of a node that no correction moves */

/* What one year of repetition needs. */
struct repeat {
    struct uf_season *season;
    const struct uf_heat *heat;      /* the network, or what stands for it: uf_startup_repeat */
    struct uf_sparse *mean, *half;   /* K, and V C + year K / 2 */
    double *H0_J_m3, *H1_J_m3, *y_K; /* [n] */
    double relax;                    /* share of a correction that is made */
};

static void repeat_free(struct repeat *r)
{
    uf_sparse_free(r->mean);
    uf_sparse_free(r->half);
    free(r->H0_J_m3);
}

static enum uf_status matrix_create(struct uf_sparse **out, const struct uf_heat *heat,
                                    struct uf_error *err)
{
    size_t(*pairs)[2] = NULL;
    size_t n_pairs = 0;
    enum uf_status status = uf_heat_pairs(heat, &pairs, &n_pairs, err);
    if (status == UF_OK) {
        status = uf_sparse_create(out, heat->n, (const size_t(*)[2])pairs, n_pairs, err);
    }
    free(pairs);
    return status;
}

static enum uf_status repeat_create(struct repeat *r, struct uf_season *season,
                                    const struct uf_heat *heat, struct uf_error *err)
{
    *r = (struct repeat){.season = season, .heat = heat, .relax = 1.0};
    r->H0_J_m3 = calloc(3 * heat->n, sizeof *r->H0_J_m3);
    if (r->H0_J_m3 == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    r->H1_J_m3 = r->H0_J_m3 + heat->n;
    r->y_K = r->H1_J_m3 + heat->n;
    const enum uf_status status = matrix_create(&r->mean, heat, err);
    return status == UF_OK ? matrix_create(&r->half, heat, err) : status;
}

/* A node that no correction moves: out of use, or kept at its temperature. */
static bool fixed(const struct uf_heat *heat, size_t i)
{
    return heat->volume_m3[i] <= 0.0 || i == heat->held;
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
    uf_heat_enthalpies(heat, uf_season_T_degC(r->season), r->H1_J_m3);
    for (size_t i = 0; i < heat->n; i++) {
        *uf_sparse_diagonal(r->mean, i) += fixed(heat, i) ? FIXED_W_K : 0.0;
        *uf_sparse_diagonal(r->half, i) += fixed(heat, i) ? FIXED_W_K : capacity_J_K(heat, i);
        r->y_K[i] = heat->volume_m3[i] * (r->H1_J_m3[i] - r->H0_J_m3[i]) / year_s;
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

/* The end of part k of a year. Whole days, so that the steps are those of any other run. */
static double sample_day(const struct uf_drive *year, double start_day, int k, int parts)
{
    return start_day + floor((double)year->days * (k + 1.0) / parts);
}

/* Runs one year from start_day and corrects its end; the season is left at start_day again. */
static enum uf_status repeat_year(struct repeat *r, const struct uf_drive *year, double start_day,
                                  double *largest_K, struct uf_error *err)
{
    const struct uf_heat *heat = r->heat;
    const double year_s = (double)year->days * UF_DAY_S;
    enum uf_status status = UF_OK;
    uf_heat_enthalpies(heat, uf_season_T_degC(r->season), r->H0_J_m3);
    uf_sparse_zero(r->mean);
    uf_sparse_zero(r->half);
    for (int k = 0; k < SAMPLES && status == UF_OK; k++) {
        const double day = sample_day(year, start_day, k, SAMPLES);
        status = uf_season_advance(r->season, day, err);
        const struct uf_heat_now now = uf_season_now(year, day);
        const double *T = uf_season_T_degC(r->season);
        uf_heat_matrix(heat, &now, T, 1.0 / SAMPLES, r->mean);
    }
    uf_heat_join_water(heat, JOINED_W_K, NULL, r->mean);
    uf_sparse_add(r->half, 0.5 * year_s, r->mean);
    if (status == UF_OK) {
        status = correction(r, year_s, largest_K, err);
    }
    if (status == UF_OK) {
        const double *T = uf_season_T_degC(r->season);
        for (size_t i = 0; i < heat->n; i++) {
            r->y_K[i] = r->relax * r->y_K[i] + T[i];
        }
        uf_season_set(r->season, start_day, r->y_K);
    }
    return status;
}

enum uf_status uf_startup_repeat(struct uf_season *season, const struct uf_section *section,
                                 const struct uf_case *design, const struct uf_drive *year,
                                 const struct uf_startup_convergence *criterion,
                                 struct uf_startup_result *result, struct uf_error *err)
{
    struct repeat r = {.season = NULL};
    struct uf_section *still = NULL;
    const double start_day = uf_season_day(season);
    enum uf_status status =
        design->ground.water_moves ? uf_section_twin(&still, section, design, NULL, err) : UF_OK;
    if (status == UF_OK) {
        status = repeat_create(&r, season, still != NULL ? still->heat : section->heat, err);
    }
    *result = (struct uf_startup_result){.left_K = INFINITY};
    while (status == UF_OK && result->years < criterion->most &&
           !(result->left_K < criterion->tolerance_K)) {
        const double before_K = result->left_K;
        status = repeat_year(&r, year, start_day, &result->left_K, err);
        result->left_K *= criterion->share;
        result->years += 1.0;
        r.relax = result->left_K > SWINGS * before_K ? fmax(LEAST_RELAX, 0.5 * r.relax) : r.relax;
    }
    repeat_free(&r);
    uf_section_free(still);
    return status;
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
    enum uf_status status = matrix_create(&mean, heat, err);
    for (int k = 0; k < FLOW_SAMPLES && status == UF_OK; k++) {
        const double day = sample_day(year, begin_day, k, FLOW_SAMPLES);
        const struct uf_heat_now now = uf_season_now(year, day);
        status = uf_season_advance(column->season, day, err);
        spread(section, design, uf_season_T_degC(column->season), T_degC);
        add_flows(section, column, &now, T_degC, offset_K, T_degC + heat->n);
        uf_heat_matrix(heat, &now, T_degC, 1.0 / FLOW_SAMPLES, mean);
    }
    if (status == UF_OK) {
        uf_heat_join_water(heat, JOINED_W_K, NULL, mean);
    }
    for (size_t i = 0; i < heat->n && status == UF_OK; i++) {
        if (fixed(heat, i)) {
            *uf_sparse_diagonal(mean, i) += FIXED_W_K;
            offset_K[i] = 0.0;
        }
    }
    status = status == UF_OK ? uf_sparse_factor(mean, err) : status;
    status = status == UF_OK ? uf_sparse_solve(mean, offset_K, err) : status;
    uf_sparse_free(mean);
    free(T_degC);
    return status;
}

/* The section at begin_day: the column's rows and the offset. T_degC [n + nz]; season:
   the one that will run it, for whom stops it. */
static enum uf_status first_guess(const struct uf_season *season, const struct uf_section *section,
                                  const struct uf_case *design, const struct uf_drive *year,
                                  double begin_day, double *T_degC, struct uf_error *err)
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
    if (status == UF_OK) {
        status = find_offset(section, design, &column, year, offset_K, err);
    }
    if (status == UF_OK) {
        spread(section, design, uf_season_T_degC(column.season), T_degC);
        for (size_t i = 0; i < n; i++) {
            T_degC[i] += offset_K[i];
        }
    }
    uf_startup_column_free(&column);
    free(offset_K);
    return status;
}

double uf_startup_begin_after_days(const struct uf_drive *year)
{
    const double days = (double)year->days;
    double along = 0.0;
    double across = 0.0;
    for (size_t d = 0; d < year->days; d++) {
        const double phase = 2.0 * UF_PI * ((double)d + 0.5) / days;
        along -= year->outside_degC[d] * cos(phase);
        across -= year->outside_degC[d] * sin(phase);
    }
    const double coldest_years = atan2(across, along) / (2.0 * UF_PI);
    const double after_years = coldest_years - BEFORE_COLDEST_YEARS;
    return fmax(1.0, floor(days * (after_years - floor(after_years))));
}

/* The year in steps of another length. */
static struct uf_drive at_pace(const struct uf_season *season, const struct uf_drive *year,
                               double share)
{
    struct uf_drive paced = *year;
    paced.steps_per_day =
        share *
        (year->steps_per_day > 0.0 ? year->steps_per_day : uf_season_asked(season)->steps_per_day);
    return paced;
}

enum uf_status uf_startup(struct uf_season *season, const struct uf_section *section,
                          const struct uf_case *design, const struct uf_drive *year,
                          double tolerance_K, struct uf_startup_result *result,
                          struct uf_error *err)
{
    const size_t n = section->heat->n;
    const double days = (double)year->days;
    const double begin_day = year->start_day + uf_startup_begin_after_days(year);
    const double after_years = 1.0 - (begin_day - year->start_day) / days;
    const double share = (after_years < SOON_YEARS ? LEFT_SOON : LEFT) *
                         (uf_case_water(design) == UF_WATER_LAYERED ? LAYERED : 1.0);
    const struct uf_startup_convergence criterion = {tolerance_K, fmin(1.0, share), YEARS_MOST};
    double *T_degC = calloc(n + section->grid->nz, sizeof *T_degC);
    if (T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    enum uf_status status = first_guess(season, section, design, year, begin_day, T_degC, err);
    if (status == UF_OK) {
        const struct uf_drive paced = at_pace(season, year, REPEAT_PACE);
        uf_season_drive(season, &paced);
        uf_season_set(season, begin_day, T_degC);
        status = uf_startup_repeat(season, section, design, year, &criterion, result, err);
        uf_season_drive(season, year);
    }
    result->frost_stays =
        status == UF_OK && uf_startup_frost_stays(section->heat, uf_season_T_degC(season));
    if (result->frost_stays) {
        status = uf_startup_repeat_plainly(season, section->heat, year, tolerance_K, result, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(season, year->start_day + days, err);
        result->years += after_years;
    }
    if (status == UF_OK) {
        status = uf_season_judge(season, false, err);
    }
    if (status == UF_OK) {
        memcpy(T_degC, uf_season_T_degC(season), n * sizeof *T_degC);
        uf_season_set(season, year->start_day, T_degC);
    }
    free(T_degC);
    return status;
}
