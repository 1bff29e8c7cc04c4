#include "site_texts.h"

static void close_units(void)
{
    uf_units_close();
}

TestSuite(site_faults, .fini = close_units);

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

/* Thermal properties but for the conductivities and the last number. */
#define MEASURED                                                                                   \
    "heat_capacity_thawed: 3 MJ/m3/K, latent_heat: 90 MJ/m3, freezing_from: 0 degC, "              \
    "freezing_to: -1 degC, heat_capacity_frozen: "

#define EXPECT_FAULTS(rows)                                                                        \
    for (size_t i = 0; i < sizeof(rows) / sizeof(rows)[0]; i++) {                                  \
        expect_fault(&(rows)[i]);                                                                  \
    }

Test(site_faults, faults_of_the_document)
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

Test(site_faults, faults_of_keys)
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

Test(site_faults, faults_of_values)
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

Test(site_faults, faults_between_keys)
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
        {"climate: {file: a}\nground: [{thermal: {" MEASURED
         "2 MJ/m3/K, conductivity_thawed: 0.5 W/m/K, "
         "conductivity_frozen: 2.6 W/m/K}}]\n",
         "ground[0].thermal.conductivity_frozen", 2, "5.2 times", "0.1 W/m/K to 2.5 W/m/K"},
        {"climate: {file: a}\nground: [{thermal: {" MEASURED
         "2 MJ/m3/K, conductivity_thawed: 2.6 W/m/K, "
         "conductivity_frozen: 0.5 W/m/K}}]\n",
         "ground[0].thermal.conductivity_frozen", 2, "0.1923 times", "0.52 W/m/K to 13 W/m/K"},
        {"climate: {file: a}\nground: [{thermal: {" MEASURED
         "1 MJ/m3/K, conductivity_thawed: 1 W/m/K, "
         "conductivity_frozen: 2 W/m/K}}]\n",
         "ground[0].thermal.heat_capacity_frozen", 2, "0.3333 times", "1.2 MJ/m3/K to 3.75"},
        {"climate: {file: a}\nground: [{soil: silt}]\ntank: {shape: box, width: 1 m, height: 1 m, "
         "length: 1 m}\nburial: {cover: 1 m, bedding: 0.2 m, bedding_soil:\n {thermal: {" MEASURED
         "4 MJ/m3/K, conductivity_thawed: 1 W/m/K, conductivity_frozen: 2 W/m/K}}}\n",
         "burial.bedding_soil.thermal.heat_capacity_frozen", 5, "1.333 times", "five fourths"},
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
        {BURIED "choices: {cover: []}\n", "choices.cover", 5, "has no value", "leave the key out"},
        {BURIED "anchors: {deadmen: {count: 1, width: 1 m, height: 1 m}}\n",
         "anchors.deadmen.length", 5, "missing", ""},
    };
    EXPECT_FAULTS(rows)
}

Test(site_faults, impossible_geometry)
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
Test(site_faults, all_faults_come_at_once)
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

Test(site_faults, too_many_rows_are_told_not_dropped)
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
