#include "season.h"

#include "lanes.h"
#include "season_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const struct uf_stepper *const STEPPERS[] = {&uf_season_fast_stepper,
                                                    &uf_season_bdf_stepper};

struct uf_season_options uf_season_defaults(void)
{
    return (struct uf_season_options){
        .integrator = UF_FAST, .steps_per_day = 4.0, .rtol = 1e-4, .atol_J_m3 = 0.1e6};
}

enum uf_status uf_season_create(struct uf_season **out, const struct uf_heat *heat,
                                const struct uf_season_options *options, struct uf_error *err)
{
    struct uf_season *s = calloc(1, sizeof *s);
    *out = NULL;
    if (s == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
    }
    s->heat = heat;
    s->options = *options;
    s->stepper = STEPPERS[options->integrator];
    if (options->lanes != NULL && options->integrator == UF_FAST && uf_lanes_takes(heat)) {
        s->stepper = &uf_season_lanes_stepper;
    }
    s->H_J_m3 = calloc(heat->n, sizeof *s->H_J_m3);
    s->T_degC = calloc(heat->n, sizeof *s->T_degC);
    s->counters.cells = (long)heat->n_cells;
    if (s->H_J_m3 == NULL || s->T_degC == NULL) {
        uf_season_free(s);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season of %zu cells", heat->n_cells);
    }
    const enum uf_status status = s->stepper->create(s, err);
    if (status != UF_OK) {
        uf_season_free(s);
        return status;
    }
    *out = s;
    return UF_OK;
}

void uf_season_free(struct uf_season *season)
{
    if (season != NULL) {
        if (season->state != NULL) {
            season->stepper->free(season);
        }
        free(season->H_J_m3);
        free(season->T_degC);
        free(season);
    }
}

void uf_season_set(struct uf_season *season, double day, const double *T_degC)
{
    season->day = day;
    memmove(season->T_degC, T_degC, season->heat->n * sizeof *T_degC);
    uf_heat_enthalpies(season->heat, season->T_degC, season->H_J_m3);
    season->set_stored_J = uf_heat_stored_J(season->heat, season->H_J_m3);
    season->set_heat_J = uf_heat_total_J(&season->heat_J);
    uf_season_range_start(season);
    season->stepper->restart(season);
}

void uf_season_drive(struct uf_season *season, const struct uf_drive *drive)
{
    season->drive = *drive;
    uf_season_range_drive(season);
}

void uf_season_watch(struct uf_season *season, const struct uf_season_watch *watch)
{
    season->watch = *watch;
}

enum uf_status uf_season_change(struct uf_season *season,
                                enum uf_status (*change)(void *who, struct uf_error *err),
                                void *who, struct uf_error *err)
{
    const double before_J = uf_heat_stored_J(season->heat, season->H_J_m3);
    season->stepper->free(season);
    season->earlier = season->counters;
    enum uf_status status = change(who, err);
    if (status == UF_OK) {
        uf_heat_enthalpies(season->heat, season->T_degC, season->H_J_m3);
        const double brought_J = uf_heat_stored_J(season->heat, season->H_J_m3) - before_J;
        season->changed_J += brought_J;
        season->set_stored_J += brought_J;
        status = season->stepper->create(season, err);
    }
    if (status == UF_OK) {
        season->stepper->restart(season);
    }
    return status;
}

double uf_season_changed_J(const struct uf_season *season)
{
    return season->changed_J;
}

/* Day by day where someone is to be asked, else in one go. */
static enum uf_status advance(struct uf_season *season, double day, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    if (season->watch.day == NULL) {
        return season->stepper->advance(season, day, err);
    }
    while (status == UF_OK && season->day < day) {
        status = season->watch.day(season->watch.who, season, err);
        if (status == UF_OK) {
            status = season->stepper->advance(season, fmin(day, floor(season->day) + 1.0), err);
        }
        uf_heat_temperatures(season->heat, season->H_J_m3, season->T_degC);
    }
    return status;
}

/* A tenth of a millisecond: less is rounding, and CVODE refuses it. */
static const double LEAST_DAY = 1e-9;

/* Of this thread alone: others run other seasons. */
static double thread_s(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

enum uf_status uf_season_advance(struct uf_season *season, double day, struct uf_error *err)
{
    const double from_day = season->day;
    if (!(day >= from_day)) {
        return uf_fail(err, UF_E_RANGE, "day %g lies before the present day %g", day, from_day);
    }
    if (day - from_day < LEAST_DAY) {
        season->day = day;
        return UF_OK;
    }
    const bool alone = season->options.lanes == NULL; /* a clock of all that run says nothing */
    const double start_s = alone ? thread_s() : 0.0;
    enum uf_status status = advance(season, day, err);
    if (status == UF_OK) {
        season->counters.simulated_days += season->day - from_day;
        if (season->stepper->told == NULL || !season->stepper->told(season)) {
            uf_heat_temperatures(season->heat, season->H_J_m3, season->T_degC);
            status = uf_season_judge(season, true, err);
        }
    }
    season->counters.cpu_s += alone ? thread_s() - start_s : 0.0;
    return status;
}

const struct uf_season_options *uf_season_asked(const struct uf_season *season)
{
    return &season->options;
}

bool uf_season_stops(const struct uf_season *season)
{
    const struct uf_stop *stop = &season->options.stop;
    return stop->asked != NULL && stop->asked(stop->who);
}

double uf_season_day(const struct uf_season *season)
{
    return season->day;
}

const double *uf_season_T_degC(const struct uf_season *season)
{
    return season->T_degC;
}

const double *uf_season_H_J_m3(const struct uf_season *season)
{
    return season->H_J_m3;
}

struct uf_heat_budget uf_season_heat_J(const struct uf_season *season)
{
    return season->heat_J;
}

double uf_season_leak_J(const struct uf_season *season)
{
    const double in_J = uf_heat_total_J(&season->heat_J) - season->set_heat_J;
    return in_J - (uf_heat_stored_J(season->heat, season->H_J_m3) - season->set_stored_J);
}

struct uf_counters uf_season_counters(const struct uf_season *season)
{
    return season->counters;
}

struct uf_heat_now uf_season_now(const struct uf_drive *drive, double day)
{
    const double at = day - drive->start_day - 0.5;
    double low = floor(at);
    double weight = at - low;
    size_t i = 0;
    size_t next = 0;
    if (drive->periodic) {
        const double n = (double)drive->days;
        low -= n * floor(low / n);
        i = (size_t)low % drive->days;
        next = (i + 1) % drive->days;
    } else {
        const double last = (double)(drive->days - 1);
        weight = low < 0.0 ? 0.0 : weight;
        i = (size_t)fmin(last, fmax(0.0, low));
        next = i + 1 < drive->days ? i + 1 : i;
    }
    struct uf_heat_now now = {
        .outside_degC =
            drive->outside_degC[i] + weight * (drive->outside_degC[next] - drive->outside_degC[i]),
        .air_degC = drive->air_degC[i] + weight * (drive->air_degC[next] - drive->air_degC[i]),
        .h_W_m2K = drive->h_W_m2K[i],
        .snow = drive->snow_m != NULL &&
                drive->snow_m[weight < 0.5 ? i : next] > 0.0}; /* of the day itself */
    if (isfinite(now.h_W_m2K) && isfinite(drive->h_W_m2K[next])) {
        now.h_W_m2K += weight * (drive->h_W_m2K[next] - drive->h_W_m2K[i]);
    }
    return now;
}
