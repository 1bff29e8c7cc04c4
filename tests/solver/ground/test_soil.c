#include "solver/base/constants.h"
#include "solver/ground/soil.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_ground_spec of_row(const char *name)
{
    return uf_case_ground_spec(uf_soil_find(name));
}

/* Kersten, Johansen and Cote-Konrad worked out from their formulas: solids 2700 kg/m3,
   quartz 0.8 sand, 0.6 gravelly sand, 0.4 silt, 0.2 clay, natural-mineral dry law.
   Printed to 5 digits. */
struct worked {
    enum uf_texture texture;
    enum uf_grain grain;
    double quartz, density, moisture;
    double kersten[2], johansen[2], cote_konrad[2]; /* thawed, frozen */
    double latent_MJ_m3;
};
static const struct worked worked_rows[] = {
    {UF_COARSE,
     UF_GRAIN_SAND,
     0.8,
     1600,
     0.05,
     {1.27904, 0.88028},
     {1.26512, 0.96398},
     {1.20811, 0.94514},
     26.6840},
    {UF_COARSE,
     UF_GRAIN_SAND,
     0.8,
     1600,
     0.15,
     {1.75940, 2.20493},
     {1.94493, 2.41810},
     {1.97927, 2.39137},
     80.0520},
    {UF_COARSE,
     UF_GRAIN_GRAVEL,
     0.6,
     1900,
     0.08,
     {2.28499, 2.37084},
     {2.01414, 2.03836},
     {2.10687, 2.46341},
     50.6996},
    {UF_FINE,
     UF_GRAIN_SILT_CLAY,
     0.4,
     1600,
     0.15,
     {1.23474, 1.38463},
     {1.32590, 1.78333},
     {1.29837, 1.69324},
     80.0520},
    {UF_FINE,
     UF_GRAIN_SILT_CLAY,
     0.4,
     1500,
     0.25,
     {1.31814, 1.88538},
     {1.44612, 2.40806},
     {1.45947, 2.36957},
     125.0813},
    {UF_FINE,
     UF_GRAIN_SILT_CLAY,
     0.2,
     1400,
     0.30,
     {1.21853, 1.96035},
     {1.19318, 2.12418},
     {1.21025, 2.10134},
     140.0910},
};

Test(soil, conductivity_and_latent_heat_match_the_worked_values)
{
    for (size_t i = 0; i < sizeof worked_rows / sizeof *worked_rows; i++) {
        const struct worked *row = &worked_rows[i];
        const struct uf_soil soil = {.name = "worked",
                                     .texture = row->texture,
                                     .grain = row->grain,
                                     .quartz = row->quartz,
                                     .solid_kg_m3 = 2700.0,
                                     .freezing_to_degC = -0.5,
                                     .dry_density_kg_m3 = row->density,
                                     .moisture_by_mass = row->moisture};
        for (int frozen = 0; frozen < 2; frozen++) {
            const double kersten =
                uf_soil_kersten_W_mK(row->texture, row->density, row->moisture, frozen == 1);
            const double johansen =
                uf_soil_johansen_W_mK(&soil, row->density, row->moisture, frozen == 1);
            const double cote =
                uf_soil_cote_konrad_W_mK(&soil, row->density, row->moisture, frozen == 1);
            cr_expect_float_eq(kersten, row->kersten[frozen], 6e-6, "K %zu %.6f", i, kersten);
            cr_expect_float_eq(johansen, row->johansen[frozen], 6e-6, "J %zu %.6f", i, johansen);
            cr_expect_float_eq(cote, row->cote_konrad[frozen], 6e-6, "C %zu %.6f", i, cote);
        }
        struct uf_ground_spec spec = of_row("sand");
        spec.soil = &soil;
        struct uf_soil_state state;
        cr_assert_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, NULL), UF_OK);
        cr_expect_float_eq(state.thermal.latent_J_m3 / 1e6, row->latent_MJ_m3, 6e-5);
        cr_expect_float_eq(state.thermal.k_frozen_W_mK, row->cote_konrad[1], 6e-6);
    }
}

