#include "shape.h"
#include "solver/base/constants.h"
#include "tank.h"

#include <math.h>

/* A vertical cylinder; its heads are part of its height. */

UF_SHAPE_NUMBER(diameter_m, tank->diameter_m)
UF_SHAPE_NUMBER(height_m, tank->height_m)

static double plan_area_m2(const struct uf_tank *tank)
{
    const double radius_m = 0.5 * tank->diameter_m;
    return UF_PI * radius_m * radius_m;
}

UF_SHAPE_NUMBER(foot_of_upper_head_m, tank->height_m - uf_tank_head_depth_m(tank))

static void below_sizes(struct uf_shape_size sizes[UF_SHAPE_SIZES], const struct uf_tank *tank,
                        double wall_m)
{
    const double head_m = uf_shape_head_m(tank, wall_m);
    sizes[0] = (struct uf_shape_size){"R", 0.5 * tank->diameter_m - wall_m, false};
    sizes[1] = (struct uf_shape_size){"s", tank->height_m - 2.0 * wall_m - 2.0 * head_m, false};
    sizes[2] = (struct uf_shape_size){head_m > 0.0 ? "e" : NULL, head_m, false};
    sizes[3] = (struct uf_shape_size){"Vh", uf_shape_heads_m3(tank, wall_m), true};
    sizes[4] = (struct uf_shape_size){.name = NULL};
}

static double below_m3(const struct uf_tank *tank, double wall_m, double h_m)
{
    const double radius_m = 0.5 * tank->diameter_m - wall_m;
    const double head_m = uf_shape_head_m(tank, wall_m);
    const double between_m = tank->height_m - 2.0 * wall_m - 2.0 * head_m;
    const double level_m = fmax(h_m, 0.0);
    const double straight_m = fmin(fmax(level_m - head_m, 0.0), between_m);
    const double shell_m3 = UF_PI * radius_m * radius_m * straight_m;
    if (!(head_m > 0.0)) {
        return shell_m3;
    }
    return shell_m3 + uf_shape_heads_m3(tank, wall_m) *
                          uf_tank_heads_share((level_m - straight_m) / (2.0 * head_m));
}

static const struct uf_shape_key keys[] = {
    {"tank.diameter", "the outside diameter", true},
    {"tank.height", "the outside height", true},
    {"tank.width", "diameter and height", false},
    {"tank.length", "diameter and height", false},
    {NULL, NULL, false},
};

const struct uf_shape_row uf_shape_vertical_cylinder = {
    .keys = keys,
    .radial = true,
    .has_heads = true,
    .across = "\u00d8 ",
    .along = "height ",
    .height_m = height_m,
    .plan_length_m = diameter_m,
    .plan_width_m = diameter_m,
    .plan_area_m2 = plan_area_m2,
    .widest_m = foot_of_upper_head_m,
    .end_area_m2 = uf_shape_ends_m2,
    .below_m3 = below_m3,
    .below =
        "V = pi R^2 u + Vh (3 x^2 - 2 x^3), u = what of h lies in the straight part (from e to e + s), x = "
        "(h - u) / 2 e, Vh of both heads; without heads e = Vh = 0 and V = pi R^2 h",
    .below_sizes = below_sizes,
};
