#include "anchor.h"
#include "case_private.h"
#include "shape.h"
#include "tank.h"

#include <math.h>

/* Concrete beams beside the tank, straps over it. By default just outside the tank; level with its
   invert, or as much higher as it takes to stand on the bedding's underside. */

static double top_m(const struct uf_case *design)
{
    const double invert_m = uf_case_invert_m(design);
    const double stands_m = invert_m + design->burial.bedding_m - design->anchors.deadman_height_m;
    return isnan(design->anchors.deadman_top_m) ? fmin(invert_m, stands_m)
                                                : design->anchors.deadman_top_m;
}

static struct uf_anchor_body body(const struct uf_case *design)
{
    const struct uf_anchors *a = &design->anchors;
    const double axis_m = isnan(a->deadman_offset_m)
                              ? uf_case_half_width_m(design) + 0.5 * a->deadman_width_m
                              : a->deadman_offset_m;
    return (struct uf_anchor_body){.count = (double)a->deadmen,
                                   .axis_m = axis_m,
                                   .tie_m = axis_m,
                                   .width_m = a->deadman_width_m,
                                   .length_m = a->deadman_length_m,
                                   .height_m = a->deadman_height_m,
                                   .top_m = top_m(design)};
}

static double under_m2(const struct uf_case *design)
{
    const struct uf_anchor_body one = body(design);
    const double half_m = uf_case_half_width_m(design);
    const double across_m = fmin(one.axis_m + 0.5 * one.width_m, half_m) -
                            fmax(one.axis_m - 0.5 * one.width_m, -half_m);
    return fmax(0.0, across_m) * fmin(one.length_m, uf_tank_plan_length_m(&design->tank));
}

/* As many and as long as designed, else two as long as the tank's plan, of square section. */
static void put(struct uf_case *design, double side_m)
{
    struct uf_anchors *a = &design->anchors;
    if (a->deadmen == 0) {
        a->deadmen = 2;
        a->deadman_length_m = uf_tank_plan_length_m(&design->tank);
    }
    a->deadman_width_m = a->deadman_height_m = side_m;
}

/* The tallest that stands on the bedding's underside with its top where it is given, else no higher
   than the tank's widest level. */
static double room_m(const struct uf_case *design)
{
    const double given_m = design->anchors.deadman_top_m;
    return isnan(given_m) ? design->burial.bedding_m + uf_tank_widest_m(&design->tank)
                          : uf_anchor_floor_m(design) - given_m;
}

static void clear(struct uf_anchors *anchors)
{
    anchors->deadmen = 0;
}

/* No strap holds over a deadman that lies higher than the tank's widest level, and the soil there
   counts already; below the floor of the pit as asked nothing is dug. */
static void check_depth(struct uf_case_faults *faults, const struct uf_case *design,
                        double widest_m)
{
    const struct uf_anchors *a = &design->anchors;
    const char *key = isnan(a->deadman_top_m) ? "anchors.deadmen.height" : "anchors.deadmen.top";
    const double foot_m = top_m(design) + a->deadman_height_m, floor_m = uf_anchor_floor_m(design);
    if (top_m(design) < widest_m - 1e-9) {
        uf_case_blame(faults, key,
                      UF_SAID("its top, {} down, lies above the tank's widest level, {}",
                              UF_OF(LENGTH, top_m(design)), UF_OF(LENGTH, widest_m)),
                      UF_PLAIN("at or below the tank's widest level"));
    } else if (foot_m > floor_m + 1e-9) {
        uf_case_blame(faults, key,
                      UF_SAID("the deadman reaches {} down, below the pit's floor at {}",
                              UF_OF(LENGTH, foot_m), UF_OF(LENGTH, floor_m)),
                      UF_SAID("a top at {} or higher, or burial.bedding of {} or more",
                              UF_OF(LENGTH, floor_m - a->deadman_height_m),
                              UF_OF(LENGTH, design->burial.bedding_m + foot_m - floor_m)));
    }
}

/* Deadmen stand beside or below the tank. */
static void check_case(struct uf_case_faults *faults, const struct uf_case *design)
{
    const struct uf_anchors *a = &design->anchors;
    const double widest_m = uf_case_invert_m(design) - uf_tank_widest_m(&design->tank);
    const double half_m = uf_case_half_width_m(design), down_m = top_m(design);
    const double near_m = isnan(a->deadman_offset_m)
                              ? half_m
                              : fmax(0.0, a->deadman_offset_m - 0.5 * a->deadman_width_m);
    const double along_m = uf_tank_plan_length_m(&design->tank);
    const double a_side_m = ceil(0.5 * (double)a->deadmen) * a->deadman_length_m;
    check_depth(faults, design, widest_m);
    if (down_m >= widest_m - 1e-9 && down_m < uf_case_invert_m(design) - 1e-9 &&
        (uf_shape_is_round(&design->tank) ? hypot(near_m, down_m - widest_m) < half_m - 1e-9
                                          : near_m < half_m - 1e-9)) {
        uf_case_blame(
            faults, "anchors.deadmen.offset",
            UF_SAID("the deadman's top, {} down, would lie in the tank", UF_OF(LENGTH, down_m)),
            UF_PLAIN("clear of the tank"));
    }
    if (a_side_m > 2.0 * along_m) {
        uf_case_blame(faults, "anchors.deadmen.count",
                      UF_SAID("{} of {} make {} a side of a tank {} long", UF_COUNT(a->deadmen),
                              UF_OF(LENGTH, a->deadman_length_m), UF_OF(LENGTH, a_side_m),
                              UF_OF(LENGTH, along_m)),
                      UF_PLAIN("deadmen that lie end to end on both sides of the tank"));
    }
}

static void say(struct uf_message *out, const struct uf_case *design)
{
    const struct uf_anchors *a = &design->anchors;
    uf_message_set(out, UF_SAID("{} deadmen, each {} wide, {} high and {} long",
                                UF_COUNT(a->deadmen), UF_ROUND(LENGTH, a->deadman_width_m),
                                UF_ROUND(LENGTH, a->deadman_height_m),
                                UF_ROUND(LENGTH, a->deadman_length_m)));
}

const struct uf_anchor_row uf_anchor_deadmen = {
    .word = "deadmen",
    .one = "deadman",
    .soil = "soil over deadmen",
    .foam = "board over deadmen",
    .key = "anchors.deadmen",
    .allowed = "width, height and length, all above zero, and a top below grade",
    .check = "offset, level and stations as drawn; strap ends laid out and free",
    .sides = 1.0,
    .least_m = 0.1,
    .most_m = 1.5,
    .room_m = room_m,
    .body = body,
    .under_m2 = under_m2,
    .put = put,
    .clear = clear,
    .check_case = check_case,
    .say = say,
};