Test(soil, every_row_has_a_mark_that_it_is_drawn_as)
{
    for (const struct uf_soil *s = uf_soil_table; s->name != NULL; s++) {
        cr_expect(uf_soil_mark(s) > UF_SOIL_UNMARKED && uf_soil_mark(s) < UF_SOIL_MARKS, "%s",
                  s->name);
    }
    cr_expect_eq(uf_soil_mark(uf_soil_find("crushed_stone")), UF_SOIL_CRUSHED);
    cr_expect_eq(uf_soil_mark(uf_soil_find("pea_gravel")), UF_SOIL_GRAVEL);
    cr_expect_eq(uf_soil_mark(uf_soil_find("silty_sand")), UF_SOIL_SAND);
    cr_expect_eq(uf_soil_mark(uf_soil_find("clay")), UF_SOIL_FINE);
    cr_expect_eq(uf_soil_mark(uf_soil_find("peat")), UF_SOIL_ORGANIC);
    cr_expect_eq(uf_soil_mark(NULL), UF_SOIL_UNMARKED);
}

/* Kersten's own units, recomputed: 100 pcf 15 % fine and 135 pcf 5 % coarse, Btu/(hr ft
   F). The SI and US coefficients are rounded apart, hence 0.2 %. */
Test(soil, kersten_agrees_with_its_us_form)
{
    const double pcf = 16.01846337, btu = 1.730734666;
    cr_expect_float_eq(uf_soil_kersten_W_mK(UF_FINE, 100 * pcf, 0.15, false) / btu, 0.71540,
                       0.002 * 0.7154);
    cr_expect_float_eq(uf_soil_kersten_W_mK(UF_FINE, 100 * pcf, 0.15, true) / btu, 0.80247,
                       0.002 * 0.80247);
    cr_expect_float_eq(uf_soil_kersten_W_mK(UF_COARSE, 135 * pcf, 0.05, false) / btu, 1.65904,
                       0.002 * 1.65904);
    cr_expect_float_eq(uf_soil_kersten_W_mK(UF_COARSE, 135 * pcf, 0.05, true) / btu, 1.60748,
                       0.002 * 1.60748);
}

Test(soil, every_row_is_sound_by_every_method)
{
    size_t rows = 0;
    for (const struct uf_soil *row = uf_soil_table; row->name != NULL; row++, rows++) {
        cr_expect(strlen(row->source) > 20 && strlen(row->doc) > 5, "%s", row->name);
        cr_expect(strlen(row->frost_group) > 0, "%s", row->name);
        cr_expect_eq(uf_soil_find(row->name), row);
        for (int method = UF_COTE_KONRAD; method <= UF_KERSTEN; method++) {
            struct uf_soil_state drained, full;
            const struct uf_ground_spec spec = of_row(row->name);
            struct uf_error err = {0};
            cr_assert_eq(uf_soil_resolve(&drained, &spec, (enum uf_method)method, false, &err),
                         UF_OK, "%s: %s", row->name, err.text);
            cr_assert_eq(uf_soil_resolve(&full, &spec, (enum uf_method)method, true, &err), UF_OK,
                         "%s: %s", row->name, err.text);
            cr_expect(drained.thermal.k_thawed_W_mK > 0.05 && drained.thermal.k_thawed_W_mK < 4.0,
                      "%s %g", row->name, drained.thermal.k_thawed_W_mK);
            cr_expect(drained.thermal.k_frozen_W_mK > 0.05, "%s", row->name);
            cr_expect(full.thermal.k_frozen_W_mK > full.thermal.k_thawed_W_mK, "%s", row->name);
            cr_expect(full.thermal.k_thawed_W_mK >= drained.thermal.k_thawed_W_mK, "%s", row->name);
            cr_expect(full.thermal.latent_J_m3 >= drained.thermal.latent_J_m3, "%s", row->name);
            cr_expect(drained.thermal.c_thawed_J_m3K > drained.thermal.c_frozen_J_m3K, "%s",
                      row->name);
            cr_expect_eq(full.saturation, 1.0);
            cr_expect(drained.unit_weight_moist_N_m3 <= drained.unit_weight_saturated_N_m3);
            cr_expect_float_eq(full.unit_weight_moist_N_m3, drained.unit_weight_moist_N_m3, 1e-9,
                               "weight above the water table must not change with the flag");
            cr_expect(full.unit_weight_saturated_N_m3 > UF_WATER_UNIT_N_M3, "%s", row->name);
            cr_expect(drained.thermal.freezing_from_degC > drained.thermal.freezing_to_degC);
        }
    }
    cr_expect(rows >= 10);
    cr_expect_null(uf_soil_find("moon dust"));
}

