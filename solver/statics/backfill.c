#include "backfill.h"

#include "solver/design/anchor.h"
#include "solver/design/tank.h"

#include <math.h>

#define ZONES 8 /* levels at which a lift ends: at most so many */

void uf_backfill_init(struct uf_backfill_input *input)
{
    *input = (struct uf_backfill_input){.lift_m = NAN, .water_m = NAN};
}

static void add_level(double *levels_m, size_t *n, double depth_m, double floor_m)
{
    if (depth_m >= 0.0 && depth_m < floor_m - 1e-9) {
        levels_m[(*n)++] = depth_m;
    }
}

/* Deepest first, each once. Returns how many. */
static size_t sort_levels(double *levels_m, size_t n)
{
    size_t kept = 0;
    for (size_t i = 1; i < n; i++) {
        const double level_m = levels_m[i];
        size_t k = i;
        for (; k > 0 && levels_m[k - 1] < level_m; k--) {
            levels_m[k] = levels_m[k - 1];
        }
        levels_m[k] = level_m;
    }
    for (size_t i = 0; i < n; i++) {
        if (kept == 0 || levels_m[kept - 1] - levels_m[i] > 1e-6) {
            levels_m[kept++] = levels_m[i];
        }
    }
    return kept;
}

/* Depths at which lifts end, from the lowest up. */
static size_t find_levels(double levels_m[ZONES], const struct uf_case *design,
                          const struct uf_dig *dig, double foot_m)
{
    size_t n = 0;
    add_level(levels_m, &n, dig->invert_m, foot_m);
    add_level(levels_m, &n, dig->invert_m - uf_tank_widest_m(&design->tank), foot_m);
    add_level(levels_m, &n, uf_case_crown_m(design), foot_m);
    add_level(levels_m, &n, dig->fill_top_m, foot_m);
    if (uf_case_has_board(design)) {
        add_level(levels_m, &n, uf_case_board_bottom_m(design), foot_m);
        add_level(levels_m, &n, uf_case_board_top_m(design), foot_m);
    }
    add_level(levels_m, &n, 0.0, foot_m);
    return sort_levels(levels_m, n);
}

static bool is_board(const struct uf_case *design, double top_m, double bottom_m)
{
    const double middle_m = 0.5 * (top_m + bottom_m);
    return uf_case_has_board(design) && middle_m > uf_case_board_top_m(design) &&
           middle_m < uf_case_board_bottom_m(design);
}

static enum uf_status add_row(struct uf_backfill *out, const struct uf_backfill_row *row,
                              struct uf_error *err)
{
    if (out->n == UF_BACKFILL_ROWS) {
        return uf_fail_key(err, UF_E_INPUT, "works.lift",
                           UF_PLAIN("makes more than 120 lifts of this pit"),
                           UF_PLAIN("thicker lifts"));
    }
    out->rows[out->n++] = *row;
    return UF_OK;
}

/* The zone between two levels in equal lifts. */
static enum uf_status add_zone(struct uf_backfill *out, const struct uf_case *design,
                               const struct uf_dig *dig, double lift_m,
                               const struct uf_backfill_row *zone, struct uf_error *err)
{
    const bool board = is_board(design, zone->top_m, zone->bottom_m);
    const double tall_m = zone->bottom_m - zone->top_m;
    const size_t n = board || isnan(lift_m) ? 1 : (size_t)ceil(tall_m / lift_m - 1e-9);
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < n && status == UF_OK; i++) {
        struct uf_backfill_row row = *zone;
        row.bottom_m = zone->bottom_m - tall_m * (double)i / (double)n;
        row.top_m = zone->bottom_m - tall_m * (double)(i + 1) / (double)n;
        row.kind = board ? UF_BACKFILL_BOARD : UF_BACKFILL_LIFT;
        row.soil = uf_dig_soil_at(dig, &design->burial, 0.0, 0.5 * (row.top_m + row.bottom_m));
        row.beside =
            row.bottom_m <= dig->invert_m + 1e-9 && row.top_m >= uf_case_crown_m(design) - 1e-9;
        status = add_row(out, &row, err);
    }
    return status;
}

/* The tank on its bedding, then tied down where something can. */
static enum uf_status add_tank(struct uf_backfill *out, const struct uf_case *design,
                               struct uf_error *err)
{
    const double invert_m = uf_case_invert_m(design);
    struct uf_backfill_row row = {
        .kind = UF_BACKFILL_SET, .top_m = invert_m, .bottom_m = invert_m, .has_tank = true};
    enum uf_status status = add_row(out, &row, err);
    if (status == UF_OK && uf_anchor_any(design)) {
        row.kind = UF_BACKFILL_STRAPPED;
        row.held = true;
        status = add_row(out, &row, err);
    }
    return status;
}

static enum uf_status weigh(struct uf_backfill *out, const struct uf_case *design,
                            const struct uf_column_soils *soils, struct uf_error *err)
{
    struct uf_case loose = *design;
    enum uf_status status = UF_OK;
    uf_anchor_clear(&loose.anchors);
    for (size_t i = 0; i < out->n && status == UF_OK; i++) {
        struct uf_backfill_row *row = &out->rows[i];
        row->stage.fill_m = row->top_m;
        row->outside_m = fmax(0.0, uf_case_invert_m(design) - out->water_m);
        if (row->has_tank) {
            status = uf_wet_pit_stage(&row->stage, row->held ? design : &loose, soils, out->water_m,
                                      err);
        }
    }
    return status;
}

enum uf_status uf_backfill(struct uf_backfill *out, const struct uf_case *design,
                           const struct uf_column_soils *soils,
                           const struct uf_backfill_input *input, struct uf_error *err)
{
    const struct uf_dig dig = uf_dig_of(design);
    const double foot_m = uf_anchor_bedding_foot_m(design, dig.floor_m);
    const bool anchored = uf_anchor_any(design);
    double levels_m[ZONES];
    struct uf_backfill_row zone = {.bottom_m = foot_m};
    enum uf_status status = UF_OK;
    *out = (struct uf_backfill){.water_m = isnan(input->water_m) ? 0.0 : input->water_m};
    const size_t n = find_levels(levels_m, design, &dig, foot_m);
    if (!(foot_m > dig.invert_m + 1e-9)) {
        status = add_tank(out, design, err); /* no bedding */
        zone.has_tank = true;
        zone.held = anchored;
    }
    for (size_t i = 0; i < n && status == UF_OK; i++) {
        zone.top_m = levels_m[i];
        status = add_zone(out, design, &dig, input->lift_m, &zone, err);
        if (status == UF_OK && !zone.has_tank && zone.top_m <= dig.invert_m + 1e-9) {
            status = add_tank(out, design, err);
            zone.has_tank = true;
            zone.held = anchored;
        }
        zone.bottom_m = zone.top_m;
    }
    return status == UF_OK ? weigh(out, design, soils, err) : status;
}
