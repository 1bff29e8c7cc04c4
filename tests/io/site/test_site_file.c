#include "site_texts.h"
#include "solver/base/calendar.h"
#include "solver/design/foam.h"
#include "solver/ground/soil.h"
#include "solver/statics/load.h"
#include "solver/weather/surface.h"

static void close_units(void)
{
    uf_units_close();
}

TestSuite(site_file, .fini = close_units);

Test(site_file, place_and_weather_are_read)
{
    struct uf_site *site = must_parse(WHOLE);
    cr_expect_str_eq(site->path, "a.yaml");
    cr_expect_str_eq(site->text, WHOLE);
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
    struct uf_site *site = must_parse(WHOLE);
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
    struct uf_site *site = must_parse(WHOLE);
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
    near(tank->risers[0].above_grade_m, 0.0);
    near(tank->risers[0].lid_m2K_W, 0.5);
    cr_expect_eq(tank->risers[0].lid_at, UF_LID_TOP,
                 "its side counts, though nothing is said of it");
    cr_expect(tank->risers[0].shell.wall_m == 0.0 && tank->risers[0].shell.sleeve_m == 0.0);
    uf_site_free(site);
}

Test(site_file, burial_board_and_anchors_are_read)
{
    struct uf_site *site = must_parse(WHOLE);
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
    struct uf_site *site = must_parse(WHOLE);
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
    cr_expect(design->tank.ends == UF_ENDS_THREE_DIMENSIONAL);
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
