#include "run.h"

#include "run_private.h"
#include "solver/base/constants.h"
#include "solver/ground/soil.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What lies under a board does not feel the day: half the steps leave water and wall of the example
   within 0.008 K and frost within a millimetre (a quarter of them 0.1 K); a bare crown would be 0.03 K
   off. Of its mean year 0.001 K. */
static const double COVERED_PACE = 0.5;

static double pace_of(const struct uf_case *design)
{
    return uf_case_has_tank(design) && uf_case_has_board(design) ? COVERED_PACE : 1.0;
}

struct uf_run_options uf_run_defaults(void)
{
    return (struct uf_run_options){.season = uf_season_defaults(), .startup_tolerance_K = 0.02};
}

struct uf_season_options uf_run_season_options(const struct uf_case *design,
                                               const struct uf_run_options *options)
{
    struct uf_season_options season = options->season;
    season.steps_per_day *= pace_of(design);
    return season;
}

double uf_run_frost_guess_m(const struct uf_case *design, double freezing_degC_day)
{
    double deepest_m = 1.0;
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        struct uf_soil_state state;
        if (uf_soil_resolve(&state, &design->ground.layers[i].spec, design->ground.method, false,
                            NULL) == UF_OK) {
            const double latent_J_m3 = fmax(state.thermal.latent_J_m3, 10e6);
            deepest_m = fmax(deepest_m, sqrt(2.0 * state.thermal.k_frozen_W_mK * freezing_degC_day *
                                             UF_DAY_S / latent_J_m3));
        }
    }
    return fmin(4.5, deepest_m);
}

/* What fills the tank, cell by cell; ground outside it. */
static enum uf_status find_bodies(struct uf_run *run, struct uf_error *err)
{
    const struct uf_section *s = run->section;
    run->body = calloc(s->heat->n_cells, sizeof *run->body);
    run->side_least_degC = calloc(2 * s->grid->nz, sizeof *run->side_least_degC);
    if (run->body == NULL || run->side_least_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a run");
    }
    for (size_t c = 0; s->outline.half_m > 0.0 && c < s->heat->n_cells; c++) {
        run->body[c] = (int8_t)uf_section_body_of(s, c);
    }
    return uf_run_still_begin(run, err);
}

static bool is_water(const struct uf_run *run, size_t node)
{
    const struct uf_heat *heat = run->section->heat;
    return node >= heat->n_cells ? uf_heat_is_water(heat, node)
                                 : run->body[node] == UF_SECTION_WATER;
}

/* The water's own temperatures at the first day: kept warm, or as the user says. */
static void set_water(const struct uf_run *run, double *T_degC)
{
    const struct uf_tank *tank = &run->design->tank;
    const double start_degC = !isnan(tank->hold_degC) ? tank->hold_degC : tank->start_degC;
    for (size_t i = 0; !isnan(start_degC) && i < run->section->heat->n; i++) {
        if (is_water(run, i)) {
            T_degC[i] = start_degC;
        }
    }
}

static enum uf_status settle(struct uf_run *run, struct uf_error *err)
{
    const size_t n = run->section->heat->n;
    const struct uf_run_options *o = &run->options;
    run->found_K = calloc(2 * n, sizeof *run->found_K);
    if (run->found_K == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a run");
    }
    const struct uf_startup_wish wish = {.tolerance_K = o->startup_tolerance_K,
                                         .shift_K = o->n_shift == n ? o->shift_K : NULL,
                                         .found_K = run->found_K,
                                         .beside_K = o->n_beside == n ? o->beside_K : NULL,
                                         .found_beside_K = run->found_K + n,
                                         .lent = o->n_beside == n ? o->lent : NULL,
                                         .kept = o->kept,
                                         .plane_K = o->plane_K,
                                         .n_plane = o->n_plane};
    struct uf_drive year = run->forcing->year;
    year.steps_per_day *= pace_of(run->design);
    return uf_startup_near(run->season, run->section, run->design, &year, &wish, &run->startup,
                           err);
}

static enum uf_status start(struct uf_run *run, struct uf_error *err)
{
    const double first_day = run->forcing->season.start_day;
    enum uf_status status = UF_OK;
    double *T_degC = calloc(run->section->heat->n, sizeof *T_degC);
    if (T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a run");
    }
    if (run->options.start_degC != NULL && run->options.n_start != run->section->heat->n) {
        status = uf_fail(err, UF_E_INPUT, "the state to start from has %zu nodes, not %zu",
                         run->options.n_start, run->section->heat->n);
    } else if (run->options.start_degC != NULL) {
        memcpy(T_degC, run->options.start_degC, run->options.n_start * sizeof *T_degC);
    } else if (run->design->initial.n_profile > 0) {
        status = uf_run_start_from_profile(run, T_degC, err);
    } else {
        status = settle(run, err);
        memcpy(T_degC, uf_season_T_degC(run->season), run->section->heat->n * sizeof *T_degC);
    }
    if (status == UF_OK) {
        set_water(run, T_degC);
        uf_season_drive(run->season, &run->forcing->season);
        uf_season_set(run->season, first_day, T_degC);
    }
    free(T_degC);
    return status;
}

static enum uf_status refuse_frozen_ground(const struct uf_case *design,
                                           const struct uf_forcing *forcing, struct uf_error *err)
{
    if (design->initial.n_profile == 0 && forcing->year.days == 0) {
        return uf_fail(err, UF_E_INPUT,
                       "no mean year to start from: give initial.profile and initial.date");
    }
    if (design->initial.n_profile == 0 && !(forcing->year_surface_degC > 0.0)) {
        return uf_fail_key(
            err, UF_E_INPUT, "initial.profile",
            UF_SAID("the mean ground surface is {}: permafrost, outside this program",
                    UF_ABOUT(TEMPERATURE, 2, forcing->year_surface_degC)),
            UF_PLAIN("a run from a measured profile is done as asked"));
    }
    return UF_OK;
}

