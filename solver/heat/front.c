#include "front.h"

#include <math.h>

/* The blend was chosen on the reference problem and checked on the soils of test_front.c. */
static const double MOST_WEIGHT = 0.6;
static const double FULL_WEIGHT_K = 0.25;
/* Where a freezing curve has no slope of its own at 0 degC, its mean down to here. */
static const double NEAR_ZERO_DEGC = -0.2;

/* One column and what lies on it. */
struct column {
    const struct uf_heat *heat;
    const struct uf_grid *grid;
    const double *H, *T;
    size_t i;
    double surface_degC;
};

static size_t node(const struct column *c, size_t j)
{
    return j * c->grid->nx + c->i;
}

/* Place and temperature above row j: the centre there, or the surface over the first row. */
static double above_m(const struct column *c, size_t j)
{
    return j > 0 ? c->grid->z_m[j - 1] : c->grid->z_edge_m[0];
}

static double above_degC(const struct column *c, size_t j)
{
    return j > 0 ? c->T[node(c, j - 1)] : c->surface_degC;
}

static double dz_of(const struct column *c, size_t j)
{
    return c->grid->z_edge_m[j + 1] - c->grid->z_edge_m[j];
}

/* A row that holds one substance, the same as the rows around it. */
static bool uniform(const struct column *c, size_t j)
{
    const uint16_t own = c->heat->material[node(c, j)];
    for (size_t k = j > 0 ? j - 1 : 0; k <= j + 2; k++) {
        const size_t at = node(c, k);
        if (c->heat->material[at] != own || c->heat->conducts[at] != own ||
            !(c->heat->volume_m3[at] > 0.0)) {
            return false;
        }
    }
    return c->heat->materials[own].water_J_m3 > 0.0;
}

static double phi(double r)
{
    const double ln = log(r);
    return fabs(ln) < 1e-3 ? 0.5 : (r - 1.0 - ln) / (ln * ln);
}

/* Frozen length of row j from its enthalpy; NAN where the picture behind it does not hold. */
static double frozen_length_m(const struct column *c, size_t j)
{
    const struct uf_material *m = &c->heat->materials[c->heat->material[node(c, j)]];
    const double *z = c->grid->z_m;
    const double here = c->T[node(c, j)];
    const double G = (c->T[node(c, j + 2)] - c->T[node(c, j + 1)]) / (z[j + 2] - z[j + 1]);
    const double flow = (uf_material_U_W_m(m, here) - uf_material_U_W_m(m, above_degC(c, j))) /
                        (z[j] - above_m(c, j));
    const double r = flow / (m->k_W_mK[m->n - 1] * G);
    if (!(G > 0.0) || !(r > 0.2)) {
        return NAN;
    }
    const double dz = dz_of(c, j);
    const double zero_H = uf_material_H_J_m3(m, 0.0);
    const double cold = fmin(here, NEAR_ZERO_DEGC);
    const double apparent = (zero_H - uf_material_H_J_m3(m, cold)) / -cold;
    const double a = G * (0.5 * m->c_thawed_J_m3K - apparent * phi(r));
    const double b = m->c_thawed_J_m3K * G * dz;
    const double rest = 0.5 * b * dz - (c->H[node(c, j)] - zero_H) * dz;
    const double root = b * b - 4.0 * a * rest;
    if (!(a < 0.0) || !(root >= 0.0)) {
        return NAN;
    }
    return (b - sqrt(root)) / (2.0 * a);
}

/* The front by straight lines, from the surface where no centre is frozen yet. */
static double straight_m(const struct column *c)
{
    const double depth_m = uf_front_line_m(c->heat, c->T, c->i);
    const double first = c->T[c->i];
    if (depth_m > 0.0 || !(c->surface_degC < 0.0)) {
        return depth_m;
    }
    const double down = c->surface_degC / (c->surface_degC - first);
    return c->grid->z_edge_m[0] + down * (c->grid->z_m[0] - c->grid->z_edge_m[0]);
}

/* Depth by the enthalpy of the deepest frozen row, or of the next where the front has
   gone through; NAN where neither can tell. */
