#include "holddown.h"

#include "flotation.h"
#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/dig.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <string.h>

#define LEAST_M2 1e-9 /* smaller is what rounding leaves of a difference of areas */

/* What a part's weight is worked out from. */
struct place {
    const struct uf_case *design;
    const struct uf_column_soils *soils;
    double water_m, fill_m;    /* depths of the water table and of the ground's surface */
    struct uf_column_log *log; /* of the soils' shares, or NULL */
};

/* Names what the column's shares are of, where they are written down. */
static void log_as(struct uf_column *column, const struct place *at, const char *part)
{
    column->log = at->log;
    if (at->log != NULL) {
        at->log->part = part;
    }
}

static double overlap_m(double top_m, double bottom_m, double from_m, double to_m)
{
    return fmax(0.0, fmin(bottom_m, to_m) - fmax(top_m, from_m));
}

/* Room for soil within the tank's footprint between two depths: plan less tank less risers. */
static double footprint_m3(const void *body, double top_m, double bottom_m)
{
    const struct uf_case *design = body;
    const double invert_m = uf_case_invert_m(design);
    const double tank_m3 = uf_tank_submerged_m3(&design->tank, invert_m - top_m) -
                           uf_tank_submerged_m3(&design->tank, invert_m - bottom_m);
    const double plan_m3 = uf_tank_plan_area_m2(&design->tank) * (bottom_m - top_m);
    return fmax(0.0, plan_m3 - tank_m3 - uf_dig_risers_m3(design, top_m, bottom_m));
}

static void add_part(struct uf_holddown *out, const char *name,
                     const struct uf_column_weight *weight, bool structure)
{
    out->parts[out->n_parts++] = (struct uf_holddown_part){.part = name,
                                                           .structure = structure,
                                                           .submerged_N = weight->submerged_N,
                                                           .total_N = weight->total_N,
                                                           .volume_m3 = weight->volume_m3,
                                                           .below_m3 = weight->below_m3};
}

/* A solid body of the structure: board or concrete. */
static void add_solid(struct uf_holddown *out, const char *name, double volume_m3, double below_m3,
                      double unit_N_m3)
{
    const double total_N = volume_m3 * unit_N_m3;
    const struct uf_column_weight weight = {.total_N = total_N,
                                            .submerged_N = total_N - below_m3 * UF_WATER_UNIT_N_M3,
                                            .volume_m3 = volume_m3,
                                            .below_m3 = below_m3};
    add_part(out, name, &weight, true);
}

/* Foam of the board: its weight is a resisting force, its buoyancy an uplift force. */
static void add_foam(struct uf_holddown *out, const struct place *at, const char *name,
                     double volume_m3, double below_m3)
{
    const double total_N = volume_m3 * at->design->board.density_kg_m3 * UF_GRAVITY_M_S2;
    const struct uf_column_weight weight = {
        .total_N = total_N, .submerged_N = total_N, .volume_m3 = volume_m3};
    add_part(out, name, &weight, true);
    out->parts[out->n_parts - 1].lifts_N = below_m3 * UF_WATER_UNIT_N_M3;
    out->displaced_m3 += below_m3;
}

/* Is the board in place: the pit filled up to its top? */
static bool board_lies(const struct place *at)
{
    return uf_case_has_board(at->design) && at->fill_m <= uf_case_board_top_m(at->design);
}

static enum uf_status add_footprint(struct uf_holddown *out, const struct place *at,
                                    struct uf_error *err)
{
    const double crown_m = uf_case_crown_m(at->design);
    const double widest_m = uf_case_invert_m(at->design) - uf_tank_widest_m(&at->design->tank);
    const struct uf_column_span above = {at->fill_m, crown_m, at->water_m};
    const struct uf_column_span shoulder = {fmax(crown_m, at->fill_m), widest_m, at->water_m};
    struct uf_column column;
    struct uf_column_weight weight;
    uf_column_build(&column, at->design, at->soils, at->design->board.thickness_m);
    log_as(&column, at, "soil above");
    enum uf_status status =
        uf_column_weigh(&weight, &column, &above, footprint_m3, at->design, err);
    if (status != UF_OK) {
        return status;
    }
    add_part(out, "soil above", &weight, false);
    log_as(&column, at, "shoulder soil");
    status = uf_column_weigh(&weight, &column, &shoulder, footprint_m3, at->design, err);
    if (status == UF_OK && weight.volume_m3 > 0.0) {
        add_part(out, "shoulder soil", &weight, false);
    }
    return status;
}

