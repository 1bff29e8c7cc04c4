#include "wedge.h"

#include "holddown.h"
#include "solver/base/constants.h"
#include "solver/design/anchor.h"

#include <math.h>

/* One side of an anchor: its outer edge, how far the tank's footprint reaches, its top and length. */
struct side {
    double outer_m, shadow_m, top_m, length_m, slope;
    double from_m, to_m; /* only what lies between these distances from the tank's axis */
};

/* Integral of max(0, slope y - gap) from y = 0 to y. */
static double ramp_m2(double slope, double gap_m, double y_m)
{
    const double past_m = slope * y_m - gap_m;
    return past_m > 0.0 ? 0.5 * past_m * past_m / slope : 0.0;
}

static double side_m3(const void *body, double top_m, double bottom_m)
{
    const struct side *side = body;
    const double near_m = fmax(0.0, fmax(side->shadow_m, side->from_m) - side->outer_m);
    const double far_m = fmax(near_m, side->to_m - side->outer_m);
    const double high_m = side->top_m - top_m, low_m = side->top_m - bottom_m;
    return side->length_m *
           (ramp_m2(side->slope, near_m, high_m) - ramp_m2(side->slope, near_m, low_m) -
            ramp_m2(side->slope, far_m, high_m) + ramp_m2(side->slope, far_m, low_m));
}

/* What a wedge holds: soil beside the board, soil and floating foam under it. */
struct load {
    double soil_N, soil_m3, foam_N, lift_N;
};

static enum uf_status weigh(struct load *out, const struct uf_case *design,
                            const struct uf_column_soils *soils, const struct side *side,
                            double water_m, struct uf_error *err)
{
    const bool board = uf_case_has_board(design);
    const double edge_m = board ? uf_case_board_half_width_m(design) : 0.0;
    const struct uf_column_span span = {0.0, side->top_m, water_m};
    *out = (struct load){0};
    for (int under = 0; under < 2 && side->slope > 0.0; under++) {
        struct side part = *side;
        struct uf_column column;
        struct uf_column_weight weight;
        part.from_m = under ? 0.0 : edge_m;
        part.to_m = under ? edge_m : (double)INFINITY;
        uf_column_build(&column, design, soils, under ? design->board.thickness_m : 0.0);
        const enum uf_status status = uf_column_weigh(&weight, &column, &span, side_m3, &part, err);
        if (status != UF_OK) {
            return status;
        }
        out->soil_N += weight.submerged_N;
        out->soil_m3 += weight.volume_m3;
        if (under && board) {
            const double top_m = uf_case_board_top_m(design);
            const double foot_m = fmin(side->top_m, uf_case_board_bottom_m(design));
            const double wet_m = fmin(fmax(water_m, top_m), foot_m);
            out->foam_N +=
                side_m3(&part, top_m, foot_m) * design->board.density_kg_m3 * UF_GRAVITY_M_S2;
            out->lift_N += side_m3(&part, wet_m, foot_m) * UF_WATER_UNIT_N_M3;
        }
    }
    return UF_OK;
}

enum uf_status uf_wedge(struct uf_wedge *out, const struct uf_case *design,
                        const struct uf_column_soils *soils, double water_m, double angle_rad,
                        struct uf_error *err)
{
    struct uf_holddown balance;
    *out = (struct uf_wedge){.angle_rad = angle_rad};
    if (!(angle_rad >= 0.0 && angle_rad < 1.4)) {
        return uf_fail_key(err, UF_E_RANGE, "anchors.wedge_angle", UF_PLAIN("is out of range"),
                           UF_PLAIN("0 to 80 degrees from the vertical"));
    }
    enum uf_status status = uf_holddown_at(&balance, design, soils, water_m, err);
    double holds_N = balance.submerged_N, lifts_N = balance.uplift_N;
    for (int i = 0; i < UF_ANCHORS && status == UF_OK; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        const struct uf_anchor_body body = row->body(design);
        const struct side side = {.outer_m = body.axis_m + 0.5 * body.width_m,
                                  .shadow_m = uf_case_half_width_m(design),
                                  .top_m = body.top_m,
                                  .length_m = body.count * row->sides * body.length_m,
                                  .slope = tan(angle_rad)};
        struct load load = {0};
        if (body.count > 0.0) {
            status = weigh(&load, design, soils, &side, water_m, err);
        }
        out->soil_N[i] = load.soil_N;
        out->soil_m3[i] = load.soil_m3;
        holds_N += load.soil_N + load.foam_N;
        lifts_N += load.lift_N;
    }
    out->factor = balance.uplift_N > 0.0 ? holds_N / lifts_N : (double)NAN;
    return status;
}
