#include "heat.h"

#include "layers.h"
#include "shaft_flow.h"
#include "sparse.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void uf_heat_temperatures(const struct uf_heat *heat, const double *H_J_m3, double *T_degC)
{
    for (size_t i = 0; i < heat->n; i++) {
        const struct uf_material *m = &heat->materials[heat->material[i]];
        T_degC[i] = H_J_m3[i] >= 0.0 ? m->T_degC[m->n - 1] + H_J_m3[i] / m->c_thawed_J_m3K
                                     : uf_material_T_degC(m, H_J_m3[i]); /* the same, sooner */
    }
}

void uf_heat_enthalpies(const struct uf_heat *heat, const double *T_degC, double *H_J_m3)
{
    for (size_t i = 0; i < heat->n; i++) {
        H_J_m3[i] = uf_material_H_J_m3(&heat->materials[heat->material[i]], T_degC[i]);
    }
}

static double secant(const struct uf_heat *heat, uint16_t material, double a_degC, double b_degC)
{
    return uf_material_secant_W_mK(&heat->materials[material], a_degC, b_degC);
}

double uf_heat_link_W_K(const struct uf_heat *heat, const struct uf_heat_link *link,
                        const double *T_degC)
{
    const double a = T_degC[link->a];
    const double b = T_degC[link->b];
    double resistance_m2K_W = link->fixed_m2K_W;
    if (link->length_a_m > 0.0) {
        resistance_m2K_W += link->length_a_m / secant(heat, link->material_a, a, b);
    }
    if (link->length_b_m > 0.0) {
        resistance_m2K_W += link->length_b_m / secant(heat, link->material_b, a, b);
    }
    return link->area_m2 / resistance_m2K_W;
}

double uf_heat_link_W(const struct uf_heat *heat, const struct uf_heat_link *link,
                      const double *T_degC)
{
    return uf_heat_link_W_K(heat, link, T_degC) * (T_degC[link->a] - T_degC[link->b]);
}

double uf_heat_top_W(const struct uf_heat *heat, const struct uf_heat_top *top,
                     const struct uf_heat_now *now, double T_degC, double *minus_slope_W_K)
{
    const struct uf_material *m = &heat->materials[top->material];
    double film_m2K_W = 0.0;
    double surface_degC = now->outside_degC;
    if (isfinite(now->h_W_m2K)) {
        /* Surface temperature with the cell's own conductivity, then the secant to it. */
        const double half_m2K_W = top->half_m / uf_material_k_W_mK(m, T_degC);
        film_m2K_W = 1.0 / now->h_W_m2K;
        surface_degC += (T_degC - now->outside_degC) * film_m2K_W / (film_m2K_W + half_m2K_W);
    }
    const double k_W_mK = uf_material_secant_W_mK(m, surface_degC, T_degC);
    double W_K = top->area_m2 / (film_m2K_W + top->half_m / k_W_mK);
    double W = W_K * (now->outside_degC - T_degC);
    if (now->snow && (T_degC > 0.0 || now->outside_degC > 0.0)) {
        const double melt_W_K =
            top->area_m2 * uf_material_secant_W_mK(m, 0.0, T_degC) / top->half_m;
        W_K = melt_W_K * -T_degC < W ? melt_W_K : W_K;
        W = fmin(W, melt_W_K * -T_degC);
    }
    if (minus_slope_W_K != NULL) {
        *minus_slope_W_K = W_K;
    }
    return W;
}

double uf_heat_surface_degC(const struct uf_heat *heat, const struct uf_heat_top *top,
                            const struct uf_heat_now *now, double T_degC)
{
    const double W = uf_heat_top_W(heat, top, now, T_degC, NULL);
    const double bare_degC = isfinite(now->h_W_m2K)
                                 ? now->outside_degC - W / (now->h_W_m2K * top->area_m2)
                                 : now->outside_degC;
    return now->snow ? fmin(0.0, bare_degC) : bare_degC;
}

/* The structured faces of a cell towards growing x, z and y. */
enum { AXES = 3 };
struct faces {
    size_t ahead[AXES];
    double g_m[AXES];
};

static void faces_of(struct faces *faces, const struct uf_heat *heat, size_t c)
{
    const struct uf_grid *g = heat->grid;
    *faces = (struct faces){{c + 1, c + g->nx, c + g->nx * g->nz},
                            {heat->gx_m[c], heat->gz_m[c], heat->gy_m[c]}};
}

