#include "soil.h"

#include "solver/base/constants.h"
#include "solver/base/name.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Heat capacities by mass, J/(kg K), as in the TM 5-852-6 formulas gd (0.17 + 1.0 w)
   thawed and gd (0.17 + 0.5 w) frozen, Btu/(lb F) x 4186.8 (the two separate forms from
   memory; their mean, 0.17 + 0.75 w, was read). Organic grains: 1920, from memory (de
   Vries 1963). */
#define MINERAL_J_KGK (0.17 * 4186.8)
#define ORGANIC_J_KGK 1920.0
#define WATER_J_KGK   4186.8
#define ICE_J_KGK     (0.5 * 4186.8)

/* Where Kersten's regressions start, % by dry mass (from memory). */
#define KERSTEN_FINE_PERCENT   7.0
#define KERSTEN_COARSE_PERCENT 1.0
/* Where Johansen's thawed Kersten number starts (from memory). */
#define JOHANSEN_FINE_SATURATION   0.1
#define JOHANSEN_COARSE_SATURATION 0.05
/* A curve that starts below this has been stretched to soil drier than it was measured for. */
#define DRY_CURVE_DEGC (-2.0)

static double porosity(const struct uf_soil *soil, double dry_density_kg_m3)
{
    return 1.0 - dry_density_kg_m3 / soil->solid_kg_m3;
}

static double saturation(const struct uf_soil *soil, double dry_density_kg_m3, double moisture)
{
    const double water_m3_m3 = moisture * dry_density_kg_m3 / UF_WATER_DENSITY_KG_M3;
    return fmin(1.0, water_m3_m3 / porosity(soil, dry_density_kg_m3));
}

const char *const uf_soil_mark_words[UF_SOIL_MARKS] = {"none",   "fine",    "sand",
                                                       "gravel", "crushed", "organic"};

enum uf_soil_mark uf_soil_mark(const struct uf_soil *soil)
{
    static const enum uf_soil_mark by_grain[] = {[UF_GRAIN_GRAVEL] = UF_SOIL_GRAVEL,
                                                 [UF_GRAIN_SAND] = UF_SOIL_SAND,
                                                 [UF_GRAIN_SILT_CLAY] = UF_SOIL_FINE,
                                                 [UF_GRAIN_ORGANIC] = UF_SOIL_ORGANIC};
    return soil == NULL                 ? UF_SOIL_UNMARKED
           : soil->origin == UF_CRUSHED ? UF_SOIL_CRUSHED
                                        : by_grain[soil->grain];
}

const struct uf_soil *uf_soil_find(const char *name)
{
    return uf_name_find(uf_soil_table, sizeof uf_soil_table[0], name);
}

/* Kersten (1949), Univ. Minnesota Bull. 28, regressions in SI after Farouki: density in
   g/cm3, water in % of dry mass. Below their range the water at its start is used: the
   thawed law of fine soil would turn negative. In coarse soil with little water frozen
   comes out below thawed; so it was measured. */
double uf_soil_kersten_W_mK(enum uf_texture texture, double dry_density_kg_m3,
                            double moisture_by_mass, bool frozen)
{
    const double r = dry_density_kg_m3 / 1000.0;
    const double least = texture == UF_FINE ? KERSTEN_FINE_PERCENT : KERSTEN_COARSE_PERCENT;
    const double w = fmax(100.0 * moisture_by_mass, least);
    if (texture == UF_FINE) {
        return frozen ? 0.001442 * pow(10.0, 1.373 * r) + 0.01226 * pow(10.0, 0.4994 * r) * w
                      : 0.1442 * (0.9 * log10(w) - 0.2) * pow(10.0, 0.6243 * r);
    }
    return frozen ? 0.01096 * pow(10.0, 0.8116 * r) + 0.00461 * pow(10.0, 0.9115 * r) * w
                  : 0.1442 * (0.7 * log10(w) + 0.4) * pow(10.0, 0.6243 * r);
}

/* Conductivity of the grains: quartz 7.7, other minerals 2.0, or 3.0 in a coarse soil
   with less than 0.2 quartz (Johansen 1975); organic 0.25 (Cote & Konrad 2005, from
   memory). */
