#include "roundness.h"

#include "solver/base/constants.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

const struct uf_roundness_soil uf_roundness_soils[UF_ROUNDNESS_SOILS] = {
    {"fine",
     "fine-grained, under 25 % coarse grains",
     {50.0 * UF_PSI_PA, 200.0 * UF_PSI_PA, 400.0 * UF_PSI_PA, 1000.0 * UF_PSI_PA}},
    {"mixed",
     "fine-grained with over 25 % coarse grains, or coarse with over 12 % fines",
     {100.0 * UF_PSI_PA, 400.0 * UF_PSI_PA, 1000.0 * UF_PSI_PA, 2000.0 * UF_PSI_PA}},
    {"clean_coarse",
     "sand and gravel with under 12 % fines",
     {200.0 * UF_PSI_PA, 1000.0 * UF_PSI_PA, 2000.0 * UF_PSI_PA, 3000.0 * UF_PSI_PA}},
    {"crushed_rock",
     "crushed rock",
     {1000.0 * UF_PSI_PA, 3000.0 * UF_PSI_PA, 3000.0 * UF_PSI_PA, 3000.0 * UF_PSI_PA}},
};

const struct uf_roundness_compaction uf_roundness_compactions[UF_ROUNDNESS_COMPACTIONS] = {
    {"dumped", "dumped, not compacted"},
    {"slight", "slight: under 85 % of standard Proctor, under 40 % relative density"},
    {"moderate", "moderate: 85 to 95 % of standard Proctor, 40 to 70 % relative density"},
    {"high", "high: over 95 % of standard Proctor, over 70 % relative density"},
};

struct uf_roundness_band uf_roundness_band(double first_m, double limit)
{
    return (struct uf_roundness_band){first_m * (1.0 - limit), first_m * (1.0 + limit)};
}

void uf_roundness_init(struct uf_roundness_input *input)
{
    *input = (struct uf_roundness_input){.limit = NAN,
                                         .level_limit_m = NAN,
                                         .shell_modulus_Pa = NAN,
                                         .lag = 1.0,
                                         .stations = UF_ROUNDNESS_STATIONS,
                                         .soil_modulus_Pa = NAN,
                                         .soil_row = -1,
                                         .compaction = -1};
    for (size_t i = 0; i < UF_ROUNDNESS_READINGS; i++) {
        struct uf_roundness_reading *reading = &input->readings[i];
        reading->diameter_m = reading->across_m = reading->level_m = reading->far_level_m = NAN;
    }
}

double uf_roundness_deflection(double before_m, double after_m)
{
    return (before_m - after_m) / before_m;
}

static enum uf_roundness_verdict judge(double value, double change, double limit)
{
    const bool growing = value * change > 0.0;
    limit *= 1.0 + 1e-9; /* a reading at the limit itself is not past it */
    if (fabs(value) > limit) {
        return UF_ROUNDNESS_STOP;
    }
    return fabs(value) > UF_ROUNDNESS_AMBER * limit || (growing && fabs(value + change) > limit)
               ? UF_ROUNDNESS_WATCH
               : UF_ROUNDNESS_GO;
}

static void take_worse(enum uf_roundness_verdict *verdict, enum uf_roundness_verdict other)
{
    *verdict = other > *verdict ? other : *verdict;
}

/* One series of the record up to a reading: where it began, and where it stood before. */
struct series {
    double first, before, now;
};

/* member: offset of the value in a reading. One station alone, or all of them. */
static struct series series_of(const struct uf_roundness_input *input, size_t last, size_t member,
                               bool one_station)
{
    struct series series = {NAN, NAN, NAN};
    for (size_t i = 0; i <= last; i++) {
        const struct uf_roundness_reading *reading = &input->readings[i];
        double value;
        memcpy(&value, (const char *)reading + member, sizeof value);
        if (i == last) {
            series.now = value;
        }
        if (!isnan(value) && (!one_station || reading->station == input->readings[last].station)) {
            series.first = isnan(series.first) ? value : series.first;
            series.before = i < last || isnan(series.before) ? value : series.before;
        }
    }
    return series;
}

/* Deflection of a diameter, its change, and what the limit says to both. */
static double judge_diameter(struct uf_roundness_row *row, const struct series *series,
                             double limit, double *change)
{
    const double now = uf_roundness_deflection(series->first, series->now);
    *change = now - uf_roundness_deflection(series->first, series->before);
    take_worse(&row->verdict, judge(now, *change, limit));
    return now;
}

