#include "site_private.h"
#include "solver/statics/load.h"

#include <math.h>
#include <stddef.h>

/* The table of keys: everything a site file may hold. It feeds reading, checks, --help,
   the manual, the start file and --set. To add a key, add a row; the value then lies in
   the case. */

const char uf_site_needed[] = "must be given";

static const struct site_word_row method_words[] = {
    {"cote_konrad", UF_COTE_KONRAD}, {"johansen", UF_JOHANSEN}, {"kersten", UF_KERSTEN}, {NULL, 0}};
#define SHAPE(WORD, name) {#name, UF_##WORD},
static const struct site_word_row shape_words[] = {UF_SHAPE_LIST(SHAPE){NULL, 0}};
#undef SHAPE
static const struct site_word_row heads_words[] = {{"flat", UF_FLAT},
                                                   {"hemispherical", UF_HEMISPHERICAL},
                                                   {"ellipsoidal_2_to_1", UF_ELLIPSOIDAL_2_TO_1},
                                                   {NULL, 0}};
static const struct site_word_row load_method_words[] = {
    {"table", UF_LOAD_TABLE}, {"spread", UF_LOAD_SPREAD}, {"point", UF_LOAD_POINT},
    {"patch", UF_LOAD_PATCH}, {"lrfd", UF_LOAD_LRFD},     {NULL, 0}};
static const struct site_word_row water_words[] = {{"layered", UF_WATER_LAYERED},
                                                   {"mixed", UF_WATER_MIXED},
                                                   {"unmixed", UF_WATER_UNMIXED},
                                                   {NULL, 0}};
static const struct site_word_row ends_words[] = {
    {"plane", UF_ENDS_PLANE}, {"three_dimensional", UF_ENDS_THREE_DIMENSIONAL}, {NULL, 0}};
static const struct site_word_row lid_words[] = {
    {"top", UF_LID_TOP}, {"crown", UF_LID_CROWN}, {NULL, 0}};
static const struct site_word_row below_words[] = {
    {"wave", UF_BELOW_WAVE}, {"line", UF_BELOW_LINE}, {"constant", UF_BELOW_CONSTANT}, {NULL, 0}};
static const struct site_word_row units_words[] = {
    {"si", UF_UNITS_SI}, {"us", UF_UNITS_US}, {NULL, 0}};
static const struct site_word_row class_words[] = {{"A", 'A'}, {"B", 'B'}, {"C", 'C'}, {NULL, 0}};

/* Where a value goes: in the site, in its case, or in the row of a list. */
#define SITE(field)      offsetof(struct uf_site, field)
#define CASE(field)      offsetof(struct uf_site, design.field)
#define ROW(type, field) offsetof(struct type, field)

/* Rows: a block of keys (with a flag that says it is there, or SITE_NO_OFFSET); a list of
   blocks; one quantity; a list of quantities; a plain number; a whole number; a text; a
   word of a list; and a kind with rules of its own. */
#define BLOCK(path, flag, help)                                                                    \
    {                                                                                              \
        path, &uf_site_block, NULL, "", NAN, NAN, "", help, flag, 0, 0, 0, NULL, false             \
    }
#define LIST(path, type, field, count, rows, help)                                                 \
    {                                                                                              \
        path, &uf_site_list, NULL, "", NAN, NAN, "none", help, CASE(field), rows,                  \
            sizeof(struct type), CASE(count), NULL, false                                          \
    }
#define VALUE(path, kind, unit, low, high, fallback, place, help)                                  \
    {                                                                                              \
        path, &uf_site_quantity, &uf_units_##kind, unit, low, high, fallback, help, place, 0, 0,   \
            0, NULL, false                                                                         \
    }
#define VALUES(path, kind, unit, low, high, field, count, help)                                    \
    {                                                                                              \
        path, &uf_site_quantities, &uf_units_##kind, unit, low, high, "the design's own", help,    \
            CASE(field), UF_MAX_CHOICES, sizeof(double), CASE(count), NULL, false                  \
    }
#define WORDS(path, kind, field, count, size, help)                                                \
    {                                                                                              \
        path, &uf_site_##kind, NULL, "", NAN, NAN, "the design's own", help, CASE(field),          \
            UF_MAX_CHOICES, size, CASE(count), NULL, false                                         \
    }
#define LIST_AT(path, type, field, count, rows, help)                                              \
    {                                                                                              \
        path, &uf_site_list, NULL, "", NAN, NAN, "none", help, SITE(field), rows,                  \
            sizeof(struct type), SITE(count), NULL, false                                          \
    }
#define VALUES_AT(path, kind, unit, low, high, room, fallback, field, count, help)                 \
    {                                                                                              \
        path, &uf_site_quantities, &uf_units_##kind, unit, low, high, fallback, help, SITE(field), \
            room, sizeof(double), SITE(count), NULL, false                                         \
    }
#define VALUES_ROW(path, kind, unit, low, high, room, type, field, count, help)                    \
    {                                                                                              \
        path, &uf_site_quantities, &uf_units_##kind, unit, low, high, uf_site_needed, help,        \
            ROW(type, field), room, sizeof(double), ROW(type, count), NULL, false                  \
    }
#define NUMBER(path, low, high, fallback, place, help)                                             \
    {                                                                                              \
        path, &uf_site_number, NULL, "", low, high, fallback, help, place, 0, 0, 0, NULL, false    \
    }
#define COUNT(path, high, fallback, place, help)                                                   \
    {                                                                                              \
        path, &uf_site_count, NULL, "", 0, high, fallback, help, place, 0, 0, 0, NULL, false       \
    }
#define TEXT(path, size, fallback, place, help)                                                    \
    {                                                                                              \
        path, &uf_site_text, NULL, "", NAN, NAN, fallback, help, place, size, 0, 0, NULL, false    \
    }
#define WORD(path, words, fallback, place, help)                                                   \
    {                                                                                              \
        path, &uf_site_word, NULL, "", NAN, NAN, fallback, help, place, 0, 0, 0, words, false      \
    }
#define OTHER(path, kind, fallback, place, help)                                                   \
    {                                                                                              \
        path, &uf_site_##kind, NULL, "", NAN, NAN, fallback, help, place, 0, 0, 0, NULL, false     \
    }
#define PRICE_FOR(path, kind, unit, field, help)                                                   \
    {                                                                                              \
        path, &uf_site_price, &uf_units_per_##kind, unit, 0, 1e9, "not counted", help,             \
            CASE(costs.field), 0, 0, 0, NULL, false                                                \
    }
