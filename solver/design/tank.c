#include "tank.h"

#include "solver/base/constants.h"

#include <math.h>

/* A solid of the tank's kind: the outside, or the room inside the shell. */
struct body {
    enum uf_shape shape;
    double radius_m, head_m;            /* cylinders; head_m: depth of one head */
    double straight_m;                  /* between the heads */
    double width_m, height_m, length_m; /* box */
};

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
    if (tank->shape != UF_HORIZONTAL_CYLINDER && tank->shape != UF_VERTICAL_CYLINDER) {
        return 0.0;
    }
    return share_of_diameter[tank->heads] * tank->diameter_m;
}

/* The tank shrunk by wall_m on every side; 0 gives its outside. */
static struct body body_of(const struct uf_tank *tank, double wall_m)
{
    const double head_m = uf_tank_head_depth_m(tank);
    struct body body = {.shape = tank->shape};
    if (tank->shape == UF_BOX) {
        body.width_m = tank->width_m - 2.0 * wall_m;
        body.height_m = tank->height_m - 2.0 * wall_m;
        body.length_m = tank->length_m - 2.0 * wall_m;
        return body;
    }
    body.radius_m = 0.5 * tank->diameter_m - wall_m;
    body.head_m = head_m > 0.0 ? head_m - wall_m : 0.0;
    if (tank->shape == UF_HORIZONTAL_CYLINDER) {
        body.straight_m = tank->length_m - (head_m > 0.0 ? 0.0 : 2.0 * wall_m);
    } else if (tank->shape == UF_VERTICAL_CYLINDER) {
        body.straight_m = tank->height_m - 2.0 * wall_m - 2.0 * body.head_m;
    }
    return body;
}

static double both_heads_m3(const struct body *body)
{
    return 4.0 / 3.0 * UF_PI * body->radius_m * body->radius_m * body->head_m;
}

/* Volume of a vertical cylinder and its two heads below h_m. */
static double upright_m3(const struct body *body, double h_m)
{
    const double heads_m3 = both_heads_m3(body), span_m = 2.0 * body->head_m;
    const double straight_m = clamp(h_m - body->head_m, 0.0, body->straight_m);
    const double shell_m3 = UF_PI * body->radius_m * body->radius_m * straight_m;
    if (!(span_m > 0.0)) {
        return shell_m3;
    }
    return shell_m3 + heads_m3 * uf_tank_heads_share((h_m - straight_m) / span_m);
}

static double below_m3(const struct body *body, double h_m)
{
    switch (body->shape) {
    case UF_HORIZONTAL_CYLINDER:
        return uf_tank_segment_m2(body->radius_m, h_m) * body->straight_m +
               both_heads_m3(body) * uf_tank_heads_share(0.5 * h_m / body->radius_m);
    case UF_VERTICAL_CYLINDER:
        return upright_m3(body, fmax(h_m, 0.0));
    case UF_BOX:
        return body->width_m * body->length_m * clamp(h_m, 0.0, body->height_m);
    case UF_NO_TANK:
        break;
    }
    return 0.0;
}

double uf_tank_volume_m3(const struct uf_tank *tank)
{
    return uf_tank_submerged_m3(tank, INFINITY);
}

double uf_tank_content_m3(const struct uf_tank *tank, double level_m)
{
    const double wall_m = isnan(tank->wall_thickness_m) ? 0.0 : tank->wall_thickness_m;
    const struct body inside = body_of(tank, wall_m);
    return below_m3(&inside, level_m);
}

double uf_tank_submerged_m3(const struct uf_tank *tank, double height_m)
{
    const struct body outside = body_of(tank, 0.0);
    const double tall_m = tank->shape == UF_HORIZONTAL_CYLINDER ? tank->diameter_m : tank->height_m;
    return below_m3(&outside, clamp(height_m, 0.0, tall_m));
}

double uf_tank_widest_m(const struct uf_tank *tank)
{
    switch (tank->shape) {
    case UF_HORIZONTAL_CYLINDER:
        return 0.5 * tank->diameter_m;
    case UF_VERTICAL_CYLINDER:
    case UF_BOX:
        return tank->height_m - uf_tank_head_depth_m(tank);
    case UF_NO_TANK:
        break;
    }
    return 0.0;
}

/* Surface of an oblate ellipsoid of half axes R, R, c:
     2 pi R^2 (1 + (1 - e^2) atanh(e)/e),  e^2 = 1 - (c/R)^2;  a sphere for c = R. */
static double ellipsoid_m2(double radius_m, double c_m)
{
    const double e = sqrt(fmax(0.0, 1.0 - c_m * c_m / (radius_m * radius_m)));
    const double term = e > 0.0 ? (1.0 - e * e) * atanh(e) / e : 1.0;
    return 2.0 * UF_PI * radius_m * radius_m * (1.0 + term);
}

double uf_tank_end_area_m2(const struct uf_tank *tank)
{
    const double radius_m = 0.5 * tank->diameter_m, head_m = uf_tank_head_depth_m(tank);
    switch (tank->shape) {
    case UF_HORIZONTAL_CYLINDER:
    case UF_VERTICAL_CYLINDER:
        return head_m > 0.0 ? ellipsoid_m2(radius_m, head_m) : 2.0 * UF_PI * radius_m * radius_m;
    case UF_BOX:
        return 2.0 * tank->width_m * tank->height_m;
    case UF_NO_TANK:
        break;
    }
    return 0.0;
}

double uf_tank_side_area_m2(const struct uf_tank *tank)
{
    switch (tank->shape) {
    case UF_HORIZONTAL_CYLINDER:
        return UF_PI * tank->diameter_m * tank->length_m;
    case UF_VERTICAL_CYLINDER:
        return UF_PI * tank->diameter_m * (tank->height_m - 2.0 * uf_tank_head_depth_m(tank));
    case UF_BOX:
        return 2.0 * (tank->width_m + tank->height_m) * tank->length_m;
    case UF_NO_TANK:
        break;
    }
    return 0.0;
}

double uf_tank_plan_length_m(const struct uf_tank *tank)
{
    switch (tank->shape) {
    case UF_HORIZONTAL_CYLINDER:
        return tank->length_m + 2.0 * uf_tank_head_depth_m(tank);
    case UF_VERTICAL_CYLINDER:
        return tank->diameter_m;
    case UF_BOX:
        return tank->length_m;
    case UF_NO_TANK:
        break;
    }
    return 0.0;
}

double uf_tank_plan_width_m(const struct uf_tank *tank)
{
    switch (tank->shape) {
    case UF_HORIZONTAL_CYLINDER:
    case UF_VERTICAL_CYLINDER:
        return tank->diameter_m;
    case UF_BOX:
        return tank->width_m;
    case UF_NO_TANK:
        break;
    }
    return 0.0;
}

double uf_tank_plan_area_m2(const struct uf_tank *tank)
{
    const double radius_m = 0.5 * tank->diameter_m;
    switch (tank->shape) {
    case UF_HORIZONTAL_CYLINDER:
        return tank->diameter_m * tank->length_m + UF_PI * radius_m * uf_tank_head_depth_m(tank);
    case UF_VERTICAL_CYLINDER:
        return UF_PI * radius_m * radius_m;
    case UF_BOX:
        return tank->width_m * tank->length_m;
    case UF_NO_TANK:
        break;
    }
    return 0.0;
}