static void add_conduction(const struct uf_heat *heat, const double *T_degC, double *into_W)
{
    for (size_t c = 0; c < heat->n_cells; c++) {
        const struct uf_material *m = &heat->materials[heat->conducts[c]];
        struct faces f;
        faces_of(&f, heat, c);
        for (int axis = 0; axis < AXES; axis++) {
            if (f.g_m[axis] > 0.0) {
                const double W = f.g_m[axis] * (uf_material_U_W_m(m, T_degC[c]) -
                                                uf_material_U_W_m(m, T_degC[f.ahead[axis]]));
                into_W[c] -= W;
                into_W[f.ahead[axis]] += W;
            }
        }
    }
    for (size_t l = 0; l < heat->n_links; l++) {
        const double W = uf_heat_link_W(heat, &heat->links[l], T_degC);
        into_W[heat->links[l].a] -= W;
        into_W[heat->links[l].b] += W;
    }
    for (size_t s = 0; s < heat->n_shafts; s++) {
        const struct uf_heat_shaft *shaft = &heat->shafts[s];
        const double W = uf_heat_shaft_W(shaft, T_degC);
        into_W[shaft->node] -= W;
        into_W[shaft->cell] += W;
    }
}

static void add_surface(const struct uf_heat *heat, const struct uf_heat_now *now,
                        const double *T_degC, double *into_W, struct uf_heat_flow *flow)
{
    for (size_t t = 0; t < heat->n_tops; t++) {
        const size_t cell = heat->tops[t].cell;
        const double W = uf_heat_top_W(heat, &heat->tops[t], now, T_degC[cell], NULL);
        into_W[cell] += W;
        flow->surface_W += W;
    }
}

static void add_rest(const struct uf_heat *heat, const struct uf_heat_now *now,
                     const double *T_degC, double *into_W, struct uf_heat_flow *flow)
{
    const struct uf_grid *g = heat->grid;
    for (size_t k = 0; k < g->ny; k++) {
        for (size_t i = 0; i < g->nx; i++) {
            into_W[uf_grid_in(g, i, g->nz - 1, k)] += heat->bottom_W[k * g->nx + i];
            flow->bottom_W += heat->bottom_W[k * g->nx + i];
        }
    }
    for (size_t v = 0; v < heat->n_vents; v++) {
        const double W = heat->vents[v].W_K * (now->air_degC - T_degC[heat->vents[v].node]);
        into_W[heat->vents[v].node] += W;
        flow->vent_W += W;
    }
    if (heat->inflow_W_K > 0.0) {
        size_t row = 0;
        double below = 0.0;
        uf_layers_level(heat, T_degC, heat->inflow_degC, &row, &below);
        for (size_t k = 0; k < (below > 0.0 ? 2 : 1); k++) {
            const double W = (k == 0 ? 1.0 - below : below) * heat->inflow_W_K *
                             (heat->inflow_degC - T_degC[row + k]);
            into_W[row + k] += W;
            flow->inflow_W += W;
        }
    }
    if (heat->held != UF_HEAT_NONE) {
        flow->held_W -= into_W[heat->held];
        into_W[heat->held] = 0.0;
    }
}

void uf_heat_rate(const struct uf_heat *heat, const struct uf_heat_now *now, const double *T_degC,
                  double *into_W, struct uf_heat_flow *flow)
{
    memset(into_W, 0, heat->n * sizeof *into_W);
    *flow = (struct uf_heat_flow){0};
    add_conduction(heat, T_degC, into_W);
    add_surface(heat, now, T_degC, into_W, flow);
    add_rest(heat, now, T_degC, into_W, flow);
}

double uf_heat_total_J(const struct uf_heat_budget *budget)
{
    return budget->surface_J + budget->bottom_J + budget->vent_J + budget->held_J +
           budget->inflow_J;
}

double uf_heat_stored_J(const struct uf_heat *heat, const double *H_J_m3)
{
    double sum_J = 0.0;
    for (size_t i = 0; i < heat->n; i++) {
        sum_J += heat->volume_m3[i] * H_J_m3[i];
    }
    return sum_J;
}

enum uf_status uf_heat_pairs(const struct uf_heat *heat, size_t (**pairs)[2], size_t *n_pairs,
                             struct uf_error *err)
{
    size_t(*list)[2] =
        malloc((AXES * heat->n_cells + heat->n_links + heat->n_shafts + 1) * sizeof *list);
    size_t count = 0;
    if (list == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a matrix");
    }
    for (size_t c = 0; c < heat->n_cells; c++) {
        struct faces f;
        faces_of(&f, heat, c);
        for (int axis = 0; axis < AXES; axis++) {
            if (f.g_m[axis] > 0.0) {
                list[count][0] = c;
                list[count++][1] = f.ahead[axis];
            }
        }
    }
    for (size_t l = 0; l < heat->n_links; l++) {
        list[count][0] = heat->links[l].a;
        list[count++][1] = heat->links[l].b;
    }
    for (size_t s = 0; s < heat->n_shafts; s++) {
        list[count][0] = heat->shafts[s].node;
        list[count++][1] = heat->shafts[s].cell;
    }
    *pairs = list;
    *n_pairs = count;
    return UF_OK;
}

