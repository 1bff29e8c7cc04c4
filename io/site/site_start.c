#include "site_start.h"

#include "site_private.h"
#include "solver/base/name.h"
#include "solver/choice/limit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Shapes a value is meant for, as bits. */
enum { LYING = 1, STANDING = 2, BOX = 4, BARE = 8, TANK = 7, ANY = 15 };

static const struct {
    const char *name;
    unsigned bit;
} shapes[] = {
    {"horizontal_cylinder", LYING}, {"vertical_cylinder", STANDING}, {"box", BOX}, {"none", BARE}};

/* What stands behind a key in the file. off: behind a '#', to be taken in by deleting it.
   A list has its rows as lines. A key without a row here is not written. */
static const struct example {
    const char *path;
    unsigned shapes;
    bool off;
    const char *value; /* NULL: the default of its key */
    const char *us;    /* the same in US customary units; NULL: as it stands */
} examples[] = {
    {"site.name", ANY, false, "My site", NULL},
    {"project.title", ANY, true, "Fire-water cistern", NULL},
    {"project.number", ANY, true, "24-117", NULL},
    {"project.client", ANY, true, "the fire district", NULL},
    {"project.revision", ANY, true, "A", NULL},
    {"project.prepared_by", ANY, true, "name", NULL},
    {"project.checked_by", ANY, true, "name", NULL},
    {"project.date", ANY, true, "2026-05-04", NULL},
    {"drawing.benchmark", TANK, true, "bolt at the gate, 100.000", NULL},
    {"drawing.grade_level", TANK, true, "99.65 m", "326.94 ft"},
    {"drawing.axis_bearing", TANK, true, "90 degrees", NULL},
    {"drawing.origin", TANK, true, "left end 6.00 m east of the gate post, axis along the fence",
     NULL},
    {"drawing.riser_stations", LYING | BOX, true, "[3 m]", "[10 ft]"},
    {"drawing.strap_stations", LYING, true, "[0.75 m, 2.25 m, 3.75 m, 5.25 m]",
     "[2.5 ft, 7.5 ft, 12.5 ft, 17.5 ft]"},
    {"drawing.routes", LYING | BOX, true,
     "- {pipe: suction, along: [6 m, 9 m, 9 m], across: [0 m, 0 m, 5 m], fall: -0.5 percent}",
     "- {pipe: suction, along: [20 ft, 30 ft, 30 ft], across: [0 ft, 0 ft, 16 ft], fall: -0.5 percent}"},
    {"climate.winter", ANY, false, NULL, NULL},
    {"climate.cycle.mean", ANY, true, "5 degC", "41 degF"},
    {"climate.cycle.amplitude", ANY, true, "15 K", "27 degF"},
    {"climate.cycle.coldest", ANY, true, NULL, NULL},
    {"climate.surface_temperature.file", ANY, true, "sensor.csv", NULL},
    {"climate.surface_temperature.column", ANY, true, "soil_5cm", NULL},
    {"climate.surface_temperature.depth", ANY, true, "0.05 m", "2 in"},
    {"surface.film", ANY, false, NULL, "2.6 BTU/hr/ft2/degF"},
    {"surface.snow", ANY, false, NULL, NULL},
    {"surface.type", ANY, true, "turf", NULL},
    {"surface.n_freezing", ANY, true, "0.5", NULL},
    {"surface.n_thawing", ANY, true, "0.8", NULL},
    {"ground", ANY, false,
     "- {to: 0.3 m, soil: topsoil}\n- {to: 2.0 m, soil: silt}\n- {to: 15 m, soil: clay}",
     "- {to: 1 ft, soil: topsoil}\n- {to: 6 ft, soil: silt}\n- {to: 50 ft, soil: clay}"},
    {"conductivity", ANY, true, NULL, NULL},
    {"geothermal", ANY, true, "0.06 W/m2", "0.02 BTU/hr/ft2"},
    {"groundwater.winter", ANY, false, "3 m", "10 ft"},
    {"groundwater.highest", TANK, false, NULL, "0 ft"},
    {"initial.profile", ANY, true, "[[0 m, 9 degC], [10 m, 7 degC]]",
     "[[0 ft, 48 degF], [33 ft, 45 degF]]"},
    {"initial.below", ANY, true, NULL, NULL},
    {"initial.date", ANY, true, "2014-10-02", NULL},
    {"initial.end", ANY, true, "2015-06-30", NULL},
    {"tank.diameter", LYING, false, "2.4 m", "8 ft"},
    {"tank.diameter", STANDING, false, "2.0 m", "6 ft 6 in"},
    {"tank.width", BOX, false, "1.5 m", "5 ft"},
    {"tank.height", STANDING | BOX, false, "1.6 m", "5 ft 3 in"},
    {"tank.length", LYING, false, "6.0 m", "20 ft"},
    {"tank.length", BOX, false, "2.6 m", "8 ft 6 in"},
    {"tank.heads", LYING, false, NULL, NULL},
    {"tank.ends", LYING, false, NULL, NULL},
    {"tank.empty_mass", LYING, false, "1100 kg", "2400 lb"},
    {"tank.empty_mass", STANDING | BOX, false, "5200 kg", "11500 lb"},
    {"tank.wall.thickness", LYING, false, "10 mm", "3/8 in"},
    {"tank.wall.thickness", STANDING | BOX, false, "100 mm", "4 in"},
    {"tank.wall.conductivity", LYING, false, "0.25 W/m/K", "0.145 BTU/hr/ft/degF"},
    {"tank.wall.conductivity", STANDING | BOX, false, "1.7 W/m/K", "1 BTU/hr/ft/degF"},
    {"tank.contents.level", LYING, false, "2.2 m", "7 ft 4 in"},
    {"tank.contents.level", STANDING | BOX, false, "1.2 m", "4 ft"},
    {"tank.contents.lowest", TANK, true, "0.6 m", "2 ft"},
    {"tank.contents.start", TANK, false, "8 degC", "46 degF"},
    {"tank.contents.water", TANK, true, "layered", NULL},
    {"tank.contents.hold", TANK, true, "5 degC", "41 degF"},
    {"tank.inflow.rate", TANK, true, "1 m3/day", "260 gal/day"},
    {"tank.inflow.temperature", TANK, true, "6 degC", "43 degF"},
    {"tank.risers", TANK, false,
     "- {diameter: 0.6 m, above_grade: 0 m, lid: 0.6 m2.K/W, sleeve: {thickness: 100 mm}}",
     "- {diameter: 24 in, above_grade: 0 ft, lid: R-4, sleeve: {thickness: 4 in}}"},
    {"burial.cover", TANK, false, "1.2 m", "4 ft"},
    {"burial.bedding", TANK, false, "0.3 m", "1 ft"},
    {"burial.pit.clearance", TANK, false, "0.6 m", "2 ft"},
    {"burial.pit.slope", TANK, false, "1.5", NULL},
    {"burial.pit.soil_class", TANK, true, "B", NULL},
    {"burial.backfill.soil", TANK, false, "pea_gravel", NULL},
    {"burial.bedding_soil.soil", TANK, true, "sand", NULL},
    {"board.type", TANK, false, "XPS_IV", NULL},
    {"board.thickness", TANK, false, "100 mm", "4 in"},
    {"board.beyond_tank", TANK, false, "1.2 m", "4 ft"},
    {"board.above_crown", TANK, false, "0.15 m", "6 in"},
    {"board.skirt", TANK, true, "0.3 m", "1 ft"},
    {"anchors.deadmen.count", LYING, false, "2", NULL},
    {"anchors.deadmen.width", LYING, false, "0.45 m", "18 in"},
    {"anchors.deadmen.height", LYING, false, "0.4 m", "16 in"},
    {"anchors.deadmen.length", LYING, false, "6.0 m", "20 ft"},
    {"anchors.straps", LYING, false, "4", NULL},
    {"anchors.pad.length", STANDING | BOX, false, "3.2 m", "10 ft 6 in"},
    {"anchors.pad.width", STANDING | BOX, false, "3.0 m", "10 ft"},
    {"anchors.pad.thickness", STANDING | BOX, false, "0.2 m", "8 in"},
    {"load.wheel", TANK, false, NULL, NULL},
    {"probes", TANK, false, "- {name: outlet, x: 0 m, above_invert: 0.1 m, least: 0 degC}",
     "- {name: outlet, x: 0 ft, above_invert: 4 in, least: 32 degF}"},
    {"probes", BARE, false, "- {name: pipe depth, depth: 1.5 m, least: 0 degC}",
     "- {name: pipe depth, depth: 5 ft, least: 32 degF}"},
    {"pipes", ANY, true, "- {name: suction, diameter: 150 mm, depth: 1.8 m, under_board: no}",
     "- {name: suction, diameter: 6 in, depth: 6 ft, under_board: no}"},
    {"grid.finest", ANY, true, "50 mm", "2 in"},
    {"grid.width", ANY, true, NULL, "50 ft"},
    {"grid.depth", ANY, true, NULL, "50 ft"},
    {"choices.cover", TANK, false, "[0.9 m, 1.2 m, 1.5 m, 1.8 m]", "[3 ft, 4 ft, 5 ft, 6 ft]"},
    {"choices.thickness", TANK, false, "[0 mm, 50 mm, 75 mm, 100 mm, 150 mm]",
     "[0 in, 2 in, 3 in, 4 in, 6 in]"},
    {"choices.beyond_tank", TANK, false, "[0.6 m, 1.2 m]", "[2 ft, 4 ft]"},
    {"costs.currency", TANK, true, "CAD", "USD"},
    {"costs.excavation", TANK, true, "25 /m3", "20 /yd3"},
    {"costs.board", TANK, true, "240 /m3", "185 /yd3"},
    {"costs.concrete", TANK, true, "450 /m3", "345 /yd3"},
    {"costs.backfill", TANK, true, "35 /m3", "27 /yd3"},
};
#define N_EXAMPLES (sizeof examples / sizeof examples[0])