static void set_inflow(struct uf_run *run)
{
    const struct uf_tank *tank = &run->design->tank;
    if (run->options.inflow && tank->inflow_m3_s > 0.0 &&
        run->section->heat->water != UF_HEAT_NONE) {
        run->section->heat->inflow_W_K =
            run->section->whole_share * tank->inflow_m3_s * UF_WATER_CAPACITY_J_M3K;
        run->section->heat->inflow_degC = tank->inflow_degC;
    }
}

enum uf_status uf_run_create(struct uf_run **out, const struct uf_case *design,
                             const struct uf_forcing *forcing, const struct uf_run_options *options,
                             struct uf_error *err)
{
    *out = NULL;
    enum uf_status status = refuse_frozen_ground(design, forcing, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_run *run = calloc(1, sizeof *run);
    if (run == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a run");
    }
    run->design = design;
    run->forcing = forcing;
    run->options = *options;
    run->options.season = uf_run_season_options(design, options);
    const double frost_m = options->frost_m > 0.0
                               ? options->frost_m
                               : uf_run_frost_guess_m(design, forcing->freezing_degC_day);
    status = uf_section_create(&run->section, design, frost_m, err);
    if (status == UF_OK) {
        status = find_bodies(run, err);
    }
    if (status == UF_OK) {
        set_inflow(run);
        status = uf_season_create(&run->season, run->section->heat, &run->options.season, err);
    }
    if (status == UF_OK && design->ground.water_moves) {
        status = uf_soak_create(&run->soak, design, run->section, run->season, err);
    }
    if (status == UF_OK) {
        status = start(run, err);
    }
    if (status == UF_OK) {
        uf_run_watch_begin(run);
        status = uf_run_standpipes_begin(run, err);
    }
    if (status != UF_OK) {
        uf_run_free(run);
        return status;
    }
    *out = run;
    return UF_OK;
}

void uf_run_free(struct uf_run *run)
{
    if (run != NULL) {
        uf_soak_free(run->soak);
        uf_season_free(run->season);
        uf_section_free(run->section);
        free(run->standpipes);
        free(run->found_K);
        free(run->body);
        free(run->still_m3);
        free(run->side_least_degC);
        free(run);
    }
}

enum uf_status uf_run_next(struct uf_run *run, struct uf_error *err)
{
    const double to_day = run->forcing->season.start_day + (double)run->day + 1.0;
    const enum uf_status status = uf_season_advance(run->season, to_day, err);
    if (status == UF_OK) {
        run->day++;
        uf_run_watch(run);
        run->settled = run->options.brief && uf_run_settled(run);
    }
    return status;
}

bool uf_run_done(const struct uf_run *run)
{
    return run->settled || run->day >= uf_run_days(run);
}

size_t uf_run_days(const struct uf_run *run)
{
    return run->forcing->season.days;
}

size_t uf_run_day(const struct uf_run *run)
{
    return run->day;
}

struct uf_summary uf_run_summary(const struct uf_run *run)
{
    struct uf_summary summary = run->summary;
    summary.heat_balance_relative = uf_run_watch_balance(run);
    return summary;
}

void uf_run_forget(struct uf_run *run)
{
    uf_run_watch_begin(run);
    (void)uf_run_standpipes_begin(run, NULL); /* has its room already */
    run->summary.counters = uf_season_counters(run->season);
}

struct uf_startup_result uf_run_startup(const struct uf_run *run)
{
    return run->startup;
}

const double *uf_run_startup_found(const struct uf_run *run, size_t *n)
{
    *n = run->found_K != NULL ? run->section->heat->n : 0;
    return run->found_K;
}

const double *uf_run_startup_beside(const struct uf_run *run, size_t *n)
{
    const double *found_K = uf_run_startup_found(run, n);
    return found_K != NULL ? found_K + *n : NULL;
}

const struct uf_section *uf_run_section(const struct uf_run *run)
{
    return run->section;
}

const struct uf_season *uf_run_season(const struct uf_run *run)
{
    return run->season;
}

enum uf_status uf_run_all(struct uf_summary *summary, struct uf_record **record,
                          const struct uf_case *design, const struct uf_forcing *forcing,
                          const struct uf_run_options *options, bool (*stop)(void),
                          struct uf_error *err)
{
    struct uf_run *run = NULL;
    if (record != NULL) {
        *record = NULL;
    }
    enum uf_status status = uf_run_create(&run, design, forcing, options, err);
    if (status == UF_OK && record != NULL) {
        status = uf_run_record(record, run, 1, UF_KEEP_USUAL, err);
    }
    assert(status != UF_OK || run != NULL);
    while (status == UF_OK && !uf_run_done(run)) {
        if (stop != NULL && stop()) {
            status = uf_fail(err, UF_E_STOPPED, "interrupted");
            break;
        }
        status = uf_run_next(run, err);
        if (status == UF_OK && record != NULL) {
            uf_run_store(run, *record, run->day - 1);
        }
    }
    if (status == UF_OK) {
        *summary = uf_run_summary(run);
    } else if (record != NULL) {
        uf_record_free(*record);
        *record = NULL;
    }
    uf_run_free(run);
    return status;
}
