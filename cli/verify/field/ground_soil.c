#include "ground_soil.h"

#include "solver/base/constants.h"

#include <math.h>

static const double GRAINS_KG_M3 = 2650.0;
static const double WILTING_KPA = 1500.0;
static const double FIELD_KPA = 33.0;
static const double RESOLUTION_M3_M3 = 0.001; /* of the readings */
/* Suction of ice on the liquid beside it, for each kelvin. */
static const double CLAPEYRON_KPA_K = UF_WATER_LATENT_J_M3 / 273.15 / 1000.0;

/* Saxton & Rawls (2006), table 3 (values read in a reprint; clay checked by the paper's
   own regressions). Rising wilting point. */
static const struct {
    double sand, clay;
    double wilting, field, porosity; /* m3/m3 at 1500 and 33 kPa, and full */
} CLASSES[] = {
    {0.88, 0.05, 0.05, 0.10, 0.46}, /* sand */
    {0.65, 0.10, 0.08, 0.18, 0.45}, /* sandy loam */
    {0.40, 0.20, 0.14, 0.28, 0.46}, /* loam */
    {0.30, 0.35, 0.22, 0.36, 0.48}, /* clay loam */
    {0.25, 0.50, 0.30, 0.42, 0.50}, /* clay */
};
enum { LAST = sizeof CLASSES / sizeof CLASSES[0] - 1 };

static double between(double from, double to, double share)
{
    return from + share * (to - from);
}

enum uf_status uf_ground_soil(struct uf_ground_soil *out, double driest_m3_m3, double wettest_m3_m3,
                              struct uf_error *err)
{
    if (!(driest_m3_m3 >= 0.0) || !(wettest_m3_m3 >= driest_m3_m3) || !(wettest_m3_m3 < 1.0)) {
        return uf_fail(err, UF_E_RANGE, "water readings of %g to %g m3/m3 belong to no soil",
                       driest_m3_m3, wettest_m3_m3);
    }
    out->driest_m3_m3 = driest_m3_m3;
    out->wettest_m3_m3 = wettest_m3_m3;
    size_t row = 0;
    while (row + 1 < LAST && driest_m3_m3 > CLASSES[row + 1].wilting) {
        row++;
    }
    const double width = CLASSES[row + 1].wilting - CLASSES[row].wilting;
    const double share = fmin(fmax((driest_m3_m3 - CLASSES[row].wilting) / width, 0.0), 1.0);
    const double wilting = between(CLASSES[row].wilting, CLASSES[row + 1].wilting, share);
    const double field = between(CLASSES[row].field, CLASSES[row + 1].field, share);
    out->sand = between(CLASSES[row].sand, CLASSES[row + 1].sand, share);
    out->clay = between(CLASSES[row].clay, CLASSES[row + 1].clay, share);
    out->porosity =
        fmax(between(CLASSES[row].porosity, CLASSES[row + 1].porosity, share), wettest_m3_m3);
    out->retention_B = log(WILTING_KPA / FIELD_KPA) / log(field / wilting);
    out->wilting_m3_m3 = fmin(fmax(driest_m3_m3, RESOLUTION_M3_M3), CLASSES[LAST].wilting);
    out->dry_density_kg_m3 = GRAINS_KG_M3 * (1.0 - out->porosity);
    out->bounded = driest_m3_m3 > CLASSES[LAST].wilting;
    return UF_OK;
}

double uf_ground_soil_liquid_m3_m3(const struct uf_ground_soil *soil, double T_degC)
{
    return soil->wilting_m3_m3 *
           pow(CLAPEYRON_KPA_K * -T_degC / WILTING_KPA, -1.0 / soil->retention_B);
}

enum uf_status uf_ground_soil_thermal(struct uf_thermal *out, const struct uf_ground_soil *soil,
                                      double water_m3_m3, enum uf_method method,
                                      struct uf_error *err)
{
    const bool coarse = soil->sand > 0.5;
    const double A_percent = 100.0 * uf_ground_soil_liquid_m3_m3(soil, -1.0) *
                             UF_WATER_DENSITY_KG_M3 / soil->dry_density_kg_m3;
    const struct uf_soil row = {.name = "measured",
                                .doc = "",
                                .source = "ground_soil.h",
                                .texture = coarse ? UF_COARSE : UF_FINE,
                                .grain = coarse ? UF_GRAIN_SAND : UF_GRAIN_SILT_CLAY,
                                .origin = UF_NATURAL,
                                .quartz = soil->sand,
                                .solid_kg_m3 = GRAINS_KG_M3,
                                .freezing_from_degC = 0.0,
                                .freezing_to_degC = -1.0,
                                .unfrozen_A_percent = A_percent,
                                .unfrozen_B = -1.0 / soil->retention_B};
    const struct uf_ground_spec spec = {.soil = &row,
                                        .dry_density_kg_m3 = soil->dry_density_kg_m3,
                                        .moisture_by_mass = NAN,
                                        .moisture_by_volume = fmin(water_m3_m3, soil->porosity),
                                        .unit_weight_moist_N_m3 = NAN,
                                        .unit_weight_saturated_N_m3 = NAN};
    struct uf_soil_state state;
    const enum uf_status status = uf_soil_resolve(&state, &spec, method, false, err);
    if (status == UF_OK) {
        *out = state.thermal;
    }
    return status;
}
