#include "exact.h"
#include "solver/base/constants.h"

#include <math.h>

double uf_exact_slab_W_m(const struct uf_exact_slab *slab)
{
    const double b = slab->width_m, w = slab->wall_m;
    return 2.0 * slab->k_W_mK * (slab->inside_degC - slab->outside_degC) / (UF_PI * w) *
           ((b + w) * log(b + w) - b * log(b) - w * log(w));
}

/* Harmonic below a surface that is 0 left of the origin and rises with slope 1 to the
   right (up to terms that cancel in the sum of four): u/2 + (u atan(u/y) - y ln|w|)/pi. */
static double ramp(double u, double y)
{
    return 0.5 * u + (u * atan2(u, y) - 0.5 * y * log(u * u + y * y)) / UF_PI;
}

double uf_exact_slab_degC(const struct uf_exact_slab *slab, double x_m, double y_m)
{
    const double half = 0.5 * slab->width_m, out = half + slab->wall_m;
    const double shape =
        ramp(x_m + out, y_m) - ramp(x_m + half, y_m) - ramp(x_m - half, y_m) + ramp(x_m - out, y_m);
    return slab->outside_degC + (slab->inside_degC - slab->outside_degC) / slab->wall_m * shape;
}

double uf_exact_iso_column_degC(double x, double y)
{
    const double pi_2 = 0.5 * UF_PI;
    double sum = 0.0;
    for (int n = 1; n < 2000; n += 2) {
        /* sinh(n pi (2-y)/2)/sinh(n pi), without overflow */
        const double fall = exp(-n * pi_2 * y) * (1.0 - exp(-n * UF_PI * (2.0 - y))) /
                            (1.0 - exp(-2.0 * n * UF_PI));
        sum += 4.0 * 20.0 / (n * UF_PI) * sin(n * pi_2 * x) * fall;
    }
    return sum;
}

const struct uf_exact_iso_point uf_exact_iso_points[] = {
    {"A", 0.0, 0.0475, 7.1},    {"B", 0.5, 0.0475, 0.8},
    {"C", 0.0, 0.0415, 7.9},    {"D", 0.015, 0.0415, 6.3},
    {"E", 0.5, 0.0415, 0.8},    {"F", 0.0, 0.0365, 16.4},
    {"G", 0.015, 0.0365, 16.3}, {"H", 0.0, 0.0, 16.8},
    {"I", 0.5, 0.0, 18.3},      {.name = NULL},
};

const struct uf_exact_corner uf_exact_corners[UF_EXACT_CORNERS + 1] = {
    {0.25,
     0.3,
     0.70766153,
     0.89476,
     {NAN, NAN, NAN, 0.81921, 0.75463, 0.72106, 0.70901},
     -0.5794,
     0.2383},
    {0.25, 0.0, 0.99572663, 1.08992, {NAN, NAN, NAN, NAN, 1.03111, 1.00020, 0.99594}, -0.6610, 0.0},
    {1.0,
     0.0,
     0.62006263,
     0.70374,
     {NAN, NAN, 0.65189, 0.62657, 0.62159, 0.62025, 0.62008},
     -0.4507,
     0.0},
    {1.0,
     0.3,
     0.52026175,
     0.64805,
     {NAN, 0.60868, 0.56989, 0.53972, 0.52864, 0.52263, 0.52049},
     -0.3669,
     0.2574},
    {2.0,
     0.2,
     0.42877773,
     0.51826,
     {0.47122, 0.45043, 0.44134, 0.43382, 0.43099, 0.42941, 0.42884},
     -0.0737,
     0.1758},
    {5.0,
     0.2,
     0.29241860,
     0.35239,
     {0.29878, 0.29635, 0.29507, 0.29369, 0.29302, 0.29260, 0.29244},
     0.0165,
     0.1805},
    {.beta = 0.0},
};
