#include "ground.h"
#include "solver/base/calendar.h"

#include <math.h>

/* Sums of the comparison in the making. */
struct tally {
    double square[UF_GROUND_SENSORS], sum[UF_GROUND_SENSORS];
    size_t n[UF_GROUND_SENSORS];
};

/* One day: the run's means of the day (half sum of its ends) against the readings. */
static void compare_day(struct uf_ground_outcome *out, struct tally *tally,
                        const double run_degC[UF_GROUND_SENSORS],
                        const double measured_degC[UF_GROUND_SENSORS], bool driven)
{
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        const double off_K = run_degC[s] - measured_degC[s];
        if (isfinite(off_K)) {
            tally->square[s] += off_K * off_K;
            tally->sum[s] += off_K;
            tally->n[s]++;
            out->least_degC[s] = fmin(out->least_degC[s], run_degC[s]);
            out->measured_least_degC[s] = fmin(out->measured_least_degC[s], measured_degC[s]);
        }
    }
    double like[UF_GROUND_SENSORS];
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        like[s] = driven && s == 0 ? measured_degC[0] : run_degC[s];
    }
    out->frost_m =
        fmax(out->frost_m, uf_ground_frost_m(uf_ground_depth_m, like, UF_GROUND_SENSORS));
    out->measured_frost_m =
        fmax(out->measured_frost_m,
             uf_ground_frost_m(uf_ground_depth_m, measured_degC, UF_GROUND_SENSORS));
    out->deepest_froze = out->deepest_froze || measured_degC[UF_GROUND_SENSORS - 1] < 0.0;
}

/* Root mean square and mean of what was added up; NAN where nothing was. */
static void close_tally(double rmse_K[UF_GROUND_SENSORS], double bias_K[UF_GROUND_SENSORS],
                        const struct tally *tally, bool driven)
{
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        const double n = (double)tally->n[s];
        const bool none = tally->n[s] == 0 || (driven && s == 0);
        rmse_K[s] = none ? (double)NAN : sqrt(tally->square[s] / n);
        bias_K[s] = none ? (double)NAN : tally->sum[s] / n;
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
    struct tally tally = {.n = {0}};
    double before[UF_GROUND_SENSORS];
    enum uf_status status = UF_OK;
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
            compare_day(out, &tally, mean, measured, driven);
            out->frost_line_m = fmax(out->frost_line_m, uf_ground_column_frost_m(column));
        }
    }
    close_tally(out->rmse_K, out->bias_K, &tally, driven);
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
