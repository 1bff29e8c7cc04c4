#include "site_private.h"
#include "solver/choice/limit.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Rules that only show between values, after the whole file was read. */

static bool is_given(const struct site_reader *reader, const char *path)
{
    return uf_site_given(reader, path) != NULL;
}

static void blame_key(struct site_reader *reader, const char *key, const char *allowed,
                      const char *what)
{
    const struct site_place place = uf_site_nearest_place(reader, key);
    uf_site_blame(reader, &place, allowed, "%s", what);
}

static void blame_said(struct site_reader *reader, const char *key, struct uf_said what,
                       struct uf_said allowed)
{
    const struct site_place place = uf_site_nearest_place(reader, key);
    struct uf_message said;
    struct uf_message right;
    uf_message_set(&said, what);
    uf_message_set(&right, allowed);
    uf_site_blame_parts(reader, &place, &said, &right);
}

/* Does the block around the key already carry a fault of its own? */
static bool has_fault_at_block(const struct site_reader *reader, const char *key)
{
    const char *dot = strrchr(key, '.');
    for (size_t i = 0; dot != NULL && i < reader->faults->n; i++) {
        const char *blamed = reader->faults->rows[i].key;
        if (strncmp(blamed, key, (size_t)(dot - key)) == 0 && blamed[dot - key] == '\0') {
            return true;
        }
    }
    return false;
}

