#include "io/site/site_file.h"
#include "solver/statics/frost_force.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#define BASE                                                                                       \
    "climate: {cycle: {mean: 3 degC, amplitude: 16 K, coldest: 20 day}}\n"                         \
    "surface: {film: 15 W/m2/K, snow: none}\n"                                                     \
    "ground: [{to: 15 m, soil: silt}]\n"                                                           \
    "tank: {shape: horizontal_cylinder, diameter: 2.4 m, length: 6 m, "                            \
    "contents: {level: 2 m, start: 4 degC}}\n"                                                     \
    "burial: {cover: 1.2 m}\n"

static struct uf_site *parse(const char *text, struct uf_site_faults *faults)
{
    struct uf_site *site = NULL;
    struct uf_error err = {0};
    (void)uf_site_parse(&site, "test.yaml", text, strlen(text), NULL, faults, &err);
    return site;
}

/* Parses a good file; the test ends with the first fault. */
static struct uf_site *parse_good(const char *text)
{
    struct uf_site_faults faults = {0};
    struct uf_site *site = parse(text, &faults);
    cr_assert(faults.n == 0, "%s: %s", faults.rows[0].key, faults.rows[0].what.text);
    uf_site_faults_clear(&faults);
    return site;
}

static void expect_fault(const char *text, const char *key)
{
    struct uf_site_faults faults = {0};
    struct uf_site *site = parse(text, &faults);
    bool found = false;
    for (size_t i = 0; i < faults.n; i++) {
        found = found || strncmp(faults.rows[i].key, key, strlen(key)) == 0;
    }
    cr_expect(found, "%s is not blamed in:\n%s", key, text);
    uf_site_faults_clear(&faults);
    uf_site_free(site);
}

Test(site_works, nothing_given)
{
    struct uf_site *site = parse_good(BASE);
    cr_expect_not(uf_water_year_given(&site->design.ground.year));
    cr_expect_eq(site->works.grading, -1);
    cr_expect_eq(site->works.bond, -1);
    cr_expect_eq(site->works.lifting.picks, 0u);
    cr_expect_eq(site->works.roundness.n, 0u);
    cr_expect(isnan(site->works.frost_depth_m) && isnan(site->works.suction.flow_m3_s));
    uf_site_free(site);
}

Test(site_works, every_value_lands_in_its_place)
{
    struct uf_site *site = parse_good(
        BASE
        "groundwater: {mean: 1.8 m, amplitude: 0.9 m, highest_on: 120 day}\n"
        "anchors: {straps: 3, strap_width: 50 mm, wedge_angle: 30 degrees}\n"
        "quantities: {sheet: {length: 8 ft, width: 4 ft, thickness: 2 inch}, truck: 12 yd3,\n"
        "  geotextile: {roll: 4 m, lap: 0.5 m}, fill: sand, native: clay, grading: no_67,\n"
        "  sieves: [{opening: 19 mm, passing: 95 percent}, {opening: 2.36 mm, passing: 3 %}]}\n"
        "lifting: {picks: 4, spacing: 3 m, width: 1.2 m, sling: 12 ft, hoist: 50 kN, "
        "rigging: 100 kg, mass: 1200 kg}\n"
        "readings: [{at: before, diameter: 2400 mm}, {at: covered, diameter: 2391 mm, "
        "level: 98.5 m}]\n"
        "roundness: {limit: 1 percent, level_limit: 10 mm, shell_modulus: 20 GPa, lag: 1.5, "
        "soil: clean_coarse, compaction: moderate}\n"
        "frost: {depth: 1.8 m, bond: steel}\n"
        "suction: {flow: 500 gpm, pipe: 8 inch, length: 30 m, elbows_90: 2, elbows_45: 1, "
        "reducers: 1, pump_above_grade: 0.9 m, intake_above_invert: 0.15 m, cover: 0.5 m, "
        "ice: 0.2 m, altitude: 230 m}\n");
    const struct uf_site_works *works = &site->works;
    cr_expect_float_eq(site->design.ground.year.mean_m, 1.8, 1e-12);
    cr_expect_float_eq(site->design.ground.year.highest_day, 120.0, 1e-9);
    cr_expect_float_eq(works->wedge_angle_degree, 30.0, 1e-9);
    cr_expect_float_eq(works->strap_width_m, 0.05, 1e-12);
    cr_expect_float_eq(works->quantities.sheet_length_m, 8 * 0.3048, 1e-12);
    cr_expect_float_eq(works->quantities.sheet_thickness_m, 2 * 0.025, 1e-12);
    cr_expect_float_eq(works->quantities.truck_m3, 12.0 * 0.764554858, 1e-6);
    cr_expect_float_eq(works->quantities.lap_m, 0.5, 1e-12);
    cr_expect_str_eq(uf_pit_swells[works->quantities.fill].name, "sand");
    cr_expect_str_eq(uf_pit_swells[site->design.burial.native_swell].name, "clay");
    cr_expect_str_eq(uf_grading_specs[works->grading].name, "no_67");
    cr_expect_eq(works->sieves.n, 2u);
    cr_expect_float_eq(works->sieves.rows[1].opening_m, 0.00236, 1e-12);
    cr_expect_float_eq(works->sieves.rows[0].passing, 0.95, 1e-12);
    cr_expect_eq(works->lifting.picks, 4u);
    cr_expect_float_eq(works->lifting.sling_m, 12 * 0.3048, 1e-12);
    cr_expect_float_eq(works->lifting.hoist_N, 50000.0, 1e-9);
    cr_expect_eq(works->roundness.n, 2u);
    cr_expect_str_eq(works->roundness.readings[1].at, "covered");
    cr_expect_float_eq(works->roundness.readings[1].diameter_m, 2.391, 1e-12);
    cr_expect(isnan(works->roundness.readings[0].level_m));
    cr_expect_float_eq(works->roundness.limit, 0.01, 1e-12);
    cr_expect_float_eq(works->roundness.shell_modulus_Pa, 20e9, 1.0);
    cr_expect_eq(works->roundness.soil_row, 2);
    cr_expect_str_eq(uf_frost_force_bonds[works->bond].name, "steel");
    cr_expect_float_eq(works->suction.flow_m3_s, 500 * 3.785411784e-3 / 60, 1e-8);
    cr_expect_float_eq(works->suction.pipe_m, 8 * 0.0254, 1e-12);
    cr_expect_eq(works->suction.elbows_90, 2u);
    cr_expect_float_eq(works->suction.altitude_m, 230.0, 1e-12);
    uf_site_free(site);
}

