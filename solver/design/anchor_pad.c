#include "anchor.h"
#include "tank.h"

#include <math.h>

/* A concrete pad under the bedding. */

static const double THICKNESS_M = 0.2; /* of one that is solved for; common practice, no source */

static struct uf_anchor_body body(const struct uf_case *design)
{
    const struct uf_anchors *a = &design->anchors;
    return (struct uf_anchor_body){.count = a->has_pad ? 1.0 : 0.0,
                                   .tie_m = uf_case_half_width_m(design),
                                   .width_m = a->pad_width_m,
                                   .length_m = a->pad_length_m,
                                   .height_m = a->pad_thickness_m,
                                   .top_m = uf_case_invert_m(design) + design->burial.bedding_m};
}

/* Where the pad is smaller than the tank's plan in one direction, the tank is taken as the rectangle
   around it. */
static double under_m2(const struct uf_case *design)
{
    const struct uf_anchors *a = &design->anchors;
    const double length_m = uf_tank_plan_length_m(&design->tank);
    const double width_m = uf_tank_plan_width_m(&design->tank);
    return a->pad_length_m >= length_m && a->pad_width_m >= width_m
               ? uf_tank_plan_area_m2(&design->tank)
               : fmin(a->pad_length_m, length_m) * fmin(a->pad_width_m, width_m);
}

/* One that reaches so far past the tank. */
static void put(struct uf_case *design, double rim_m)
{
    struct uf_anchors *a = &design->anchors;
    a->has_pad = true;
    a->pad_width_m = uf_tank_plan_width_m(&design->tank) + 2.0 * rim_m;
    a->pad_length_m = uf_tank_plan_length_m(&design->tank) + 2.0 * rim_m;
    a->pad_thickness_m = THICKNESS_M;
}

static double room_m(const struct uf_case *design)
{
    (void)design;
    return INFINITY;
}

static void clear(struct uf_anchors *anchors)
{
    anchors->has_pad = false;
}

static void say(struct uf_message *out, const struct uf_case *design)
{
    const struct uf_anchors *a = &design->anchors;
    uf_message_set(out,
                   UF_SAID("pad {} long, {} wide and {} thick", UF_ROUND(LENGTH, a->pad_length_m),
                           UF_ROUND(LENGTH, a->pad_width_m), UF_ROUND(LENGTH, a->pad_thickness_m)));
}

const struct uf_anchor_row uf_anchor_pad = {
    .word = "pad",
    .one = "pad",
    .soil = "soil over pad",
    .foam = "board over pad",
    .key = "anchors.pad",
    .allowed = "length, width and thickness, all above zero",
    .check = "place and level; what fastens the tank to it is there",
    .sides = 2.0,
    .under_bedding = true,
    .least_m = 0.0,
    .most_m = 2.0,
    .room_m = room_m,
    .body = body,
    .under_m2 = under_m2,
    .put = put,
    .clear = clear,
    .say = say,
};
