#include "outline.h"

#include "solver/base/constants.h"
#include "solver/design/shape.h"

#include <math.h>

struct uf_outline uf_outline_of(const struct uf_case *design)
{
    return (struct uf_outline){
        .circle = uf_shape_is_round(&design->tank),
        .half_m = uf_case_half_width_m(design),
        .top_m = uf_case_crown_m(design),
        .bottom_m = uf_case_invert_m(design),
        .wall_m = isnan(design->tank.wall_thickness_m) ? 0.0 : design->tank.wall_thickness_m};
}

struct uf_outline uf_outline_inside(const struct uf_outline *outline)
{
    struct uf_outline inside = *outline;
    inside.half_m -= outline->wall_m;
    inside.top_m += outline->wall_m;
    inside.bottom_m -= outline->wall_m;
    inside.wall_m = 0.0;
    return inside;
}

static double centre_m(const struct uf_outline *outline)
{
    return 0.5 * (outline->top_m + outline->bottom_m);
}

bool uf_outline_contains(const struct uf_outline *outline, double x_m, double z_m)
{
    if (outline->circle) {
        return hypot(x_m, z_m - centre_m(outline)) < outline->half_m;
    }
    return fabs(x_m) < outline->half_m && z_m > outline->top_m && z_m < outline->bottom_m;
}

/* Integral of sqrt(R^2 - x^2) from 0 to x, 0 <= x <= R. */
static double half_circle_integral(double R, double x)
{
    const double ratio = fmin(1.0, x / R);
    return 0.5 * (x * sqrt(fmax(0.0, R * R - x * x)) + R * R * asin(ratio));
}

/* Integral over [x0, x1] of min(sqrt(R^2 - x^2), h), 0 beyond R; h >= 0, 0 <= x0 <= x1. */
static double capped_integral(double R, double h, double x0, double x1)
{
    const double flat_to = h < R ? sqrt(R * R - h * h) : 0.0;
    const double a = fmin(x0, R);
    const double b = fmin(x1, R);
    const double flat = h * fmax(0.0, fmin(b, flat_to) - fmin(a, flat_to));
    const double arc_a = fmax(a, flat_to);
    const double arc_b = fmax(b, flat_to);
    return flat + half_circle_integral(R, arc_b) - half_circle_integral(R, arc_a);
}

static double signed_integral(double R, double z, double x0, double x1)
{
    return copysign(capped_integral(R, fabs(z), x0, x1), z);
}

static double overlap(double a0, double a1, double b0, double b1)
{
    return fmax(0.0, fmin(a1, b1) - fmax(a0, b0));
}

double uf_outline_share(const struct uf_outline *outline, double x0_m, double x1_m, double z0_m,
                        double z1_m, bool radial)
{
    if (outline->circle) {
        const double zc = centre_m(outline);
        const double up = z0_m - zc;
        const double down = z1_m - zc;
        /* Exactly 0 and 1, whatever rounding makes of the areas. */
        if (hypot(x1_m, fmax(fabs(up), fabs(down))) <= outline->half_m) {
            return 1.0;
        }
        if (hypot(x0_m, fmax(0.0, fmax(up, -down))) >= outline->half_m) {
            return 0.0;
        }
        const double area = signed_integral(outline->half_m, z1_m - zc, x0_m, x1_m) -
                            signed_integral(outline->half_m, z0_m - zc, x0_m, x1_m);
        return fmin(1.0, fmax(0.0, area / ((x1_m - x0_m) * (z1_m - z0_m))));
    }
    const double in_z = overlap(z0_m, z1_m, outline->top_m, outline->bottom_m) / (z1_m - z0_m);
    const double edge = fmin(x1_m, fmax(x0_m, outline->half_m));
    const double in_x = radial ? (edge * edge - x0_m * x0_m) / (x1_m * x1_m - x0_m * x0_m)
                               : (edge - x0_m) / (x1_m - x0_m);
    return in_x * in_z;
}

void uf_outline_cross(const struct uf_outline *outline, bool along_x, double x_m, double z_m,
                      double *distance_m, double *normal)
{
    const double R = outline->half_m;
    const double zc = centre_m(outline);
    if (!outline->circle) {
        const double edge_z = z_m < zc ? outline->top_m : outline->bottom_m;
        *distance_m = along_x ? fmax(0.0, x_m - R) : fabs(edge_z - z_m);
        *normal = 1.0;
        return;
    }
    const double across = along_x ? z_m - zc : x_m;
    const double from = along_x ? x_m : fabs(z_m - zc);
    const double reach = sqrt(fmax(0.0, R * R - across * across));
    *distance_m = fmax(0.0, from - reach);
    *normal = fmax(0.05, reach / R);
}

double uf_outline_area_below_m2(const struct uf_outline *outline, double z_m, bool radial)
{
    const double top = fmin(fmax(z_m, outline->top_m), outline->bottom_m);
    if (outline->circle) {
        const double zc = centre_m(outline);
        return signed_integral(outline->half_m, outline->bottom_m - zc, 0.0, outline->half_m) -
               signed_integral(outline->half_m, top - zc, 0.0, outline->half_m);
    }
    const double plan = radial ? UF_PI * outline->half_m * outline->half_m : outline->half_m;
    return plan * (outline->bottom_m - top);
}

double uf_outline_perimeter_below_m(const struct uf_outline *outline, double z_m, bool radial)
{
    const double top = fmin(fmax(z_m, outline->top_m), outline->bottom_m);
    const bool all = top <= outline->top_m;
    if (outline->circle) {
        const double cosine = (top - centre_m(outline)) / outline->half_m;
        return outline->half_m * acos(fmin(1.0, fmax(-1.0, cosine)));
    }
    const double plan = radial ? UF_PI * outline->half_m * outline->half_m : outline->half_m;
    const double side = radial ? 2.0 * UF_PI * outline->half_m : 1.0;
    return plan * (all ? 2.0 : 1.0) + side * (outline->bottom_m - top);
}

double uf_outline_chord_m(const struct uf_outline *outline, double z_m, bool radial)
{
    if (outline->circle) {
        const double up = z_m - centre_m(outline);
        return sqrt(fmax(0.0, outline->half_m * outline->half_m - up * up));
    }
    return radial ? UF_PI * outline->half_m * outline->half_m : outline->half_m;
}