/* The words of the keys are the names of the tables, in their order. */
Test(site_works, words_name_the_rows)
{
    static const char *const gradings[] = {"no_57", "no_67", "no_6", "no_7", "no_8"};
    static const char *const swells[] = {"sand", "earth", "clay", "rock"};
    static const char *const bonds[] = {"concrete", "steel", "steel_in_gravel"};
    for (size_t i = 0; i < 5; i++) {
        cr_expect_str_eq(uf_grading_specs[i].name, gradings[i]);
    }
    cr_expect_null(uf_grading_specs[5].name);
    for (size_t i = 0; i < 4; i++) {
        cr_expect_str_eq(uf_pit_swells[i].name, swells[i]);
    }
    cr_expect_null(uf_pit_swells[4].name);
    for (size_t i = 0; i < 3; i++) {
        cr_expect_str_eq(uf_frost_force_bonds[i].name, bonds[i]);
    }
    cr_expect_null(uf_frost_force_bonds[3].name);
}

Test(site_works, months)
{
    struct uf_site *site = parse_good(
        BASE "groundwater: {by_month: [2 m, 2 m, 1.5 m, 1 m, 1 m, 1.2 m, 1.5 m, 1.6 m, 1.8 m, "
             "2 m, 2 m, 2 m]}\n");
    cr_expect_eq(site->design.ground.year.n_months, 12u);
    cr_expect_float_eq(site->design.ground.year.month_m[3], 1.0, 1e-12);
    cr_expect(site->design.ground.water_moves);
    cr_expect_float_eq(site->design.ground.water_winter_m, 2.0, 1e-12, "mid-January");
    uf_site_free(site);
    expect_fault(BASE "groundwater: {by_month: [2 m, 1 m]}\n", "groundwater.by_month");
    expect_fault(BASE "groundwater: {mean: 1.8 m, amplitude: 0.9 m, highest_on: 120 day, "
                      "winter: 2 m, highest: 1 m}\n",
                 "groundwater.highest");
    site = parse_good(BASE "groundwater: {by_month: [2 m, 2 m, 2 m, 2 m, 2 m, 2 m, 2 m, 2 m, "
                           "2 m, 2 m, 2 m, -0.1 m]}\n");
    cr_expect_float_eq(site->design.ground.water_highest_m, -0.1, 1e-12, "the year's highest");
    cr_expect(site->design.ground.highest_given);
    uf_site_free(site);
    site = parse_good(BASE "groundwater: {by_month: [2 m, 2 m, 2 m, 1 m, 1 m, 1 m, 1 m, 1 m, 1 m, "
                           "2 m, 2 m, 2 m], winter: 3 m}\n");
    cr_expect_not(site->design.ground.water_moves, "a level for the frost run is given");
    cr_expect_float_eq(site->design.ground.water_winter_m, 3.0, 1e-12);
    uf_site_free(site);
    expect_fault(BASE "groundwater: {mean: 1.8 m}\n", "groundwater.mean");
    site = parse_good(BASE);
    cr_expect(!site->design.ground.highest_given, "grade by default");
    uf_site_free(site);
    expect_fault(BASE "groundwater: {by_month: [2 m, 2 m, 2 m, 2 m, 2 m, 2 m, 2 m, 2 m, 2 m, 2 m, "
                      "2 m, 2 m], mean: 2 m, amplitude: 1 m, highest_on: 3 day}\n",
                 "groundwater");
}

Test(site_works, wrong_input_names_its_key)
{
    static const char *const rows[][2] = {
        {"groundwater: {mean: 2 m}\n", "groundwater.mean"},
        {"groundwater: {amplitude: 2 m}\n", "groundwater.amplitude"},
        {"anchors: {strap_width: 50 mm}\n", "anchors.strap_width"},
        {"quantities: {grading: no_57}\n", "quantities.grading"},
        {"quantities: {sieves: [{opening: 19 mm, passing: 95 percent}]}\n", "quantities.sieves"},
        {"quantities: {fill: moon}\n", "quantities.fill"},
        {"quantities: {sieves: [{opening: 19 mm}]}\n", "quantities.sieves[0].passing"},
        {"quantities: {truck: 12 m2}\n", "quantities.truck"},
        {"lifting: {picks: 2}\n", "lifting.spacing"},
        {"lifting: {picks: 2.5, spacing: 3 m}\n", "lifting.picks"},
        {"readings: [{diameter: 2 m}]\n", "readings[0].at"},
        {"roundness: {soil: fine}\n", "roundness.soil"},
        {"frost: {bond: glue}\n", "frost.bond"},
        {"suction: {flow: 500 gpm, pipe: 1 inch, length: 3 m, pump_above_grade: 1 m, "
         "intake_above_invert: 0 m}\n",
         "suction.pipe"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[2000];
        (void)snprintf(text, sizeof text, "%s%s", BASE, rows[i][0]);
        expect_fault(text, rows[i][1]);
    }
}
