#include "io/site/site_file.h"
#include "io/text/units.h"
#include "solver/base/calendar.h"
#include "solver/design/foam.h"
#include "solver/ground/soil.h"
#include "solver/statics/load.h"
#include "solver/weather/surface.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void close_units(void)
{
    uf_units_close();
}

TestSuite(site_file, .fini = close_units);

/* Every key of the contract's example, in an invented site of ours. */
static const char whole[] =
    "site: {name: Larch Hollow fire-water cistern, latitude: 49.9 degrees_north}\n"
    "climate: {file: winnipeg.csv, column: winnipeg, winter: 1 in 100}\n"
    "surface: {film: 17 W/m2/K, snow: {depth: 0.3 m, density: 210 kg/m3}}\n"
    "ground:\n"
    "  - {to: 0.4 m, soil: topsoil}\n"
    "  - {to: 2.5 m, soil: silt, dry_density: 1600 kg/m3, moisture: 20 percent,\n"
    "     unit_weight_moist: 18.5 kN/m3, unit_weight_saturated: 125 pcf}\n"
    "  - to: 15 m\n"
    "    thermal: {conductivity_thawed: 1.6 W/m/K, conductivity_frozen: 2.1 W/m/K,\n"
    "              heat_capacity_thawed: 2.3 MJ/m3/K, heat_capacity_frozen: 1.8 MJ/m3/K,\n"
    "              latent_heat: 80 MJ/m3, freezing_from: 0 degC, freezing_to: -0.5 degC}\n"
    "conductivity: johansen\n"
    "geothermal: 0.06 W/m2\n"
    "groundwater: {winter: 2.0 m, highest: -0.2 m}\n"
    "initial:\n"
    "  profile: [[0 m, 5 degC], [10 m, 6.5 degC]]\n"
    "  date: 2014-10-02\n"
    "  end: 2015-06-30\n"
    "tank:\n"
    "  shape: horizontal_cylinder\n"
    "  diameter: 2.4 m\n"
    "  length: 6.0 m\n"
    "  heads: ellipsoidal_2_to_1\n"
    "  ends: three_dimensional\n"
    "  empty_mass: 900 kg\n"
    "  wall: {thickness: 8 mm, conductivity: 0.25 W/m/K}\n"
    "  contents: {level: 2.2 m, lowest: 1.2 m, start: 4 degC, mixing: 20 W/m/K}\n"
    "  inflow: {rate: 1 m3/day, temperature: 6 degC}\n"
    "  risers: [{diameter: 0.6 m, height: 1.2 m, lid: 0.5 m2.K/W}]\n"
    "burial:\n"
    "  cover: 1.2 m\n"
    "  bedding: 0.3 m\n"
    "  pit: {clearance: 0.6 m, slope: 1.5, soil_class: B}\n"
    "  backfill: {soil: pea_gravel}\n"
    "  bedding_soil: {soil: sand}\n"
    "board:\n"
    "  type: XPS_IV\n"
    "  thickness: 100 mm\n"
    "  beyond_tank: 1.2 m\n"
    "  above_crown: 0.15 m\n"
    "  skirt: 0.4 m\n"
    "anchors:\n"
    "  deadmen: {count: 2, width: 0.3 m, height: 0.35 m, length: 6.0 m, unit_weight: 24 kN/m3}\n"
    "  straps: 4\n"
    "load: {wheel: H20}\n"
    "probes:\n"
    "  - {name: outlet, x: 0.2 m, above_invert: 0.1 m, least: 0 degC}\n"
    "  - {below_crown: 0.5 m}\n"
    "pipes:\n"
    "  - {name: suction, diameter: 150 mm, depth: 1.8 m, under_board: yes}\n"
    "grid: {finest: 60 mm, width: 16 m, depth: 14 m}\n"
    "limits: {water: 2 degC, ice: 5 percent, uplift_factor: 1.4, greatest_cover: 2.1 m}\n"
    "choices:\n"
    "  cover: [0.9 m, 1.2 m, 1.5 m, 1.8 m]\n"
    "  thickness: [0 mm, 50 mm, 75 mm, 100 mm, 150 mm]\n"
    "  beyond_tank: [0.6 m, 1.2 m]\n"
    "costs: {currency: CAD, excavation: 25 /m3, board: 240 CAD/m3, concrete: 450 /m3,\n"
    "        backfill: 35 CAD /m3}\n";

/* The least a site can be. */
#define BARE                                                                                       \
    "climate: {file: a.csv}\n"                                                                     \
    "ground: [{soil: silt}]\n"
/* The least a site with a tank can be. */
#define BURIED                                                                                     \
    BARE "tank: {shape: box, width: 1.5 m, height: 1.3 m, length: 2.5 m}\n"                        \
         "burial: {cover: 0.7 m}\n"

/* Reads a text that must be right. */
static struct uf_site *must_parse(const char *text)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    struct uf_error err = {0};
    const enum uf_status status =
        uf_site_parse(&site, "a.yaml", text, strlen(text), NULL, &faults, &err);
    cr_assert_eq(status, UF_OK, "%s, line %d: %s: %s: %s", err.text,
                 faults.n > 0 ? faults.rows[0].line : 0, faults.n > 0 ? faults.rows[0].key : "",
                 faults.n > 0 ? faults.rows[0].what.text : "",
                 faults.n > 0 ? faults.rows[0].allowed.text : "");
    cr_assert_eq(faults.n, 0);
    return site;
}

/* Reads a text that must be wrong; the caller clears the faults. */
static void must_fail(struct uf_site_faults *faults, const char *text,
                      const struct uf_site_override *sets, size_t n_sets)
{
    struct uf_site *site = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_site_parse(&site, "a.yaml", text, strlen(text),
                               &(struct uf_site_overrides){sets, n_sets}, faults, &err),
                 UF_E_INPUT, "%s", text);
    cr_assert_null(site);
    cr_assert(faults->n > 0);
}

static void near(double got, double expected)
{
    cr_expect(fabs(got - expected) <= 1e-9 * (1.0 + fabs(expected)), "%.12g, not %.12g", got,
              expected);
}

