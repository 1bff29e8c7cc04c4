#include "tank.h"

#include "shape.h"

#include <math.h>

static double clamp(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

double uf_tank_segment_m2(double radius_m, double height_m)
{
    const double h_m = clamp(height_m, 0.0, 2.0 * radius_m);
    if (!(radius_m > 0.0)) {
        return 0.0;
    }
    const double half_rad = acos(1.0 - h_m / radius_m);
    return radius_m * radius_m * (half_rad - 0.5 * sin(2.0 * half_rad));
}

double uf_tank_heads_share(double x)
{
    const double x_in = clamp(x, 0.0, 1.0);
    return x_in * x_in * (3.0 - 2.0 * x_in);
}

double uf_tank_head_depth_m(const struct uf_tank *tank)
{
    static const double share_of_diameter[] = {
        [UF_FLAT] = 0.0, [UF_HEMISPHERICAL] = 0.5, [UF_ELLIPSOIDAL_2_TO_1] = 0.25};
    const struct uf_shape_row *shape = uf_shape_of(tank);
    if (shape == NULL || !shape->has_heads) {
        return 0.0;
    }
    return share_of_diameter[tank->heads] * tank->diameter_m;
}

/* What a row answers; nothing without a tank. */
static double ask(const struct uf_tank *tank, double (*answer)(const struct uf_tank *tank))
{
    return answer != NULL ? answer(tank) : 0.0;
}
#define ASK(tank, what) ask((tank), uf_shape_of(tank) != NULL ? uf_shape_of(tank)->what : NULL)

static double below_m3(const struct uf_tank *tank, double wall_m, double h_m)
{
    const struct uf_shape_row *shape = uf_shape_of(tank);
    return shape != NULL ? shape->below_m3(tank, wall_m, h_m) : 0.0;
}

double uf_tank_heads_m3(const struct uf_tank *tank)
{
    const struct uf_shape_row *shape = uf_shape_of(tank);
    return shape != NULL && shape->has_heads ? uf_shape_heads_m3(tank, 0.0) : 0.0;
}

double uf_tank_volume_m3(const struct uf_tank *tank)
{
    return uf_tank_submerged_m3(tank, INFINITY);
}

double uf_tank_content_m3(const struct uf_tank *tank, double level_m)
{
    const double wall_m = isnan(tank->wall_thickness_m) ? 0.0 : tank->wall_thickness_m;
    return below_m3(tank, wall_m, level_m);
}

double uf_tank_submerged_m3(const struct uf_tank *tank, double height_m)
{
    return below_m3(tank, 0.0, clamp(height_m, 0.0, uf_tank_height_m(tank)));
}

double uf_tank_half_length_m(double length_m, double head_m, double radius_m, double off_axis_m)
{
    const double share = head_m > 0.0 ? off_axis_m / radius_m : 1.0;
    return 0.5 * length_m + head_m * sqrt(fmax(0.0, 1.0 - share * share));
}

double uf_tank_height_m(const struct uf_tank *tank)
{
    return ASK(tank, height_m);
}

double uf_tank_widest_m(const struct uf_tank *tank)
{
    return ASK(tank, widest_m);
}

double uf_tank_end_area_m2(const struct uf_tank *tank)
{
    return ASK(tank, end_area_m2);
}

double uf_tank_plan_length_m(const struct uf_tank *tank)
{
    return ASK(tank, plan_length_m);
}

double uf_tank_plan_width_m(const struct uf_tank *tank)
{
    return ASK(tank, plan_width_m);
}

double uf_tank_plan_area_m2(const struct uf_tank *tank)
{
    return ASK(tank, plan_area_m2);
}
