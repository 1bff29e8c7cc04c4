#include "published_depth.h"

#include "solver/base/constants.h"

#include <math.h>

double uf_published_depth_iso13793_m(double index_Kh, double k_frozen_W_mK, double latent_J_m3,
                                     double c_thawed_J_m3K, double annual_degC)
{
    return sqrt(7200.0 * index_Kh * k_frozen_W_mK / (latent_J_m3 + c_thawed_J_m3K * annual_degC));
}

double uf_published_depth_chisholm_phang_m(double index_Kday)
{
    return fmax(0.0, -0.328 + 0.0578 * sqrt(index_Kday));
}

double uf_published_depth_fair_m(double index_Kday)
{
    return 0.05518 * pow(index_Kday, 0.468);
}

/* Zero at the Neumann root; falls with g. */
static double berggren_balance(double g, double thermal_ratio, double fusion)
{
    const double e = exp(-g * g);
    return e / erf(g) - thermal_ratio * e / erfc(g) - g * sqrt(UF_PI) / fusion;
}

double uf_published_depth_berggren_lambda(double thermal_ratio, double fusion)
{
    double low = 1e-9, high = 6.0; /* erfc is far from its underflow */
    if (!(fusion > 0.0)) {
        return fusion == 0.0 ? 1.0 : (double)NAN;
    }
    while (high - low > 1e-15 * high) {
        const double g = 0.5 * (low + high);
        if (g == low || g == high) {
            break;
        }
        *(berggren_balance(g, thermal_ratio, fusion) > 0.0 ? &low : &high) = g;
    }
    return 0.5 * (low + high) * sqrt(2.0 / fusion);
}

/* Sums over the depth that is frozen so far. */
struct frozen {
    double depth_m, latent_J_m2, c_J_m2K, resistance_m2K_W;
};

/* lambda^2 with the means down to more_m further into the layer. */
static double lambda_squared(const struct frozen *f, const struct uf_published_layer *layer,
                             double more_m, const struct uf_published_winter *w)
{
    const double latent = f->latent_J_m2 + layer->latent_J_m3 * more_m;
    const double c = f->c_J_m2K + layer->c_J_m3K * more_m;
    const double surface_K = w->surface_index_Kday / w->season_day;
    const double lambda =
        uf_published_depth_berggren_lambda(w->annual_degC / surface_K, c * surface_K / latent);
    return lambda * lambda;
}

/* How much of a layer the index that is left freezes. */
static double depth_in(const struct frozen *f, const struct uf_published_layer *layer,
                       double left_Ks, const struct uf_published_winter *w)
{
    double depth_m = 0.1;
    for (int i = 0; i < 50; i++) {
        const double l2 = lambda_squared(f, layer, depth_m, w);
        const double kr = layer->k_W_mK * f->resistance_m2K_W;
        depth_m = -kr + sqrt(kr * kr + 2.0 * layer->k_W_mK * left_Ks * l2 / layer->latent_J_m3);
    }
    return depth_m;
}

double uf_published_depth_berggren_m(const struct uf_published_layer *layers, size_t n,
                                     const struct uf_published_winter *winter)
{
    struct frozen f = {.resistance_m2K_W = winter->resistance_m2K_W};
    double left_Ks = winter->surface_index_Kday * UF_DAY_S;
    if (!(winter->annual_degC > 0.0) || !(winter->surface_index_Kday >= 0.0) || n == 0) {
        return NAN;
    }
    if (!(winter->surface_index_Kday > 0.0) || !(winter->season_day > 0.0)) {
        return 0.0;
    }
    for (size_t i = 0; i < n; i++) {
        const double d = layers[i].to_m - f.depth_m;
        const double more_m = depth_in(&f, &layers[i], left_Ks, winter);
        if (i + 1 == n || more_m <= d) {
            return f.depth_m + more_m;
        }
        left_Ks -= layers[i].latent_J_m3 * d / lambda_squared(&f, &layers[i], d, winter) *
                   (f.resistance_m2K_W + d / (2.0 * layers[i].k_W_mK));
        f.depth_m = layers[i].to_m;
        f.latent_J_m2 += layers[i].latent_J_m3 * d;
        f.c_J_m2K += layers[i].c_J_m3K * d;
        f.resistance_m2K_W += d / layers[i].k_W_mK;
    }
    return NAN;
}