Test(site_file, place_and_weather_are_read)
{
    struct uf_site *site = must_parse(whole);
    cr_expect_str_eq(site->path, "a.yaml");
    cr_expect_str_eq(site->text, whole);
    cr_expect_str_eq(site->design.name, "Larch Hollow fire-water cistern");
    near(site->design.latitude_deg, 49.9);
    cr_expect_eq(site->source, UF_SOURCE_FILE);
    cr_expect_str_eq(site->climate_file, "winnipeg.csv");
    cr_expect_str_eq(site->climate_column, "winnipeg");
    cr_expect(site->winter_given);
    cr_expect_eq(site->winter.kind, UF_WINTER_RETURN);
    near(site->winter.return_years, 100.0);
    const struct uf_surface_input *surface = &site->design.surface;
    cr_expect_eq(surface->kind, UF_SURFACE_FILM);
    near(surface->film_W_m2K, 17.0);
    cr_expect_eq(surface->snow, UF_SNOW_FIXED);
    near(surface->snow_depth_m, 0.3);
    near(surface->snow_density_kg_m3, 210.0);
    const struct uf_initial *initial = &site->design.initial;
    cr_expect_eq(initial->n_profile, 2);
    near(initial->depth_m[1], 10.0);
    near(initial->degC[1], 6.5);
    cr_expect_eq(initial->date, uf_calendar_day(2014, 10, 2));
    cr_expect_eq(initial->end, uf_calendar_day(2015, 6, 30));
    uf_site_free(site);
}

Test(site_file, ground_is_read)
{
    struct uf_site *site = must_parse(whole);
    const struct uf_ground_input *ground = &site->design.ground;
    cr_assert_eq(ground->n_layers, 3);
    near(ground->layers[0].to_m, 0.4);
    cr_expect_eq(ground->layers[0].spec.soil, uf_soil_find("topsoil"));
    const struct uf_ground_spec *silt = &ground->layers[1].spec;
    cr_expect_eq(silt->soil, uf_soil_find("silt"));
    near(silt->dry_density_kg_m3, 1600.0);
    near(silt->moisture_by_mass, 0.20);
    cr_expect(isnan(silt->moisture_by_volume));
    near(silt->unit_weight_moist_N_m3, 18500.0);
    near(silt->unit_weight_saturated_N_m3,
         125.0 * 0.45359237 / (0.3048 * 0.3048 * 0.3048) * 9.80665);
    const struct uf_ground_spec *measured = &ground->layers[2].spec;
    cr_expect(measured->has_thermal);
    cr_expect_null(measured->soil);
    near(measured->thermal.k_thawed_W_mK, 1.6);
    near(measured->thermal.k_frozen_W_mK, 2.1);
    near(measured->thermal.c_thawed_J_m3K, 2.3e6);
    near(measured->thermal.c_frozen_J_m3K, 1.8e6);
    near(measured->thermal.latent_J_m3, 80e6);
    near(measured->thermal.freezing_from_degC, 0.0);
    near(measured->thermal.freezing_to_degC, -0.5);
    cr_expect_eq(ground->method, UF_JOHANSEN);
    near(ground->geothermal_W_m2, 0.06);
    near(ground->water_winter_m, 2.0);
    near(ground->water_highest_m, -0.2);
    uf_site_free(site);
}

Test(site_file, tank_is_read)
{
    struct uf_site *site = must_parse(whole);
    const struct uf_tank *tank = &site->design.tank;
    cr_expect_eq(tank->shape, UF_HORIZONTAL_CYLINDER);
    near(tank->diameter_m, 2.4);
    near(tank->length_m, 6.0);
    cr_expect_eq(tank->heads, UF_ELLIPSOIDAL_2_TO_1);
    cr_expect(tank->ends == UF_ENDS_THREE_DIMENSIONAL);
    near(tank->empty_mass_kg, 900.0);
    near(tank->wall_thickness_m, 0.008);
    near(tank->wall_k_W_mK, 0.25);
    near(tank->level_m, 2.2);
    near(tank->lowest_m, 1.2);
    near(tank->start_degC, 4.0);
    near(tank->mixing_W_mK, 20.0);
    cr_expect(isnan(tank->hold_degC));
    near(tank->inflow_m3_s, 1.0 / 86400.0);
    near(tank->inflow_degC, 6.0);
    cr_assert_eq(tank->n_risers, 1);
    near(tank->risers[0].diameter_m, 0.6);
    near(tank->risers[0].height_m, 1.2);
    near(tank->risers[0].lid_m2K_W, 0.5);
    uf_site_free(site);
}

Test(site_file, burial_board_and_anchors_are_read)
{
    struct uf_site *site = must_parse(whole);
    const struct uf_case *design = &site->design;
    near(design->burial.cover_m, 1.2);
    near(design->burial.bedding_m, 0.3);
    near(design->burial.pit_clearance_m, 0.6);
    near(design->burial.pit_slope, 1.5);
    cr_expect_eq(design->burial.soil_class, 'B');
    cr_expect(design->burial.has_backfill && design->burial.has_bedding_soil);
    cr_expect_eq(design->burial.backfill.soil, uf_soil_find("pea_gravel"));
    cr_expect_eq(design->burial.bedding_soil.soil, uf_soil_find("sand"));
    const struct uf_foam *row = uf_foam_find("XPS_IV");
    cr_expect(design->board.present);
    cr_expect_eq(design->board.row, row);
    near(design->board.k_W_mK, row->k_W_mK);
    near(design->board.strength_Pa, row->strength_Pa);
    near(design->board.density_kg_m3, row->density_kg_m3);
    near(design->board.thickness_m, 0.1);
    near(design->board.beyond_tank_m, 1.2);
    near(design->board.above_crown_m, 0.15);
    near(design->board.skirt_m, 0.4);
    cr_expect_eq(design->anchors.deadmen, 2);
    near(design->anchors.deadman_width_m, 0.3);
    near(design->anchors.deadman_height_m, 0.35);
    near(design->anchors.deadman_length_m, 6.0);
    near(design->anchors.concrete_N_m3, 24000.0);
    cr_expect_eq(design->anchors.straps, 4);
    cr_expect(!design->anchors.has_pad);
    cr_expect(design->wheel_h20);
    near(design->wheel_N, UF_LOAD_H20_N);
    uf_site_free(site);
}