/* The example of a key for a shape, the limits' own from their table; value NULL: none. */
static struct example find_example(const char *path, unsigned shape)
{
    for (size_t i = 0; i < N_EXAMPLES; i++) {
        if (strcmp(examples[i].path, path) == 0 && (examples[i].shapes & shape) != 0) {
            return examples[i];
        }
    }
    const struct uf_limit *limit = uf_limit_find(path);
    const struct uf_limit_start *start = limit != NULL ? limit->start : NULL;
    return start != NULL && (TANK & shape) != 0
               ? (struct example){path, TANK, start->off, start->value, start->us}
               : (struct example){0};
}

static const char *in_units(const struct example *example, enum uf_units units)
{
    return units == UF_UNITS_US && example->us != NULL ? example->us : example->value;
}

const char *uf_site_start_value(const char *path, enum uf_units units)
{
    const struct example found = find_example(path, ANY);
    return in_units(&found, units);
}

/* What is written: the shape's bit and the values that only this call knows. */
struct writer {
    FILE *out;
    const struct uf_site_start *start;
    unsigned shape;
    char latitude[40], file[UF_TEXT_SIZE], column[UF_TEXT_SIZE], own[48];
};

/* The value of a key for this shape; *off says whether it goes behind a '#'. NULL: none. */
static const char *find_value(struct writer *writer, const char *path, bool *off)
{
    *off = false;
    if (strcmp(path, "climate.file") == 0) {
        return writer->file;
    }
    if (strcmp(path, "climate.column") == 0) {
        return writer->column[0] != '\0' ? writer->column : NULL;
    }
    if (strcmp(path, "units") == 0) {
        return writer->start->units == UF_UNITS_US ? "us" : "si";
    }
    if (strcmp(path, "site.latitude") == 0) {
        return writer->latitude[0] != '\0' ? writer->latitude : NULL;
    }
    if (strcmp(path, "climate.winter") == 0 && writer->start->winter != NULL) {
        return writer->start->winter;
    }
    if (strcmp(path, "tank.shape") == 0) {
        return writer->shape != BARE ? writer->start->shape : NULL;
    }
    const struct example found = find_example(path, writer->shape);
    if (found.path == NULL) {
        return NULL;
    }
    const char *value = in_units(&found, writer->start->units);
    *off = found.off;
    return value != NULL ? value
                         : uf_site_default(writer->own, sizeof writer->own, uf_site_find_key(path));
}

