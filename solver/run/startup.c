#include "startup.h"

#include "solver/base/constants.h"
#include "solver/heat/sparse.h"
#include "startup_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SAMPLES = 12, YEARS_MOST = 8 };

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

/* Repeated years take longer steps than the part of one that follows them, where a winter follows:
   the state they settle into is then within 3 mK of that of whole steps (the examples). */
static const double REPEAT_PACE = 0.5;
static const double LEAST_PACE = 0.5;

/* What one year of repetition needs. */
struct repeat {
    struct uf_season *season;
    const struct uf_heat *heat;     /* the network, or what stands for it: uf_startup_repeat */
    struct uf_startup_matrices own; /* none where some are lent */
    const struct uf_startup_matrices *lent;
    double *H0_J_m3, *H1_J_m3, *y_K; /* [n] */
    double *work;                    /* [8 n] where matrices are lent */
    double relax;                    /* share of a correction that is made */
};

void uf_startup_matrices_free(struct uf_startup_matrices *m)
{
    uf_sparse_free(m->half); /* has borrowed from the other */
    uf_sparse_free(m->mean);
    *m = (struct uf_startup_matrices){.mean = NULL};
}

static void repeat_free(struct repeat *r)
{
    uf_startup_matrices_free(&r->own);
    free(r->H0_J_m3);
}

