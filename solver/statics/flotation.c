#include "flotation.h"

#include "solver/base/constants.h"

#include <math.h>

const struct uf_flotation_partial uf_flotation_partials[UF_FLOTATION_PARTIALS] = {
    {"EN 1997-1 UPL", "EN 1997-1, eq. 2.8 read, table A.15 as reprinted in a pile-design textbook",
     1.0, 0.9, true},
    {"EN 1997-1 UPL, UK",
     "UK National Annex to BS EN 1997-1 as quoted in a book, believed Bond & Harris 2008", 1.1, 0.9,
     false},
    {"Limit states, Canada", "1.25 D against 0.85 D as quoted by an engineer", 1.25, 0.85, false},
};

struct uf_flotation_fema uf_flotation_fema(double volume_m3, double empty_N, double factor,
                                           double water_N_m3, double concrete_N_m3)
{
    const double net_N = factor * water_N_m3 * volume_m3 - empty_N;
    return (struct uf_flotation_fema){
        .net_N = net_N, .concrete_m3 = fmax(0.0, net_N) / (concrete_N_m3 - water_N_m3)};
}

double uf_flotation_em_factor(double structure_N, double contained_N, double surcharge_N,
                              double base_uplift_N, double water_above_N)
{
    const double net_N = base_uplift_N - water_above_N;
    return net_N > 0.0 ? (structure_N + contained_N + surcharge_N) / net_N : (double)NAN;
}

struct uf_flotation_upl uf_flotation_upl(const struct uf_flotation_partial *row, double uplift_N,
                                         double holddown_N)
{
    const double dst_N = row->destabilising * uplift_N, stb_N = row->stabilising * holddown_N;
    double use = 0.0;
    if (dst_N > 0.0) {
        use = stb_N > 0.0 ? dst_N / stb_N : (double)INFINITY;
    }
    return (struct uf_flotation_upl){.dst_N = dst_N, .stb_N = stb_N, .use = use};
}

double uf_flotation_leg_angle_rad(double radius_m, double x_m, double y_m)
{
    const double reach_m = hypot(x_m, y_m);
    if (!(reach_m >= radius_m) || !(reach_m > 0.0)) {
        return NAN;
    }
    return atan2(x_m, y_m) - asin(radius_m / reach_m);
}

double uf_flotation_leg_N(double net_N, size_t straps, double angle_rad)
{
    if (straps == 0) {
        return NAN;
    }
    return fmax(0.0, net_N) / (2.0 * (double)straps * cos(angle_rad));
}

double uf_flotation_contact_Pa(double leg_N, double radius_m, double strap_width_m)
{
    return leg_N / (radius_m * strap_width_m);
}

double uf_flotation_frustum_m3(double width_m, double length_m, double depth_m, double angle_rad,
                               bool round_corners)
{
    const double spread_m = depth_m * tan(angle_rad);
    const double corner = round_corners ? UF_PI / 3.0 : 4.0 / 3.0;
    return depth_m *
           (width_m * length_m + (width_m + length_m) * spread_m + corner * spread_m * spread_m);
}

double uf_flotation_bare_cover_share(double water_N_m3, double submerged_N_m3)
{
    return 0.25 * UF_PI * water_N_m3 / submerged_N_m3 - (0.5 - 0.125 * UF_PI);
}