static double enthalpy_m(const struct column *c, size_t deepest)
{
    for (size_t j = deepest; j <= deepest + 1 && j + 2 < c->grid->nz && uniform(c, j); j++) {
        const double length_m = frozen_length_m(c, j);
        if (isnan(length_m)) {
            return NAN;
        }
        if (length_m <= dz_of(c, j) || j == deepest + 1) {
            return c->grid->z_edge_m[j] + fmin(length_m, dz_of(c, j));
        }
    }
    return NAN;
}

/* Temperature at a depth, by straight lines from the surface down. */
static double at_degC(const struct column *c, double depth_m)
{
    size_t j = 0;
    while (j + 1 < c->grid->nz && c->grid->z_m[j] < depth_m) {
        j++;
    }
    const double span = c->grid->z_m[j] - above_m(c, j);
    const double down = fmin(1.0, fmax(0.0, (depth_m - above_m(c, j)) / span));
    return above_degC(c, j) + down * (c->T[node(c, j)] - above_degC(c, j));
}

double uf_front_frost_m(const struct uf_section *section, const double *H_J_m3,
                        const double *T_degC, size_t column, double surface_degC)
{
    const struct uf_grid *g = section->grid;
    const struct column c = {section->heat, g, H_J_m3, T_degC, column, surface_degC};
    const double line_m = straight_m(&c);
    size_t deepest = g->nz;
    while (deepest > 0 && !(T_degC[node(&c, deepest - 1)] < 0.0)) {
        deepest--;
    }
    deepest = deepest > 0 ? deepest - 1 : 0;
    const double better_m = line_m > 0.0 ? enthalpy_m(&c, deepest) : (double)NAN;
    if (isnan(better_m)) {
        return line_m;
    }
    /* The cold a row's height above the front: a measure that does not jump from row to row. */
    const double above = at_degC(&c, better_m - dz_of(&c, deepest));
    const double weight = MOST_WEIGHT * fmin(1.0, fmax(0.0, -above / FULL_WEIGHT_K));
    return weight * better_m + (1.0 - weight) * line_m;
}

double uf_front_zero_m(const struct uf_heat *heat, const double *T_degC, size_t a)
{
    const struct uf_grid *g = heat->grid;
    const size_t b = a + g->nx;
    const size_t j = uf_grid_j(g, a);
    const double edge_m = g->z_edge_m[j + 1];
    const double to_a = edge_m - g->z_m[j];
    const double to_b = g->z_m[j + 1] - edge_m;
    const double Ta = T_degC[a];
    const double Tb = T_degC[b];
    const struct uf_material *ma = &heat->materials[heat->conducts[a]];
    const struct uf_material *mb = &heat->materials[heat->conducts[b]];
    const double Ra = ma == mb ? to_a : to_a / uf_material_secant_W_mK(ma, Ta, Tb);
    const double Rb = ma == mb ? to_b : to_b / uf_material_secant_W_mK(mb, Ta, Tb);
    const double at_edge = (Ta * Rb + Tb * Ra) / (Ra + Rb);
    const bool above = (Ta < 0.0) != (at_edge < 0.0);
    return above ? g->z_m[j] + to_a * Ta / (Ta - at_edge)
                 : edge_m + to_b * at_edge / (at_edge - Tb);
}

double uf_front_line_m(const struct uf_heat *heat, const double *T_degC, size_t column)
{
    const struct uf_grid *g = heat->grid;
    for (size_t j = g->nz; j-- > 0;) {
        const size_t c = uf_grid_at(g, column, j);
        if (T_degC[c] < 0.0) {
            return j + 1 == g->nz ? g->z_edge_m[g->nz] : uf_front_zero_m(heat, T_degC, c);
        }
    }
    return 0.0;
}

double uf_front_thaw_m(const struct uf_heat *heat, const double *T_degC, size_t column)
{
    const struct uf_grid *g = heat->grid;
    if (T_degC[column] < 0.0) {
        return 0.0;
    }
    for (size_t j = 0; j + 1 < g->nz; j++) {
        const size_t c = uf_grid_at(g, column, j);
        if (T_degC[c + g->nx] < 0.0) {
            return uf_front_zero_m(heat, T_degC, c);
        }
    }
    return 0.0;
}
