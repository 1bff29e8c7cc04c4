#include "pit.h"

#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/holddown.h"

#include <math.h>

static const char osha[] = "29 CFR 1926 subpart P, appendix B, table B-1";

const struct uf_pit_class uf_pit_classes[] = {
    {'R', "stable rock", osha, 0.0},
    {'A', "type A", osha, 0.75},
    {'B', "type B", osha, 1.0},
    {'C', "type C, submerged, seeping, granular, disturbed or not classified", osha, 1.5},
    {0, NULL, NULL, 0.0},
};

const struct uf_pit_class *uf_pit_class_find(char soil_class)
{
    char wanted = 'C';
    if (soil_class != 0) {
        wanted = soil_class;
    }
    for (const struct uf_pit_class *row = uf_pit_classes; row->name != NULL; row++) {
        if (row->soil_class == wanted) {
            return row;
        }
    }
    return NULL;
}

double uf_pit_prismatoid_m3(double a_m, double b_m, double depth_m, double slope)
{
    const double reach_m = slope * depth_m;
    return depth_m * (a_m * b_m + reach_m * (a_m + b_m) + 4.0 / 3.0 * reach_m * reach_m);
}

/* The floor that holds the tank with its clearance and every anchor; low concrete lies
   under the invert, in the bedding. */
static void set_floor(struct uf_pit *out, const struct uf_case *design, double *low_concrete_m3)
{
    const struct uf_anchors *anchors = &design->anchors;
    const double clearance_m = out->given ? design->burial.pit_clearance_m : 0.0;
    out->base_width_m = uf_tank_plan_width_m(&design->tank) + 2.0 * clearance_m;
    out->base_length_m = uf_tank_plan_length_m(&design->tank) + 2.0 * clearance_m;
    out->depth_m = uf_case_invert_m(design) + design->burial.bedding_m;
    if (anchors->has_pad) {
        out->base_width_m = fmax(out->base_width_m, anchors->pad_width_m);
        out->base_length_m = fmax(out->base_length_m, anchors->pad_length_m);
        out->depth_m += anchors->pad_thickness_m;
        out->concrete_m3 += anchors->pad_length_m * anchors->pad_width_m * anchors->pad_thickness_m;
    }
    if (anchors->deadmen > 0) {
        const double edge_m = uf_holddown_deadman_offset_m(design) + 0.5 * anchors->deadman_width_m;
        const double foot_m = uf_holddown_deadman_top_m(design) + anchors->deadman_height_m;
        out->base_width_m = fmax(out->base_width_m, 2.0 * edge_m);
        out->base_length_m = fmax(out->base_length_m, anchors->deadman_length_m);
        out->depth_m = fmax(out->depth_m, foot_m);
        const double plan_m2 =
            (double)anchors->deadmen * anchors->deadman_width_m * anchors->deadman_length_m;
        const double low_m = fmax(0.0, foot_m - uf_case_invert_m(design));
        out->concrete_m3 += plan_m2 * anchors->deadman_height_m;
        *low_concrete_m3 += plan_m2 * fmin(low_m, anchors->deadman_height_m);
    }
}

/* Volume of the risers between two depths. */
static double risers_m3(const struct uf_case *design, double top_m, double bottom_m)
{
    const double crown_m = uf_case_crown_m(design);
    double sum_m3 = 0.0;
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        const struct uf_riser *riser = &design->tank.risers[i];
        const double from_m = fmax(top_m, crown_m - riser->height_m);
        sum_m3 += 0.25 * UF_PI * riser->diameter_m * riser->diameter_m *
                  fmax(0.0, fmin(bottom_m, crown_m) - from_m);
    }
    return sum_m3;
}

/* The dug volume up to where the fill ends (the board's underside, or grade) and above it. */
struct dug {
    double fill_m, lower_m3, upper_m3;
};

/* Digs the pit, wide enough for the board where that reaches further. */
static struct dug dig(struct uf_pit *out, const struct uf_case *design)
{
    const double slope = design->burial.pit_slope;
    const double fill_m = uf_case_has_board(design) ? uf_case_board_bottom_m(design) : 0.0;
    const double below_m = out->depth_m - fill_m, out_m = 2.0 * slope * below_m;
    const double width_m = fmax(out->base_width_m + out_m, out->board_width_m);
    const double length_m = fmax(out->base_length_m + out_m, out->board_length_m);
    const struct dug dug = {
        .fill_m = fill_m,
        .lower_m3 = uf_pit_prismatoid_m3(out->base_width_m, out->base_length_m, below_m, slope),
        .upper_m3 = uf_pit_prismatoid_m3(width_m, length_m, fill_m, slope)};
    out->top_width_m = width_m + 2.0 * slope * fill_m;
    out->top_length_m = length_m + 2.0 * slope * fill_m;
    out->excavation_m3 = dug.lower_m3 + dug.upper_m3;
    return dug;
}