static enum uf_status add_board(struct uf_holddown *out, const struct place *at,
                                struct uf_error *err)
{
    const struct uf_case *design = at->design;
    if (!board_lies(at)) {
        return UF_OK;
    }
    if (!(design->board.density_kg_m3 > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "board.type",
                           UF_PLAIN("the board's density is not known"),
                           UF_PLAIN("name a row of the board table or give density"));
    }
    const double top_m = uf_case_board_top_m(design), bottom_m = uf_case_board_bottom_m(design);
    const double wet_m = fmin(fmax(at->water_m, top_m), bottom_m);
    add_foam(out, at, "board", footprint_m3(design, top_m, bottom_m),
             footprint_m3(design, wet_m, bottom_m));
    return UF_OK;
}

/* An anchor: its bodies, and the soil over their clear area outside the tank's footprint. */
struct anchor {
    const struct uf_anchor_row *row;
    struct uf_anchor_body body;
    double clear_m2;
};

/* Plan area of one anchor's body within a rectangle about the tank's middle. */
static double within_m2(const struct anchor *anchor, double half_m, double length_m)
{
    return overlap_m(anchor->body.axis_m - 0.5 * anchor->body.width_m,
                     anchor->body.axis_m + 0.5 * anchor->body.width_m, -half_m, half_m) *
           fmax(0.0, fmin(anchor->body.length_m, length_m));
}

/* The clear area over an anchor by how deep foam hangs there: none, slab, slab and skirt. */
struct cover {
    double area_m2, foam_m;
};

static void covers_of(struct cover covers[3], const struct anchor *anchor,
                      const struct uf_case *design)
{
    const struct uf_board *board = &design->board;
    const double half_m = uf_case_board_half_width_m(design);
    const double length_m = uf_tank_plan_length_m(&design->tank) + 2.0 * board->beyond_tank_m;
    const double rim_m = board->skirt_m > 0.0 ? board->thickness_m : 0.0;
    const double under_m2 = anchor->body.width_m * anchor->body.length_m - anchor->clear_m2;
    const double all_m2 = fmax(0.0, within_m2(anchor, half_m, length_m) - under_m2);
    const double slab_m2 = fmin(
        all_m2, fmax(0.0, within_m2(anchor, half_m - rim_m, length_m - 2.0 * rim_m) - under_m2));
    covers[0] = (struct cover){anchor->clear_m2 - all_m2, 0.0};
    covers[1] = (struct cover){slab_m2, board->thickness_m};
    covers[2] = (struct cover){all_m2 - slab_m2, board->thickness_m + board->skirt_m};
}

