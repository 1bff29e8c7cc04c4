#include "score_run.h"

#include <math.h>

#define MOST_SENSORS 64

struct uf_score_rule uf_score_rule(enum uf_score_kind kind)
{
    static const struct uf_score_rule rules[] = {
        [UF_SCORE_TEMPERATURE] = {-80.0, 60.0, 30, 0.5, 0.0, 0.5},
        [UF_SCORE_FROST] = {0.0, 20.0, 0, 0.0, 0.0, 0.0},
        [UF_SCORE_WATER] = {-5.0, 60.0, 30, 0.5, 0.0, 0.5}};
    return rules[kind];
}

static double at_degC(const struct uf_run *run, const struct uf_score_series *s)
{
    const struct uf_section *section = uf_run_section(run);
    const double far_m = section->grid->x_m[section->grid->nx - 1];
    return uf_section_at_degC(section, uf_season_T_degC(uf_run_season(run)),
                              isfinite(s->x_m) ? s->x_m : far_m, s->depth_m);
}

/* The day that was just run. before: temperature of each series a day ago. */
static void take_day(struct uf_score_series *series, size_t n, double *before, double *line_m,
                     const struct uf_run *run, struct uf_record *now)
{
    const size_t today = uf_run_day(run) - 1;
    uf_run_store(run, now, 0);
    line_m[today] = now->frost_depth_m[0];
    for (size_t i = 0; i < n; i++) {
        struct uf_score_series *s = &series[i];
        if (s->kind == UF_SCORE_TEMPERATURE) {
            const double T_degC = at_degC(run, s);
            s->computed[today] = 0.5 * (before[i] + T_degC);
            before[i] = T_degC;
        } else {
            s->computed[today] =
                s->kind == UF_SCORE_FROST ? now->frost_depth_m[0] : now->water_degC[0];
        }
    }
}

static enum uf_status run_days(struct uf_score_series *series, size_t n,
                               struct uf_score_profile *profile, struct uf_run *run,
                               const struct uf_run_options *options, struct uf_error *err)
{
    double before[MOST_SENSORS];
    struct uf_record *now = NULL;
    enum uf_status status = uf_run_record_days(&now, run, 1, err);
    for (size_t i = 0; i < n; i++) {
        before[i] = series[i].kind == UF_SCORE_TEMPERATURE ? at_degC(run, &series[i]) : 0.0;
    }
    while (status == UF_OK && !uf_run_done(run)) {
        status = uf_run_next(run, err);
        if (status == UF_OK) {
            take_day(series, n, before, profile->line_m, run, now);
        }
        if (status == UF_OK && options->season.stop.asked != NULL &&
            options->season.stop.asked(options->season.stop.who)) {
            status = uf_fail(err, UF_E_STOPPED, "interrupted");
        }
    }
    profile->heat_balance_relative = uf_run_summary(run).heat_balance_relative;
    uf_record_free(now);
    return status;
}

/* Frost depth in undisturbed ground, between the sensors, day by day. */
static void take_profile(struct uf_score_profile *p, const struct uf_score_series *series, size_t n,
                         size_t days)
{
    size_t at[MOST_SENSORS];
    double depth_m[MOST_SENSORS], read[MOST_SENSORS], run[MOST_SENSORS];
    p->sensors = 0;
    p->past_lowest = false;
    for (size_t i = 0; i < n; i++) {
        if (series[i].kind == UF_SCORE_TEMPERATURE && isnan(series[i].x_m)) {
            depth_m[p->sensors] = series[i].depth_m;
            at[p->sensors++] = i;
        }
    }
    p->sensors = p->sensors < 2 ? 0 : p->sensors;
    p->lowest_m = p->sensors > 0 ? depth_m[p->sensors - 1] : (double)NAN;
    for (size_t day = 0; day < days && p->sensors > 0; day++) {
        for (size_t k = 0; k < p->sensors; k++) {
            read[k] = series[at[k]].measured[day];
            run[k] = series[at[k]].computed[day];
        }
        p->measured_m[day] = uf_score_frost_m(depth_m, read, p->sensors);
        p->computed_m[day] = uf_score_frost_m(depth_m, run, p->sensors);
        p->past_lowest = p->past_lowest || read[p->sensors - 1] < 0.0;
    }
    p->line = uf_score_frost(p->line_m, days);
    if (p->sensors > 0) {
        p->measured = uf_score_frost(p->measured_m, days);
        p->computed = uf_score_frost(p->computed_m, days);
    }
}

enum uf_status uf_score_run(struct uf_score_series *series, size_t n,
                            struct uf_score_profile *profile, const struct uf_case *design,
                            const struct uf_forcing *forcing, const struct uf_run_options *options,
                            struct uf_error *err)
{
    struct uf_run *run = NULL;
    if (n > MOST_SENSORS) {
        return uf_fail(err, UF_E_INPUT, "%zu series are too many: at most %d", n, MOST_SENSORS);
    }
    enum uf_status status = uf_run_create(&run, design, forcing, options, err);
    if (status == UF_OK) {
        status = run_days(series, n, profile, run, options, err);
    }
    const size_t days = status == UF_OK ? uf_run_days(run) : 0;
    for (size_t i = 0; i < n && status == UF_OK; i++) {
        const struct uf_score_rule rule = uf_score_rule(series[i].kind);
        series[i].care = uf_score_sift(series[i].measured, series[i].computed, days, &rule);
        series[i].score = uf_score_of(series[i].computed, series[i].measured, days);
    }
    if (status == UF_OK) {
        take_profile(profile, series, n, days);
    }
    uf_run_free(run);
    return status;
}
