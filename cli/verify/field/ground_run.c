#include "ground.h"
#include "solver/base/calendar.h"
#include "solver/study/score.h"

#include <math.h>
#include <stdlib.h>

/* Every day of the part at every sensor. */
struct days {
    double *measured_degC[UF_GROUND_SENSORS], *computed_degC[UF_GROUND_SENSORS];
    size_t n;
};

/* One day: the run's means of the day (half sum of its ends) against the readings. */
static void compare_day(struct uf_ground_outcome *out, struct days *days,
                        const double run_degC[UF_GROUND_SENSORS],
                        const double measured_degC[UF_GROUND_SENSORS], bool driven)
{
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        days->measured_degC[s][days->n] = measured_degC[s];
        days->computed_degC[s][days->n] = run_degC[s];
        if (isfinite(run_degC[s] - measured_degC[s])) {
            out->least_degC[s] = fmin(out->least_degC[s], run_degC[s]);
            out->measured_least_degC[s] = fmin(out->measured_least_degC[s], measured_degC[s]);
        }
    }
    double like[UF_GROUND_SENSORS];
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        like[s] = driven && s == 0 ? measured_degC[0] : run_degC[s];
    }
    out->frost_m = fmax(out->frost_m, uf_score_frost_m(uf_ground_depth_m, like, UF_GROUND_SENSORS));
    out->measured_frost_m =
        fmax(out->measured_frost_m,
             uf_score_frost_m(uf_ground_depth_m, measured_degC, UF_GROUND_SENSORS));
    out->deepest_froze = out->deepest_froze || measured_degC[UF_GROUND_SENSORS - 1] < 0.0;
    days->n++;
}

/* The scores of the days; NAN of the sensor that drives. */
static void score(struct uf_ground_outcome *out, const struct days *days, bool driven)
{
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        const struct uf_score of =
            uf_score_of(days->computed_degC[s], days->measured_degC[s], days->n);
        out->rmse_K[s] = driven && s == 0 ? (double)NAN : of.rmse;
        out->bias_K[s] = driven && s == 0 ? (double)NAN : of.bias;
    }
}

static void read_probes(const struct uf_ground_column *column, double T_degC[UF_GROUND_SENSORS])
{
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        T_degC[s] = uf_ground_column_degC(column, uf_ground_depth_m[s]);
    }
}

/* Runs the days and compares each. */
static enum uf_status run_days(struct uf_ground_outcome *out, struct uf_ground_column *column,
                               const struct uf_ground_record *record, size_t from, bool driven,
                               struct uf_error *err)
{
    const size_t most = record->days - from;
    struct days days = {.n = 0};
    double *block = calloc(2 * UF_GROUND_SENSORS * most + 1, sizeof *block);
    double before[UF_GROUND_SENSORS];
    enum uf_status status =
        block != NULL ? UF_OK : uf_fail(err, UF_E_MEMORY, "out of memory for a station");
    for (size_t s = 0; s < UF_GROUND_SENSORS && block != NULL; s++) {
        days.measured_degC[s] = block + 2 * s * most;
        days.computed_degC[s] = block + (2 * s + 1) * most;
    }
    read_probes(column, before);
    while (status == UF_OK && !uf_ground_column_done(column)) {
        double now[UF_GROUND_SENSORS];
        double mean[UF_GROUND_SENSORS];
        double measured[UF_GROUND_SENSORS];
        status = uf_ground_column_next(column, err);
        const size_t today = from + uf_ground_column_day(column) - 1;
        read_probes(column, now);
        for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
            mean[s] = 0.5 * (before[s] + now[s]);
            before[s] = now[s];
            measured[s] = record->ts_degC[s][today];
        }
        if (status == UF_OK) {
            compare_day(out, &days, mean, measured, driven);
            out->frost_line_m = fmax(out->frost_line_m, uf_ground_column_frost_m(column));
        }
    }
    if (status == UF_OK) {
        score(out, &days, driven);
    }
    free(block);
    out->heat_balance_relative = uf_ground_column_balance(column);
    return status;
}

enum uf_status uf_ground_run(struct uf_ground_outcome *out, const struct uf_ground_record *record,
                             const struct uf_ground_setup *setup,
                             const struct uf_season_options *options, struct uf_error *err)
{
    struct uf_ground_column *column = NULL;
    const struct uf_ground_day *first = &setup->part->first;
    const long day = uf_calendar_day(first->year, first->month, first->day);
    *out = (struct uf_ground_outcome){.frost_m = 0.0};
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        out->least_degC[s] = out->measured_least_degC[s] = INFINITY;
    }
    enum uf_status status = uf_ground_start(&column, record, setup, options, err);
    if (status == UF_OK) {
        status = run_days(out, column, record, (size_t)(day - record->start_day),
                          setup->drive == UF_GROUND_SENSOR, err);
    }
    uf_ground_column_free(column);
    return status;
}