/* A flow g_a T_a - g_b T_b from a to b, linearised, into the matrix. */
static void add_pair(struct uf_sparse *matrix, size_t p, size_t a, size_t b, double g_a, double g_b)
{
    *uf_sparse_diagonal(matrix, a) += g_a;
    *uf_sparse_diagonal(matrix, b) += g_b;
    *uf_sparse_ab(matrix, p) -= g_b;
    *uf_sparse_ba(matrix, p) -= g_a;
}

static void matrix_boundaries(const struct uf_heat *heat, const struct uf_heat_now *now,
                              const double *T_degC, double scale, struct uf_sparse *matrix)
{
    for (size_t t = 0; t < heat->n_tops; t++) {
        double W_K = 0.0;
        const size_t cell = heat->tops[t].cell;
        (void)uf_heat_top_W(heat, &heat->tops[t], now, T_degC[cell], &W_K);
        *uf_sparse_diagonal(matrix, cell) += scale * W_K;
    }
    for (size_t v = 0; v < heat->n_vents; v++) {
        *uf_sparse_diagonal(matrix, heat->vents[v].node) += scale * heat->vents[v].W_K;
    }
    if (heat->inflow_W_K > 0.0) {
        size_t row = 0;
        double below = 0.0;
        uf_layers_level(heat, T_degC, heat->inflow_degC, &row, &below);
        for (size_t k = 0; k < (below > 0.0 ? 2 : 1); k++) {
            *uf_sparse_diagonal(matrix, row + k) +=
                scale * (k == 0 ? 1.0 - below : below) * heat->inflow_W_K;
        }
    }
}

void uf_heat_matrix(const struct uf_heat *heat, const struct uf_heat_now *now, const double *T_degC,
                    double scale, struct uf_sparse *matrix)
{
    size_t p = 0;
    for (size_t c = 0; c < heat->n_cells; c++) {
        const struct uf_material *m = &heat->materials[heat->conducts[c]];
        struct faces f;
        faces_of(&f, heat, c);
        for (int axis = 0; axis < AXES; axis++) {
            if (f.g_m[axis] > 0.0) {
                add_pair(matrix, p++, c, f.ahead[axis],
                         scale * f.g_m[axis] * uf_material_k_W_mK(m, T_degC[c]),
                         scale * f.g_m[axis] * uf_material_k_W_mK(m, T_degC[f.ahead[axis]]));
            }
        }
    }
    for (size_t l = 0; l < heat->n_links; l++) {
        const double W_K = scale * uf_heat_link_W_K(heat, &heat->links[l], T_degC);
        add_pair(matrix, p++, heat->links[l].a, heat->links[l].b, W_K, W_K);
    }
    for (size_t s = 0; s < heat->n_shafts; s++) {
        const struct uf_heat_shaft *shaft = &heat->shafts[s];
        add_pair(matrix, p++, shaft->node, shaft->cell,
                 scale * uf_heat_shaft_slope_W_K(shaft, T_degC),
                 scale * uf_heat_shaft_W_K(shaft, T_degC));
    }
    matrix_boundaries(heat, now, T_degC, scale, matrix);
}

void uf_heat_add_joined(const struct uf_heat *heat, double W_K, const bool *joined,
                        const double *T_degC, double *into_W)
{
    for (size_t r = 0; r + 1 < heat->n_water; r++) {
        const size_t a = heat->water + r;
        const double W = joined[r] ? W_K * (T_degC[a] - T_degC[a + 1]) : 0.0;
        into_W[a] -= W;
        into_W[a + 1] += W;
    }
}

void uf_heat_join_water(const struct uf_heat *heat, double W_K, const bool *joined,
                        struct uf_sparse *matrix)
{
    size_t p = 0;
    for (size_t c = 0; c < heat->n_cells; c++) {
        struct faces f;
        faces_of(&f, heat, c);
        for (int axis = 0; axis < AXES; axis++) {
            p += f.g_m[axis] > 0.0 ? 1 : 0;
        }
    }
    for (size_t l = 0; l < heat->n_links; l++, p++) {
        const struct uf_heat_link *link = &heat->links[l];
        if (uf_heat_is_water(heat, link->a) && uf_heat_is_water(heat, link->b) &&
            (joined == NULL || joined[link->a - heat->water])) {
            add_pair(matrix, p, link->a, link->b, W_K, W_K);
        }
    }
}

bool uf_heat_is_water(const struct uf_heat *heat, size_t node)
{
    return node >= heat->water && node - heat->water < heat->n_water;
}

void uf_heat_free(struct uf_heat *heat)
{
    if (heat == NULL) {
        return;
    }
    free(heat->materials);
    free(heat->material);
    free(heat->conducts);
    free(heat->volume_m3);
    free(heat->gx_m);
    free(heat->gz_m);
    free(heat->gy_m);
    free(heat->links);
    free(heat->shafts);
    free(heat->tops);
    free(heat->bottom_W);
    free(heat);
}