/* Is there a value below the block, and is one of them in force? */
static bool find_below(struct writer *writer, const char *block, bool *off)
{
    const size_t n = strlen(block);
    bool found = false;
    *off = true;
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        const char *path = uf_site_keys[i].path;
        bool value_off = true;
        if (strncmp(path, block, n) == 0 && path[n] == '.' &&
            find_value(writer, path, &value_off) != NULL) {
            found = true;
            *off = *off && value_off;
        }
    }
    return found;
}

static size_t depth_of(const char *path)
{
    size_t n = 0;
    for (; *path != '\0'; path++) {
        n += *path == '.';
    }
    return n;
}

/* One line: '#' or nothing, indent, key, value, and the help behind it. */
static void write_line(FILE *out, bool off, const struct site_key *key, const char *value)
{
    const size_t depth = depth_of(key->path);
    const char *dot = strrchr(key->path, '.');
    char line[200];
    (void)snprintf(line, sizeof line, "%s%*s%s:%s%s", off ? "#" : "", (int)(2 * depth), "",
                   dot != NULL ? dot + 1 : key->path, value[0] != '\0' ? " " : "", value);
    (void)fprintf(out, "%-40s  # %s\n", line, key->help);
}

/* Rows of a list, then what else a row may hold. */
static void write_rows(FILE *out, bool off, const struct site_key *list, const char *rows,
                       enum uf_units units)
{
    const int indent = 2 * ((int)depth_of(list->path) + 1);
    const size_t n = strlen(list->path);
    while (*rows != '\0') {
        const size_t length = strcspn(rows, "\n");
        (void)fprintf(out, "%s%*s%.*s\n", off ? "#" : "", indent, "", (int)length, rows);
        rows += length + (rows[length] == '\n');
    }
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        const struct site_key *key = &uf_site_keys[i];
        if (strncmp(key->path, list->path, n) == 0 && strncmp(key->path + n, "[].", 3) == 0 &&
            strchr(key->path + n + 3, '.') == NULL) {
            (void)fprintf(out, "%*s# %s%s%s: %s\n", indent, "", key->path + n + 3,
                          key->unit[0] != '\0' ? ", in " : "", uf_site_unit(key->unit, units),
                          key->help);
        }
    }
}