Test(site_file, points_limits_choices_and_costs_are_read)
{
    struct uf_site *site = must_parse(whole);
    const struct uf_case *design = &site->design;
    cr_assert_eq(design->n_probes, 2);
    cr_expect_str_eq(design->probes[0].name, "outlet");
    near(design->probes[0].x_m, 0.2);
    near(design->probes[0].depth_m, 1.2 + 2.4 - 0.1); /* from the invert up */
    near(design->probes[0].least_degC, 0.0);
    cr_expect_str_eq(design->probes[1].name, "probe 2");
    near(design->probes[1].depth_m, 1.2 + 0.5); /* from the crown down */
    cr_expect(isnan(design->probes[1].least_degC));
    cr_assert_eq(design->n_pipes, 1);
    cr_expect_str_eq(design->pipes[0].name, "suction");
    near(design->pipes[0].diameter_m, 0.15);
    near(design->pipes[0].depth_m, 1.8);
    cr_expect(design->pipes[0].under_board);
    near(design->grid.finest_m, 0.06);
    near(design->grid.width_m, 16.0);
    near(design->grid.depth_m, 14.0);
    near(design->limits.water_degC, 2.0);
    near(design->limits.ice_share, 0.05);
    near(design->limits.uplift_factor, 1.4);
    near(design->limits.greatest_cover_m, 2.1);
    cr_assert_eq(design->choices.n_cover, 4);
    near(design->choices.cover_m[3], 1.8);
    cr_assert_eq(design->choices.n_thickness, 5);
    near(design->choices.thickness_m[2], 0.075);
    cr_assert_eq(design->choices.n_beyond, 2);
    near(design->choices.beyond_m[0], 0.6);
    cr_expect(design->costs.given);
    cr_expect_str_eq(design->costs.currency, "CAD");
    near(design->costs.excavation_m3, 25.0);
    near(design->costs.board_m3, 240.0);
    near(design->costs.concrete_m3, 450.0);
    near(design->costs.backfill_m3, 35.0);
    uf_site_free(site);
}

Test(site_file, what_is_left_out_has_the_default_of_the_contract)
{
    struct uf_site *site = must_parse(BURIED "board:\nprobes: []\nload: {}\ncosts: ~\n");
    const struct uf_case *design = &site->design;
    cr_expect(!site->winter_given);
    cr_expect_eq(site->winter.kind, UF_WINTER_RETURN);
    near(site->winter.return_years, 30.0);
    cr_expect_eq(design->surface.kind, UF_SURFACE_FILM);
    near(design->surface.film_W_m2K, 15.0);
    cr_expect_eq(design->surface.snow, UF_SNOW_NONE);
    cr_expect_eq(design->ground.method, UF_COTE_KONRAD);
    cr_expect(isnan(design->ground.water_winter_m));
    near(design->ground.water_highest_m, 0.0);
    cr_expect(design->tank.ends == UF_ENDS_PLANE);
    cr_expect_eq(design->tank.heads, UF_FLAT);
    near(design->tank.level_m, 0.0);
    cr_expect(!design->board.present, "an empty block counts as absent");
    cr_expect(!design->costs.given);
    cr_expect_eq(design->wheel_N, 0.0);
    near(design->limits.uplift_factor, 1.3);
    near(design->limits.water_degC, 1.0);
    near(design->grid.finest_m, 0.075);
    cr_expect_eq(design->initial.date, UF_NO_DAY);
    uf_site_free(site);
}

/* Editors of other systems put a byte order mark first and end lines with CR LF. */
Test(site_file, a_byte_order_mark_and_other_line_ends_are_no_fault)
{
    struct uf_site *site = must_parse("\xEF\xBB\xBF"
                                      "climate: {file: a.csv}\r\n"
                                      "ground: [{to: 15 m, soil: silt}]\r\n"
                                      "groundwater: {winter: 3 m}\r\n");
    near(site->design.ground.water_winter_m, 3.0);
    uf_site_free(site);
}

Test(site_file, bare_ground_needs_no_tank)
{
    struct uf_site *site = must_parse(BARE);
    cr_expect_eq(site->design.tank.shape, UF_NO_TANK);
    uf_site_free(site);
}

Test(site_file, a_cycle_stands_in_for_a_file)
{
    struct uf_site *site = must_parse("climate: {cycle: {mean: 41 degF, amplitude: 27 degF, "
                                      "coldest: 25 day}}\nground: [{soil: silt}]\n");
    cr_expect_eq(site->source, UF_SOURCE_CYCLE);
    near(site->cycle_mean_degC, 5.0);
    near(site->cycle_amplitude_K, 15.0); /* a difference: the slope only */
    near(site->cycle_coldest_day, 25.0);
    near(site->cycle_period_day, 365.2425);
    uf_site_free(site);
}

Test(site_file, a_measured_ground_temperature_is_the_surface)
{
    struct uf_site *site =
        must_parse("climate: {surface_temperature: {file: sensor.csv, column: ts_005cm, "
                   "depth: 5 cm}}\nground: [{soil: silt}]\n");
    cr_expect_eq(site->design.surface.kind, UF_SURFACE_MEASURED);
    cr_expect_str_eq(site->measured_file, "sensor.csv");
    cr_expect_str_eq(site->measured_column, "ts_005cm");
    near(site->design.surface.measured_depth_m, 0.05);
    uf_site_free(site);
}