/* Soil and foam over an anchor. */
static enum uf_status add_cover(struct uf_holddown *out, const struct place *at,
                                const struct anchor *anchor, struct uf_error *err)
{
    const struct uf_case *design = at->design;
    const struct uf_column_span over = {at->fill_m, anchor->body.top_m, at->water_m};
    const bool board = board_lies(at);
    const double foam_top_m = board ? uf_case_board_top_m(design) : 0.0;
    struct cover covers[3] = {{anchor->clear_m2, 0.0}};
    struct uf_column_weight sum = {0};
    double foam_m3 = 0.0, wet_m3 = 0.0;
    if (board) {
        covers_of(covers, anchor, design);
    }
    for (size_t i = 0; i < 3; i++) {
        struct uf_column column;
        struct uf_column_weight weight;
        const double area_m2 = anchor->body.count * covers[i].area_m2;
        if (!(area_m2 > LEAST_M2)) {
            continue;
        }
        const double foot_m = fmin(anchor->body.top_m, foam_top_m + covers[i].foam_m);
        uf_column_build(&column, design, at->soils, covers[i].foam_m);
        log_as(&column, at, anchor->row->soil);
        const enum uf_status status = uf_column_prism(&weight, &column, &over, area_m2, err);
        if (status != UF_OK) {
            return status;
        }
        sum.submerged_N += weight.submerged_N;
        sum.total_N += weight.total_N;
        sum.volume_m3 += weight.volume_m3;
        sum.below_m3 += weight.below_m3;
        foam_m3 += area_m2 * overlap_m(foam_top_m, foot_m, -INFINITY, INFINITY);
        wet_m3 += area_m2 * overlap_m(foam_top_m, foot_m, at->water_m, INFINITY);
    }
    if (sum.volume_m3 > 0.0) {
        add_part(out, anchor->row->soil, &sum, false);
    }
    if (foam_m3 > 0.0) {
        add_foam(out, at, anchor->row->foam, foam_m3, wet_m3);
    }
    return UF_OK;
}

static enum uf_status add_anchor(struct uf_holddown *out, const struct place *at,
                                 const struct anchor *anchor, struct uf_error *err)
{
    const double bottom_m = anchor->body.top_m + anchor->body.height_m;
    const double area_m2 = anchor->body.count * anchor->body.width_m * anchor->body.length_m;
    add_solid(out, anchor->row->word, area_m2 * anchor->body.height_m,
              area_m2 * overlap_m(anchor->body.top_m, bottom_m, at->water_m, INFINITY),
              at->design->anchors.concrete_N_m3);
    return add_cover(out, at, anchor, err);
}

/* All kinds; the soil over them counts outside the tank's footprint, which has its own. */
static enum uf_status add_anchors(struct uf_holddown *out, const struct place *at,
                                  struct uf_error *err)
{
    const size_t first = out->n_parts;
    enum uf_status status = UF_OK;
    for (int i = 0; i < UF_ANCHORS && status == UF_OK; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        struct anchor anchor = {.row = row, .body = row->body(at->design)};
        const double area_m2 = anchor.body.width_m * anchor.body.length_m;
        if (!(anchor.body.count > 0.0)) {
            continue;
        }
        if (!(area_m2 > 0.0) || !(anchor.body.height_m > 0.0) || !(anchor.body.top_m >= 0.0)) {
            return uf_fail_key(err, UF_E_INPUT, row->key, UF_PLAIN("a size is missing"),
                               UF_PLAIN(row->allowed));
        }
        anchor.clear_m2 = area_m2 - row->under_m2(at->design);
        status = add_anchor(out, at, &anchor, err);
    }
    for (size_t i = first; i < out->n_parts; i++) {
        out->anchors_N += out->parts[i].submerged_N;
    }
    return status;
}

static void sum_up(struct uf_holddown *out)
{
    double em_N = 0.0, em_m3 = out->displaced_m3;
    out->uplift_N = UF_WATER_UNIT_N_M3 * out->displaced_m3;
    out->total_below_m3 = out->displaced_m3;
    for (size_t i = 0; i < out->n_parts; i++) {
        const struct uf_holddown_part *part = &out->parts[i];
        out->submerged_N += part->submerged_N;
        out->total_N += part->total_N;
        out->total_below_m3 += part->below_m3;
        em_N += part->structure ? part->total_N : part->submerged_N;
        em_m3 += part->structure ? part->below_m3 : 0.0;
    }
    out->factor_submerged = out->factor_total = out->factor_em = NAN;
    if (out->uplift_N > 0.0) {
        out->factor_submerged = out->submerged_N / out->uplift_N;
        out->factor_total = out->total_N / (UF_WATER_UNIT_N_M3 * out->total_below_m3);
        out->factor_em = uf_flotation_em_factor(em_N, 0.0, 0.0, UF_WATER_UNIT_N_M3 * em_m3, 0.0);
    }
}