static double grains_W_mK(const struct uf_soil *soil)
{
    if (soil->origin == UF_PEAT) {
        return 0.25;
    }
    const double other = soil->texture == UF_COARSE && soil->quartz < 0.2 ? 3.0 : 2.0;
    return pow(7.7, soil->quartz) * pow(other, 1.0 - soil->quartz);
}

/* Johansen (1975): geometric mean of grains and pores at saturation, brought down to dry
   soil by the Kersten number; log10 Sr + 1 in fine soil, 0.7 log10 Sr + 1 in coarse, Sr
   when frozen (last two from memory). Dry crushed rock 0.039 n^-2.2 from memory. */
double uf_soil_johansen_W_mK(const struct uf_soil *soil, double dry_density_kg_m3,
                             double moisture_by_mass, bool frozen)
{
    const double n = porosity(soil, dry_density_kg_m3);
    const double sr = saturation(soil, dry_density_kg_m3, moisture_by_mass);
    const double pores = frozen ? 2.2 : 0.57;
    const double full = pow(grains_W_mK(soil), 1.0 - n) * pow(pores, n);
    const double natural =
        (0.135 * dry_density_kg_m3 + 64.7) / (2700.0 - 0.947 * dry_density_kg_m3);
    const double dry = soil->origin == UF_CRUSHED ? 0.039 * pow(n, -2.2) : natural;
    const double slope = soil->texture == UF_FINE ? 1.0 : 0.7;
    const double wetness = frozen ? sr : fmax(0.0, 1.0 + slope * log10(fmax(sr, 1e-6)));
    return dry + (full - dry) * wetness;
}

/* Cote & Konrad (2005), Can. Geotech. J. 42, 443-458: kappa thawed and frozen by grain,
   chi and eta of the dry law by origin (the second pair from memory). */
static const double kappa[][2] = {
    [UF_GRAIN_GRAVEL] = {4.60, 1.70},
    [UF_GRAIN_SAND] = {3.55, 0.95},
    [UF_GRAIN_SILT_CLAY] = {1.90, 0.85},
    [UF_GRAIN_ORGANIC] = {0.60, 0.25},
};
static const double chi_eta[][2] = {
    [UF_NATURAL] = {0.75, 1.20},
    [UF_CRUSHED] = {1.70, 1.80},
    [UF_PEAT] = {0.30, 0.87},
};

double uf_soil_cote_konrad_W_mK(const struct uf_soil *soil, double dry_density_kg_m3,
                                double moisture_by_mass, bool frozen)
{
    const double n = porosity(soil, dry_density_kg_m3);
    const double sr = saturation(soil, dry_density_kg_m3, moisture_by_mass);
    const double full = pow(grains_W_mK(soil), 1.0 - n) * pow(frozen ? 2.24 : 0.60, n);
    const double dry = chi_eta[soil->origin][0] * pow(10.0, -chi_eta[soil->origin][1] * n);
    const double kap = kappa[soil->grain][frozen ? 1 : 0];
    return dry + (full - dry) * kap * sr / (1.0 + (kap - 1.0) * sr);
}

static double conductivity_W_mK(const struct uf_soil *soil, enum uf_method method,
                                const struct uf_soil_state *state, bool frozen)
{
    const double density = state->dry_density_kg_m3, moisture = state->moisture_by_mass;
    if (method == UF_COTE_KONRAD || soil->origin == UF_PEAT) {
        return uf_soil_cote_konrad_W_mK(soil, density, moisture, frozen);
    }
    return method == UF_KERSTEN ? uf_soil_kersten_W_mK(soil->texture, density, moisture, frozen)
                                : uf_soil_johansen_W_mK(soil, density, moisture, frozen);
}