Test(site_file, the_surface_laws)
{
    struct uf_site *site = must_parse(BARE "surface: {type: turf}\n");
    cr_expect_eq(site->design.surface.kind, UF_SURFACE_N_FACTOR);
    cr_expect_eq(site->design.surface.row, uf_surface_find("turf"));
    uf_site_free(site);
    site = must_parse(BARE "surface: {n_freezing: 0.5, n_thawing: 0.8}\n");
    cr_expect_eq(site->design.surface.kind, UF_SURFACE_N_FACTOR);
    near(site->design.surface.n_freezing, 0.5);
    near(site->design.surface.n_thawing, 0.8);
    uf_site_free(site);
    site = must_parse(BARE "surface: {snow: {depth: recorded, density: 180 kg/m3}}\n");
    cr_expect_eq(site->design.surface.kind, UF_SURFACE_FILM);
    cr_expect_eq(site->design.surface.snow, UF_SNOW_RECORDED);
    near(site->design.surface.snow_density_kg_m3, 180.0);
    uf_site_free(site);
    site = must_parse(BARE "surface: {film: 20 W/m2/K, snow: recorded}\n");
    cr_expect_eq(site->design.surface.snow, UF_SNOW_RECORDED);
    uf_site_free(site);
}

Test(site_file, every_winter_of_the_contract)
{
    const struct {
        const char *text;
        enum uf_winter_kind kind;
    } samples[] = {
        {"mean", UF_WINTER_MEAN},
        {"1 in 50", UF_WINTER_RETURN},
        {"coldest three in thirty", UF_WINTER_THREE_IN_THIRTY},
        {"coldest recorded", UF_WINTER_COLDEST},
        {"1978/79", UF_WINTER_RECORDED},
        {"every", UF_WINTER_EVERY},
    };
    for (size_t i = 0; i < sizeof samples / sizeof samples[0]; i++) {
        char text[200];
        (void)snprintf(text, sizeof text,
                       "climate: {file: a.csv, winter: %s}\nground: [{soil: silt}]\n",
                       samples[i].text);
        struct uf_site *site = must_parse(text);
        cr_expect_eq(site->winter.kind, samples[i].kind, "%s", samples[i].text);
        uf_site_free(site);
    }
}

Test(site_file, a_board_and_a_wheel_of_ones_own)
{
    struct uf_site *site =
        must_parse(BURIED "board: {type: {conductivity: 0.034 W/m/K, strength: 25 psi, density: 30 "
                          "kg/m3}, thickness: 2 inch}\nload: {wheel: 16 kip}\n"
                          "anchors: {pad: {length: 3 m, width: 2 m, thickness: 0.2 m, "
                          "unit_weight: 150 lb/ft3}, strap_strength: 5 kip}\n");
    const struct uf_case *design = &site->design;
    cr_expect_null(design->board.row);
    near(design->board.k_W_mK, 0.034);
    near(design->board.strength_Pa, 25.0 * 6894.757293168361);
    near(design->board.thickness_m, 2.0 * 0.025);
    cr_expect(!design->wheel_h20);
    near(design->wheel_N, 71171.545844);
    cr_expect(design->anchors.has_pad);
    near(design->anchors.pad_width_m, 2.0);
    near(design->anchors.concrete_N_m3, 150.0 * 157.08746384624617);
    near(design->anchors.strap_strength_N, 5.0 * 4448.2216152605);
    uf_site_free(site);
}

/* One fault each: text, key, line, part of what is said, part of what is allowed. */
struct wrong {
    const char *text, *key;
    int line;
    const char *what, *allowed;
};

static void expect_fault(const struct wrong *wrong)
{
    struct uf_site_faults faults;
    must_fail(&faults, wrong->text, NULL, 0);
    cr_expect_eq(faults.n, 1, "%s%zu faults; the second: %s: %s", wrong->text, faults.n,
                 faults.n > 1 ? faults.rows[1].key : "",
                 faults.n > 1 ? faults.rows[1].what.text : "");
    cr_expect_str_eq(faults.rows[0].key, wrong->key);
    cr_expect_eq(faults.rows[0].line, wrong->line, "%s%s: line %d", wrong->text, wrong->key,
                 faults.rows[0].line);
    cr_expect(strstr(faults.rows[0].what.text, wrong->what) != NULL, "%s%s: %s", wrong->text,
              wrong->key, faults.rows[0].what.text);
    cr_expect(strstr(faults.rows[0].allowed.text, wrong->allowed) != NULL, "%s%s: %s", wrong->text,
              wrong->key, faults.rows[0].allowed.text);
    uf_site_faults_clear(&faults);
}

#define EXPECT_FAULTS(rows)                                                                        \
    for (size_t i = 0; i < sizeof(rows) / sizeof(rows)[0]; i++) {                                  \
        expect_fault(&(rows)[i]);                                                                  \
    }

Test(site_file, faults_of_the_document)
{
    const struct wrong rows[] = {
        {"", "YAML", 1, "nothing", "tank"},
        {"# only words\n", "YAML", 1, "nothing", "tank"},
        {"- a\n- b\n", "", 1, "no keys", "tank"},
        {"just text\n", "", 1, "no keys", "tank"},
        {BARE "tank: [\n", "YAML", 4, "", "YAML"},
        {BARE "\ttank: {}\n", "YAML", 3, "", "YAML"},
        {BARE "site: {name: \"a\xff\"}\n", "YAML", 3, "UTF-8", "UTF-8"},
        {BARE "---\nsite: {name: b}\n", "YAML", 3, "second document", "one site"},
        {BARE "grid: &g {finest: 50 mm}\nlimits: *g\n", "limits", 4, "alias", "written out"},
        {BARE "limits: {water: &w 1 degC}\nprobes: [{depth: 1 m, least: *w}]\n", "probes[0].least",
         4, "alias", "written out"},
        {BARE "probes: &p [{depth: 1 m}, *p]\n", "probes[1]", 3, "alias", "written out"},
        {BARE "limits: {<<: {water: 1 degC}}\n", "limits.<<", 3, "merge key", "written out"},
        {BARE "site: {name: a,\n  name: b}\n", "site.name", 4, "duplicate", "once"},
        {BARE "ground: [{soil: sand}]\n", "ground", 3, "duplicate", "once"},
        {BARE "site: {name: !!binary aGk=}\n", "site.name", 3, "tag", "alone"},
        {BARE "tank: {shape: box, width: !w 1 m, height: 1 m, length: 2 m}\n"
              "burial: {cover: 1 m}\n",
         "tank.width", 3, "tag", "alone"},
        {"climate: {file: a.csv}\n"
         "ground: [&g {to: 1 m, soil: silt}, *g, {soil: silt}]\n",
         "ground[1]", 2, "alias", "written out"},
        {BARE "? [a, b]\n: c\n", "", 3, "plain word", "word"},
        {BARE "site: {name: \"a\\0b\"}\n", "site.name", 3, "zero byte", "control"},
        {BARE "site: {name: \"a\\nb\"}\n", "site.name", 3, "control", "one line"},
    };
    EXPECT_FAULTS(rows)
}