#define PRICE(name, help)                                                                          \
    {                                                                                              \
        "costs." #name, &uf_site_price, &uf_units_per_volume, "/m3", 0, 1e9, "not counted", help,  \
            CASE(costs.name##_m3), 0, 0, 0, NULL, false                                            \
    }

#define PROJECT(name, help)                                                                        \
    TEXT("project." #name, sizeof(((struct uf_site *)0)->project.name), "not given",               \
         SITE(project.name), help)

/* A ground as a user writes it, wherever one is asked for. */
#define SPEC(path, at)                                                                              \
    OTHER(path ".soil", soil, "", (at) + ROW(uf_ground_spec, soil),                                 \
          "a row of the soil table; or give thermal"),                                              \
        VALUE(path ".dry_density", density, "kg/m3", 50, 2700, "the soil's own",                    \
              (at) + ROW(uf_ground_spec, dry_density_kg_m3),                                        \
              "mass of the grains in a volume in place"),                                           \
        VALUE(path ".moisture", share, "percent", 0, 1500, "the soil's own",                        \
              (at) + ROW(uf_ground_spec, moisture_by_mass), "water as a share of the dry mass"),    \
        VALUE(path ".moisture_by_volume", share, "percent", 0, 100, "from moisture",                \
              (at) + ROW(uf_ground_spec, moisture_by_volume), "water as a share of the volume"),    \
        VALUE(path ".grain", length, "mm", 0.001, 500, "the soil's own",                            \
              (at) + ROW(uf_ground_spec, grain_m),                                                  \
              "a tenth of it by mass is finer (D10); for warnings of flow in the pores"),           \
        VALUE(path ".quartz", share, "percent", 0, 100, "the soil's own",                           \
              (at) + ROW(uf_ground_spec, quartz),                                                   \
              "share of the grains that is quartz; about the share of sand"),                       \
        VALUE(                                                                                      \
            path ".unfrozen_water", share, "percent", 0.01, 200, "the soil's own",                  \
            (at) + ROW(uf_ground_spec, unfrozen_share),                                             \
            "water still liquid at -1 degC, as a share of the dry mass; at T it is that times |T| " \
            "to the unfrozen_exponent"),                                                            \
        NUMBER(path ".unfrozen_exponent", -5, -0.01, "the soil's own",                              \
               (at) + ROW(uf_ground_spec, unfrozen_exponent), "of that law"),                       \
        VALUE(path ".unit_weight_moist", weight, "kN/m3", 0.5, 30, "from density and moisture",     \
              (at) + ROW(uf_ground_spec, unit_weight_moist_N_m3),                                   \
              "weight above the water table; a mass density is taken times 9.80665"),               \
        VALUE(path ".unit_weight_saturated", weight, "kN/m3", 5, 30, "from density and porosity",   \
              (at) + ROW(uf_ground_spec, unit_weight_saturated_N_m3),                               \
              "weight below the water table"),                                                      \
        BLOCK(path ".thermal", (at) + ROW(uf_ground_spec, has_thermal),                             \
              "measured thermal properties, in place of soil"),                                     \
        VALUE(path ".thermal.conductivity_thawed", conductivity, "W/m/K", 0.01, 10,                 \
              uf_site_needed, (at) + ROW(uf_ground_spec, thermal.k_thawed_W_mK),                    \
              "before any water freezes"),                                                          \
        VALUE(path ".thermal.conductivity_frozen", conductivity, "W/m/K", 0.01, 10,                 \
              uf_site_needed, (at) + ROW(uf_ground_spec, thermal.k_frozen_W_mK),                    \
              "when all water is ice: a fifth to five times conductivity_thawed"),                  \
        VALUE(path ".thermal.heat_capacity_thawed", capacity, "MJ/m3/K", 0.1, 10, uf_site_needed,   \
              (at) + ROW(uf_ground_spec, thermal.c_thawed_J_m3K), "before any water freezes"),      \
        VALUE(path ".thermal.heat_capacity_frozen", capacity, "MJ/m3/K", 0.1, 10, uf_site_needed,   \
              (at) + ROW(uf_ground_spec, thermal.c_frozen_J_m3K),                                   \
              "when all water is ice: 0.4 to 1.25 times heat_capacity_thawed"),                     \
        VALUE(path ".thermal.latent_heat", latent, "MJ/m3", 0, 334, uf_site_needed,                 \
              (at) + ROW(uf_ground_spec, thermal.latent_J_m3), "of all the water that freezes"),    \
        VALUE(path ".thermal.freezing_from", temperature, "degC", -20, 0, uf_site_needed,           \
              (at) + ROW(uf_ground_spec, thermal.freezing_from_degC), "freezing begins"),           \
        VALUE(path ".thermal.freezing_to", temperature, "degC", -60, 0, uf_site_needed,             \
              (at) + ROW(uf_ground_spec, thermal.freezing_to_degC), "all water is ice")

/* The side of an upright pipe or shaft. */
#define SHELL(path, type)                                                                          \
    BLOCK(path ".wall", SITE_NO_OFFSET, "its wall; left out, it resists nothing"),                 \
        VALUE(path ".wall.thickness", length, "mm", 0.1, 500, uf_site_needed,                      \
              ROW(type, shell.wall_m), "of the wall"),                                             \
        VALUE(path ".wall.conductivity", conductivity, "W/m/K", 0.01, 500, uf_site_needed,         \
              ROW(type, shell.wall_W_mK), "of the wall"),                                          \
        BLOCK(path ".sleeve", SITE_NO_OFFSET, "insulation round it; left out, bare"),              \
        VALUE(path ".sleeve.thickness", length, "mm", 0, 1000, uf_site_needed,                     \
              ROW(type, shell.sleeve_m), "all round"),                                             \
        VALUE(path ".sleeve.conductivity", conductivity, "W/m/K", 0.005, 10,                       \
              "0.0321 W/m/K, that of XPS_IV", ROW(type, shell.sleeve_W_mK), "in wet ground"),      \
        VALUE(path ".sleeve.length", length, "m", 0, 50, "as deep as it goes",                     \
              ROW(type, shell.sleeve_length_m), "from grade down")

/* Anchors, the design's own or one of those to choose from. */
#define ANCHORS(path, at, usual)                                                                   \
    BLOCK(path ".deadmen", SITE_NO_OFFSET, "concrete beams beside the tank"),                      \
        COUNT(path ".deadmen.count", 100, uf_site_needed, (at) + ROW(uf_anchors, deadmen),         \
              "how many"),                                                                         \
        VALUE(path ".deadmen.width", length, "m", 0.01, 10, uf_site_needed,                        \
              (at) + ROW(uf_anchors, deadman_width_m), "of one"),                                  \
        VALUE(path ".deadmen.height", length, "m", 0.01, 10, uf_site_needed,                       \
              (at) + ROW(uf_anchors, deadman_height_m), "of one"),                                 \
        VALUE(path ".deadmen.length", length, "m", 0.01, 200, uf_site_needed,                      \
              (at) + ROW(uf_anchors, deadman_length_m), "of one"),                                 \
        VALUE(path ".deadmen.top", length, "m", 0, 50, "at the invert, at most on the floor",      \
              (at) + ROW(uf_anchors, deadman_top_m), "depth of its top below grade"),              \
        VALUE(path ".deadmen.offset", length, "m", 0, 50, "just outside the tank",                 \
              (at) + ROW(uf_anchors, deadman_offset_m),                                            \
              "axis of the tank to axis of the deadman"),                                          \
        VALUE(path ".deadmen.unit_weight", weight, "kN/m3", 10, 60, usual,                         \
              (at) + ROW(uf_anchors, concrete_N_m3), "of the concrete"),                           \
        COUNT(path ".straps", 200, usual, (at) + ROW(uf_anchors, straps),                          \
              "how many straps over the tank"),                                                    \
        VALUE(path ".strap_strength", force, "kN", 0.01, 1e5, "not judged",                        \
              (at) + ROW(uf_anchors, strap_strength_N),                                            \
              "working load of one strap, from its manufacturer"),                                 \
        BLOCK(path ".pad", (at) + ROW(uf_anchors, has_pad), "a concrete pad under the tank"),      \
        VALUE(path ".pad.length", length, "m", 0.01, 200, uf_site_needed,                          \
              (at) + ROW(uf_anchors, pad_length_m), "along the tank"),                             \
        VALUE(path ".pad.width", length, "m", 0.01, 60, uf_site_needed,                            \
              (at) + ROW(uf_anchors, pad_width_m), "across the tank"),                             \
        VALUE(path ".pad.thickness", length, "m", 0.01, 10, uf_site_needed,                        \
              (at) + ROW(uf_anchors, pad_thickness_m), "of the pad"),                              \
        VALUE(path ".pad.unit_weight", weight, "kN/m3", 10, 60, usual,                             \
              (at) + ROW(uf_anchors, concrete_N_m3), "of the concrete")

// clang-format off
const struct site_key uf_site_keys[] = {
    BLOCK("site", SITE_NO_OFFSET, "the place"),
    TEXT("site.name", sizeof(((struct uf_case *)0)->name), "the file's name", CASE(name),
         "what to call it in the report"),
    VALUE("site.latitude", angle, "degrees_north", -90, 90, "the north is assumed",
          CASE(latitude_deg), "south is negative: winter is then in July"),

    WORD("units", units_words, uf_site_own_default, SITE(units),
         "of text, CSV and pictures; --units overrides it"),

    BLOCK("project", SITE_NO_OFFSET, "the title block of report and sheets"),
    PROJECT(title, "what is designed; else site.name"),
    PROJECT(number, "project number"),
    PROJECT(client, "for whom"),
    PROJECT(revision, "of the package, such as B"),
    PROJECT(prepared_by, "who made it"),
    PROJECT(checked_by, "who checked it"),
    OTHER("project.date", date, "not given", SITE(project.date), "of this revision"),

    BLOCK("drawing", SITE_NO_OFFSET, "what only the drawing shows; asked for on the sheet where it lacks"),
    TEXT("drawing.benchmark", sizeof(((struct uf_site *)0)->drawing.benchmark), "not given",
         SITE(drawing.benchmark), "what levels are taken from, such as bolt at the gate 100.000"),
    VALUE("drawing.grade_level", length, "m", -500, 9000, "levels count from grade",
          SITE(drawing.grade_level_m), "of grade, by that benchmark"),
    VALUE("drawing.axis_bearing", angle, "degrees", 0, 360, "north is left out",
          SITE(drawing.bearing_degree), "of the tank's axis to its right end in plan, clockwise from north"),
    TEXT("drawing.origin", sizeof(((struct uf_site *)0)->drawing.origin), "not given",
         SITE(drawing.origin), "what the tank's left end and axis are set out from"),
    VALUES_AT("drawing.riser_stations", length, "m", 0, 200, UF_MAX_RISERS, "risers left out",
              drawing.riser_m, drawing.n_risers, "axis of each riser from the tank's left end in plan"),
    VALUES_AT("drawing.strap_stations", length, "m", 0, 200, UF_SITE_STRAPS, "evenly apart",
              drawing.strap_m, drawing.n_straps, "of each strap, from the tank's left end in plan"),
    LIST_AT("drawing.routes", uf_site_route, drawing.routes, drawing.n_routes, UF_SITE_ROUTES,
            "ways of pipes and standpipes in plan; one without stays a stub"),
    TEXT("drawing.routes[].pipe", UF_NAME_SIZE, uf_site_needed, ROW(uf_site_route, pipe),
         "name of the row of pipes or standpipes"),
    VALUES_ROW("drawing.routes[].along", length, "m", -500, 500, UF_SITE_BENDS, uf_site_route, along_m,
               n_along, "where it leaves the tank, bends and ends, from the tank's left end in plan"),
    VALUES_ROW("drawing.routes[].across", length, "m", -500, 500, UF_SITE_BENDS, uf_site_route, across_m,
               n_across, "the same from the tank's axis, up in plan positive"),
    VALUE("drawing.routes[].fall", share, "percent", -20, 20, "level", ROW(uf_site_route, fall),
          "away from the tank, down positive"),

    BLOCK("climate", SITE_NO_OFFSET, "the weather: file, cycle or surface_temperature"),
    TEXT("climate.file", UF_TEXT_SIZE, "", SITE(climate_file),
         "daily weather: a path, or the name of a file in climates/"),
    TEXT("climate.column", UF_TEXT_SIZE, "the only one", SITE(climate_column),
         "which station of a file that holds several"),
    OTHER("climate.winter", winter, "1 in 30", SITE(winter),
          "mean | 1 in N | coldest three in thirty | coldest recorded | YYYY/YY | every"),
    BLOCK("climate.cycle", SITE_NO_OFFSET, "a smooth year in place of a file"),
    VALUE("climate.cycle.mean", temperature, "degC", -40, 40, uf_site_needed,
          SITE(cycle_mean_degC), "mean air temperature"),
    VALUE("climate.cycle.amplitude", difference, "K", 0, 60, uf_site_needed,
          SITE(cycle_amplitude_K), "half of warmest less coldest"),
    VALUE("climate.cycle.coldest", duration, "day", 0, 40000, uf_site_own_default, SITE(cycle_coldest_day),
          "from 1 January to the coldest day; phase from 2001-01-01 00:00"),
    VALUE("climate.cycle.period", duration, "day", 0.01, 40000, uf_site_own_default,
          SITE(cycle_period_day), "length of the cycle"),
    BLOCK("climate.surface_temperature", SITE_NO_OFFSET,
          "a measured ground temperature in place of air and surface law"),
    TEXT("climate.surface_temperature.file", UF_TEXT_SIZE, uf_site_needed, SITE(measured_file),
         "daily values of the sensor"),
    TEXT("climate.surface_temperature.column", UF_TEXT_SIZE, "the only one", SITE(measured_column),
         "column of the sensor"),
    VALUE("climate.surface_temperature.depth", length, "m", 0, 2, uf_site_own_default,
          CASE(surface.measured_depth_m), "depth of the sensor"),

    BLOCK("surface", SITE_NO_OFFSET, "exactly one law: film with snow, type, or n_freezing and n_thawing"),
    VALUE("surface.film", film, "W/m2/K", 0.1, 10000, uf_site_own_default, CASE(surface.film_W_m2K),
          "between air and ground or snow"),
    OTHER("surface.snow", snow, "none", CASE(surface),
          "none (cleared) | recorded | {depth, density}"),
    OTHER("surface.snow.depth", snow_depth, uf_site_needed, CASE(surface),
          "a fixed depth on frost days, or recorded"),
    VALUE("surface.snow.density", density, "kg/m3", 30, 600, uf_site_own_default,
          CASE(surface.snow_density_kg_m3), "gives the snow's conductivity"),
    OTHER("surface.type", cover, "", CASE(surface.row), "a row of the n-factor table"),
    NUMBER("surface.n_freezing", 0, 3, "", CASE(surface.n_freezing),
           "surface freezing index over air freezing index"),
    NUMBER("surface.n_thawing", 0, 5, "", CASE(surface.n_thawing),
           "surface thawing index over air thawing index"),

    LIST("ground", uf_layer, ground.layers, ground.n_layers, UF_MAX_LAYERS,
         "layers from grade down; the last goes to the bottom of the domain"),
    VALUE("ground[].to", length, "m", 0.02, 500, "the bottom, for the last", ROW(uf_layer, to_m),
          "depth of the layer's underside"),
    SPEC("ground[]", ROW(uf_layer, spec)),
    WORD("conductivity", method_words, uf_site_own_default, CASE(ground.method),
         "how soil rows get their conductivity"),
    VALUE("geothermal", flux, "W/m2", 0, 5, uf_site_own_default, CASE(ground.geothermal_W_m2),
          "heat that rises from below"),
    BLOCK("groundwater", SITE_NO_OFFSET, "the water table"),
    VALUE("groundwater.winter", length, "m", 0, 500, "dry ground", CASE(ground.water_winter_m),
          "depth in the frost season; the ground below is saturated; without it a year of water drives the run"),
    VALUE("groundwater.highest", length, "m", -20, 500, uf_site_own_default, CASE(ground.water_highest_m),
          "depth at its highest, for uplift; negative is a flood above grade"),

    BLOCK("initial", SITE_NO_OFFSET, "a start of your own; otherwise the mean year is repeated"),
    OTHER("initial.profile", profile, "the repeated mean year", CASE(initial),
          "[[depth, temperature], ...] from grade down"),
    WORD("initial.below", below_words, uf_site_own_default, CASE(initial.below),
         "below a profile's lowest point: as the mean year leaves it, straight to that, or constant"),
    OTHER("initial.date", date, "the normal autumn", CASE(initial.date), "first day of the run"),
    OTHER("initial.end", date, "two months after midsummer", CASE(initial.end),
          "last day of the run"),

    BLOCK("tank", SITE_NO_OFFSET, "leave it out for bare ground"),
    WORD("tank.shape", shape_words, uf_site_needed, CASE(tank.shape), "of the shell"),
    VALUE("tank.diameter", length, "m", 0.05, 30, "", CASE(tank.diameter_m),
          "outside; of a cylinder"),
    VALUE("tank.width", length, "m", 0.05, 60, "", CASE(tank.width_m), "outside; of a box"),
    VALUE("tank.height", length, "m", 0.05, 30, "", CASE(tank.height_m),
          "outside; of a box or a vertical cylinder"),
    VALUE("tank.length", length, "m", 0.05, 200, "", CASE(tank.length_m),
          "outside; of a box, or of a horizontal cylinder between its heads"),
    WORD("tank.heads", heads_words, uf_site_own_default, CASE(tank.heads), "ends of a cylinder"),
    WORD("tank.ends", ends_words, uf_site_own_default, CASE(tank.ends),
         "of a lying tank: its section as slices along the axis past the end, or the section alone"),
    VALUE("tank.empty_mass", mass, "kg", 0, 1e7, "not counted", CASE(tank.empty_mass_kg),
          "of the empty tank with its fittings"),
    BLOCK("tank.wall", SITE_NO_OFFSET, "the shell; leave it out for none"),
    VALUE("tank.wall.thickness", length, "mm", 0.1, 3000, uf_site_needed,
          CASE(tank.wall_thickness_m), "of the shell"),
    VALUE("tank.wall.conductivity", conductivity, "W/m/K", 0.01, 500, uf_site_needed,
          CASE(tank.wall_k_W_mK), "of the shell"),
    BLOCK("tank.contents", SITE_NO_OFFSET, "the water; leave it out for an empty tank"),
    VALUE("tank.contents.level", length, "m", 0, 30, uf_site_own_default, CASE(tank.level_m),
          "water depth above the invert; 0 m is empty"),
    VALUE("tank.contents.lowest", length, "m", 0, 30, "half of level", CASE(tank.lowest_m),
          "water depth after draw-down"),
    VALUE("tank.contents.start", temperature, "degC", 0, 60, "that of the ground around it",
          CASE(tank.start_degC), "water temperature on the first day"),
    WORD("tank.contents.water", water_words, "layered", CASE(tank.water),
         "rows that lie by their density, one mixed body, or conduction alone"),
    VALUE("tank.contents.mixing", conductivity, "W/m/K", 0.1, 200, "not given",
          CASE(tank.mixing_W_mK), "unmixed, with the conductivity that stands for its motion; beyond, "
          "say water: mixed"),
    VALUE("tank.contents.hold", temperature, "degC", 0, 90, "not kept warm", CASE(tank.hold_degC),
          "temperature the water is kept at"),
    BLOCK("tank.inflow", SITE_NO_OFFSET, "water that runs in; shown beside the verdict"),
    VALUE("tank.inflow.rate", flow, "m3/day", 0, 1e5, uf_site_needed, CASE(tank.inflow_m3_s),
          "volume a day"),
    VALUE("tank.inflow.temperature", temperature, "degC", 0, 90, uf_site_needed,
          CASE(tank.inflow_degC), "of the water that runs in"),
    LIST("tank.risers", uf_riser, tank.risers, tank.n_risers, UF_MAX_RISERS,
         "shafts from the crown up"),
    VALUE("tank.risers[].diameter", length, "m", 0.02, 10, uf_site_needed,
          ROW(uf_riser, diameter_m), "outside"),
    VALUE("tank.risers[].above_grade", length, "m", -30, 30, "by height", ROW(uf_riser, above_grade_m),
          "of its top, at every cover; negative is below grade"),
    VALUE("tank.risers[].height", length, "m", 0, 30, "by above_grade", ROW(uf_riser, height_m),
          "crown to top at burial.cover, in place of above_grade; options keep the top where that is"),
    VALUE("tank.risers[].lid", resistance, "m2.K/W", 0.001, 100, uf_site_needed,
          ROW(uf_riser, lid_m2K_W), "thermal resistance of the lid"),
    WORD("tank.risers[].lid_at", lid_words, uf_site_own_default, ROW(uf_riser, lid_at),
         "on its top: its side counts, bare without wall or sleeve; or crown, a frost cover there"),
    SHELL("tank.risers[]", uf_riser),

    BLOCK("burial", SITE_NO_OFFSET, "how the tank lies"),
    VALUE("burial.cover", length, "m", 0, 30, uf_site_needed, CASE(burial.cover_m),
          "grade to crown"),
    VALUE("burial.bedding", length, "m", 0, 5, uf_site_own_default, CASE(burial.bedding_m), "below the invert"),
    BLOCK("burial.pit", SITE_NO_OFFSET, "the pit; leave it out for ground as it lies"),
    VALUE("burial.pit.clearance", length, "m", 0, 30, uf_site_needed, CASE(burial.pit_clearance_m),
          "between the tank's side and the pit's foot"),
    NUMBER("burial.pit.slope", 0, 10, uf_site_own_default, CASE(burial.pit_slope), "horizontal per vertical"),
    {"burial.pit.soil_class", &uf_site_letter, NULL, "", NAN, NAN, "not given",
     "A, B or C of the excavation rules", CASE(burial.soil_class), 0, 0, 0, class_words, false},
    BLOCK("burial.backfill", CASE(burial.has_backfill),
          "fills the pit from its floor up; leave it out for the ground as it lies"),
    OTHER("burial.backfill.above_crown", fill_over, "0.3 m", CASE(burial.fill_over_m),
          "how far over the crown it reaches, or grade; native ground goes back above"),
    SPEC("burial.backfill", CASE(burial.backfill)),
    BLOCK("burial.bedding_soil", CASE(burial.has_bedding_soil), "the bedding, where not backfill"),
    SPEC("burial.bedding_soil", CASE(burial.bedding_soil)),

    BLOCK("board", CASE(board.present), "the foam board; leave it out for none"),
    OTHER("board.type", foam, uf_site_needed, CASE(board),
          "a row of the board table, or {conductivity, strength, density}"),
    VALUE("board.type.conductivity", conductivity, "W/m/K", 0.005, 1, uf_site_needed,
          CASE(board.k_W_mK), "in service, wet and aged"),
    VALUE("board.type.strength", pressure, "kPa", 1, 1e5, uf_site_needed, CASE(board.strength_Pa),
          "compressive resistance"),
    VALUE("board.type.density", density, "kg/m3", 1, 500, uf_site_needed,
          CASE(board.density_kg_m3), "of the dry board"),
    {"board.thickness", &uf_site_sheet, &uf_units_length, "mm", 0, 2000, uf_site_needed,
     "0 mm is no board, else 5 mm or more; whole inches are nominal, 25 mm each", CASE(board.thickness_m), 0, 0, 0, NULL,
     false},
    VALUE("board.beyond_tank", length, "m", 0, 30, uf_site_own_default, CASE(board.beyond_tank_m),
          "past the tank's side, and past its ends by the same"),
    VALUE("board.above_crown", length, "m", -30, 30, uf_site_own_default, CASE(board.above_crown_m),
          "crown to the underside of the board"),
    VALUE("board.skirt", length, "m", 0, 20, uf_site_own_default, CASE(board.skirt_m),
          "height of a board hanging from its edge"),

    OTHER("anchors", anchors, "none", CASE(anchors),
          "what holds the tank down: a block, or least: sized to limits.uplift_factor"),
    ANCHORS("anchors", CASE(anchors), uf_site_own_default),
    BLOCK("load", SITE_NO_OFFSET, "what stands on the ground above"),
    OTHER("load.wheel", wheel, "none", SITE(design), "none | H20 | a force such as 71 kN"),
    WORD("load.method", load_method_words, "the most adverse", CASE(load_method),
         "how the wheel spreads; named: the board is judged by it where it reaches"),

    LIST("probes", uf_probe, probes, n_probes, UF_MAX_PROBES, "places whose temperature is told"),
    TEXT("probes[].name", UF_NAME_SIZE, "its number", ROW(uf_probe, name), "for the report"),
    VALUE("probes[].x", length, "m", -200, 200, "0 m", ROW(uf_probe, x_m), "from the tank's axis"),
    VALUE("probes[].depth", length, "m", 0, 500, "", ROW(uf_probe, depth_m), "below grade"),
    VALUE("probes[].below_crown", length, "m", -50, 500, "", ROW(uf_probe, below_crown_m),
          "in place of depth"),
    VALUE("probes[].above_invert", length, "m", -500, 50, "", ROW(uf_probe, above_invert_m),
          "in place of depth"),
    VALUE("probes[].least", temperature, "degC", -60, 60, "no limit", ROW(uf_probe, least_degC),
          "coldest that is allowed"),
    LIST("pipes", uf_pipe, pipes, n_pipes, UF_MAX_PIPES, "pipes that leave through an end"),
    TEXT("pipes[].name", UF_NAME_SIZE, "its number", ROW(uf_pipe, name), "for the report"),
    VALUE("pipes[].diameter", length, "mm", 1, 5000, uf_site_needed, ROW(uf_pipe, diameter_m),
          "outside"),
    VALUE("pipes[].depth", length, "m", 0, 100, uf_site_needed, ROW(uf_pipe, depth_m),
          "grade to the pipe's centre"),
    OTHER("pipes[].under_board", yes_no, "no", ROW(uf_pipe, under_board),
          "whether the board covers it"),

    LIST_AT("observed", uf_site_observed, observed, n_observed, UF_SITE_OBSERVED,
            "measured series that score holds the run against"),
    TEXT("observed[].file", UF_TEXT_SIZE, uf_site_needed, ROW(uf_site_observed, file),
         "daily readings: a path, or the name of a file in climates/"),
    TEXT("observed[].column", UF_NAME_SIZE, uf_site_needed, ROW(uf_site_observed, column),
         "which column of it"),
    WORD("observed[].kind", uf_site_observed_kinds, "temperature", ROW(uf_site_observed, kind),
         "what was measured: temperature of the ground, frost_depth or water_temperature"),
    TEXT("observed[].unit", UF_NAME_SIZE, "degC, or m for frost_depth",
         ROW(uf_site_observed, unit), "of the column"),
    VALUE("observed[].depth", length, "m", 0, 500, "", ROW(uf_site_observed, depth_m),
          "of a temperature, below grade"),
    VALUE("observed[].below_crown", length, "m", -50, 500, "", ROW(uf_site_observed, below_crown_m),
          "in place of depth"),
    VALUE("observed[].above_invert", length, "m", -500, 50, "",
          ROW(uf_site_observed, above_invert_m), "in place of depth"),
    VALUE("observed[].x", length, "m", -200, 200, "undisturbed ground; 0 m beside below_crown and above_invert",
          ROW(uf_site_observed, x_m), "from the tank's axis"),

    LIST("standpipes", uf_standpipe, standpipes, n_standpipes, UF_MAX_STANDPIPES,
         "hydrant or suction lines that rise to grade; water stands in them as in the tank"),
    TEXT("standpipes[].name", UF_NAME_SIZE, uf_site_needed, ROW(uf_standpipe, name), "for the report"),
    VALUE("standpipes[].diameter", length, "mm", 10, 2000, uf_site_needed,
          ROW(uf_standpipe, diameter_m), "outside"),
    VALUE("standpipes[].bottom", length, "m", 0.1, 30, uf_site_needed, ROW(uf_standpipe, bottom_m),
          "depth of its lower end"),
    VALUE("standpipes[].from_axis", length, "m", 0, 500, "in undisturbed ground",
          ROW(uf_standpipe, from_axis_m), "distance from the tank's axis"),
    VALUE("standpipes[].cap", resistance, "m2.K/W", 0, 100, uf_site_own_default,
          ROW(uf_standpipe, cap_m2K_W), "thermal resistance of its cap or frost plug"),
    SHELL("standpipes[]", uf_standpipe),
    BLOCK("grid", SITE_NO_OFFSET, "the cells of the computation"),
    VALUE("grid.finest", length, "mm", 5, 500, uf_site_own_default, CASE(grid.finest_m), "smallest cell"),
    VALUE("grid.width", length, "m", 0.5, 500, uf_site_own_default, CASE(grid.width_m), "half width"),
    VALUE("grid.depth", length, "m", 0.5, 500, uf_site_own_default, CASE(grid.depth_m), "bottom of the domain"),

    BLOCK("limits", SITE_NO_OFFSET, "what the answer is judged on"),
    VALUE("limits.water", temperature, "degC", -10, 30, uf_site_own_default, CASE(limits.water_degC),
          "coldest water or wetted wall anywhere"),
    VALUE("limits.outlet", temperature, "degC", -10, 30, "not judged", CASE(limits.outlet_degC),
          "coldest water at the outlet or suction intake"),
    VALUE("limits.ice_thickness", length, "mm", 0, 3000, "not judged", CASE(limits.ice_thickness_m),
          "ice at the top of the water"),
    VALUE("limits.ice", share, "percent", 0, 100, uf_site_own_default, CASE(limits.ice_share),
          "share of the water allowed to freeze"),
    VALUE("limits.standpipe_ice", share, "percent", 0, 100, uf_site_own_default,
          CASE(limits.standpipe_ice), "of the bore of a standpipe that may freeze"),
    NUMBER("limits.uplift_factor", 0.1, 20, uf_site_own_default, CASE(limits.uplift_factor),
           "least safety against floating, tank empty (FEMA P-259)"),
    VALUE("limits.greatest_cover", length, "m", 0, 50, "the shell is unchecked",
          CASE(limits.greatest_cover_m), "from the tank's manufacturer"),
    BLOCK("choices", SITE_NO_OFFSET, "what recommend may vary"),
    VALUES("choices.cover", length, "m", 0, 30, choices.cover_m, choices.n_cover, "burial.cover"),
    {"choices.thickness", &uf_site_sheets, &uf_units_length, "mm", 0, 2000, "the design's own",
     "board.thickness", CASE(choices.thickness_m), UF_MAX_CHOICES, sizeof(double),
     CASE(choices.n_thickness), NULL, false},
    VALUES("choices.beyond_tank", length, "m", 0, 30, choices.beyond_m, choices.n_beyond,
           "board.beyond_tank"),
    VALUES("choices.skirt", length, "m", 0, 20, choices.skirt_m, choices.n_skirt, "board.skirt"),
    VALUES("choices.lid", resistance, "m2.K/W", 0.001, 100, choices.lid_m2K_W, choices.n_lid,
           "tank.risers[].lid, of all risers"),
    VALUES("choices.sleeve", length, "mm", 0, 1000, choices.sleeve_m, choices.n_sleeve,
           "tank.risers[].sleeve.thickness, of all risers"),
    WORDS("choices.board_type", foams, choices.type, choices.n_type, sizeof(struct uf_foam *),
          "board.type: rows of the board table, or least"),
    WORDS("choices.backfill", fill_overs, choices.fill_over_m, choices.n_fill_over, sizeof(double),
          "burial.backfill.above_crown: heights, or grade"),
    LIST("choices.anchors", uf_anchors, choices.anchors, choices.n_anchors, UF_MAX_CHOICES,
         "named blocks of anchors; none and least may stand as words"),
    TEXT("choices.anchors[].name", UF_NAME_SIZE, uf_site_needed, ROW(uf_anchors, name),
         "for the report"),
    ANCHORS("choices.anchors[]", 0, "as under anchors"),
    BLOCK("sensitivity", SITE_NO_OFFSET, "what a recommended option must stand"),
    VALUE("sensitivity.temperature", difference, "K", 0, 10, "0.5 K",
          CASE(sensitivity.temperature_K),
          "the model's own error, kept as margin in the design case wherever a temperature is judged"),
    VALUE("sensitivity.depth", length, "mm", 0, 1000, "30 mm", CASE(sensitivity.depth_m),
          "the same, between the frost in undisturbed ground and a pipe"),
    OTHER("sensitivity.leave_out", left_out, "none", CASE(sensitivity.left_out),
          "names of cases that an option need not stand, as recommend lists them"),
    BLOCK("costs", CASE(costs.given), "prices, to pick the cheapest"),
    {"costs.currency", &uf_site_currency, NULL, "", NAN, NAN, "not named",
     "the word for the money, such as CAD", CASE(costs.currency),
     sizeof(((struct uf_costs *)0)->currency), 0, 0, NULL, false},
    PRICE(excavation, "digging"),
    PRICE(haul, "hauling spoil, in the bank"),
    PRICE(board, "foam board in place"),
    PRICE(sleeve, "insulating sleeves in place"),
    PRICE(lid, "insulation of riser lids, as foam of the sleeves' conductivity"),
    PRICE(concrete, "concrete in place"),
    PRICE(backfill, "backfill in place"),
    PRICE_FOR("costs.geotextile", area, "/m2", geotextile_m2, "around the fill"),
    NUMBER("costs.strap", 0, 1e9, "not counted", CASE(costs.strap), "one strap in place"),
    NUMBER("costs.fixed", 0, 1e12, "not counted", CASE(costs.fixed), "whatever is built"),
    BLOCK("costs.shoring", SITE_NO_OFFSET, "for pits deeper than its depth"),
    VALUE("costs.shoring.below", length, "m", 0, 50, uf_site_needed, CASE(costs.shoring_below_m),
          "depth of the pit from which it is needed"),
    PRICE_FOR("costs.shoring.price", length, "/m", shoring_m, "for each metre deeper"),
    VALUES_AT("groundwater.by_month", length, "m", -20, 500, 12, "not given",
              design.ground.year.month_m, design.ground.year.n_months,
              "twelve depths, at the middle of January to December: the frost run follows them"),
    VALUE("groundwater.mean", length, "m", -20, 500, "not given", CASE(ground.year.mean_m),
          "mean depth of a yearly wave, in place of by_month: the frost run follows it"),
    VALUE("groundwater.amplitude", length, "m", 0, 100, "not given",
          CASE(ground.year.amplitude_m), "half of lowest less highest"),
    VALUE("groundwater.highest_on", duration, "day", 1, 366, "not given",
          CASE(ground.year.highest_day), "day of the year on which the wave is highest"),
    VALUE("anchors.wedge_angle", angle, "degrees", 0, 60, "not shown",
          SITE(works.wedge_angle_degree),
          "of the soil beside an anchor, from the vertical; shown beside the verdict, never in it"),
    VALUE("anchors.strap_width", length, "mm", 5, 1000, "not shown", SITE(works.strap_width_m),
          "for the pressure of a strap on a round shell"),

    BLOCK("quantities", SITE_NO_OFFSET, "what is ordered"),
    BLOCK("quantities.sheet", SITE_NO_OFFSET, "a sheet of foam board as it is sold"),
    VALUE("quantities.sheet.length", length, "m", 0.1, 10, uf_site_needed,
          SITE(works.quantities.sheet_length_m), "of one sheet"),
    VALUE("quantities.sheet.width", length, "m", 0.1, 10, uf_site_needed,
          SITE(works.quantities.sheet_width_m), "of one sheet"),
    {"quantities.sheet.thickness", &uf_site_sheet, &uf_units_length, "mm", 5, 500,
     "the whole board's", "of one sheet; the board is laid in layers",
     SITE(works.quantities.sheet_thickness_m), 0, 0, 0, NULL, false},
    VALUE("quantities.truck", volume, "m3", 0.5, 100, "not counted", SITE(works.quantities.truck_m3),
          "loose volume of one load"),
    BLOCK("quantities.geotextile", SITE_NO_OFFSET, "around the fill"),
    VALUE("quantities.geotextile.roll", length, "m", 0.5, 20, uf_site_needed,
          SITE(works.quantities.roll_m), "width of a roll"),
    VALUE("quantities.geotextile.lap", length, "m", 0, 3, uf_site_needed,
          SITE(works.quantities.lap_m), "at a seam"),
    WORD("quantities.fill", uf_site_works_swell_words, "not counted loose", SITE(works.quantities.fill),
         "row of the swell table for what is brought in"),
    WORD("quantities.native", uf_site_works_swell_words, "not counted loose", CASE(burial.native_swell),
         "row of the swell table for what is dug"),
    WORD("quantities.grading", uf_site_works_grading_words, "not checked", SITE(works.grading),
         "grading that bedding and backfill are to meet"),
    LIST_AT("quantities.sieves", uf_grading_sieve, works.sieves.rows, works.sieves.n,
            UF_GRADING_LIST, "a sieve list of the gravel"),
    VALUE("quantities.sieves[].opening", length, "mm", 0.01, 200, uf_site_needed,
          ROW(uf_grading_sieve, opening_m), "of the sieve"),
    VALUE("quantities.sieves[].passing", share, "percent", 0, 100, uf_site_needed,
          ROW(uf_grading_sieve, passing), "by mass"),

    BLOCK("works", SITE_NO_OFFSET, "how the pit is filled and kept dry"),
    VALUE("works.lift", length, "m", 0.03, 3, "whole zones", SITE(works.backfill.lift_m),
          "greatest thickness of one lift of fill, compacted"),
    VALUE("works.pit_water", length, "m", -5, 100, "the pit full to grade",
          SITE(works.backfill.water_m), "depth below grade of the water that may stand in the open pit"),

    VALUE("works.permeability", speed, "m/s", 1e-12, 1, "inflow not told",
          SITE(works.dewater.permeability_m_s), "of the ground that bears water beside the pit"),
    VALUE("works.water_bearing_to", length, "m", 0, 500, "as deep as the ground is given",
          SITE(works.dewater.base_m), "depth of its base"),
    BLOCK("works.confined", SITE_NO_OFFSET, "a water-bearing layer under pressure below the floor"),
    VALUE("works.confined.top", length, "m", 0, 500, uf_site_needed,
          SITE(works.dewater.confined_top_m), "depth of its top"),
    VALUE("works.confined.head", length, "m", -50, 500, uf_site_needed,
          SITE(works.dewater.confined_head_m), "depth to which its water would rise; negative: above grade"),

    BLOCK("lifting", SITE_NO_OFFSET, "slings from one hook"),
    COUNT("lifting.picks", 4, uf_site_needed, SITE(works.lifting.picks),
          "2 or 4, where the tank's manufacturer has them"),
    VALUE("lifting.spacing", length, "m", 0.05, 60, uf_site_needed, SITE(works.lifting.spacing_m),
          "along the tank, from pick to pick"),
    VALUE("lifting.width", length, "m", 0.05, 30, "two picks have none",
          SITE(works.lifting.width_m), "across the tank, between four picks"),
    VALUE("lifting.sling", length, "m", 0.1, 60, "the least is told", SITE(works.lifting.sling_m),
          "length of one leg"),
    VALUE("lifting.hoist", force, "kN", 0.1, 1e5, "not judged", SITE(works.lifting.hoist_N),
          "what the hoist may lift at the reach it is used at"),
    VALUE("lifting.rigging", mass, "kg", 0, 1e5, uf_site_own_default, SITE(works.lifting.rigging_kg),
          "hook block, slings and shackles"),
    VALUE("lifting.mass", mass, "kg", 1, 1e7, "tank.empty_mass", SITE(works.lifting.mass_kg),
          "of what is lifted"),

    LIST_AT("readings", uf_roundness_reading, works.roundness.readings, works.roundness.n,
            UF_ROUNDNESS_READINGS, "inside diameter and level as they were measured, in order"),
    TEXT("readings[].at", UF_ROUNDNESS_NAME, uf_site_needed, ROW(uf_roundness_reading, at),
         "the step of the work"),
    VALUE("readings[].diameter", length, "mm", 50, 30000, uf_site_needed,
          ROW(uf_roundness_reading, diameter_m), "inside, from top to bottom"),
    VALUE("readings[].level", length, "m", -9000, 9000, "not read",
          ROW(uf_roundness_reading, level_m), "of a fixed mark on the tank"),
    COUNT("readings[].station", 99, "one place alone", ROW(uf_roundness_reading, station),
          "place along the tank, from 1"),
    VALUE("readings[].horizontal", length, "mm", 50, 30000, "not read",
          ROW(uf_roundness_reading, across_m), "inside, from side to side"),
    VALUE("readings[].far_level", length, "m", -9000, 9000, "not read",
          ROW(uf_roundness_reading, far_level_m), "of a fixed mark at the tank's far end"),
    BLOCK("roundness", SITE_NO_OFFSET, "what the readings are judged by"),
    VALUE("roundness.limit", share, "percent", 0.01, 20, "not judged",
          SITE(works.roundness.limit), "largest deflection, from the manufacturer's sheet"),
    COUNT("roundness.stations", 9, uf_site_own_default, SITE(works.roundness.stations),
          "places along the tank at which the field record reads diameters"),
    VALUE("roundness.level_limit", length, "mm", 0.1, 1000, "not judged",
          SITE(works.roundness.level_limit_m), "largest change of level"),
    VALUE("roundness.shell_modulus", pressure, "GPa", 0.01, 300, "the shell counts as nothing",
          SITE(works.roundness.shell_modulus_Pa), "of the wall, for the forecast"),
    NUMBER("roundness.lag", 1, 3, uf_site_own_default, SITE(works.roundness.lag),
           "deflection lag: 1 with the prism's load, 1.5 with a trench load"),
    VALUE("roundness.soil_modulus", pressure, "MPa", 0.1, 50, "by soil and compaction",
          SITE(works.roundness.soil_modulus_Pa), "E' of the fill beside the tank"),
    WORD("roundness.soil", uf_site_works_reaction_words, "not foretold", SITE(works.roundness.soil_row),
         "kind of the fill beside the tank"),
    WORD("roundness.compaction", uf_site_works_compaction_words, "not foretold",
         SITE(works.roundness.compaction), "of the fill beside the tank"),

    BLOCK("frost", SITE_NO_OFFSET, "frost on risers and pipes"),
    VALUE("frost.depth", length, "m", 0, 20, "computed by a run", SITE(works.frost_depth_m),
          "in undisturbed ground"),
    WORD("frost.bond", uf_site_works_bond_words, "concrete", SITE(works.bond),
         "what the ground freezes to, and which ground"),

    BLOCK("suction", SITE_NO_OFFSET, "a suction pipe for fire use"),
    VALUE("suction.flow", flow, "gpm", 1, 20000, uf_site_needed, SITE(works.suction.flow_m3_s),
          "wanted at the pump"),
    VALUE("suction.pipe", length, "inch", 2, 40, uf_site_needed, SITE(works.suction.pipe_m),
          "inside diameter; the published losses end at 6 and 12 inch"),
    VALUE("suction.length", length, "m", 0, 500, uf_site_needed, SITE(works.suction.length_m),
          "of straight pipe from the pump's connection to the intake"),
    COUNT("suction.elbows_90", 20, uf_site_own_default, SITE(works.suction.elbows_90), "of 90 degrees"),
    COUNT("suction.elbows_45", 20, uf_site_own_default, SITE(works.suction.elbows_45), "of 30 or 45 degrees"),
    COUNT("suction.reducers", 20, uf_site_own_default, SITE(works.suction.reducers), "how many"),
    VALUE("suction.pump_above_grade", length, "m", -5, 10, uf_site_needed,
          SITE(works.suction.pump_above_grade_m), "axis of the pump"),
    VALUE("suction.intake_above_invert", length, "m", 0, 10, uf_site_needed,
          SITE(works.suction.intake_above_invert_m), "top of the strainer"),
    VALUE("suction.intake_loss", length, "m", 0, 20, "by flow and pipe",
          SITE(works.suction.intake_loss_m),
          "head lost in strainer and standpipe at the flow, by their manufacturer"),
    VALUE("suction.cover", length, "m", 0, 5, uf_site_own_default, SITE(works.suction.cover_m),
          "water kept over the intake"),
    VALUE("suction.ice", length, "m", 0, 5, uf_site_own_default, SITE(works.suction.ice_m),
          "thickness of the ice to allow for"),
    VALUE("suction.altitude", length, "m", -500, 6000, uf_site_own_default, SITE(works.suction.altitude_m),
          "of the site"),
};
// clang-format on

const size_t uf_site_keys_count = sizeof uf_site_keys / sizeof uf_site_keys[0];

#define SPEC_GROUPS(path)                                                                          \
    {path, {"soil", "thermal", NULL}, true},                                                       \
        {path, {"moisture", "moisture_by_volume", NULL}, false},                                   \
        {path, {"thermal", "dry_density", NULL}, false},                                           \
        {path, {"thermal", "quartz", NULL}, false},                                                \
        {path, {"thermal", "unfrozen_water", NULL}, false},                                        \
        {path, {"thermal", "unfrozen_exponent", NULL}, false},                                     \
        {path, {"thermal", "moisture", NULL}, false},                                              \
    {                                                                                              \
        path, {"thermal", "moisture_by_volume", NULL}, false                                       \
    }

const struct site_group uf_site_groups[] = {
    {"climate", {"file", "cycle", "surface_temperature", NULL}, true},
    {"surface", {"type", "n_freezing", NULL}, false},
    {"surface", {"type", "n_thawing", NULL}, false},
    {"tank.contents", {"mixing", "hold", NULL}, false},
    {"tank.contents", {"water", "mixing", NULL}, false},
    {"tank.contents", {"water", "hold", NULL}, false},
    {"groundwater", {"by_month", "mean", NULL}, false},
    {"roundness", {"soil", "soil_modulus", NULL}, false},
    {"probes[]", {"depth", "below_crown", "above_invert", NULL}, true},
    {"tank.risers[]", {"above_grade", "height", NULL}, true},
    {"observed[]", {"depth", "below_crown", "above_invert", NULL}, false},
    SPEC_GROUPS("ground[]"),
    SPEC_GROUPS("burial.backfill"),
    SPEC_GROUPS("burial.bedding_soil"),
};
const size_t uf_site_groups_count = sizeof uf_site_groups / sizeof uf_site_groups[0];