/* A key that says something only beside another one. */
static void check_companions(struct site_reader *reader)
{
    static const struct {
        const char *key, *companion, *what;
    } rows[] = {
        {"climate.column", "climate.file", "names a column, but no file is given"},
        {"climate.winter", "climate.file", "a winter is chosen from a file of weather"},
        {"burial", "tank", "there is no tank to bury"},
        {"board", "tank", "there is no tank to lay it over"},
        {"anchors", "tank", "there is no tank to hold down"},
        {"load", "tank", "there is no tank below it"},
        {"choices", "tank", "there is no tank to choose for"},
        {"burial.backfill", "burial.pit", "there is no pit to fill"},
        {"burial.bedding_soil", "burial.bedding", "there is no bedding"},
        {"choices.thickness", "board", "no board is named to vary"},
        {"choices.beyond_tank", "board", "no board is named to vary"},
        {"tank.contents.lowest", "tank.contents.level", "the level itself is not given"},
        {"groundwater.mean", "groundwater.amplitude", "a wave needs its amplitude"},
        {"groundwater.mean", "groundwater.highest_on", "a wave needs its highest day"},
        {"groundwater.amplitude", "groundwater.mean", "the wave's mean is not given"},
        {"groundwater.highest_on", "groundwater.mean", "the wave's mean is not given"},
        {"anchors.strap_width", "anchors.straps", "there are no straps"},
        {"quantities.grading", "quantities.sieves", "there is no sieve list to check"},
        {"quantities.sieves", "quantities.grading", "no grading is named to check by"},
        {"roundness.soil", "roundness.compaction", "the compaction is not given"},
        {"roundness.compaction", "roundness.soil", "the kind of fill is not given"},
        {"suction", "tank", "there is no tank to draw from"},
        {"lifting", "tank", "there is no tank to lift"},
        {"initial.profile", "initial.date", "a profile belongs to a day"},
        {"initial.below", "initial.profile", "there is no profile to go on"},
        {"initial.end", "initial.date", "an end belongs to a beginning"},
        {"surface.n_freezing", "surface.n_thawing", "one n-factor alone is not enough"},
        {"surface.n_thawing", "surface.n_freezing", "one n-factor alone is not enough"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (is_given(reader, rows[i].key) && !is_given(reader, rows[i].companion) &&
            !has_fault_at_block(reader, rows[i].key)) {
            char allowed[120];
            (void)snprintf(allowed, sizeof allowed, "give %s, or leave %s out", rows[i].companion,
                           rows[i].key);
            blame_key(reader, rows[i].key, allowed, rows[i].what);
        }
    }
}

static void settle_climate(struct site_reader *reader)
{
    struct uf_site *site = reader->site;
    site->winter_given = is_given(reader, "climate.winter");
    if (is_given(reader, "climate.file")) {
        site->source = UF_SOURCE_FILE;
    } else if (is_given(reader, "climate.cycle")) {
        site->source = UF_SOURCE_CYCLE;
    }
    if (is_given(reader, "climate.cycle.mean") &&
        site->cycle_coldest_day > site->cycle_period_day) {
        blame_key(reader, "climate.cycle.coldest", "at most climate.cycle.period",
                  "lies beyond the cycle's end");
    }
}

/* Does the site file ask for this surface law? */
static bool asks_for(const struct site_reader *reader, const struct uf_surface_row *law)
{
    for (const char *const *key = law->keys; *key != NULL; key++) {
        if (is_given(reader, *key)) {
            return true;
        }
    }
    return false;
}

static void settle_surface(struct site_reader *reader)
{
    struct uf_surface_input *surface = &reader->site->design.surface;
    const bool snow = is_given(reader, "surface.snow");
    const char *fault = NULL;
    char allowed[200] = "";
    int asked = 0;
    for (int kind = UF_SURFACE_LAWS - 1; kind >= 0; kind--) {
        const struct uf_surface_row *law = uf_surface_at((enum uf_surface_kind)kind);
        char rest[sizeof allowed];
        (void)snprintf(rest, sizeof rest, "%s%.190s", allowed[0] != '\0' ? ", or " : "", allowed);
        (void)snprintf(allowed, sizeof allowed, "%s%s", law->asked, rest);
        if (asks_for(reader, law)) {
            surface->kind = (enum uf_surface_kind)kind;
            fault = law->alone != NULL && is_given(reader, "surface") ? law->alone : fault;
            asked++;
        }
    }
    if (fault == NULL && (asked > 1 || snow)) {
        fault = uf_surface_of(surface)->fault(surface, snow);
    }
    if (fault != NULL) {
        blame_key(reader, "surface", allowed, fault);
    }
}

/* What a shape needs and what it has no use for. */
static void check_shape(struct site_reader *reader)
{
    const struct uf_shape_row *shape = uf_shape_of(&reader->site->design.tank);
    for (const struct uf_shape_key *row = shape != NULL ? shape->keys : NULL;
         row != NULL && row->key != NULL; row++) {
        if (is_given(reader, row->key) != row->needed) {
            blame_key(reader, row->key, row->text,
                      row->needed ? "is missing for this shape" : "has no meaning for this shape");
        }
    }
    if (is_given(reader, "tank") && !is_given(reader, "burial.cover") &&
        !is_given(reader, "burial")) {
        blame_key(reader, "burial.cover", "grade to crown, such as 1.2 m", "is missing");
    }
}

static bool has_fault_below(const struct site_reader *reader, const char *path)
{
    for (size_t i = 0; i < reader->faults->n; i++) {
        if (strncmp(reader->faults->rows[i].key, path, strlen(path)) == 0) {
            return true;
        }
    }
    return false;
}

/* A year of the water table drives the frost run, unless one level for it is given. Elsewhere the
   level of mid-January (mid-July in the south) stands for the winter. */
static void settle_water_year(struct site_reader *reader)
{
    struct uf_case *design = &reader->site->design;
    struct uf_ground_input *ground = &design->ground;
    ground->water_moves =
        uf_water_year_given(&ground->year) && !is_given(reader, "groundwater.winter");
    if (ground->water_moves) {
        const int month = design->latitude_deg < 0.0 ? 6 : 0;
        ground->water_winter_m =
            uf_water_year_depth_m(&ground->year, (double)uf_water_year_month_day(month) + 14.0);
    }
}

/* The verdict stands on groundwater.highest: no day of the year may lie above it; where it is not
   given, the year's own highest. */
static void check_water_year(struct site_reader *reader)
{
    const struct uf_water_year *water = &reader->site->design.ground.year;
    struct uf_ground_input *ground = &reader->site->design.ground;
    const double highest_m = reader->site->design.ground.water_highest_m;
    double least_m = water->mean_m - water->amplitude_m;
    for (size_t i = 0; i < water->n_months; i++) {
        least_m = fmin(least_m, water->month_m[i]);
    }
    ground->highest_given = is_given(reader, "groundwater.highest") || isfinite(least_m);
    if (!is_given(reader, "groundwater.highest") && isfinite(least_m)) {
        ground->water_highest_m = least_m;
        return;
    }
    if (least_m < highest_m - 1e-9) {
        blame_said(reader, "groundwater.highest",
                   UF_SAID("the water through the year rises to {}, above the {} here",
                           UF_OF(LENGTH, least_m), UF_OF(LENGTH, highest_m)),
                   UF_SAID("at most {}, or a lower year", UF_OF(LENGTH, least_m)));
    }
}

static void check_layers(struct site_reader *reader)
{
    const struct uf_ground_input *ground = &reader->site->design.ground;
    for (size_t i = 0; i + 1 < ground->n_layers; i++) {
        char key[40];
        char row[40];
        (void)snprintf(key, sizeof key, "ground[%zu].to", i);
        (void)snprintf(row, sizeof row, "ground[%zu]", i);
        if (!is_given(reader, key) && !has_fault_below(reader, row)) {
            blame_key(reader, key, "depth of the layer's underside; only the last may do without",
                      "is missing");
        }
    }
    if (is_given(reader, "groundwater.highest") &&
        ground->water_highest_m > ground->water_winter_m) {
        blame_key(reader, "groundwater.highest", "at most groundwater.winter",
                  "the highest table lies below the winter's");
    }
    const size_t months = ground->year.n_months;
    if (months != 0 && months != 12) {
        blame_said(reader, "groundwater.by_month", UF_SAID("{} depths are given", UF_COUNT(months)),
                   UF_PLAIN("twelve, one a month"));
    }
    if (is_given(reader, "groundwater.mean") && !(is_given(reader, "groundwater.amplitude") &&
                                                  is_given(reader, "groundwater.highest_on"))) {
        blame_key(reader, "groundwater.mean",
                  "with groundwater.amplitude and groundwater.highest_on",
                  "a wave needs more than its mean");
    }
    check_water_year(reader);
    settle_water_year(reader);
    int weights = 0;
    for (int i = 0; i < UF_ANCHORS; i++) {
        char key[UF_NAME_SIZE];
        (void)snprintf(key, sizeof key, "%s.unit_weight",
                       uf_anchor_at((enum uf_anchor_kind)i)->key);
        weights += is_given(reader, key) ? 1 : 0;
        if (weights > 1) {
            blame_key(reader, key, "one of them", "the unit weight of concrete is given twice");
        }
    }
}

/* What is judged by another key instead is not judged as well; the intake of a suction pipe is where
   the outlet lies. */
static void settle_water(struct site_reader *reader)
{
    struct uf_case *design = &reader->site->design;
    for (size_t i = 0; i < uf_limit_count; i++) {
        const struct uf_limit *limit = &uf_limits[i];
        if (limit->instead != NULL && is_given(reader, limit->instead) &&
            !is_given(reader, limit->key)) {
            limit->give_way(&design->limits);
        }
    }
    if (is_given(reader, "suction.intake_above_invert")) {
        design->tank.outlet_m = reader->site->works.suction.intake_above_invert_m;
    }
}

static void settle_points(struct site_reader *reader)
{
    struct uf_case *design = &reader->site->design;
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        struct uf_riser *riser = &design->tank.risers[i];
        if (isnan(riser->above_grade_m)) {
            riser->above_grade_m = riser->height_m - uf_case_crown_m(design);
        }
    }
    for (size_t i = 0; i < design->n_probes; i++) {
        struct uf_probe *probe = &design->probes[i];
        char key[40];
        (void)snprintf(key, sizeof key, "probes[%zu]", i);
        if (probe->name[0] == '\0') {
            (void)snprintf(probe->name, sizeof probe->name, "probe %zu", i + 1);
        }
        if (isnan(probe->below_crown_m) && isnan(probe->above_invert_m)) {
            continue;
        }
        if (!is_given(reader, "tank") && !has_fault_below(reader, key)) {
            blame_key(reader, key, "depth", "there is no tank to measure from");
        }
        probe->depth_m = !isnan(probe->below_crown_m)
                             ? uf_case_crown_m(design) + probe->below_crown_m
                             : uf_case_invert_m(design) - probe->above_invert_m;
    }
    for (size_t i = 0; i < design->n_pipes; i++) {
        if (design->pipes[i].name[0] == '\0') {
            (void)snprintf(design->pipes[i].name, sizeof design->pipes[i].name, "pipe %zu", i + 1);
        }
    }
    if (design->initial.date != UF_NO_DAY && design->initial.end != UF_NO_DAY &&
        design->initial.end <= design->initial.date) {
        blame_key(reader, "initial.end", "a day after initial.date",
                  "the run ends before it begins");
    }
}