Test(site_file, faults_of_keys)
{
    const struct wrong rows[] = {
        {BARE "limitts: {water: 1 degC}\n", "limitts", 3, "unknown key", "limits"},
        {BARE "limits:\n  watr: 1 degC\n", "limits.watr", 4, "unknown key", "water"},
        {BARE "site: {cover: 1 m}\n", "site.cover", 3, "unknown key", "burial.cover"},
        {BARE "site: {zzzzzzzz: 1}\n", "site.zzzzzzzz", 3, "unknown key", "name, latitude"},
        {BARE "limits.water: 1 degC\n", "limits.water", 3, "unknown key", ""},
        {BARE "site: {name: }\n", "site.name", 3, "no value", ""},
        {BARE "limits: 5\n", "limits", 3, "not a block", "{"},
        {BARE "limits: [1, 2]\n", "limits", 3, "not a block", "{"},
        {BARE "probes: {depth: 1 m}\n", "probes", 3, "not a list", "-"},
        {BARE "probes: [5]\n", "probes[0]", 3, "not a block", "{"},
        {BARE "limits: {water: [1 degC]}\n", "limits.water", 3, "list", "one value"},
        {BARE "limits: {water: {a: 1}}\n", "limits.water", 3, "block", "one value"},
    };
    EXPECT_FAULTS(rows)
}

Test(site_file, faults_of_values)
{
    const struct wrong rows[] = {
        {BARE "grid: {finest: 50}\n", "grid.finest", 3, "no unit", "50 mm"},
        {BARE "grid:\n  width: 1,4 m\n", "grid.width", 4, "comma", "1.4"},
        {BARE "grid: {width: 140 cm 3}\n", "grid.width", 3, "more than", "one number"},
        {BARE "grid: {width: nan m}\n", "grid.width", 3, "finite", "number"},
        {BARE "grid: {width: .inf}\n", "grid.width", 3, "number", "number"},
        {BARE "grid: {width: 12 kg}\n", "grid.width", 3, "no unit of a length", "in m"},
        {BARE "grid: {width: 12 mtr}\n", "grid.width", 3, "not a known unit", "in m"},
        {BARE "grid: {width: 12 km}\n", "grid.width", 3, "out of range", "0.5 to 500 m"},
        {BARE "grid: {finest: 5 um}\n", "grid.finest", 3, "out of range", "5 to 500 mm"},
        {BARE "site: {latitude: 91 degrees_north}\n", "site.latitude", 3, "range", "-90"},
        {BARE "limits: {water: 34 F}\n", "limits.water", 3, "'F'", "degF"},
        {BARE "limits: {ice: 5}\n", "limits.ice", 3, "no unit", "5 percent"},
        {BARE "limits: {ice: 120 percent}\n", "limits.ice", 3, "range", "0 to 100 percent"},
        {BARE "limits: {uplift_factor: 1.3 m}\n", "limits.uplift_factor", 3, "more than a number",
         "without unit"},
        {BARE "limits: {uplift_factor: 0}\n", "limits.uplift_factor", 3, "range", "0.1"},
        {BARE "surface: {film: 15 W/m2K}\n", "surface.film", 3, "'W/m2K'", "W/m2/K"},
        {BARE "surface: {type: tarf}\n", "surface.type", 3, "n-factor", "turf"},
        {BARE "surface: {snow: deep}\n", "surface.snow", 3, "'deep'", "recorded"},
        {BARE "surface: {snow: {depth: 30 kg}}\n", "surface.snow.depth", 3, "no unit", "m"},
        {BARE "surface: {snow: {density: 200 kg/m3}}\n", "surface.snow.depth", 3, "missing",
         "recorded"},
        {BARE "conductivity: cote_conrad\n", "conductivity", 3, "words", "cote_konrad"},
        {BARE "initial: {date: 2014-02-30}\n", "initial.date", 3, "no date", "2014-10-02"},
        {BARE "initial: {date: 2014-03-30, profile: [[0 m]]}\n", "initial.profile[0]", 3,
         "not a pair", "[0.5 m"},
        {BARE "initial: {date: 2014-03-30, profile: [[1 m, 5 degC],\n [1 m, 5 degC]]}\n",
         "initial.profile[1]", 4, "below", "each depth"},
        {BARE "initial: {date: 2014-03-30, profile: [[1 m, 5]]}\n", "initial.profile[0]", 3,
         "no unit", "5 degC"},
        {"ground: [{soil: silt}]\nclimate: {file: a, winter: 1 in 0}\n", "climate.winter", 2,
         "'1 in 0'", "1 in N"},
        {"ground: [{soil: silt}]\nclimate: {file: a, winter: colest}\n", "climate.winter", 2,
         "'colest'", "coldest recorded"},
        {"climate: {file: a}\nground: [{soil: loess}]\n", "ground[0].soil", 2, "soil table",
         "silt"},
        {BURIED "anchors: {straps: 2.5}\n", "anchors.straps", 5, "whole", "whole"},
        {BURIED "anchors: {straps: -2}\n", "anchors.straps", 5, "range", "0 to 200"},
        {BURIED "load: {wheel: H25}\n", "load.wheel", 5, "'H25'", "H20"},
        {BURIED "load: {wheel: 71}\n", "load.wheel", 5, "no unit", "kN"},
        {BURIED "load: {wheel: 16000 lb}\n", "load.wheel", 5, "'lb'", "lbf"},
        {BURIED "board: {type: XPS_IX, thickness: 50 mm}\n", "board.type", 5, "board table", "XPS"},
        {BURIED "choices: {cover: [1 m, 2]}\n", "choices.cover[1]", 5, "no unit", "2 m"},
        {BURIED "choices: {cover: [1 m, [2 m]]}\n", "choices.cover[1]", 5, "list", "one value"},
        {BURIED "costs: {excavation: 25 USD/m3}\n", "costs.excavation", 5, "USD", "/m3"},
        {BURIED "costs: {currency: CAD, excavation: 25 USD/m3}\n", "costs.excavation", 5, "USD",
         "/m3"},
        {BURIED "costs: {excavation: 25}\n", "costs.excavation", 5, "no unit", "25 /m3"},
        {BURIED "costs: {excavation: 25 m3}\n", "costs.excavation", 5, "no unit of", "/m3"},
        {BURIED "costs: {currency: C4D}\n", "costs.currency", 5, "currency", "CAD"},
        {BURIED "board: {type: XPS_IV, thickness: 1 mm}\n", "board.thickness", 5, "no board",
         "0 mm for none"},
        {BURIED "board: {type: XPS_IV, thickness: 50 mm}\nchoices: {thickness: [0 mm, 4 mm]}\n",
         "choices.thickness", 6, "no board", "at least 5"},
        {BARE "tank: {shape: box, width: 1.5 m, height: 1.3 m, length: 2.5 m,\n"
              "  contents: {level: 1 m, mixing: 2000 W/m/K}}\nburial: {cover: 0.7 m}\n",
         "tank.contents.mixing", 4, "2000", "200"},
        {BARE "pipes: [{diameter: 150 mm, depth: 1.8 m, under_board: maybe}]\n",
         "pipes[0].under_board", 3, "'maybe'", "yes"},
    };
    EXPECT_FAULTS(rows)
}

