#include "solver/base/constants.h"
#include "tests/program.h"

#define SITE(extra) PROGRAM_SITE(PROGRAM_BURIED extra)

Test(check_flotation, json_holds_the_contract)
{
    struct program_answer got = program_check("flotation", "--json", SITE(""));
    const double tank_m3 = 0.25 * UF_PI * 2.4 * 2.4 * 6.0, W_N = 900.0 * UF_GRAVITY_M_S2;
    const double soil_N = (2.4 * 1.2 + (0.5 - UF_PI / 8.0) * 5.76) * 6.0 * 10000.0;
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 1, "0.8 is less than 1.3");
    cr_expect_float_eq(program_number(got.json, "volume_m3"), tank_m3, 1e-9);
    cr_expect_float_eq(program_number(got.json, "uplift_kN"), 9.81 * tank_m3, 1e-9);
    cr_expect_float_eq(program_number(got.json, "factor_submerged"),
                       (W_N + soil_N) / (9810.0 * tank_m3), 1e-9);
    cr_expect_float_eq(program_number(got.json, "needed_ballast_m3"),
                       (1.3 * 9810.0 * tank_m3 - W_N - soil_N) / (23500.0 - 9810.0), 1e-9);
    cr_expect(isnan(program_number(got.json, "strap_leg_kN")), "no straps");
    cr_expect_gt(program_number(got.json, "least_cover_m"), 1.2);
    const cJSON *part = cJSON_GetArrayItem(cJSON_GetObjectItem(got.json, "holddown"), 1);
    cr_expect_str_eq(cJSON_GetObjectItem(part, "part")->valuestring, "soil above");
    cr_expect_float_eq(program_number(part, "kN"), 2.4 * 6.0 * 1.2 * 10.0, 1e-9);
    const cJSON *sweep = cJSON_GetObjectItem(got.json, "water_sweep");
    const cJSON *last = cJSON_GetArrayItem(sweep, cJSON_GetArraySize(sweep) - 1);
    cr_expect_float_eq(program_number(last, "depth_m"), 3.6, 1e-9);
    cr_expect(isnan(program_number(last, "factor")));
    program_forget(&got);
}

/* The least cover, typed back in, passes. */
Test(check_flotation, least_cover_typed_back_holds)
{
    struct program_answer got = program_check("flotation", "--json", SITE(""));
    char arguments[128];
    (void)snprintf(arguments, sizeof arguments, "--json --set burial.cover=%.6fm",
                   program_number(got.json, "least_cover_m") + 1e-6);
    program_forget(&got);
    got = program_check("flotation", arguments, SITE(""));
    cr_expect_eq(got.code, 0, "%s", got.text);
    cr_expect_float_eq(program_number(got.json, "factor_submerged"), 1.3, 1e-5);
    program_forget(&got);
}

Test(check_flotation, no_water_no_factor)
{
    struct program_answer got =
        program_check("flotation", "--json", SITE("groundwater: {highest: 6 m}\n"));
    cr_expect_eq(got.code, 0, "%s", got.text);
    cr_expect(isnan(program_number(got.json, "factor_submerged")));
    cr_expect(isnan(program_number(got.json, "factor_total")));
    program_forget(&got);
    got = program_check("flotation", "", SITE("groundwater: {highest: 6 m}\n"));
    cr_expect(strstr(got.text, "No uplift force") != NULL, "%s", got.text);
    program_forget(&got);
}

Test(check_flotation, text_fits_and_says_what_it_must)
{
    static const char *const words[] = {"FAILS",      "at grade",       "shoulder soil",
                                        "FEMA P-259", "EM 1110-2-2100", "EN 1997-1",
                                        "licensed",   "strap leg",      "soil over deadmen"};
    const char *site = SITE("anchors: {deadmen: {count: 2, width: 0.3 m, height: 0.3 m, "
                            "length: 5 m, unit_weight: 23.5 kN/m3}, straps: 4}\n");
    struct program_answer got = program_check("flotation", "", site);
    program_expect_fits(got.text);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        cr_expect(strstr(got.text, words[i]) != NULL, "%s not in:\n%s", words[i], got.text);
    }
    program_forget(&got);
    got = program_check("flotation", "--units us", site);
    program_expect_fits(got.text);
    cr_expect(strstr(got.text, "kip") != NULL && strstr(got.text, " kN") == NULL, "%s", got.text);
    program_forget(&got);
}