/* Shares the dug volume out between what goes into it. */
static void fill(struct uf_pit *out, const struct uf_case *design, const struct dug *dug,
                 double low_concrete_m3)
{
    const bool brought = design->burial.has_backfill;
    const double tank_m3 = uf_tank_volume_m3(&design->tank);
    const double floor_m = out->depth_m - uf_case_invert_m(design);
    const double bed_m3 = uf_pit_prismatoid_m3(out->base_width_m, out->base_length_m, floor_m,
                                               design->burial.pit_slope);
    out->displaced_m3 = tank_m3 + risers_m3(design, 0.0, INFINITY);
    out->bedding_m3 = fmax(0.0, bed_m3 - low_concrete_m3);
    const double around_m3 = dug->lower_m3 - tank_m3 - risers_m3(design, dug->fill_m, INFINITY) -
                             out->bedding_m3 - out->concrete_m3 - out->skirt_m3;
    const double over_m3 =
        dug->upper_m3 - risers_m3(design, 0.0, dug->fill_m) - (out->board_m3 - out->skirt_m3);
    out->backfill_m3 = brought ? fmax(0.0, around_m3) : 0.0;
    out->native_m3 = fmax(0.0, over_m3) + (brought ? 0.0 : fmax(0.0, around_m3));
    if (!brought && !design->burial.has_bedding_soil) {
        out->native_m3 += out->bedding_m3;
        out->bedding_m3 = 0.0;
    }
    out->spoil_m3 = out->excavation_m3 - out->native_m3;
}

static void set_volumes(struct uf_pit *out, const struct uf_case *design, double low_concrete_m3)
{
    const struct uf_board *board = &design->board;
    if (uf_case_has_board(design)) {
        out->board_width_m = uf_tank_plan_width_m(&design->tank) + 2.0 * board->beyond_tank_m;
        out->board_length_m = uf_tank_plan_length_m(&design->tank) + 2.0 * board->beyond_tank_m;
        const double skirt_m2 = 2.0 * (out->board_width_m + out->board_length_m) * board->skirt_m;
        out->skirt_m3 = skirt_m2 * board->thickness_m;
        out->board_area_m2 = out->board_width_m * out->board_length_m + skirt_m2;
        out->board_m3 = out->board_area_m2 * board->thickness_m;
    }
    const struct dug dug = dig(out, design);
    fill(out, design, &dug, low_concrete_m3);
}

enum uf_status uf_pit(struct uf_pit *out, const struct uf_case *design, struct uf_error *err)
{
    const struct uf_pit_class *row = uf_pit_class_find(design->burial.soil_class);
    *out = (struct uf_pit){.given = !isnan(design->burial.pit_clearance_m)};
    if (!uf_case_has_tank(design)) {
        return uf_fail_key(err, UF_E_INPUT, "tank", UF_PLAIN("there is nothing to dig for"),
                           UF_PLAIN("give a tank block"));
    }
    if (row == NULL) {
        const char letter[2] = {design->burial.soil_class, '\0'};
        return uf_fail_key(err, UF_E_INPUT, "burial.pit.soil_class",
                           UF_SAID("'{}' is not a class", UF_WORD(letter)), UF_PLAIN("A, B or C"));
    }
    double low_concrete_m3 = 0.0;
    set_floor(out, design, &low_concrete_m3);
    set_volumes(out, design, low_concrete_m3);
    if (!(out->excavation_m3 > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "burial.pit", UF_PLAIN("a size is missing"),
                           UF_PLAIN("sizes of tank, burial and anchors"));
    }
    out->allowed_slope = row->slope;
    out->needs_protection = out->depth_m >= UF_PIT_PROTECT_M;
    out->too_steep =
        out->given && out->needs_protection && design->burial.pit_slope < row->slope - 1e-9;
    out->needs_engineer = out->depth_m >= UF_PIT_ENGINEER_M;
    return UF_OK;
}

/* Adds one item; what is needed and has no price makes the total incomplete. */
static double priced(struct uf_pit_cost *out, double volume_m3, double price)
{
    const double cost = volume_m3 > 0.0 ? volume_m3 * price : 0.0 * price;
    if (isnan(cost)) {
        out->complete = out->complete && !(volume_m3 > 0.0);
        return cost;
    }
    out->total = isnan(out->total) ? cost : out->total + cost;
    return cost;
}

void uf_pit_cost(struct uf_pit_cost *out, const struct uf_pit *pit, double ballast_m3,
                 const struct uf_costs *costs)
{
    *out = (struct uf_pit_cost){.total = NAN, .complete = true};
    out->excavation = priced(out, pit->excavation_m3, costs->excavation_m3);
    out->backfill = priced(out, pit->backfill_m3 + pit->bedding_m3, costs->backfill_m3);
    out->board = priced(out, pit->board_m3, costs->board_m3);
    out->concrete = priced(out, pit->concrete_m3 + ballast_m3, costs->concrete_m3);
}