/* What the user must know about the method in this soil; leaves note empty otherwise. */
static void method_note(struct uf_soil_state *state, const struct uf_soil *soil,
                        enum uf_method method)
{
    const bool fine = soil->texture == UF_FINE;
    const double kersten = fine ? KERSTEN_FINE_PERCENT : KERSTEN_COARSE_PERCENT;
    const double johansen = fine ? JOHANSEN_FINE_SATURATION : JOHANSEN_COARSE_SATURATION;
    if (method != UF_COTE_KONRAD && soil->origin == UF_PEAT) {
        uf_message_set(&state->note,
                       UF_SAID("{}: the chosen method is for mineral soil; Cote-Konrad was used "
                               "instead",
                               UF_WORD(soil->name)));
    } else if (method == UF_KERSTEN && 100.0 * state->moisture_by_mass < kersten) {
        uf_message_set(&state->note,
                       UF_SAID("{}: water {} lies below Kersten's range (from {}); the "
                               "conductivity at {} was used",
                               UF_WORD(soil->name), UF_ABOUT(SHARE, 3, state->moisture_by_mass),
                               UF_OF(SHARE, 0.01 * kersten), UF_OF(SHARE, 0.01 * kersten)));
    } else if (method == UF_JOHANSEN && state->saturation < johansen) {
        uf_message_set(&state->note,
                       UF_SAID("{}: saturation {} lies below Johansen's range (from {}); the "
                               "thawed conductivity tends to that of dry soil",
                               UF_WORD(soil->name), UF_ABOUT(FACTOR, 3, state->saturation),
                               UF_ABOUT(FACTOR, 2, johansen)));
    } else if (state->thermal.freezing_from_degC < DRY_CURVE_DEGC) {
        uf_message_set(&state->note,
                       UF_SAID("{}: at {} water the unfrozen-water curve lets nothing freeze "
                               "above {}, outside what it was measured for",
                               UF_WORD(soil->name), UF_ABOUT(SHARE, 3, state->moisture_by_mass),
                               UF_ABOUT(TEMPERATURE, 3, state->thermal.freezing_from_degC)));
    }
}

void uf_soil_source(struct uf_message *out, const struct uf_soil *soil)
{
    uf_message_set(out, UF_SAID(soil->source, UF_OF(DENSITY, soil->usual_density_kg_m3[0]),
                                UF_OF(DENSITY, soil->usual_density_kg_m3[1]),
                                UF_OF(SHARE, soil->usual_moisture[0]),
                                UF_OF(SHARE, soil->usual_moisture[1])));
}

/* In the key and the measure in which the water was given. */
static enum uf_status refuse_water(const struct uf_ground_spec *spec, double density_kg_m3,
                                   double pores, struct uf_error *err)
{
    const bool volume = !isnan(spec->moisture_by_volume);
    const double given = volume ? spec->moisture_by_volume : spec->moisture_by_mass;
    const double full = volume ? pores : pores * UF_WATER_DENSITY_KG_M3 / density_kg_m3;
    const char *remedy =
        isnan(spec->dry_density_kg_m3) ? ", the row's own: give dry_density as measured" : "";
    return uf_fail_key(err, UF_E_RANGE, volume ? "moisture_by_volume" : "moisture",
                       UF_SAID("{} of {}", UF_OF(SHARE, given), UF_WORD(spec->soil->name)),
                       UF_SAID("0 to {}, all pores full at dry density {}{}", UF_OF(SHARE, full),
                               UF_OF(DENSITY, density_kg_m3), UF_WORD(remedy)));
}

