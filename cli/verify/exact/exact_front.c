#include "exact.h"
#include "exact_private.h"
#include "solver/base/constants.h"

#include <math.h>

const struct uf_exact_ground uf_exact_grounds[UF_EXACT_GROUNDS + 1] = {
    {"N1 silt (ISO 13793 soil)", 2.5, 1.5, 1.9e6, 3.0e6, 150e6, -10.0, 0.0, 5.0},
    {"N2 moist sand", 1.9, 1.6, 1.7e6, 2.2e6, 50e6, -5.0, 0.0, 8.0},
    {"N3 wet clay", 1.8, 1.2, 2.1e6, 3.1e6, 133.6e6, -15.0, 0.0, 3.0},
    {"N4 water", 2.22, 0.561, 1.92e6, 4.2e6, 306e6, -20.0, 0.0, 4.0},
    {"N5 one-phase silt", 2.5, 1.5, 1.9e6, 3.0e6, 150e6, -10.0, 0.0, 0.0},
    {.name = NULL},
};

static double frozen_m2_s(const struct uf_exact_ground *g)
{
    return g->k_frozen_W_mK / g->c_frozen_J_m3K;
}

static double thawed_m2_s(const struct uf_exact_ground *g)
{
    return g->k_thawed_W_mK / g->c_thawed_J_m3K;
}

static double neumann_balance(double lambda, const void *data)
{
    const struct uf_exact_ground *g = data;
    const double ratio = sqrt(frozen_m2_s(g) / thawed_m2_s(g));
    const double below_K = g->freezing_degC - g->surface_degC;
    const double supply =
        g->k_thawed_W_mK / g->k_frozen_W_mK * ratio * (g->start_degC - g->freezing_degC) / below_K;
    return exp(-lambda * lambda) / erf(lambda) - supply / uf_exact_erfcx(lambda * ratio) -
           lambda * sqrt(UF_PI) * g->latent_J_m3 / (g->c_frozen_J_m3K * below_K);
}

double uf_exact_neumann_lambda(const struct uf_exact_ground *ground)
{
    if (!(ground->surface_degC < ground->freezing_degC) ||
        !(ground->start_degC >= ground->freezing_degC) || !(ground->latent_J_m3 >= 0.0)) {
        return NAN;
    }
    return uf_exact_root(neumann_balance, ground, 1e-9, 20.0);
}

double uf_exact_neumann_front_m(const struct uf_exact_ground *ground, double t_s)
{
    return 2.0 * uf_exact_neumann_lambda(ground) * sqrt(frozen_m2_s(ground) * t_s);
}

double uf_exact_neumann_degC(const struct uf_exact_ground *ground, double depth_m, double t_s)
{
    const double lambda = uf_exact_neumann_lambda(ground);
    const double frozen_m = 2.0 * sqrt(frozen_m2_s(ground) * t_s);
    const double thawed_m = 2.0 * sqrt(thawed_m2_s(ground) * t_s);
    if (depth_m < lambda * frozen_m) {
        return ground->surface_degC + (ground->freezing_degC - ground->surface_degC) *
                                          erf(depth_m / frozen_m) / erf(lambda);
    }
    return ground->start_degC - (ground->start_degC - ground->freezing_degC) *
                                    erfc(depth_m / thawed_m) / erfc(lambda * frozen_m / thawed_m);
}

double uf_exact_neumann_W_m2(const struct uf_exact_ground *ground, double t_s)
{
    return ground->k_frozen_W_mK * (ground->freezing_degC - ground->surface_degC) /
           (erf(uf_exact_neumann_lambda(ground)) * sqrt(UF_PI * frozen_m2_s(ground) * t_s));
}

double uf_exact_stefan_m(double k_W_mK, double latent_J_m3, double resistance_m2K_W,
                         double index_Ks)
{
    const double kr = k_W_mK * resistance_m2K_W;
    return -kr + sqrt(kr * kr + 2.0 * k_W_mK * index_Ks / latent_J_m3);
}

/* The line's lambda, with the sink beside the ground. */
struct line {
    const struct uf_exact_ground *ground;
    double sink_W_m;
};

static double line_balance(double lambda, const void *data)
{
    const struct line *line = data;
    const struct uf_exact_ground *g = line->ground;
    const double l2 = lambda * lambda;
    const double l2_thawed = l2 * frozen_m2_s(g) / thawed_m2_s(g);
    /* exp(-x)/E1(x) lies between x and x + 1; beyond underflow x is near enough */
    const double ratio = l2_thawed < 600.0 ? exp(-l2_thawed) / uf_exact_e1(l2_thawed) : l2_thawed;
    return line->sink_W_m / (4.0 * UF_PI) * exp(-l2) -
           g->k_thawed_W_mK * (g->start_degC - g->freezing_degC) * ratio -
           l2 * frozen_m2_s(g) * g->latent_J_m3;
}

double uf_exact_line_lambda(const struct uf_exact_ground *ground, double sink_W_m)
{
    const struct line line = {.ground = ground, .sink_W_m = sink_W_m};
    return uf_exact_root(line_balance, &line, 1e-9, 20.0);
}

double uf_exact_line_front_m(const struct uf_exact_ground *ground, double sink_W_m, double t_s)
{
    return 2.0 * uf_exact_line_lambda(ground, sink_W_m) * sqrt(frozen_m2_s(ground) * t_s);
}

double uf_exact_line_degC(const struct uf_exact_ground *ground, double sink_W_m, double radius_m,
                          double t_s)
{
    const double lambda = uf_exact_line_lambda(ground, sink_W_m);
    const double frozen = frozen_m2_s(ground), thawed = thawed_m2_s(ground);
    const double s = radius_m * radius_m / (4.0 * t_s), l2 = lambda * lambda;
    if (s < l2 * frozen) { /* Ei(-x) = -E1(x) */
        return ground->freezing_degC + sink_W_m / (4.0 * UF_PI * ground->k_frozen_W_mK) *
                                           (uf_exact_e1(l2) - uf_exact_e1(s / frozen));
    }
    return ground->start_degC - (ground->start_degC - ground->freezing_degC) *
                                    uf_exact_e1(s / thawed) / uf_exact_e1(l2 * frozen / thawed);
}
