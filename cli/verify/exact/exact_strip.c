#include "exact.h"
#include "solver/base/constants.h"

#include <complex.h>
#include <math.h>

/* Waves along the surface up to so many a metre of edge, in so many steps: what is left out falls
   with the square of the first and is 1e-6 of the whole. */
static const double WAVES = 150.0;
enum { STEPS = 200000 };

/* One wave number's part of the heat that the strip takes in, beyond what the whole surface would
   take in alike: the transform of the strip's shape times that of the strip itself. */
static double complex part(const struct uf_exact_strip *strip, double p_1_m, double complex s2_1_m2)
{
    const double b = strip->half_m;
    const double e = strip->edge_m;
    const double shape = 2.0 * (cos(b * p_1_m) - cos((b + e) * p_1_m)) / (e * p_1_m * p_1_m);
    const double over = 2.0 * sin(b * p_1_m) / p_1_m;
    return shape * over * (csqrt(p_1_m * p_1_m + s2_1_m2) - csqrt(s2_1_m2)) / UF_PI;
}

static double complex beyond(const struct uf_exact_strip *strip, double complex s2_1_m2)
{
    const double step_1_m = WAVES / strip->edge_m / STEPS;
    double complex sum = part(strip, 1e-6 * step_1_m, s2_1_m2);
    for (int n = 1; n <= STEPS; n++) {
        const double weight = n == STEPS ? 1.0 : n % 2 == 1 ? 4.0 : 2.0; /* Simpson */
        sum += weight * part(strip, n * step_1_m, s2_1_m2);
    }
    return sum * step_1_m / 3.0;
}

static double complex decay2_1_m2(const struct uf_exact_strip *strip)
{
    const double rate_1_s = 2.0 * UF_PI / (strip->period_day * UF_DAY_S);
    return rate_1_s * strip->c_J_m3K / strip->k_W_mK * (double complex)I;
}

struct uf_exact_harmonic uf_exact_strip_outside(const struct uf_exact_strip *strip)
{
    const double complex W_mK = strip->k_W_mK * beyond(strip, decay2_1_m2(strip));
    return (struct uf_exact_harmonic){cabs(W_mK), carg(W_mK)};
}