static enum uf_status repeat_create(struct repeat *r, struct uf_season *season,
                                    const struct uf_heat *heat,
                                    const struct uf_startup_matrices *lent, struct uf_error *err)
{
    const bool borrows = lent != NULL && lent->mean != NULL && lent->half != NULL;
    *r = (struct repeat){.season = season, .heat = heat, .relax = 1.0};
    r->lent = borrows ? lent : NULL;
    r->H0_J_m3 = calloc((borrows ? 11 : 3) * heat->n, sizeof *r->H0_J_m3);
    if (r->H0_J_m3 == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    r->H1_J_m3 = r->H0_J_m3 + heat->n;
    r->y_K = r->H1_J_m3 + heat->n;
    r->work = r->y_K + heat->n;
    if (borrows) {
        return UF_OK;
    }
    const enum uf_status status = uf_startup_matrix(&r->own.mean, heat, err);
    return status == UF_OK ? uf_sparse_create_like(&r->own.half, r->own.mean, err) : status;
}

static double capacity_J_K(const struct uf_heat *heat, size_t i)
{
    return heat->volume_m3[i] * heat->materials[heat->material[i]].c_thawed_J_m3K;
}

static enum uf_status solve(struct repeat *r, bool half, struct uf_error *err)
{
    if (r->lent != NULL) {
        return uf_sparse_solve_beside(half ? r->lent->half : r->lent->mean, r->y_K, r->work, err);
    }
    struct uf_sparse *m = half ? r->own.half : r->own.mean;
    const enum uf_status status = uf_sparse_factor(m, err);
    return status == UF_OK ? uf_sparse_solve(m, r->y_K, err) : status;
}

/* Solves for the correction of the end state, into r->y_K; returns its largest size. */
static enum uf_status correction(struct repeat *r, double year_s, double *largest_K,
                                 struct uf_error *err)
{
    const struct uf_heat *heat = r->heat;
    uf_heat_enthalpies(heat, uf_season_T_degC(r->season), r->H1_J_m3);
    for (size_t i = 0; i < heat->n; i++) {
        r->y_K[i] = heat->volume_m3[i] * (r->H1_J_m3[i] - r->H0_J_m3[i]) / year_s;
    }
    enum uf_status status = solve(r, false, err);
    for (size_t i = 0; i < heat->n && status == UF_OK; i++) {
        r->y_K[i] *= capacity_J_K(heat, i);
    }
    status = status == UF_OK ? solve(r, true, err) : status;
    *largest_K = 0.0;
    for (size_t i = 0; i < heat->n; i++) {
        r->y_K[i] = fmin(LARGEST_K, fmax(-LARGEST_K, r->y_K[i]));
        *largest_K = fmax(*largest_K, fabs(r->y_K[i]));
    }
    return status;
}

/* Runs the year, and makes the mean of its matrices on the way. */
static enum uf_status run_year(struct repeat *r, const struct uf_drive *year, double start_day,
                               struct uf_error *err)
{
    const struct uf_heat *heat = r->heat;
    const double year_s = (double)year->days * UF_DAY_S;
    enum uf_status status = UF_OK;
    uf_sparse_zero(r->own.mean);
    uf_sparse_zero(r->own.half);
    for (int k = 0; k < SAMPLES && status == UF_OK; k++) {
        const double day = uf_startup_sample_day(year, start_day, k, SAMPLES);
        status = uf_season_advance(r->season, day, err);
        const struct uf_heat_now now = uf_season_now(year, day);
        const double *T = uf_season_T_degC(r->season);
        uf_heat_matrix(heat, &now, T, 1.0 / SAMPLES, r->own.mean);
    }
    uf_heat_join_water(heat, UF_STARTUP_JOINED_W_K, NULL, r->own.mean);
    uf_sparse_add(r->own.half, 0.5 * year_s, r->own.mean);
    for (size_t i = 0; i < heat->n; i++) {
        *uf_sparse_diagonal(r->own.mean, i) +=
            uf_startup_fixed(heat, i) ? UF_STARTUP_FIXED_W_K : 0.0;
        *uf_sparse_diagonal(r->own.half, i) +=
            uf_startup_fixed(heat, i) ? UF_STARTUP_FIXED_W_K : capacity_J_K(heat, i);
    }
    return status;
}

/* Runs one year from start_day and corrects its end; the season is left at start_day again. */
static enum uf_status repeat_year(struct repeat *r, const struct uf_drive *year, double start_day,
                                  double *largest_K, struct uf_error *err)
{
    const struct uf_heat *heat = r->heat;
    const double year_s = (double)year->days * UF_DAY_S;
    uf_heat_enthalpies(heat, uf_season_T_degC(r->season), r->H0_J_m3);
    enum uf_status status = r->lent != NULL
                                ? uf_season_advance(r->season, start_day + (double)year->days, err)
                                : run_year(r, year, start_day, err);
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
        status = repeat_create(&r, season, still != NULL ? still->heat : section->heat,
                               criterion->lent, err);
    }
    *result = (struct uf_startup_result){.left_K = INFINITY};
    bool yields = false;
    while (status == UF_OK && result->years < criterion->most && !yields &&
           !(result->left_K < criterion->tolerance_K)) {
        const double before_K = result->left_K;
        status = repeat_year(&r, year, start_day, &result->left_K, err);
        result->left_K *= criterion->share;
        result->years += 1.0;
        r.relax = result->left_K > SWINGS * before_K ? fmax(LEAST_RELAX, 0.5 * r.relax) : r.relax;
        yields = criterion->yields && r.relax <= LEAST_RELAX &&
                 uf_startup_frost_stays(section->heat, uf_season_T_degC(season));
    }
    if (status == UF_OK && criterion->kept != NULL) {
        *criterion->kept = r.own;
        r.own = (struct uf_startup_matrices){.mean = NULL};
    }
    repeat_free(&r);
    uf_section_free(still);
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

/* Part of the year that follows the corrections. */
static double years_after(const struct uf_drive *year)
{
    return 1.0 - uf_startup_begin_after_days(year) / (double)year->days;
}

/* The year as its repetitions take it: longer steps where a winter follows, of two days at most. */
static struct uf_drive repeated(const struct uf_season *season, const struct uf_drive *year)
{
    struct uf_drive paced = *year;
    const double pace =
        year->steps_per_day > 0.0 ? year->steps_per_day : uf_season_asked(season)->steps_per_day;
    const double longer = fmin(pace, fmax(LEAST_PACE, REPEAT_PACE * pace));
    paced.steps_per_day = years_after(year) < SOON_YEARS ? pace : longer;
    return paced;
}

static bool is_layered(const struct uf_case *design)
{
    return uf_case_water(design) == UF_WATER_LAYERED;
}

/* Share of a correction that may be left when the season begins; placed: the rows of water begin as a
   settled section has them. */
static double left_share(const struct uf_case *design, const struct uf_drive *year, bool placed)
{
    const double left = years_after(year) < SOON_YEARS ? LEFT_SOON : LEFT;
    return fmin(1.0, left * (is_layered(design) && !placed ? LAYERED : 1.0));
}

enum uf_status uf_startup_settle(struct uf_season *season, const struct uf_section *section,
                                 const struct uf_case *design, const struct uf_drive *year,
                                 const struct uf_startup_wish *wish,
                                 struct uf_startup_result *result, struct uf_error *err)
{
    const size_t n = section->heat->n;
    const double begin_day = year->start_day + uf_startup_begin_after_days(year);
    const bool slices = section->grid->ny > 1 && is_layered(design);
    const struct uf_startup_convergence criterion = {
        wish->tolerance_K, left_share(design, year, slices), YEARS_MOST, true, wish->lent,
        wish->kept};
    double *T_degC = calloc(3 * n + section->grid->nz, sizeof *T_degC);
    *result = (struct uf_startup_result){.left_K = INFINITY};
    if (T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    double *guess_degC = T_degC + n + section->grid->nz;
    double *undisturbed_degC = guess_degC + n;
    enum uf_status status = uf_startup_guess(season, section, design, year, begin_day, wish, T_degC,
                                             undisturbed_degC, err);
    memcpy(guess_degC, T_degC, n * sizeof *T_degC);
    if (status == UF_OK && slices && wish->beside_K == NULL) {
        status = uf_startup_plane(T_degC, season, section, design, year, wish, err);
    }
    for (size_t i = 0; wish->shift_K != NULL && i < n; i++) {
        T_degC[i] += wish->shift_K[i];
    }
    if (status == UF_OK) {
        const struct uf_drive paced = repeated(season, year);
        uf_season_drive(season, &paced);
        uf_season_set(season, begin_day, T_degC);
        status = uf_startup_repeat(season, section, design, year, &criterion, result, err);
        uf_season_drive(season, year);
    }
    for (size_t i = 0; wish->found_K != NULL && i < n; i++) {
        wish->found_K[i] = uf_season_T_degC(season)[i] - guess_degC[i];
    }
    for (size_t i = 0; wish->found_beside_K != NULL && i < n; i++) {
        wish->found_beside_K[i] = uf_season_T_degC(season)[i] - undisturbed_degC[i];
    }
    free(T_degC);
    return status;
}

enum uf_status uf_startup_near(struct uf_season *season, const struct uf_section *section,
                               const struct uf_case *design, const struct uf_drive *year,
                               const struct uf_startup_wish *wish, struct uf_startup_result *result,
                               struct uf_error *err)
{
    const size_t n = section->heat->n;
    enum uf_status status = uf_startup_settle(season, section, design, year, wish, result, err);
    result->frost_stays =
        status == UF_OK && uf_startup_frost_stays(section->heat, uf_season_T_degC(season));
    if (result->frost_stays) {
        const struct uf_drive paced = repeated(season, year);
        uf_season_drive(season, &paced);
        status =
            uf_startup_repeat_plainly(season, section->heat, year, wish->tolerance_K, result, err);
        uf_season_drive(season, year);
    }
    if (status == UF_OK) {
        status = uf_season_advance(season, year->start_day + (double)year->days, err);
        result->years += years_after(year);
    }
    if (status == UF_OK) {
        status = uf_season_judge(season, false, err);
    }
    double *T_degC = status == UF_OK ? calloc(n, sizeof *T_degC) : NULL;
    if (status == UF_OK && T_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    if (status == UF_OK) {
        memcpy(T_degC, uf_season_T_degC(season), n * sizeof *T_degC);
        uf_season_set(season, year->start_day, T_degC);
    }
    free(T_degC);
    return status;
}

enum uf_status uf_startup(struct uf_season *season, const struct uf_section *section,
                          const struct uf_case *design, const struct uf_drive *year,
                          double tolerance_K, struct uf_startup_result *result,
                          struct uf_error *err)
{
    const struct uf_startup_wish wish = {.tolerance_K = tolerance_K};
    return uf_startup_near(season, section, design, year, &wish, result, err);
}