Test(site_file, faults_between_keys)
{
    const struct wrong rows[] = {
        {"climate: {file: a.csv}\n", "ground", 1, "no layer", "at least one"},
        {"climate: {winter: mean}\nground: [{soil: silt}]\n", "climate", 1, "missing", "file"},
        {"climate: {file: a, cycle: {mean: 1 degC, amplitude: 9 K}}\nground: [{soil: silt}]\n",
         "climate", 1, "both given", "one of"},
        {"climate: {cycle: {mean: 1 degC}}\nground: [{soil: silt}]\n", "climate.cycle.amplitude", 1,
         "missing", ""},
        {"climate: {cycle: {mean: 1 degC, amplitude: 9 K}, column: a}\nground: [{soil: silt}]\n",
         "climate.column", 1, "no file", "climate.file"},
        {BARE "surface: {film: 15 W/m2/K, type: turf}\n", "surface", 3, "surface twice", "film"},
        {BARE "surface: {type: turf, snow: recorded}\n", "surface", 3, "surface twice", "film"},
        {BARE "surface: {type: turf, snow: none}\n", "surface", 3, "two surface laws", "film"},
        {BARE "surface: {film: 15 W/m2/K, n_freezing: 0.5, n_thawing: 1}\n", "surface", 3,
         "surface twice", "film"},
        {BARE "surface: {n_freezing: 0.5}\n", "surface.n_freezing", 3, "not enough", "n_thawing"},
        {"climate: {surface_temperature: {file: s.csv}}\nground: [{soil: silt}]\n"
         "surface: {film: 15 W/m2/K}\n",
         "surface", 3, "two surface laws", "film"},
        {"climate: {file: a}\nground:\n  - {soil: silt}\n  - {to: 9 m, soil: silt}\n",
         "ground[0].to", 3, "missing", "underside"},
        {"climate: {file: a}\nground:\n  - {to: 2 m, soil: silt}\n  - {to: 1 m, soil: silt}\n",
         "ground[1].to", 4, "below", "deeper"},
        {"climate: {file: a}\nground: [{to: 2 m}]\n", "ground[0]", 2, "missing", "soil"},
        {"climate: {file: a}\nground: [{soil: clay, moisture: 90 percent}]\n", "ground[0].moisture",
         2, "clay", "pores full"},
        {"climate: {file: a}\nground: [{soil: sand, moisture_by_volume: 42 percent}]\n",
         "ground[0].moisture_by_volume", 2, "42 percent", "give dry_density as measured"},
        {"climate: {file: a}\nground: [{soil: clay, moisture: 9 percent, moisture_by_volume: "
         "9 percent}]\n",
         "ground[0]", 2, "both given", "one of"},
        {"climate: {file: a}\nground: [{thermal: {conductivity_thawed: 1 W/m/K, "
         "conductivity_frozen: 1 W/m/K, heat_capacity_thawed: 2 MJ/m3/K,\n "
         "heat_capacity_frozen: 2 MJ/m3/K, latent_heat: 9 MJ/m3, freezing_from: -1 degC, "
         "freezing_to: -1 degC}}]\n",
         "ground[0].thermal.freezing_to", 3, "-1 degC", "below"},
        {BARE "groundwater: {winter: 1 m, highest: 2 m}\n", "groundwater.highest", 3, "below",
         "groundwater.winter"},
        {BARE "initial: {date: 2014-10-02, end: 2014-10-01}\n", "initial.end", 3, "ends", "after"},
        {BARE "initial: {end: 2014-10-01}\n", "initial.end", 3, "beginning", "initial.date"},
        {BARE "initial: {profile: [[0 m, 5 degC]]}\n", "initial.profile", 3, "day", "initial.date"},
        {BARE "board: {type: XPS_IV, thickness: 50 mm}\n", "board", 3, "no tank", "tank"},
        {BARE "probes: [{above_invert: 1 m}]\n", "probes[0]", 3, "no tank", "depth"},
        {BARE "probes: [{x: 1 m}]\n", "probes[0]", 3, "missing", "below_crown"},
        {BARE "probes: [{depth: 1 m, below_crown: 1 m}]\n", "probes[0]", 3, "both given", "one of"},
        {BARE "probes: [{depth: 99 m}]\n", "probes[0]", 3, "outside", "domain"},
        {BARE "pipes: [{depth: 9 m}]\n", "pipes[0].diameter", 3, "missing", ""},
        {BARE "tank: {shape: box, width: 1 m, height: 1 m, length: 2 m}\n", "burial.cover", 1,
         "missing", "grade to crown"},
        {BARE "tank: {shape: box, width: 1 m, height: 1 m}\nburial: {cover: 1 m}\n", "tank.length",
         3, "missing", "length"},
        {BARE "tank: {shape: box, width: 1 m, height: 1 m, length: 1 m,\n diameter: 1 m}\n"
              "burial: {cover: 1 m}\n",
         "tank.diameter", 4, "no meaning", "width"},
        {BARE "tank: {shape: vertical_cylinder, diameter: 1 m, length: 1 m, height: 2 m}\n"
              "burial: {cover: 1 m}\n",
         "tank.length", 3, "no meaning", "height"},
        {BARE "tank: {width: 1 m}\nburial: {cover: 1 m}\n", "tank.shape", 3, "missing", ""},
        {BURIED "choices: {thickness: [50 mm]}\n", "choices.thickness", 5, "no board", "board"},
        {BURIED "anchors: {deadmen: {count: 1, width: 1 m, height: 1 m}}\n",
         "anchors.deadmen.length", 5, "missing", ""},
    };
    EXPECT_FAULTS(rows)
}