/* Thinner than any foam board, and below what the grid is made for. */
static void check_thickness(struct site_reader *reader, const char *key, double thickness_m)
{
    static const double least_m = 0.005;
    if (thickness_m > 0.0 && thickness_m < least_m - 1e-9) {
        blame_said(reader, key, UF_SAID("{} is no board", UF_OF(THICKNESS, thickness_m)),
                   UF_SAID("0 mm for none, or at least {}", UF_OF(THICKNESS, least_m)));
    }
}

static void check_boards(struct site_reader *reader)
{
    const struct uf_case *design = &reader->site->design;
    check_thickness(reader, "board.thickness", design->board.thickness_m);
    for (size_t i = 0; i < design->choices.n_thickness && is_given(reader, "choices.thickness");
         i++) {
        check_thickness(reader, "choices.thickness", design->choices.thickness_m[i]);
    }
}

/* Can such a soil be: water within its pores, grains heavier than the whole? */
static void check_soil(struct site_reader *reader, const char *path,
                       const struct uf_ground_spec *spec)
{
    struct uf_soil_state state;
    struct uf_error err = {0};
    if ((spec->soil == NULL && !spec->has_thermal) || has_fault_below(reader, path)) {
        return;
    }
    if (uf_soil_resolve(&state, spec, reader->site->design.ground.method, false, &err) != UF_OK) {
        char key[200];
        (void)snprintf(key, sizeof key, "%.60s%s%s", path, err.fault.key[0] != '\0' ? "." : "",
                       err.fault.key);
        const struct site_place place = uf_site_nearest_place(reader, key);
        uf_site_blame_parts(reader, &place, &err.fault.what, &err.fault.allowed);
    }
}

