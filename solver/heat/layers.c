#include "layers.h"

#include "solver/base/constants.h"

#include <math.h>

double uf_layers_density_kg_m3(double T_degC)
{
    const double from_most_K = T_degC - UF_WATER_DENSEST_DEGC;
    return 999.974950 * (1.0 - from_most_K * from_most_K * (T_degC + 301.797) /
                                   (522528.9 * (T_degC + 69.34881)));
}

/* Less ice than this, a millionth of a degree of water, is none: rounding. */
static const double LAST_DIGITS_J_M3 = 4.0;

/* Rows whose density differs by less are neither joined nor parted. At 3.8 degC, where rows part as they
   cool, that is 4e-8 K, next to nothing beside what the flows leave between joined rows (newton.c). */
static const double HAIR_KG_M3 = 1e-10;

/* The rows in hand: arrays of the water's nodes alone, top first. */
struct rows {
    const struct uf_material *material;
    const double *volume_m3;
    double *H_J_m3;
    size_t n;
};

/* Ice of the rows below goes up into row `to` while there is room. */
static void float_up(struct rows *r, double full_J_m3, size_t to)
{
    for (size_t from = to + 1; from < r->n; from++) {
        const double room_J = (r->H_J_m3[to] - full_J_m3) * r->volume_m3[to];
        if (!(room_J > 0.0)) {
            return;
        }
        if (r->H_J_m3[from] < -LAST_DIGITS_J_M3) {
            const double ice_J = -r->H_J_m3[from] * r->volume_m3[from];
            const double up_J = fmin(ice_J, room_J);
            r->H_J_m3[to] -= up_J / r->volume_m3[to];
            r->H_J_m3[from] += up_J / r->volume_m3[from];
        }
    }
}

static double density(const struct rows *r, size_t row)
{
    return uf_layers_density_kg_m3(uf_material_T_degC(r->material, r->H_J_m3[row]));
}

/* Rows first .. last get their mean by volume. */
static void mix(const double *volume_m3, double *x, size_t first, size_t last)
{
    double sum = 0.0;
    double all_m3 = 0.0;
    for (size_t k = first; k <= last; k++) {
        sum += x[k] * volume_m3[k];
        all_m3 += volume_m3[k];
    }
    for (size_t k = first; k <= last; k++) {
        x[k] = sum / all_m3;
    }
}

/* The rows from `top` down, all of them water: pools grow upward from each row in turn. Rows of
   one pool have one enthalpy to the last digit, which is how a pool is known. */
static void turn_over(struct rows *r, size_t top)
{
    for (size_t last = top + 1; last < r->n; last++) {
        size_t first = last;
        while (first > top && density(r, first - 1) > density(r, first)) {
            const double above_J_m3 = r->H_J_m3[first - 1];
            do {
                first--;
            } while (first > top && r->H_J_m3[first - 1] == above_J_m3);
            mix(r->volume_m3, r->H_J_m3, first, last);
        }
    }
}

/* Is it all water, the lighter on the heavier? Above where it is densest the warmer is the lighter,
   below that the colder. */
static bool lies_still(const struct rows *r)
{
    const double densest_J_m3 = uf_material_H_J_m3(r->material, UF_WATER_DENSEST_DEGC);
    const double *H = r->H_J_m3;
    bool still = H[0] >= 0.0;
    for (size_t k = 1; still && k < r->n; k++) {
        still = H[k] >= 0.0 && (H[k - 1] == H[k] || (H[k - 1] > H[k] && H[k] >= densest_J_m3) ||
                                (H[k - 1] < H[k] && H[k] <= densest_J_m3));
    }
    return still;
}

void uf_layers_settle(const struct uf_heat *heat, double *H_J_m3)
{
    if (heat->n_water < 2) {
        return;
    }
    struct rows r = {.material = &heat->materials[heat->material[heat->water]],
                     .volume_m3 = heat->volume_m3 + heat->water,
                     .H_J_m3 = H_J_m3 + heat->water,
                     .n = heat->n_water};
    if (lies_still(&r)) {
        return;
    }
    const double full_J_m3 = uf_material_H_J_m3(r.material, UF_WATER_FREEZES_TO_C);
    size_t top = 0;
    for (size_t k = 0; k < r.n; k++) {
        float_up(&r, full_J_m3, k);
    }
    while (top < r.n && !(r.H_J_m3[top] >= -LAST_DIGITS_J_M3)) {
        top++;
    }
    turn_over(&r, top);
}

void uf_layers_join(const struct uf_heat *heat, const double *H_J_m3, double *rate_W_m3,
                    bool *joined)
{
    const struct uf_material *m = &heat->materials[heat->material[heat->water]];
    const double densest_J_m3 = uf_material_H_J_m3(m, UF_WATER_DENSEST_DEGC);
    const double *H = H_J_m3 + heat->water;
    double *rate = rate_W_m3 + heat->water;
    for (size_t last = 0; last < heat->n_water; last++) {
        size_t first = last;
        joined[last] = false;
        while (first > 0 && H[last] >= 0.0 && H[first - 1] == H[last] &&
               (H[last] - densest_J_m3) * (rate[first - 1] - rate[first]) < 0.0) {
            do {
                first--;
                joined[first] = true;
            } while (first > 0 && joined[first - 1]);
            mix(heat->volume_m3 + heat->water, rate, first, last);
        }
    }
}

void uf_layers_average(const struct uf_heat *heat, const bool *joined, double *x)
{
    for (size_t first = 0; first < heat->n_water; first++) {
        const size_t from = first;
        while (joined[first]) {
            first++;
        }
        if (first > from) {
            mix(heat->volume_m3 + heat->water, x + heat->water, from, first);
        }
    }
}

bool uf_layers_look(const struct uf_heat *heat, const double *H_J_m3, bool *joined)
{
    const struct uf_material *m = &heat->materials[heat->material[heat->water]];
    const double full_J_m3 = uf_material_H_J_m3(m, UF_WATER_FREEZES_TO_C);
    bool changed = false;
    for (size_t r = 0; r + 1 < heat->n_water; r++) {
        const double up_J_m3 = H_J_m3[heat->water + r];
        const double low_J_m3 = H_J_m3[heat->water + r + 1];
        const double heavier_kg_m3 = uf_layers_density_kg_m3(uf_material_T_degC(m, up_J_m3)) -
                                     uf_layers_density_kg_m3(uf_material_T_degC(m, low_J_m3));
        const bool ice = fmin(up_J_m3, low_J_m3) < -LAST_DIGITS_J_M3;
        const bool join = !ice && heavier_kg_m3 > (joined[r] ? -HAIR_KG_M3 : HAIR_KG_M3);
        const bool sunk = low_J_m3 < -LAST_DIGITS_J_M3 && up_J_m3 > full_J_m3 + LAST_DIGITS_J_M3;
        changed = changed || sunk || join != joined[r];
        joined[r] = join;
    }
    return changed;
}

void uf_layers_level(const struct uf_heat *heat, const double *T_degC, double in_degC, size_t *row,
                     double *below)
{
    const double *T = T_degC + heat->water;
    const double in = uf_layers_density_kg_m3(in_degC);
    size_t r = 0;
    while (r + 1 < heat->n_water && uf_layers_density_kg_m3(T[r + 1]) < in) {
        r++;
    }
    *row = heat->water + r;
    *below = 0.0;
    if (r + 1 < heat->n_water) {
        const double here = uf_layers_density_kg_m3(T[r]);
        const double next = uf_layers_density_kg_m3(T[r + 1]);
        *below = next > here ? fmin(1.0, fmax(0.0, (in - here) / (next - here))) : 0.5;
    }
}