static double judge_level(struct uf_roundness_row *row, const struct series *series, double limit_m)
{
    const double now_m = series->now - series->first;
    take_worse(&row->verdict, judge(now_m, series->now - series->before, limit_m));
    return now_m;
}

static void judge_row(struct uf_roundness_row *row, const struct uf_roundness_input *input,
                      size_t i)
{
    const struct series down =
        series_of(input, i, offsetof(struct uf_roundness_reading, diameter_m), true);
    const struct series across =
        series_of(input, i, offsetof(struct uf_roundness_reading, across_m), true);
    const struct series near =
        series_of(input, i, offsetof(struct uf_roundness_reading, level_m), false);
    const struct series far =
        series_of(input, i, offsetof(struct uf_roundness_reading, far_level_m), false);
    double across_change;
    row->deflection = judge_diameter(row, &down, input->limit, &row->change);
    row->across = judge_diameter(row, &across, input->limit, &across_change);
    row->level_change_m = judge_level(row, &near, input->level_limit_m);
    row->far_change_m = judge_level(row, &far, input->level_limit_m);
}

enum uf_status uf_roundness(struct uf_roundness *out, const struct uf_roundness_input *input,
                            struct uf_error *err)
{
    *out = (struct uf_roundness){.n = input->n};
    if (input->n == 0) {
        return uf_fail_key(err, UF_E_INPUT, "readings", UF_PLAIN("none is given"),
                           UF_PLAIN("[{at, diameter, level}, ...]"));
    }
    for (size_t i = 0; i < input->n; i++) {
        if (!(input->readings[i].diameter_m > 0.0)) {
            char key[40];
            (void)snprintf(key, sizeof key, "readings[%zu].diameter", i);
            return uf_fail_key(err, UF_E_INPUT, key, UF_PLAIN("is not given"),
                               UF_PLAIN("a diameter above zero"));
        }
        judge_row(&out->rows[i], input, i);
        const bool stopped = out->verdict == UF_ROUNDNESS_STOP;
        out->verdict = stopped ? UF_ROUNDNESS_STOP : out->rows[i].verdict;
    }
    return UF_OK;
}

double uf_roundness_iowa(double lag, double K, double pressure_Pa, double radius_m, double EI_N_m,
                         double soil_modulus_Pa)
{
    return lag * K * pressure_Pa / (EI_N_m / pow(radius_m, 3.0) + 0.061 * soil_modulus_Pa);
}

enum uf_status uf_roundness_predict(struct uf_roundness_forecast *out,
                                    const struct uf_roundness_input *input, double pressure_Pa,
                                    double radius_m, double wall_m, struct uf_error *err)
{
    const double EI_N_m = input->shell_modulus_Pa * pow(wall_m, 3.0) / 12.0;
    const double stiff_N_m = isnan(EI_N_m) ? 0.0 : EI_N_m;
    double soil_Pa = input->soil_modulus_Pa;
    if (isnan(soil_Pa) && input->soil_row >= 0 && input->soil_row < UF_ROUNDNESS_SOILS &&
        input->compaction >= 0 && input->compaction < 4) {
        soil_Pa = uf_roundness_soils[input->soil_row].modulus_Pa[input->compaction];
    }
    if (!(soil_Pa > 0.0)) {
        return uf_fail_key(
            err, UF_E_INPUT, "roundness.soil", UF_PLAIN("the stiffness of the fill is not known"),
            UF_PLAIN("soil and compaction, or soil_modulus, of the fill beside the tank"));
    }
    const double at_low_K =
        uf_roundness_iowa(input->lag, 0.083, pressure_Pa, radius_m, stiff_N_m, soil_Pa);
    const double at_high_K =
        uf_roundness_iowa(input->lag, 0.110, pressure_Pa, radius_m, stiff_N_m, soil_Pa);
    out->soil_modulus_Pa = soil_Pa;
    out->deflection = uf_roundness_iowa(input->lag, 0.1, pressure_Pa, radius_m, stiff_N_m, soil_Pa);
    out->low = fmax(0.0, at_low_K - 0.02);
    out->high = at_high_K + 0.02;
    return UF_OK;
}