/* Anderson & Tice: all water is liquid where A |T|^B = w, and the share left below
   follows the printed values of Fairbanks silt: 4.8 % at -1, 2.8404 % at -5 degC. */
Test(soil, unfrozen_curve_starts_where_all_water_is_liquid)
{
    const struct uf_ground_spec spec = of_row("silt");
    struct uf_soil_state state;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, NULL), UF_OK);
    const struct uf_thermal *soil = &state.thermal;
    const double at_start =
        soil->unfrozen_A_percent * pow(-soil->freezing_from_degC, soil->unfrozen_B);
    cr_expect_float_eq(at_start, 15.0, 1e-9);
    cr_expect_float_eq(soil->water_percent, 15.0, 1e-12);
    cr_expect(soil->freezing_from_degC < 0.0 && soil->freezing_from_degC > -0.1);
    cr_expect_float_eq(soil->unfrozen_A_percent * pow(5.0, soil->unfrozen_B), 2.8404, 6e-5);
}

Test(soil, dry_fine_soil_freezes_nothing_and_stays_finite)
{
    struct uf_ground_spec spec = of_row("clay");
    struct uf_soil_state state;
    spec.moisture_by_mass = 0.0;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, NULL), UF_OK);
    cr_expect_eq(state.thermal.latent_J_m3, 0.0);
    cr_expect(isfinite(state.thermal.freezing_from_degC));
    cr_expect_eq(state.thermal.unfrozen_B, 0.0);
    spec.moisture_by_mass = 0.05;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, NULL), UF_OK);
    cr_expect(strstr(state.note.text, "clay") != NULL, "drier than the curve was measured for");
}

Test(soil, a_method_outside_its_range_is_noted)
{
    struct uf_ground_spec spec = of_row("silt");
    struct uf_soil_state state;
    spec.moisture_by_mass = 0.15;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, false, NULL), UF_OK);
    cr_expect_str_eq(state.note.text, "");
    spec.moisture_by_mass = 0.03;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, false, NULL), UF_OK);
    cr_expect(strstr(state.note.text, "Kersten") != NULL);
    cr_expect_float_eq(state.thermal.k_thawed_W_mK,
                       uf_soil_kersten_W_mK(UF_FINE, 1600.0, 0.07, false), 1e-12);
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_JOHANSEN, false, NULL), UF_OK);
    spec.moisture_by_mass = 0.01;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_JOHANSEN, false, NULL), UF_OK);
    cr_expect(strstr(state.note.text, "Johansen") != NULL);
    spec = of_row("peat");
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, false, NULL), UF_OK);
    cr_expect(strstr(state.note.text, "Cote-Konrad") != NULL);
}

/* gamma_d, gamma_sat from Gs and n: 2.65 and 0.40 give 15.598 and 19.522 kN/m3, computed
   from the phase relations with water at 9.81 kN/m3. */
Test(soil, unit_weights_follow_the_phase_relations)
{
    struct uf_ground_spec spec = of_row("pea_gravel"); /* grains 2650 kg/m3 */
    struct uf_soil_state state;
    spec.dry_density_kg_m3 = 2650.0 * 0.6;
    spec.moisture_by_mass = 0.0;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, NULL), UF_OK);
    cr_expect_float_eq(state.unit_weight_moist_N_m3, 15598.0, 1.0);
    cr_expect_float_eq(state.unit_weight_saturated_N_m3, 19522.0, 1.0);
    cr_expect_float_eq(state.porosity, 0.40, 1e-12);
    spec.unit_weight_saturated_N_m3 = 15000.0;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, NULL), UF_OK);
    cr_expect_float_eq(state.unit_weight_moist_N_m3, 15000.0, 1e-9, "never above saturated");
    spec.unit_weight_moist_N_m3 = 16000.0;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, NULL), UF_E_RANGE);
}