Test(site_file, impossible_geometry)
{
    const struct wrong rows[] = {
        {BURIED "board: {type: XPS_IV, thickness: 50 mm,\n above_crown: -0.3 m}\n",
         "board.above_crown", 6, "inside the tank", "zero or more"},
        {BURIED "board: {type: XPS_IV,\n thickness: 500 mm, above_crown: 0.3 m}\n",
         "board.thickness", 6, "above grade", "burial.cover"},
        {BARE "tank: {shape: box, width: 1.5 m, height: 1.3 m, length: 2.5 m}\n"
              "burial: {cover: 14.5 m}\n",
         "burial.cover", 4, "domain ends", "grid.depth"},
        {BURIED "grid: {width: 1.4 m}\n", "grid.width", 5, "half width", "twice"},
        {BARE "tank:\n  shape: box\n  width: 1.5 m\n  height: 1.3 m\n  length: 2.5 m\n"
              "  contents: {level: 1.4 m, start: 4 degC}\nburial: {cover: 0.7 m}\n",
         "tank.contents.level", 8, "1.4 m", "inside height"},
        {BARE "tank:\n  shape: box\n  width: 1.5 m\n  height: 1.3 m\n  length: 2.5 m\n"
              "  contents: {level: 1.1 m, lowest: 1.2 m, start: 4 degC}\n"
              "burial: {cover: 0.7 m}\n",
         "tank.contents.lowest", 8, "above the level", "level"},
        {BARE "tank: {shape: box, width: 1.5 m, height: 1.3 m, length: 2.5 m,\n"
              "  wall: {thickness: 700 mm, conductivity: 1 W/m/K}}\nburial: {cover: 0.7 m}\n",
         "tank.wall.thickness", 4, "does not fit", "quarter"},
        {BARE "pipes: [{diameter: 300 mm, depth: 0.1 m}]\n", "pipes[0].depth", 3,
         "out of the ground", "diameter"},
    };
    EXPECT_FAULTS(rows)
}

/* Everything the text of the first goal asks for in one file: all of it must come at
   once, in the order of the lines, and nothing that only follows from another fault. */
Test(site_file, all_faults_come_at_once)
{
    static const char text[] =
        "surface: {film: 15 W/m2/K, type: turf}\n" /* two laws */
        "ground:\n"
        "  - {to: 2 m, soil: silt}\n"
        "  - {to: 1 m, soil: sand}\n" /* order */
        "tank:\n"
        "  shape: box\n"
        "  width: 1,4 m\n"
        "  height: 140 cm 3\n"
        "  length: 25\n"
        "  colour: red\n"
        "  empty_mass: nan kg\n"
        "burial: {cover: 900 m}\n"
        "board: {type: XPS_IV, thickness: 100 mm, above_crown: -0.3 m}\n" /* in the tank
                                                                           */
        "grid: {finest: 50 W}\n"
        "climate: {file: a.csv}\n";
    const struct {
        const char *key;
        int line;
    } expected[] = {
        {"surface", 1},          {"ground[1].to", 4},  {"tank.width", 7},
        {"tank.height", 8},      {"tank.length", 9},   {"tank.colour", 10},
        {"tank.empty_mass", 11}, {"burial.cover", 12}, {"board.above_crown", 13},
        {"grid.finest", 14},
    };
    struct uf_site_faults faults;
    must_fail(&faults, text, NULL, 0);
    cr_expect_eq(faults.n, sizeof expected / sizeof expected[0], "%zu faults", faults.n);
    for (size_t i = 0; i < faults.n && i < sizeof expected / sizeof expected[0]; i++) {
        cr_expect_str_eq(faults.rows[i].key, expected[i].key);
        cr_expect_eq(faults.rows[i].line, expected[i].line, "%s", faults.rows[i].key);
        cr_expect(strlen(faults.rows[i].what.text) > 0 && strlen(faults.rows[i].allowed.text) > 0);
    }
    uf_site_faults_clear(&faults);
}

Test(site_file, too_many_rows_are_told_not_dropped)
{
    char text[4000] = BARE "probes:\n";
    for (int i = 0; i < UF_MAX_PROBES + 1; i++) {
        (void)strcat(text, "  - {depth: 1 m}\n");
    }
    struct uf_site_faults faults;
    must_fail(&faults, text, NULL, 0);
    cr_expect_eq(faults.n, 1);
    cr_expect_str_eq(faults.rows[0].key, "probes");
    cr_expect(strstr(faults.rows[0].allowed.text, "at most 32") != NULL);
    uf_site_faults_clear(&faults);
}

/* --set */

static struct uf_site *must_set(const char *text, const struct uf_site_override *sets, size_t n)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    cr_assert_eq(uf_site_parse(&site, "a.yaml", text, strlen(text),
                               &(struct uf_site_overrides){sets, n}, &faults, NULL),
                 UF_OK, "%s: %s: %s", faults.n > 0 ? faults.rows[0].key : "",
                 faults.n > 0 ? faults.rows[0].what.text : "",
                 faults.n > 0 ? faults.rows[0].allowed.text : "");
    return site;
}

