#include "dig.h"

#include "anchor.h"
#include "solver/base/constants.h"
#include "tank.h"

#include <math.h>

/* Widens the floor for the anchors. */
static void hold_anchors(struct uf_dig *dig, const struct uf_case *design)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body = uf_anchor_at((enum uf_anchor_kind)i)->body(design);
        if (body.count > 0.0) {
            dig->across_m = fmax(dig->across_m, body.axis_m + 0.5 * body.width_m);
            dig->along_m = fmax(dig->along_m, 0.5 * body.length_m);
        }
    }
}

struct uf_dig uf_dig_of(const struct uf_case *design)
{
    const struct uf_burial *burial = &design->burial;
    const bool board = uf_case_has_board(design);
    const double clearance_m = isnan(burial->pit_clearance_m) ? 0.0 : burial->pit_clearance_m;
    const double across_m = 0.5 * uf_tank_plan_width_m(&design->tank);
    const double along_m = 0.5 * uf_tank_plan_length_m(&design->tank);
    struct uf_dig dig = {.floor_m = uf_anchor_floor_m(design),
                         .across_m = across_m + clearance_m,
                         .along_m = along_m + clearance_m,
                         .slope = burial->pit_slope,
                         .shelf_m = board ? uf_case_board_bottom_m(design) : 0.0,
                         .invert_m = uf_case_invert_m(design),
                         .fill_top_m = fmax(0.0, uf_case_crown_m(design) - burial->fill_over_m)};
    hold_anchors(&dig, design);
    const double out_m = dig.slope * (dig.floor_m - dig.shelf_m);
    const double beyond_m = board ? design->board.beyond_tank_m : 0.0;
    dig.shelf_across_m = fmax(dig.across_m + out_m, across_m + beyond_m);
    dig.shelf_along_m = fmax(dig.along_m + out_m, along_m + beyond_m);
    return dig;
}

static double half_m(const struct uf_dig *dig, double floor_half_m, double shelf_half_m,
                     double depth_m)
{
    return depth_m >= dig->shelf_m ? floor_half_m + dig->slope * (dig->floor_m - depth_m)
                                   : shelf_half_m + dig->slope * (dig->shelf_m - depth_m);
}

double uf_dig_half_width_m(const struct uf_dig *dig, double depth_m)
{
    return half_m(dig, dig->across_m, dig->shelf_across_m, depth_m);
}

double uf_dig_half_length_m(const struct uf_dig *dig, double depth_m)
{
    return half_m(dig, dig->along_m, dig->shelf_along_m, depth_m);
}

double uf_dig_frustum_m3(double a_m, double b_m, double height_m, double slope)
{
    const double reach_m = slope * height_m;
    return height_m * (a_m * b_m + reach_m * (a_m + b_m) + 4.0 / 3.0 * reach_m * reach_m);
}

/* Dug from a depth up to grade. */
static double above_m3(const struct uf_dig *dig, double depth_m)
{
    const double low_m = fmin(fmax(depth_m, 0.0), dig->floor_m);
    const double lower_m = fmax(0.0, low_m - dig->shelf_m);
    const double upper_m = low_m - lower_m;
    const double from_m = fmax(low_m, dig->shelf_m);
    const double wide_m = dig->shelf_across_m + dig->slope * (dig->shelf_m - upper_m);
    const double long_m = dig->shelf_along_m + dig->slope * (dig->shelf_m - upper_m);
    return uf_dig_frustum_m3(2.0 * uf_dig_half_width_m(dig, from_m),
                             2.0 * uf_dig_half_length_m(dig, from_m), lower_m, dig->slope) +
           uf_dig_frustum_m3(2.0 * wide_m, 2.0 * long_m, upper_m, dig->slope);
}

double uf_dig_volume_m3(const struct uf_dig *dig, double top_m, double bottom_m)
{
    return above_m3(dig, bottom_m) - above_m3(dig, top_m);
}

/* Four sides of a frustum from its lower to its upper halves. */
static double sides_m2(double across_m, double along_m, double height_m, double slope)
{
    const double rise_m = fmax(0.0, height_m);
    return 4.0 * (across_m + along_m + slope * rise_m) * rise_m * hypot(1.0, slope);
}