Test(soil, moisture_by_volume_is_the_same_water)
{
    struct uf_ground_spec spec = of_row("sand");
    struct uf_soil_state by_volume, by_mass;
    spec.moisture_by_volume = 0.16;
    cr_assert_eq(uf_soil_resolve(&by_volume, &spec, UF_JOHANSEN, false, NULL), UF_OK);
    spec.moisture_by_volume = NAN;
    spec.moisture_by_mass = 0.10;
    cr_assert_eq(uf_soil_resolve(&by_mass, &spec, UF_JOHANSEN, false, NULL), UF_OK);
    cr_expect_float_eq(by_volume.thermal.k_frozen_W_mK, by_mass.thermal.k_frozen_W_mK, 1e-12);
    cr_expect_float_eq(by_volume.moisture_by_mass, 0.10, 1e-12);
}

Test(soil, what_cannot_be_is_refused)
{
    struct uf_soil_state state;
    struct uf_error err = {0};
    struct uf_ground_spec spec = of_row("sand"); /* full at 25.46 % */
    spec.moisture_by_mass = 0.26;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, true, &err), UF_E_RANGE);
    cr_expect(strstr(err.text, "25.46") != NULL, "%s", err.text);
    cr_expect_str_eq(err.fault.key, "moisture");
    cr_expect(strstr(err.text, "dry_density") != NULL, "%s", err.text);
    spec.dry_density_kg_m3 = 1600.0; /* measured: then it is the water that is wrong */
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, true, &err), UF_E_RANGE);
    cr_expect(strstr(err.text, "dry_density") == NULL, "%s", err.text);
    spec = of_row("sand");
    spec.moisture_by_volume = 0.42;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, true, &err), UF_E_RANGE);
    cr_expect_str_eq(err.fault.key, "moisture_by_volume");
    cr_expect(strstr(err.text, "42 percent") != NULL, "%s", err.text);
    spec = of_row("sand");
    spec.moisture_by_mass = -0.01;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, &err), UF_E_RANGE);
    spec = of_row("sand");
    spec.dry_density_kg_m3 = 2700.0;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, &err), UF_E_RANGE);
    spec = of_row("sand");
    spec.moisture_by_mass = spec.moisture_by_volume = 0.1;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, &err), UF_E_INPUT);
    spec.soil = NULL;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, false, &err), UF_E_INPUT);
}

Test(soil, properties_outright_pass_through_and_are_checked)
{
    struct uf_soil_state state;
    struct uf_ground_spec spec = of_row("sand");
    spec.soil = NULL;
    spec.has_thermal = true;
    spec.thermal = (struct uf_thermal){.k_thawed_W_mK = 1.5,
                                       .k_frozen_W_mK = 2.5,
                                       .c_thawed_J_m3K = 3.0e6,
                                       .c_frozen_J_m3K = 1.9e6,
                                       .latent_J_m3 = 150e6,
                                       .freezing_to_degC = -0.5};
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, true, NULL), UF_OK);
    cr_expect_eq(state.thermal.latent_J_m3, 150e6);
    cr_expect(isnan(state.porosity) && isnan(state.unit_weight_moist_N_m3));
    spec.unit_weight_moist_N_m3 = 18000.0;
    cr_assert_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, true, NULL), UF_OK);
    cr_expect_eq(state.unit_weight_moist_N_m3, 18000.0);
    spec.thermal.freezing_to_degC = 0.0;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, true, NULL), UF_E_RANGE);
    spec.thermal.freezing_to_degC = -0.5;
    spec.thermal.k_frozen_W_mK = NAN;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, true, NULL), UF_E_RANGE);
    spec.thermal.k_frozen_W_mK = 2.5;
    spec.thermal.latent_J_m3 = -1.0;
    cr_expect_eq(uf_soil_resolve(&state, &spec, UF_KERSTEN, true, NULL), UF_E_RANGE);
}

/* Saxton & Rawls 2006, eqs. 1, 2, 3, 5 and 6 (read in two implementations), with 2.5 % of organic
   matter; unfrozen water as the power law between 33 and 1500 kPa at Clapeyron's suction. */