static void write_key(struct writer *writer, const struct site_key *key)
{
    bool off = false;
    const bool is_block = key->kind == &uf_site_block || key->kind == &uf_site_anchors;
    const char *value = find_value(writer, key->path, &off);
    if (value == NULL && (!is_block || !find_below(writer, key->path, &off))) {
        return;
    }
    if (depth_of(key->path) == 0 && (is_block || key->kind == &uf_site_list)) {
        (void)fputc('\n', writer->out);
    }
    if (key->kind == &uf_site_list) {
        write_line(writer->out, off, key, "");
        write_rows(writer->out, off, key, value, writer->start->units);
    } else {
        write_line(writer->out, off, key, value != NULL ? value : "");
    }
}

/* A user's text as a YAML scalar, quoted where it must be. false when it does not fit or
   holds control characters. */
static bool quote_yaml(char *out, size_t size, const char *text)
{
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./";
    const bool quoted = text[0] != '\0' && strspn(text, plain) != strlen(text);
    size_t n = 0;
    if (2 * strlen(text) + 3 > size) {
        return false;
    }
    if (quoted) {
        out[n++] = '\'';
    }
    for (; *text != '\0'; text++) {
        if ((unsigned char)*text < 0x20U || *text == 0x7F) {
            return false;
        }
        out[n++] = *text;
        if (*text == '\'') {
            out[n++] = '\'';
        }
    }
    if (quoted) {
        out[n++] = '\'';
    }
    out[n] = '\0';
    return true;
}

enum uf_status uf_site_start_write(FILE *out, const struct uf_site_start *start,
                                   struct uf_error *err)
{
    struct writer writer = {.out = out, .start = start, .shape = 0};
    for (size_t i = 0; i < sizeof shapes / sizeof shapes[0]; i++) {
        if (strcmp(shapes[i].name, start->shape) == 0) {
            writer.shape = shapes[i].bit;
        }
    }
    if (writer.shape == 0) {
        return uf_fail(err, UF_E_INPUT,
                       "shape '%.40s': horizontal_cylinder, vertical_cylinder, box or none",
                       start->shape);
    }
    if (!quote_yaml(writer.file, sizeof writer.file, start->climate_file) ||
        !quote_yaml(writer.column, sizeof writer.column,
                    start->column != NULL ? start->column : "")) {
        return uf_fail(
            err, UF_E_INPUT,
            "the name of the climate file or column: under 120 bytes, no control characters");
    }
    if (!isnan(start->latitude_deg)) {
        (void)snprintf(writer.latitude, sizeof writer.latitude, "%.4g degrees_north",
                       start->latitude_deg);
    }
    (void)fputs(
        "# A site for underfrost. Every value carries its unit. A line that "
        "begins with '#' holds\n"
        "# what may be left out: delete the '#' to take it in. The figures are a "
        "beginning, not\n"
        "# advice: put in what was measured on the site and what the tank's manufacturer says.\n",
        out);
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        write_key(&writer, &uf_site_keys[i]);
    }
    return ferror(out) ? uf_fail(err, UF_E_FILE, "the site file could not be written") : UF_OK;
}