static enum uf_status resolve_water(struct uf_soil_state *out, const struct uf_ground_spec *spec,
                                    bool saturated, struct uf_error *err)
{
    const struct uf_soil *soil = spec->soil;
    const double density =
        isnan(spec->dry_density_kg_m3) ? soil->dry_density_kg_m3 : spec->dry_density_kg_m3;
    if (!(density >= 50.0) || !(density < 0.98 * soil->solid_kg_m3)) {
        return uf_fail_key(err, UF_E_RANGE, "dry_density",
                           UF_SAID("{} of {}", UF_OF(DENSITY, density), UF_WORD(soil->name)),
                           UF_SAID("{} to below 0.98 of the grains' {}", UF_OF(DENSITY, 50.0),
                                   UF_OF(DENSITY, soil->solid_kg_m3)));
    }
    if (!isnan(spec->moisture_by_mass) && !isnan(spec->moisture_by_volume)) {
        return uf_fail_key(err, UF_E_INPUT, "moisture_by_volume",
                           UF_SAID("the water of {} is given twice", UF_WORD(soil->name)),
                           UF_PLAIN("moisture or moisture_by_volume, not both"));
    }
    const double n = porosity(soil, density);
    const double full = n * UF_WATER_DENSITY_KG_M3 / density;
    double moisture = soil->moisture_by_mass;
    if (!isnan(spec->moisture_by_mass)) {
        moisture = spec->moisture_by_mass;
    } else if (!isnan(spec->moisture_by_volume)) {
        moisture = spec->moisture_by_volume * UF_WATER_DENSITY_KG_M3 / density;
    } else {
        moisture = fmin(moisture, full); /* the row's default in a soil packed denser */
    }
    if (!(moisture >= 0.0) || moisture > full * (1.0 + 1e-9)) {
        return refuse_water(spec, density, n, err);
    }
    const double dry_N_m3 = density / UF_WATER_DENSITY_KG_M3 * UF_WATER_UNIT_N_M3;
    out->unit_weight_moist_N_m3 = dry_N_m3 * (1.0 + moisture);
    out->unit_weight_saturated_N_m3 = dry_N_m3 + n * UF_WATER_UNIT_N_M3;
    out->dry_density_kg_m3 = density;
    out->porosity = n;
    out->moisture_by_mass = saturated ? full : moisture;
    out->saturation = saturated ? 1.0 : saturation(soil, density, moisture);
    return UF_OK;
}

/* Liquid share A |T|^B / w is 1 at T = -(w/A)^(1/B); above that nothing is frozen. */
static void freezing_range(struct uf_thermal *thermal, const struct uf_soil *soil)
{
    thermal->freezing_from_degC = soil->freezing_from_degC;
    thermal->freezing_to_degC = soil->freezing_to_degC;
    if (soil->unfrozen_B < 0.0 && thermal->water_percent > 0.0) {
        thermal->unfrozen_A_percent = soil->unfrozen_A_percent;
        thermal->unfrozen_B = soil->unfrozen_B;
        thermal->freezing_from_degC =
            -pow(thermal->water_percent / soil->unfrozen_A_percent, 1.0 / soil->unfrozen_B);
        thermal->freezing_to_degC = fmin(soil->freezing_to_degC, thermal->freezing_from_degC - 1.0);
    }
}

static struct uf_thermal thermal_of(const struct uf_soil *soil, enum uf_method method,
                                    const struct uf_soil_state *state)
{
    const double density = state->dry_density_kg_m3, moisture = state->moisture_by_mass;
    const double solid = soil->origin == UF_PEAT ? ORGANIC_J_KGK : MINERAL_J_KGK;
    struct uf_thermal thermal = {
        .k_thawed_W_mK = conductivity_W_mK(soil, method, state, false),
        .k_frozen_W_mK = conductivity_W_mK(soil, method, state, true),
        .c_thawed_J_m3K = density * (solid + moisture * WATER_J_KGK),
        .c_frozen_J_m3K = density * (solid + moisture * ICE_J_KGK),
        .latent_J_m3 = density * moisture * UF_LATENT_J_KG,
        .water_percent = 100.0 * moisture,
    };
    freezing_range(&thermal, soil);
    return thermal;
}