Test(soil, classes_of_the_triangle_are_what_the_published_equations_give)
{
    static const struct {
        const char *name;
        double sand, clay;
    } rows[] = {{"loamy_sand", 0.80, 0.05},
                {"sandy_loam", 0.65, 0.10},
                {"loam", 0.40, 0.20},
                {"silt_loam", 0.20, 0.15},
                {"sandy_clay_loam", 0.60, 0.25},
                {"clay_loam", 0.30, 0.35},
                {"silty_clay_loam", 0.10, 0.35},
                {"sandy_clay", 0.50, 0.40},
                {"silty_clay", 0.10, 0.45}};
    const double om = 2.5;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct uf_soil *got = uf_soil_find(rows[i].name);
        const double s = rows[i].sand, c = rows[i].clay;
        cr_assert_not_null(got, "%s", rows[i].name);
        const double dry0 = -0.024 * s + 0.487 * c + 0.006 * om + 0.005 * s * om - 0.013 * c * om +
                            0.068 * s * c + 0.031;
        const double field0 = -0.251 * s + 0.195 * c + 0.011 * om + 0.006 * s * om -
                              0.027 * c * om + 0.452 * s * c + 0.299;
        const double free0 = 0.278 * s + 0.034 * c + 0.022 * om - 0.018 * s * om - 0.027 * c * om -
                             0.584 * s * c + 0.078;
        const double dry = 1.14 * dry0 - 0.02;
        const double field = field0 + 1.283 * field0 * field0 - 0.374 * field0 - 0.015;
        const double full = field + 1.636 * free0 - 0.107 - 0.097 * s + 0.043;
        const double density = 2650.0 * (1.0 - full);
        const double slope = log(field / dry) / log(1500.0 / 33.0);
        const double liquid = dry * pow(UF_WATER_LATENT_J_M3 / 273.15 / 1500e3, -slope);
        cr_expect_float_eq(got->dry_density_kg_m3, density, 0.1, "%s", got->name);
        cr_expect_float_eq(got->moisture_by_mass, 1000.0 * field / density, 1e-4, "%s", got->name);
        cr_expect_float_eq(got->usual_moisture[0], 1000.0 * dry / density, 1e-4, "%s", got->name);
        cr_expect_float_eq(got->usual_moisture[1], 1000.0 * full / density, 1e-4, "%s", got->name);
        cr_expect_float_eq(got->unfrozen_B, -slope, 1e-4, "%s", got->name);
        cr_expect_float_eq(got->unfrozen_A_percent, 1e5 * liquid / density, 0.01, "%s", got->name);
        cr_expect_eq(got->quartz, s, "%s", got->name);
    }
}

/* Quartz 0.6 for 0.2 in clay: grains of 7.7^0.6 2.0^0.4 for 7.7^0.2 2.0^0.8 W/m/K (Johansen 1975), and
   more of it conducts better. The curve is the site's own: A |T|^B of the dry mass. */
Test(soil, grains_and_freezing_curve_can_be_the_sites_own)
{
    struct uf_ground_spec spec = of_row("clay");
    struct uf_soil_state row, own;
    struct uf_error err = {0};
    cr_assert_eq(uf_soil_resolve(&row, &spec, UF_JOHANSEN, true, NULL), UF_OK);
    spec.quartz = 0.6;
    spec.unfrozen_share = 0.26;
    spec.unfrozen_exponent = -0.09;
    cr_assert_eq(uf_soil_resolve(&own, &spec, UF_JOHANSEN, true, NULL), UF_OK);
    cr_expect_float_eq(own.thermal.k_thawed_W_mK / row.thermal.k_thawed_W_mK,
                       pow(7.7 / 2.0, (0.6 - spec.soil->quartz) * (1.0 - own.porosity)), 1e-9);
    cr_expect_float_eq(own.thermal.unfrozen_A_percent, 26.0, 1e-12);
    cr_expect_float_eq(own.thermal.freezing_from_degC,
                       -pow(100.0 * own.moisture_by_mass / 26.0, 1.0 / -0.09), 1e-12);
    spec = of_row("gravel");
    spec.unfrozen_share = 0.02;
    cr_expect_eq(uf_soil_resolve(&own, &spec, UF_JOHANSEN, false, &err), UF_E_INPUT);
    cr_expect_str_eq(err.fault.key, "unfrozen_exponent");
}
