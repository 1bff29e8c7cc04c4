#include "uplift.h"

#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/dig.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>

double uf_uplift_needed_ballast_m3(const struct uf_holddown *balance, double factor)
{
    const double missing_N = factor * balance->uplift_N - balance->submerged_N;
    if (!(balance->uplift_N > 0.0)) {
        return 0.0;
    }
    return fmax(0.0, missing_N) / (UF_UPLIFT_CONCRETE_N_M3 - UF_WATER_UNIT_N_M3);
}

/* Does the required factor hold at this cover? */
static enum uf_status holds_at(bool *holds, struct uf_case *design,
                               const struct uf_column_soils *soils, double cover_m,
                               struct uf_error *err)
{
    struct uf_holddown balance;
    design->burial.cover_m = cover_m;
    const enum uf_status status =
        uf_holddown_at(&balance, design, soils, design->ground.water_highest_m, err);
    *holds = status == UF_OK && (isnan(balance.factor_submerged) ||
                                 balance.factor_submerged >= uf_case_flotation_asked(design));
    return status;
}

/* Halves the bracket between a cover that fails and one that holds. */
static enum uf_status narrow(double *out_m, struct uf_case *design,
                             const struct uf_column_soils *soils, double fails_m, double holds_m,
                             struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (int i = 0; i < 60 && status == UF_OK; i++) {
        const double middle_m = 0.5 * (fails_m + holds_m);
        bool holds = false;
        status = holds_at(&holds, design, soils, middle_m, err);
        *(holds ? &holds_m : &fails_m) = middle_m;
    }
    *out_m = holds_m;
    return status;
}

/* With the table at grade the factor grows with cover; with a lower table it falls first, so the search
   comes from below. The least value is what the board needs to stay in the ground. */
static enum uf_status least_cover(double *out_m, const struct uf_case *design,
                                  const struct uf_column_soils *soils, struct uf_error *err)
{
    static const double step_m = 0.05;
    struct uf_case trial = *design;
    const bool board = uf_case_has_board(design);
    const double least_m = board ? design->board.above_crown_m + design->board.thickness_m : 0.0;
    double holds_m = UF_UPLIFT_DEEPEST_M;
    bool holds = false;
    *out_m = NAN;
    enum uf_status status = holds_at(&holds, &trial, soils, holds_m, err);
    while (status == UF_E_INPUT && holds_m - step_m > design->burial.cover_m) {
        holds_m -= step_m; /* a soil so deep has no weight given */
        status = holds_at(&holds, &trial, soils, holds_m, err);
    }
    if (status != UF_OK || !holds) {
        return status;
    }
    while (holds_m > least_m) {
        const double next_m = fmax(least_m, holds_m - step_m);
        status = holds_at(&holds, &trial, soils, next_m, err);
        if (status != UF_OK) {
            return status;
        }
        if (!holds) {
            return narrow(out_m, &trial, soils, next_m, holds_m, err);
        }
        holds_m = next_m;
    }
    *out_m = holds_m;
    return UF_OK;
}

/* Does the required factor hold with square deadmen of this side? */
static enum uf_status holds_with(bool *holds, const struct uf_case *design,
                                 const struct uf_column_soils *soils, double side_m,
                                 struct uf_error *err)
{
    const struct uf_anchor_row *deadmen = uf_anchor_at(UF_ANCHOR_DEADMEN);
    struct uf_case trial = *design;
    if (side_m > 0.0) {
        deadmen->put(&trial, side_m);
    } else {
        deadmen->clear(&trial.anchors);
    }
    return holds_at(holds, &trial, soils, trial.burial.cover_m, err);
}

enum uf_status uf_uplift_deadman_side(double *out_m, const struct uf_case *design,
                                      const struct uf_column_soils *soils, struct uf_error *err)
{
    double fails_m = 0.0;
    double holds_m = fmin(UF_UPLIFT_WIDEST_M, uf_anchor_at(UF_ANCHOR_DEADMEN)->room_m(design));
    bool holds = false;
    *out_m = NAN;
    enum uf_status status = holds_with(&holds, design, soils, 0.0, err);
    if (status == UF_OK && holds) {
        *out_m = 0.0;
        return UF_OK;
    }
    status = status == UF_OK ? holds_with(&holds, design, soils, holds_m, err) : status;
    if (status != UF_OK || !holds) {
        return status;
    }
    for (int i = 0; i < 60 && status == UF_OK; i++) {
        const double middle_m = 0.5 * (fails_m + holds_m);
        status = holds_with(&holds, design, soils, middle_m, err);
        *(holds ? &holds_m : &fails_m) = middle_m;
    }
    *out_m = holds_m;
    return status;
}

/* Where the straps' legs end, and their angle: tangent to a round tank, from the edge of any other, down
   to the first kind of anchor, or to what lies straight under the tank's side. */