Test(site_file, set_changes_any_key)
{
    const struct uf_site_override sets[] = {
        {"burial.cover=1.5m"},
        {"probes[0].x=0.5 m"},
        {"probes[2]={name: new, depth: 2 m}"},
        {"ground[1].moisture=15 percent"},
        {"choices.cover=[1 m, 2 m]"},
        {"load.wheel=none"},
        {"surface=null"},
        {"surface.type=turf"},
        {"board.thickness=75 mm"},
        {"board.thickness=80 mm"},
        {"climate.winter=mean"},
        {"limits.greatest_cover=null"},
    };
    struct uf_site *site = must_set(whole, sets, sizeof sets / sizeof sets[0]);
    const struct uf_case *design = &site->design;
    near(design->burial.cover_m, 1.5);
    near(design->probes[0].x_m, 0.5);
    near(design->probes[0].depth_m, 1.5 + 2.4 - 0.1);
    cr_assert_eq(design->n_probes, 3);
    cr_expect_str_eq(design->probes[2].name, "new");
    near(design->ground.layers[1].spec.moisture_by_mass, 0.15);
    cr_expect_eq(design->choices.n_cover, 2);
    cr_expect_eq(design->wheel_N, 0.0);
    cr_expect_eq(design->surface.kind, UF_SURFACE_N_FACTOR);
    near(design->board.thickness_m, 0.08);
    cr_expect_eq(site->winter.kind, UF_WINTER_MEAN);
    cr_expect(isnan(design->limits.greatest_cover_m), "null takes a key away");
    cr_expect_str_eq(site->text, whole, "the text stays as it was written");
    uf_site_free(site);
}

Test(site_file, set_makes_blocks_that_are_not_there)
{
    const struct uf_site_override sets[] = {
        {"limits.water=3 degC"}, {"probes[0].depth=1 m"}, {"groundwater={winter: 2 m}"}};
    struct uf_site *site = must_set(BARE, sets, sizeof sets / sizeof sets[0]);
    near(site->design.limits.water_degC, 3.0);
    cr_assert_eq(site->design.n_probes, 1);
    near(site->design.probes[0].depth_m, 1.0);
    near(site->design.ground.water_winter_m, 2.0);
    uf_site_free(site);
}

Test(site_file, faults_of_set_carry_no_line)
{
    const struct {
        const char *text, *key, *what;
    } rows[] = {
        {"burial.cover=1.5", "burial.cover", "no unit"},
        {"burial.cover=900 m", "burial.cover", "range"},
        {"burial.depth=1 m", "burial.depth", "unknown key"},
        {"burial={cover: 1 m, x: 2}", "burial.x", "unknown key"},
        {"burial.pit={slope: 2}", "burial.pit.clearance", "missing"},
        {"burial.cover", "burial.cover", "no key with a value"},
        {"=3", "", "no key with a value"},
        {"burial.cover=", "burial.cover", "nothing"},
        {"burial.cover=[", "burial.cover", ""},
        {"burial.cover=*x", "burial.cover", "alias"},
        {"burial.cover=1 m\n--- 2 m", "burial.cover", "second document"},
        {"burial..cover=1 m", "burial..cover", "nowhere"},
        {".burial=1 m", ".burial", "nowhere"},
        {"probes[5].x=1 m", "probes[5].x", "nowhere"},
        {"probes[-1].x=1 m", "probes[-1].x", "nowhere"},
        {"probes[99999999999999999999999].x=1 m", "probes[99999999999999999999999].x", "nowhere"},
        {"burial[0]=1 m", "burial[0]", "nowhere"},
        {"burial.cover.x=1 m", "burial.cover.x", "nowhere"},
        {"grid=&a [*a]", "grid", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct uf_site_override set = {rows[i].text};
        struct uf_site_faults faults;
        must_fail(&faults, whole, &set, 1);
        cr_expect_eq(faults.n, 1, "%s: %zu", rows[i].text, faults.n);
        cr_expect_str_eq(faults.rows[0].key, rows[i].key);
        cr_expect_eq(faults.rows[0].line, 0, "%s", rows[i].text);
        cr_expect(strstr(faults.rows[0].what.text, rows[i].what) != NULL, "%s: %s", rows[i].text,
                  faults.rows[0].what.text);
        uf_site_faults_clear(&faults);
    }
}

/* Files */

Test(site_file, a_file_that_cannot_be_read_is_no_fault_of_its_text)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    struct uf_error err = {0};
    cr_expect_eq(uf_site_read(&site, "/nowhere/a.yaml", NULL, &faults, &err), UF_E_FILE);
    cr_expect(strstr(err.text, "No such file") != NULL, "%s", err.text);
    cr_expect_eq(uf_site_read(&site, "/tmp", NULL, &faults, &err), UF_E_FILE);
    cr_expect_null(site);
    cr_expect_eq(faults.n, 0);
}

Test(site_file, the_examples_are_right)
{
    static const char *const names[] = {"larch_hollow.yaml", "alder_lane.yaml", "mill_race.yaml",
                                        "bare_ground.yaml"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char path[500];
        struct uf_site *site = NULL;
        struct uf_site_faults faults;
        struct uf_error err = {0};
        (void)snprintf(path, sizeof path, "%s/cli/examples/%s", UF_SOURCE_DIR, names[i]);
        cr_expect_eq(uf_site_read(&site, path, NULL, &faults, &err), UF_OK, "%s: %s: %s", err.text,
                     faults.n > 0 ? faults.rows[0].key : "",
                     faults.n > 0 ? faults.rows[0].what.text : "");
        uf_site_faults_clear(&faults);
        uf_site_free(site);
    }
}

Test(site_file, every_key_is_printed_with_its_help)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    cr_assert_not_null(out);
    uf_site_print_keys(out);
    (void)fclose(out);
    static const char *const keys[] = {"tank.shape\n", "probes[].above_invert\n",
                                       "costs.backfill\n", "climate.cycle.mean\n"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        cr_expect(strstr(text, keys[i]) != NULL, "%s", keys[i]);
    }
    cr_expect(strstr(text, "default: 15 W/m2/K") != NULL);
    cr_expect(strstr(text, "5 to 500 mm") != NULL);
    free(text);
}