double uf_dig_skin_m2(const struct uf_dig *dig, double top_m)
{
    const double to_m = fmax(top_m, dig->shelf_m);
    const double floor_m2 = 4.0 * dig->across_m * dig->along_m;
    const double lower_m2 = sides_m2(dig->across_m, dig->along_m, dig->floor_m - to_m, dig->slope);
    if (!(top_m < dig->shelf_m)) {
        return floor_m2 + lower_m2;
    }
    const double shelf_m2 =
        4.0 * dig->shelf_across_m * dig->shelf_along_m -
        4.0 * uf_dig_half_width_m(dig, dig->shelf_m) * uf_dig_half_length_m(dig, dig->shelf_m);
    return floor_m2 + lower_m2 + shelf_m2 +
           sides_m2(dig->shelf_across_m, dig->shelf_along_m, dig->shelf_m - top_m, dig->slope);
}

static double overlap_m(double top_m, double bottom_m, double from_m, double to_m)
{
    return fmax(0.0, fmin(bottom_m, to_m) - fmax(top_m, from_m));
}

double uf_dig_sleeves_m3(const struct uf_case *design, double top_m, double bottom_m)
{
    const double crown_m = uf_case_crown_m(design);
    double sum_m3 = 0.0;
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        const struct uf_riser *riser = &design->tank.risers[i];
        const double thick_m = riser->shell.sleeve_m;
        sum_m3 += UF_PI * (riser->diameter_m + thick_m) * thick_m *
                  overlap_m(top_m, bottom_m, fmax(0.0, uf_case_riser_top_m(design, riser)),
                            fmin(crown_m, riser->shell.sleeve_length_m));
    }
    return sum_m3;
}

double uf_dig_risers_m3(const struct uf_case *design, double top_m, double bottom_m)
{
    const double crown_m = uf_case_crown_m(design);
    double sum_m3 = 0.0;
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        const struct uf_riser *riser = &design->tank.risers[i];
        sum_m3 += 0.25 * UF_PI * riser->diameter_m * riser->diameter_m *
                  overlap_m(top_m, bottom_m, uf_case_riser_top_m(design, riser), crown_m);
    }
    return sum_m3 + uf_dig_sleeves_m3(design, top_m, bottom_m);
}

double uf_dig_skirt_m3(const struct uf_case *design)
{
    const double around_m =
        2.0 * (uf_tank_plan_width_m(&design->tank) + uf_tank_plan_length_m(&design->tank)) +
        8.0 * design->board.beyond_tank_m;
    return uf_case_has_board(design) ? around_m * design->board.skirt_m * design->board.thickness_m
                                     : 0.0;
}

static double foam_m3(const struct uf_case *design, double top_m, double bottom_m)
{
    const double beyond_m = design->board.beyond_tank_m, skirt_m = design->board.skirt_m;
    const double plan_m2 = (uf_tank_plan_width_m(&design->tank) + 2.0 * beyond_m) *
                           (uf_tank_plan_length_m(&design->tank) + 2.0 * beyond_m);
    if (!uf_case_has_board(design)) {
        return 0.0;
    }
    const double from_m = fmax(top_m, uf_case_board_top_m(design));
    const double edge_m = uf_case_board_bottom_m(design), to_m = fmin(bottom_m, edge_m);
    const double slab_m3 =
        to_m > from_m ? plan_m2 * (to_m - from_m) - uf_dig_risers_m3(design, from_m, to_m) : 0.0;
    const double hung_m3 = skirt_m > 0.0 ? uf_dig_skirt_m3(design) / skirt_m *
                                               overlap_m(top_m, bottom_m, edge_m, edge_m + skirt_m)
                                         : 0.0;
    return slab_m3 + hung_m3;
}

double uf_dig_solids_m3(const struct uf_case *design, double top_m, double bottom_m)
{
    const double invert_m = uf_case_invert_m(design);
    return uf_tank_submerged_m3(&design->tank, invert_m - top_m) -
           uf_tank_submerged_m3(&design->tank, invert_m - bottom_m) +
           uf_dig_risers_m3(design, top_m, bottom_m) +
           uf_anchor_between_m3(design, top_m, bottom_m) + foam_m3(design, top_m, bottom_m);
}

enum uf_dig_soil uf_dig_soil_at(const struct uf_dig *dig, const struct uf_burial *burial,
                                double x_m, double depth_m)
{
    if (depth_m >= dig->floor_m || !(fabs(x_m) < uf_dig_half_width_m(dig, depth_m))) {
        return UF_DIG_NATIVE;
    }
    if (depth_m > dig->invert_m && burial->has_bedding_soil) {
        return UF_DIG_BEDDING;
    }
    return burial->has_backfill && depth_m > dig->fill_top_m ? UF_DIG_FILL : UF_DIG_NATIVE;
}