const struct uf_holddown_part *uf_holddown_find(const struct uf_holddown *balance, const char *name)
{
    for (size_t i = 0; i < balance->n_parts; i++) {
        if (strcmp(balance->parts[i].part, name) == 0) {
            return &balance->parts[i];
        }
    }
    return NULL;
}

static enum uf_status check_sizes(const struct uf_case *design, struct uf_error *err)
{
    if (!uf_case_has_tank(design)) {
        return uf_fail_key(err, UF_E_INPUT, "tank", UF_PLAIN("there is no tank to lift"),
                           UF_PLAIN("give a tank block"));
    }
    if (!(uf_tank_volume_m3(&design->tank) > 0.0) || !(uf_tank_plan_area_m2(&design->tank) > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "tank", UF_PLAIN("a size is missing"),
                           UF_PLAIN("sizes all given and above zero"));
    }
    if (uf_shape_is_radial(&design->tank) &&
        2.0 * uf_tank_head_depth_m(&design->tank) > design->tank.height_m) {
        return uf_fail_key(
            err, UF_E_INPUT, "tank.height",
            UF_SAID("{} is less than its two heads need", UF_OF(LENGTH, design->tank.height_m)),
            UF_SAID("at least {}", UF_OF(LENGTH, 2.0 * uf_tank_head_depth_m(&design->tank))));
    }
    if (!(design->burial.cover_m >= 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "burial.cover", UF_PLAIN("is not given"),
                           UF_PLAIN("the depth of the crown, zero or more"));
    }
    return UF_OK;
}

static enum uf_status balance(struct uf_holddown *out, const struct place *at, struct uf_error *err)
{
    typedef enum uf_status add_function(struct uf_holddown *, const struct place *,
                                        struct uf_error *);
    static add_function *const adders[] = {add_footprint, add_board, add_anchors};
    const struct uf_case *design = at->design;
    const double water_m = at->water_m, mass_kg = design->tank.empty_mass_kg;
    const struct uf_column_weight tank = {
        .total_N = isnan(mass_kg) ? 0.0 : mass_kg * UF_GRAVITY_M_S2,
        .submerged_N = isnan(mass_kg) ? 0.0 : mass_kg * UF_GRAVITY_M_S2};
    enum uf_status status = check_sizes(design, err);
    *out = (struct uf_holddown){.water_m = water_m};
    if (status != UF_OK) {
        return status;
    }
    out->displaced_m3 = uf_tank_submerged_m3(&design->tank, uf_case_invert_m(design) - water_m) +
                        uf_dig_risers_m3(design, water_m, INFINITY);
    add_part(out, "tank", &tank, true);
    out->parts[0].lifts_N = UF_WATER_UNIT_N_M3 * out->displaced_m3;
    for (size_t i = 0; i < sizeof adders / sizeof adders[0] && status == UF_OK; i++) {
        status = adders[i](out, at, err);
    }
    sum_up(out);
    return status;
}

enum uf_status uf_holddown_filled(struct uf_holddown *out, const struct uf_case *design,
                                  const struct uf_column_soils *soils, double water_m,
                                  double fill_m, struct uf_error *err)
{
    const struct place at = {
        .design = design, .soils = soils, .water_m = water_m, .fill_m = fill_m};
    return balance(out, &at, err);
}

enum uf_status uf_holddown_at(struct uf_holddown *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, double water_m,
                              struct uf_error *err)
{
    return uf_holddown_filled(out, design, soils, water_m, 0.0, err);
}

enum uf_status uf_holddown_shares(struct uf_column_log *out, const struct uf_case *design,
                                  const struct uf_column_soils *soils, double water_m,
                                  struct uf_error *err)
{
    struct uf_holddown sums;
    const struct place at = {.design = design, .soils = soils, .water_m = water_m, .log = out};
    out->n = 0;
    return balance(&sums, &at, err);
}
