#include "shape.h"

#include <math.h>

/* A box; its section is width by height, its length lies along the axis. */

UF_SHAPE_NUMBER(height_m, tank->height_m)
UF_SHAPE_NUMBER(length_m, tank->length_m)
UF_SHAPE_NUMBER(width_m, tank->width_m)
UF_SHAPE_NUMBER(plan_area_m2, tank->width_m * tank->length_m)
UF_SHAPE_NUMBER(end_area_m2, 2.0 * tank->width_m * tank->height_m)

static double below_m3(const struct uf_tank *tank, double wall_m, double h_m)
{
    const double across_m = tank->width_m - 2.0 * wall_m;
    const double along_m = tank->length_m - 2.0 * wall_m;
    return across_m * along_m * fmin(fmax(h_m, 0.0), tank->height_m - 2.0 * wall_m);
}

static void below_sizes(struct uf_shape_size sizes[UF_SHAPE_SIZES], const struct uf_tank *tank,
                        double wall_m)
{
    sizes[0] = (struct uf_shape_size){"a", tank->width_m - 2.0 * wall_m, false};
    sizes[1] = (struct uf_shape_size){"b", tank->length_m - 2.0 * wall_m, false};
    sizes[2] = (struct uf_shape_size){.name = NULL};
}

static const struct uf_shape_key keys[] = {
    {"tank.width", "the outside width", true},
    {"tank.height", "the outside height", true},
    {"tank.length", "the outside length", true},
    {"tank.diameter", "width, height and length", false},
    {"tank.heads", "width, height and length", false},
    {NULL, NULL, false},
};

const struct uf_shape_row uf_shape_box = {
    .keys = keys,
    .across = "width ",
    .along = "length ",
    .height_m = height_m,
    .plan_length_m = length_m,
    .plan_width_m = width_m,
    .plan_area_m2 = plan_area_m2,
    .widest_m = height_m,
    .end_area_m2 = end_area_m2,
    .below_m3 = below_m3,
    .below = "V = a b h",
    .below_sizes = below_sizes,
};