Test(check_flotation, a_soil_without_weight_is_named)
{
    static const char site[] =
        "surface: {film: 15 W/m2/K, snow: none}\n"
        "climate: {cycle: {mean: 3 degC, amplitude: 16 K, coldest: 20 day, period: 365.2425 day}}\n"
        "ground:\n"
        "  - to: 15 m\n"
        "    thermal: {conductivity_thawed: 1.6 W/m/K, conductivity_frozen: 2.1 W/m/K, "
        "heat_capacity_thawed: 2.3 MJ/m3/K, heat_capacity_frozen: 1.8 MJ/m3/K, "
        "latent_heat: 80 MJ/m3, freezing_from: 0 degC, freezing_to: -0.5 degC}\n"
        "tank: {shape: box, width: 2 m, height: 2 m, length: 3 m, empty_mass: 900 kg, "
        "contents: {level: 1 m, start: 4 degC}}\n"
        "burial: {cover: 1.2 m, bedding: 0.3 m}\n";
    struct program_answer got = program_check("flotation", "", site);
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "ground[0]") != NULL &&
                  strstr(got.text, "unit_weight_saturated") != NULL,
              "%s", got.text);
    program_forget(&got);
}

Test(check_flotation, more_than_the_verdict)
{
    const char *site =
        SITE("groundwater: {mean: 1.8 m, amplitude: 0.9 m, highest_on: 120 day, "
             "highest: 0 m}\n"
             "anchors: {deadmen: {count: 2, width: 0.3 m, height: 0.3 m, length: 5 m}, "
             "straps: 4, strap_width: 50 mm, wedge_angle: 30 degrees}\n");
    struct program_answer got = program_check("flotation", "--json", site);
    cr_assert_not_null(got.json, "%s", got.text);
    const double leg_kN = program_number(got.json, "strap_leg_kN");
    cr_expect_float_eq(program_number(got.json, "strap_contact_kPa"), leg_kN / (1.2 * 0.05), 1e-6);
    cr_expect_gt(program_number(got.json, "square_deadman_side_m"), 0.0);
    const cJSON *year = cJSON_GetObjectItem(got.json, "through_the_year");
    cr_expect_str_eq(cJSON_GetObjectItem(year, "least_on")->valuestring, "--04-30");
    cr_expect_float_eq(program_number(year, "water_depth_m"), 0.9, 1e-9);
    const cJSON *wet = cJSON_GetObjectItem(got.json, "wet_pit");
    cr_expect_eq(cJSON_GetArraySize(wet), 4);
    cr_expect_float_eq(program_number(cJSON_GetArrayItem(wet, 3), "factor"),
                       program_number(got.json, "factor_submerged"), 1e-12);
    cr_expect_gt(program_number(cJSON_GetObjectItem(got.json, "wedge"), "factor"),
                 program_number(got.json, "factor_submerged"));
    program_forget(&got);
    got = program_check("flotation", "", site);
    program_expect_fits(got.text);
    cr_expect(strstr(got.text, "Through the year") != NULL && strstr(got.text, "30 Apr") != NULL &&
                  strstr(got.text, "An open pit") != NULL,
              "%s", got.text);
    program_forget(&got);
}

/* A strap that carries more than its strength holds nothing, whatever the concrete. */
Test(check_flotation, straps_too_weak_are_a_limit_not_met)
{
#define ANCHORED(straps)                                                                           \
    SITE("anchors: {deadmen: {count: 2, width: 0.6 m, height: 0.6 m, length: 5 m}" straps "}\n")
    struct program_answer got =
        program_check("flotation", "", ANCHORED(", straps: 4, strap_strength: 1 kN"));
    cr_expect_eq(got.code, 1);
    cr_expect(strstr(got.text, "STRAPS TOO WEAK") != NULL &&
                  strstr(got.text, "anchors.strap_strength") != NULL,
              "%s", got.text);
    cr_expect(strstr(got.text, "anchors.straps is not") == NULL);
    program_forget(&got);
    got = program_check("flotation", "", ANCHORED(", straps: 4, strap_strength: 900 kN"));
    cr_expect_eq(got.code, 0, "%s", got.text);
    program_forget(&got);
    got = program_check("flotation", "", ANCHORED(""));
    cr_expect_eq(got.code, 0);
    cr_expect(strstr(got.text, "anchors.straps is not") != NULL, "%s", got.text);
    program_forget(&got);
}
