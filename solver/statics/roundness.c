#include "roundness.h"

#include <math.h>
#include <stdio.h>

#define PSI_PA 6894.757293168

const struct uf_roundness_soil uf_roundness_soils[UF_ROUNDNESS_SOILS] = {
    {"fine",
     "fine-grained, under 25 % coarse grains",
     {50.0 * PSI_PA, 200.0 * PSI_PA, 400.0 * PSI_PA, 1000.0 * PSI_PA}},
    {"mixed",
     "fine-grained with over 25 % coarse grains, or coarse with over 12 % fines",
     {100.0 * PSI_PA, 400.0 * PSI_PA, 1000.0 * PSI_PA, 2000.0 * PSI_PA}},
    {"clean_coarse",
     "sand and gravel with under 12 % fines",
     {200.0 * PSI_PA, 1000.0 * PSI_PA, 2000.0 * PSI_PA, 3000.0 * PSI_PA}},
    {"crushed_rock",
     "crushed rock",
     {1000.0 * PSI_PA, 3000.0 * PSI_PA, 3000.0 * PSI_PA, 3000.0 * PSI_PA}},
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
                                         .soil_modulus_Pa = NAN,
                                         .soil_row = -1,
                                         .compaction = -1};
    for (size_t i = 0; i < UF_ROUNDNESS_READINGS; i++) {
        input->readings[i].diameter_m = input->readings[i].level_m = NAN;
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
    return growing && fabs(value + change) > limit ? UF_ROUNDNESS_WATCH : UF_ROUNDNESS_GO;
}

static enum uf_roundness_verdict worse(enum uf_roundness_verdict a, enum uf_roundness_verdict b)
{
    return a > b ? a : b;
}

/* Level of the first reading that has one. */
static double first_level_m(const struct uf_roundness_input *input)
{
    for (size_t i = 0; i < input->n; i++) {
        if (!isnan(input->readings[i].level_m)) {
            return input->readings[i].level_m;
        }
    }
    return NAN;
}

enum uf_status uf_roundness(struct uf_roundness *out, const struct uf_roundness_input *input,
                            struct uf_error *err)
{
    const double level_m = first_level_m(input);
    double level_before_m = 0.0;
    *out = (struct uf_roundness){.n = input->n};
    if (input->n == 0) {
        return uf_fail_key(err, UF_E_INPUT, "readings", UF_PLAIN("none is given"),
                           UF_PLAIN("[{at, diameter, level}, ...]"));
    }
    for (size_t i = 0; i < input->n; i++) {
        const struct uf_roundness_reading *reading = &input->readings[i];
        struct uf_roundness_row *row = &out->rows[i];
        if (!(reading->diameter_m > 0.0)) {
            char key[40];
            (void)snprintf(key, sizeof key, "readings[%zu].diameter", i);
            return uf_fail_key(err, UF_E_INPUT, key, UF_PLAIN("is not given"),
                               UF_PLAIN("a diameter above zero"));
        }
        row->deflection =
            uf_roundness_deflection(input->readings[0].diameter_m, reading->diameter_m);
        row->change = i > 0 ? row->deflection - out->rows[i - 1].deflection : 0.0;
        row->level_change_m = reading->level_m - level_m;
        row->verdict = judge(row->deflection, row->change, input->limit);
        if (!isnan(row->level_change_m)) {
            row->verdict =
                worse(row->verdict, judge(row->level_change_m, row->level_change_m - level_before_m,
                                          input->level_limit_m));
            level_before_m = row->level_change_m;
        }
        const bool stopped = out->verdict == UF_ROUNDNESS_STOP;
        out->verdict = stopped ? UF_ROUNDNESS_STOP : row->verdict;
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