static enum uf_status resolve_outright(struct uf_soil_state *out, const struct uf_ground_spec *spec,
                                       struct uf_error *err)
{
    const struct uf_thermal *thermal = &spec->thermal;
    if (!(thermal->k_thawed_W_mK > 0.0) || !(thermal->k_frozen_W_mK > 0.0) ||
        !(thermal->c_thawed_J_m3K > 0.0) || !(thermal->c_frozen_J_m3K > 0.0)) {
        return uf_fail_key(err, UF_E_RANGE, "thermal",
                           UF_PLAIN("a conductivity or heat capacity is not above zero"),
                           UF_PLAIN("all above zero"));
    }
    if (!(thermal->latent_J_m3 >= 0.0)) {
        return uf_fail_key(err, UF_E_RANGE, "thermal.latent_heat",
                           UF_SAID("{} is negative", UF_OF(LATENT, thermal->latent_J_m3)),
                           UF_PLAIN("zero or more"));
    }
    if (!(thermal->freezing_from_degC > thermal->freezing_to_degC)) {
        return uf_fail_key(
            err, UF_E_RANGE, "thermal.freezing_to",
            UF_SAID("{} is no colder than freezing_from",
                    UF_OF(TEMPERATURE, thermal->freezing_to_degC)),
            UF_SAID("below freezing_from, {}", UF_OF(TEMPERATURE, thermal->freezing_from_degC)));
    }
    out->thermal = *thermal;
    out->dry_density_kg_m3 = out->moisture_by_mass = out->porosity = out->saturation = NAN;
    out->unit_weight_moist_N_m3 = out->unit_weight_saturated_N_m3 = NAN;
    return UF_OK;
}

/* What was given goes before what the constituents come to: gd (1 + w), and gd + n gw
   with all pores full. Soil that is only moist cannot weigh more than the same soil
   saturated. */
static enum uf_status resolve_weight(struct uf_soil_state *out, const struct uf_ground_spec *spec,
                                     struct uf_error *err)
{
    const double moist = spec->unit_weight_moist_N_m3;
    const double saturated = spec->unit_weight_saturated_N_m3;
    if (!isnan(moist) && !isnan(saturated) && moist > saturated) {
        return uf_fail_key(
            err, UF_E_RANGE, "unit_weight_moist",
            UF_SAID("{} is more than the same soil saturated", UF_OF(UNIT_WEIGHT, moist)),
            UF_SAID("at most unit_weight_saturated, {}", UF_OF(UNIT_WEIGHT, saturated)));
    }
    if (!isnan(saturated)) {
        out->unit_weight_saturated_N_m3 = saturated;
        out->unit_weight_moist_N_m3 = fmin(out->unit_weight_moist_N_m3, saturated);
    }
    if (!isnan(moist)) {
        out->unit_weight_moist_N_m3 = moist;
    }
    return UF_OK;
}

/* The row with what the site measured of its grains and of its freezing curve in their place. */
static enum uf_status own_row(struct uf_soil *row, const struct uf_ground_spec *spec,
                              struct uf_error *err)
{
    *row = *spec->soil;
    if (!isnan(spec->quartz)) {
        row->quartz = spec->quartz;
    }
    if (!isnan(spec->unfrozen_share)) {
        row->unfrozen_A_percent = 100.0 * spec->unfrozen_share;
    }
    if (!isnan(spec->unfrozen_exponent)) {
        row->unfrozen_B = spec->unfrozen_exponent;
    }
    if ((row->unfrozen_A_percent > 0.0) != (row->unfrozen_B < 0.0)) {
        const bool share = row->unfrozen_A_percent > 0.0;
        return uf_fail_key(
            err, UF_E_INPUT, share ? "unfrozen_exponent" : "unfrozen_water",
            UF_SAID("{} freezes between two temperatures and has no curve of its own",
                    UF_WORD(row->name)),
            UF_PLAIN("both unfrozen_water and unfrozen_exponent"));
    }
    return UF_OK;
}

enum uf_status uf_soil_resolve(struct uf_soil_state *out, const struct uf_ground_spec *spec,
                               enum uf_method method, bool saturated, struct uf_error *err)
{
    struct uf_soil row;
    struct uf_ground_spec own = *spec;
    memset(out, 0, sizeof *out);
    enum uf_status status = UF_OK;
    if (spec->has_thermal) {
        status = resolve_outright(out, spec, err);
    } else if (spec->soil == NULL) {
        return uf_fail(err, UF_E_INPUT, "a ground layer needs soil or thermal");
    } else {
        own.soil = &row;
        status = own_row(&row, spec, err);
        if (status == UF_OK) {
            status = resolve_water(out, &own, saturated, err);
        }
    }
    if (status != UF_OK) {
        return status;
    }
    if (!spec->has_thermal) {
        out->thermal = thermal_of(&row, method, out);
        method_note(out, &row, method);
    }
    return resolve_weight(out, spec, err);
}
