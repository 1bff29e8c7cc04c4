#include "shape.h"

#include "solver/base/constants.h"
#include "tank.h"

#include <math.h>

#define DECLARE(WORD, name) extern const struct uf_shape_row uf_shape_##name;
UF_SHAPE_LIST(DECLARE)
#undef DECLARE

#define ENTRY(WORD, name) [UF_##WORD] = &uf_shape_##name,
static const struct uf_shape_row *const rows[] = {UF_SHAPE_LIST(ENTRY)};
#undef ENTRY

const struct uf_shape_row *uf_shape_at(long word)
{
    return word >= 0 && word < (long)(sizeof rows / sizeof rows[0]) ? rows[word] : NULL;
}

const struct uf_shape_row *uf_shape_of(const struct uf_tank *tank)
{
    return uf_shape_at((long)tank->shape);
}

bool uf_shape_is_round(const struct uf_tank *tank)
{
    return uf_shape_of(tank) != NULL && uf_shape_of(tank)->round_section;
}

bool uf_shape_is_radial(const struct uf_tank *tank)
{
    return uf_shape_of(tank) != NULL && uf_shape_of(tank)->radial;
}

double uf_shape_head_m(const struct uf_tank *tank, double wall_m)
{
    const double head_m = uf_tank_head_depth_m(tank);
    return head_m > 0.0 ? head_m - wall_m : 0.0;
}

double uf_shape_heads_m3(const struct uf_tank *tank, double wall_m)
{
    const double radius_m = 0.5 * tank->diameter_m - wall_m;
    return 4.0 / 3.0 * UF_PI * radius_m * radius_m * uf_shape_head_m(tank, wall_m);
}

/* Surface of an oblate ellipsoid of half axes R, R, c:
     2 pi R^2 (1 + (1 - e^2) atanh(e)/e),  e^2 = 1 - (c/R)^2;  a sphere for c = R. */
static double ellipsoid_m2(double radius_m, double c_m)
{
    const double e = sqrt(fmax(0.0, 1.0 - c_m * c_m / (radius_m * radius_m)));
    const double term = e > 0.0 ? (1.0 - e * e) * atanh(e) / e : 1.0;
    return 2.0 * UF_PI * radius_m * radius_m * (1.0 + term);
}

double uf_shape_ends_m2(const struct uf_tank *tank)
{
    const double radius_m = 0.5 * tank->diameter_m;
    const double head_m = uf_tank_head_depth_m(tank);
    return head_m > 0.0 ? ellipsoid_m2(radius_m, head_m) : 2.0 * UF_PI * radius_m * radius_m;
}