static void check_soils(struct site_reader *reader)
{
    const struct uf_case *design = &reader->site->design;
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        char path[40];
        (void)snprintf(path, sizeof path, "ground[%zu]", i);
        check_soil(reader, path, &design->ground.layers[i].spec);
    }
    if (design->burial.has_backfill) {
        check_soil(reader, "burial.backfill", &design->burial.backfill);
    }
    if (design->burial.has_bedding_soil) {
        check_soil(reader, "burial.bedding_soil", &design->burial.bedding_soil);
    }
}

static void check_case(struct site_reader *reader)
{
    struct uf_fault faults[40];
    const size_t room = sizeof faults / sizeof faults[0];
    const size_t n = uf_case_check(&reader->site->design, faults, room);
    for (size_t i = 0; i < n && i < room; i++) {
        const struct site_place place = uf_site_nearest_place(reader, faults[i].key);
        uf_site_blame_parts(reader, &place, &faults[i].what, &faults[i].allowed);
    }
}

void uf_site_rules(struct site_reader *reader)
{
    settle_climate(reader);
    settle_surface(reader);
    check_companions(reader);
    check_shape(reader);
    check_layers(reader);
    settle_points(reader);
    settle_water(reader);
    check_boards(reader);
    check_soils(reader);
    check_case(reader);
    uf_site_observed_rules(reader);
    uf_site_drawing_rules(reader);
}
