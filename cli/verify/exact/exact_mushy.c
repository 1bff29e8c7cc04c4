#include "exact.h"
#include "exact_private.h"

#include <math.h>

/* Published sets: latent heat 1680 kg/m3 x 0.1218 x 334720 J/kg (inputs from memory; they
   give the published roots within 1 %). The silt sets are our own. */
#define LUNARDINI_J_M3 (1680.0 * 0.1218 * 334720.0)
#define LUNARDINI(name, mushy)                                                                     \
    {                                                                                              \
        name, {3.464352, 2.941352, 2.418352}, {690360.0, 690360.0, 690360.0}, LUNARDINI_J_M3,      \
            -6.0, mushy, 0.0, 4.0                                                                  \
    }
#define SILT(name, mushy)                                                                          \
    {                                                                                              \
        name, {2.5, 2.0, 1.5}, {1.9e6, 2.4e6, 3.0e6}, 150e6, -10.0, mushy, 0.0, 5.0                \
    }

const struct uf_exact_three_zone uf_exact_three_zones[UF_EXACT_THREE_ZONES + 1] = {
    LUNARDINI("Lunardini, mushy to -1 degC", -1.0),
    LUNARDINI("Lunardini, mushy to -4 degC", -4.0),
    SILT("silt, mushy to -0.5 degC", -0.5),
    SILT("silt, mushy to -2 degC", -2.0),
    {.name = NULL},
};

/* Diffusivities of the three zones; the mushy one carries the latent heat. */
static void diffusivities(double a_m2_s[3], const struct uf_exact_three_zone *g)
{
    const double latent = g->latent_J_m3 / (g->freezing_degC - g->mushy_degC);
    a_m2_s[0] = g->k_W_mK[0] / g->c_J_m3K[0];
    a_m2_s[1] = g->k_W_mK[1] / (g->c_J_m3K[1] + latent);
    a_m2_s[2] = g->k_W_mK[2] / g->c_J_m3K[2];
}

/* erfc(eta) exp(inner^2) for eta >= inner: in a narrow range both lines lie so far out in
   the mushy zone's variable that erfc alone would vanish. */
static double erfc_from(double inner, double eta)
{
    return uf_exact_erfcx(eta) * exp((inner - eta) * (inner + eta));
}

/* Heat flow through the mushy zone at its inner line, scaled by sqrt(pi t). At the outer
   line it is less by exp(inner^2 - outer^2). */
static double mushy_flow(const struct uf_exact_three_zone *g, double a_m2_s, double inner,
                         double outer)
{
    return g->k_W_mK[1] * (g->freezing_degC - g->mushy_degC) /
           (sqrt(a_m2_s) * (uf_exact_erfcx(inner) - erfc_from(inner, outer)));
}

struct outer_search {
    const struct uf_exact_three_zone *ground;
    double inner; /* psi in the mushy zone's variable */
};

/* Heat arriving at the outer line less heat leaving it: falls as gamma grows. */
static double outer_balance(double gamma, const void *data)
{
    const struct outer_search *search = data;
    const struct uf_exact_three_zone *g = search->ground;
    double a[3];
    diffusivities(a, g);
    const double out = mushy_flow(g, a[1], search->inner, gamma) *
                       exp((search->inner - gamma) * (search->inner + gamma));
    const double in = g->k_W_mK[2] * (g->start_degC - g->freezing_degC) /
                      (sqrt(a[2]) * uf_exact_erfcx(gamma * sqrt(a[1] / a[2])));
    return out - in;
}

static double gamma_of(const struct uf_exact_three_zone *g, double psi)
{
    double a[3];
    diffusivities(a, g);
    const struct outer_search search = {.ground = g, .inner = psi * sqrt(a[0] / a[1])};
    const double low = search.inner * (1.0 + 1e-12);
    return uf_exact_root(outer_balance, &search, low, search.inner + 6.0);
}

static double inner_balance(double psi, const void *data)
{
    const struct uf_exact_three_zone *g = data;
    double a[3];
    diffusivities(a, g);
    const double inner = psi * sqrt(a[0] / a[1]);
    const double out = g->k_W_mK[0] * (g->mushy_degC - g->surface_degC) * exp(-psi * psi) /
                       (sqrt(a[0]) * erf(psi));
    return out - mushy_flow(g, a[1], inner, gamma_of(g, psi));
}

struct uf_exact_three_zone_roots uf_exact_three_zone_solve(const struct uf_exact_three_zone *ground)
{
    struct uf_exact_three_zone_roots roots = {.psi = NAN, .gamma = NAN};
    roots.psi = uf_exact_root(inner_balance, ground, 1e-6, 5.0);
    roots.gamma = gamma_of(ground, roots.psi);
    return roots;
}

void uf_exact_three_zone_fronts_m(double out_m[2], const struct uf_exact_three_zone *ground,
                                  const struct uf_exact_three_zone_roots *roots, double t_s)
{
    double a[3];
    diffusivities(a, ground);
    out_m[0] = 2.0 * roots->psi * sqrt(a[0] * t_s);
    out_m[1] = 2.0 * roots->gamma * sqrt(a[1] * t_s);
}

double uf_exact_three_zone_degC(const struct uf_exact_three_zone *ground,
                                const struct uf_exact_three_zone_roots *roots, double depth_m,
                                double t_s)
{
    double a[3], fronts_m[2];
    diffusivities(a, ground);
    uf_exact_three_zone_fronts_m(fronts_m, ground, roots, t_s);
    const double ts = ground->surface_degC, tm = ground->mushy_degC;
    const double tf = ground->freezing_degC, t0 = ground->start_degC;
    if (depth_m < fronts_m[0]) {
        return ts + (tm - ts) * erf(depth_m / (2.0 * sqrt(a[0] * t_s))) / erf(roots->psi);
    }
    if (depth_m < fronts_m[1]) {
        const double inner = roots->psi * sqrt(a[0] / a[1]);
        const double eta = depth_m / (2.0 * sqrt(a[1] * t_s));
        const double outer = erfc_from(inner, roots->gamma);
        return tf + (tf - tm) * (outer - erfc_from(inner, eta)) / (uf_exact_erfcx(inner) - outer);
    }
    return t0 - (t0 - tf) * erfc(depth_m / (2.0 * sqrt(a[2] * t_s))) /
                    erfc(roots->gamma * sqrt(a[1] / a[2]));
}
