#include "exact.h"
#include "exact_private.h"
#include "solver/base/constants.h"

#include <math.h>

double uf_exact_quarter_degC(double diffusivity_m2_s, double surface_degC, double start_degC,
                             double x_m, double y_m, double t_s)
{
    const double reach_m = 2.0 * sqrt(diffusivity_m2_s * t_s);
    return surface_degC + (start_degC - surface_degC) * erf(x_m / reach_m) * erf(y_m / reach_m);
}

double uf_exact_wave_depth_m(const struct uf_exact_wave *wave)
{
    return sqrt(wave->diffusivity_m2_s * wave->period_day * UF_DAY_S / UF_PI);
}

/* b = kR/d: the resistance as a depth of soil, in damping depths. */
static double resistance_depth(const struct uf_exact_wave *wave)
{
    return wave->k_W_mK * wave->resistance_m2K_W / uf_exact_wave_depth_m(wave);
}

static double phase(const struct uf_exact_wave *wave, double depth_m)
{
    const double b = resistance_depth(wave);
    return depth_m / uf_exact_wave_depth_m(wave) + atan(b / (1.0 + b));
}

double uf_exact_wave_amplitude_K(const struct uf_exact_wave *wave, double depth_m)
{
    const double b = resistance_depth(wave);
    return wave->amplitude_K * exp(-depth_m / uf_exact_wave_depth_m(wave)) /
           sqrt(1.0 + 2.0 * b + 2.0 * b * b);
}

double uf_exact_wave_lag_day(const struct uf_exact_wave *wave, double depth_m)
{
    return phase(wave, depth_m) * wave->period_day / (2.0 * UF_PI);
}

double uf_exact_wave_degC(const struct uf_exact_wave *wave, double depth_m, double day)
{
    const double angle = 2.0 * UF_PI * (day - wave->coldest_day) / wave->period_day;
    return wave->mean_degC -
           uf_exact_wave_amplitude_K(wave, depth_m) * cos(angle - phase(wave, depth_m));
}

double uf_exact_film_degC(const struct uf_exact_film *film, double depth_m, double t_s)
{
    const double root_m = sqrt(film->k_W_mK / film->c_J_m3K * t_s);
    const double e = depth_m / (2.0 * root_m), n = film->film_W_m2K * root_m / film->k_W_mK;
    return film->start_degC +
           (film->air_degC - film->start_degC) * (erfc(e) - exp(-e * e) * uf_exact_erfcx(e + n));
}