static void find_legs(struct uf_uplift_straps *out, const struct uf_case *design)
{
    const double half_m = uf_case_half_width_m(design);
    const bool round = uf_shape_is_round(&design->tank);
    double x_m = half_m, anchor_m = uf_case_invert_m(design) + design->burial.bedding_m;
    for (int i = UF_ANCHORS - 1; i >= 0; i--) {
        const struct uf_anchor_body body = uf_anchor_at((enum uf_anchor_kind)i)->body(design);
        x_m = body.count > 0.0 ? body.tie_m : x_m;
        anchor_m = body.count > 0.0 ? body.top_m : anchor_m;
    }
    out->tie_x_m = x_m;
    out->tie_below_m = anchor_m - uf_case_crown_m(design) - (round ? half_m : 0.0);
    out->leg_angle_rad = round ? uf_flotation_leg_angle_rad(half_m, x_m, out->tie_below_m)
                               : atan2(fmax(0.0, x_m - half_m), fmax(out->tie_below_m, 0.0));
}

/* The part of that name, all zero where there is none. */
static struct uf_holddown_part part_of(const struct uf_holddown *balance, const char *name)
{
    const struct uf_holddown_part *part = uf_holddown_find(balance, name);
    const struct uf_holddown_part none = {.part = name};
    return part == NULL ? none : *part;
}

static struct uf_uplift_straps straps_of(const struct uf_case *design,
                                         const struct uf_holddown *balance, double volume_m3)
{
    const struct uf_anchors *anchors = &design->anchors;
    const double factor = uf_case_flotation_asked(design);
    struct uf_uplift_straps straps = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (anchors->straps == 0 && !uf_anchor_any(design)) {
        return straps;
    }
    const struct uf_holddown_part tank = part_of(balance, "tank");
    const struct uf_holddown_part board = part_of(balance, "board");
    const double over_N = part_of(balance, "soil above").submerged_N +
                          part_of(balance, "shoulder soil").submerged_N + board.submerged_N;
    const double net_N = factor * (tank.lifts_N + board.lifts_N) - tank.submerged_N - over_N;
    /* Risers lift too where the water is high enough to reach them. */
    const double bare_N =
        factor * fmax(UF_WATER_UNIT_N_M3 * volume_m3, tank.lifts_N) - tank.submerged_N;
    straps.net_N = fmax(0.0, net_N);
    straps.bare_net_N = fmax(0.0, bare_N);
    if (anchors->straps == 0) {
        return straps;
    }
    find_legs(&straps, design);
    straps.leg_N = uf_flotation_leg_N(net_N, anchors->straps, straps.leg_angle_rad);
    straps.bare_leg_N = uf_flotation_leg_N(bare_N, anchors->straps, straps.leg_angle_rad);
    straps.use = fmax(straps.leg_N, straps.bare_leg_N) / anchors->strap_strength_N;
    return straps;
}

static enum uf_status sweep(struct uf_uplift *out, const struct uf_case *design,
                            const struct uf_column_soils *soils, struct uf_error *err)
{
    const double invert_m = uf_case_invert_m(design);
    for (size_t i = 0; i < UF_UPLIFT_SWEEP; i++) {
        struct uf_holddown balance;
        const double water_m = invert_m * (double)i / (double)(UF_UPLIFT_SWEEP - 1);
        const enum uf_status status = uf_holddown_at(&balance, design, soils, water_m, err);
        if (status != UF_OK) {
            return status;
        }
        out->sweep[i] = (struct uf_uplift_sweep){water_m, balance.factor_submerged};
    }
    return UF_OK;
}

enum uf_status uf_uplift_held(struct uf_uplift *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, struct uf_error *err)
{
    const struct uf_holddown *balance = &out->highest;
    const enum uf_status status =
        uf_holddown_at(&out->highest, design, soils, design->ground.water_highest_m, err);
    if (status != UF_OK) {
        return status;
    }
    out->volume_m3 = uf_tank_volume_m3(&design->tank);
    out->required = uf_case_flotation_asked(design);
    const struct uf_holddown_part tank = part_of(balance, "tank"),
                                  board = part_of(balance, "board");
    out->fema =
        uf_flotation_fema(fmax(out->volume_m3, tank.lifts_N / UF_WATER_UNIT_N_M3) + board.volume_m3,
                          tank.submerged_N + board.submerged_N, out->required, UF_WATER_UNIT_N_M3,
                          UF_UPLIFT_CONCRETE_N_M3);
    for (size_t i = 0; i < UF_FLOTATION_PARTIALS; i++) {
        const struct uf_flotation_partial *row = &uf_flotation_partials[i];
        out->upl_submerged[i] = uf_flotation_upl(row, balance->uplift_N, balance->submerged_N);
        out->upl_total[i] =
            uf_flotation_upl(row, UF_WATER_UNIT_N_M3 * balance->total_below_m3, balance->total_N);
    }
    out->straps = straps_of(design, balance, out->volume_m3);
    out->ok = !(balance->factor_submerged < out->required) && !(out->straps.use > 1.0);
    out->needed_ballast_m3 = uf_uplift_needed_ballast_m3(balance, out->required);
    return UF_OK;
}

enum uf_status uf_uplift(struct uf_uplift *out, const struct uf_case *design,
                         const struct uf_column_soils *soils, struct uf_error *err)
{
    enum uf_status status = uf_uplift_held(out, design, soils, err);
    if (status == UF_OK) {
        status = least_cover(&out->least_cover_m, design, soils, err);
    }
    return status == UF_OK ? sweep(out, design, soils, err) : status;
}
