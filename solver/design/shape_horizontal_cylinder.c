#include "shape.h"
#include "solver/base/constants.h"
#include "tank.h"

/* A horizontal cylinder; its heads stand outside its length. */

UF_SHAPE_NUMBER(diameter_m, tank->diameter_m)
UF_SHAPE_NUMBER(plan_length_m, tank->length_m + 2.0 * uf_tank_head_depth_m(tank))

static double plan_area_m2(const struct uf_tank *tank)
{
    const double radius_m = 0.5 * tank->diameter_m;
    return tank->diameter_m * tank->length_m + UF_PI * radius_m * uf_tank_head_depth_m(tank);
}

UF_SHAPE_NUMBER(springline_m, 0.5 * tank->diameter_m)

static double straight_m(const struct uf_tank *tank, double wall_m)
{
    const bool flat = !(uf_tank_head_depth_m(tank) > 0.0);
    return tank->length_m - (flat ? 2.0 * wall_m : 0.0);
}

static void below_sizes(struct uf_shape_size sizes[UF_SHAPE_SIZES], const struct uf_tank *tank,
                        double wall_m)
{
    sizes[0] = (struct uf_shape_size){"R", 0.5 * tank->diameter_m - wall_m, false};
    sizes[1] = (struct uf_shape_size){"s", straight_m(tank, wall_m), false};
    const double heads_m3 = uf_shape_heads_m3(tank, wall_m);
    sizes[2] = (struct uf_shape_size){heads_m3 > 0.0 ? "Vh" : NULL, heads_m3, true};
    sizes[3] = (struct uf_shape_size){.name = NULL};
}

static double below_m3(const struct uf_tank *tank, double wall_m, double h_m)
{
    const double radius_m = 0.5 * tank->diameter_m - wall_m;
    return uf_tank_segment_m2(radius_m, h_m) * straight_m(tank, wall_m) +
           uf_shape_heads_m3(tank, wall_m) * uf_tank_heads_share(0.5 * h_m / radius_m);
}

static const struct uf_shape_key keys[] = {
    {"tank.diameter", "the outside diameter", true},
    {"tank.length", "the length between the heads", true},
    {"tank.width", "diameter and length", false},
    {"tank.height", "diameter and length", false},
    {NULL, NULL, false},
};

const struct uf_shape_row uf_shape_horizontal_cylinder = {
    .keys = keys,
    .round_section = true,
    .has_heads = true,
    .across = "\u00d8 ",
    .along = "length ",
    .height_m = diameter_m,
    .plan_length_m = plan_length_m,
    .plan_width_m = diameter_m,
    .plan_area_m2 = plan_area_m2,
    .widest_m = springline_m,
    .end_area_m2 = uf_shape_ends_m2,
    .below_m3 = below_m3,
    .below =
        "V = s [R^2 arccos((R - h) / R) - (R - h) (2 R h - h^2)^0.5] + Vh (3 x^2 - 2 x^3), x = h / 2 R, Vh "
        "of both heads",
    .below_sizes = below_sizes,
};
