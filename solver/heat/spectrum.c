#include "spectrum.h"

#include "solver/base/clones.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const int ITERATIONS = 120;
static const double SPARE = 1.05;
/* What the slope of a shaft of water that begins to stir adds to its conductance: its temperature
   difference over the kelvin in which it begins. */
static const double STIRRED_K = 10.0;

/* One conductance at its strongest, between nodes a and b. */
struct edge {
    size_t a, b;
    double W_K;
};

struct graph {
    double *strongest_W_mK, *paired_J_m3K; /* of each substance */
    struct edge *edges;                    /* links and shafts */
    size_t n_edges;
    /* faces between a cell and the next in a row, the next below, the next along the axis: [n_cells],
       0 where there is none. along_W_K: NULL of one slice */
    double *right_W_K, *below_W_K, *along_W_K;
    size_t n_cells, nx, slice;
    double *outer_W_K;   /* [n] to the outside */
    double *sum_W_K;     /* [n] all of a node's, outside counted half: it has no partner row */
    double *inverse_K_J; /* [n] 1 / (V c), 0 for nodes that do not move */
};

static double strongest(const struct uf_material *m)
{
    double k = 0.0;
    for (size_t j = 0; j < m->n; j++) {
        k = fmax(k, m->k_W_mK[j]);
    }
    return k;
}

/* Largest k / (dH/dT) over all temperatures, m2/s. */
static double quickest(const struct uf_material *m)
{
    const size_t last = m->n - 1;
    double a = fmax(m->k_W_mK[0] / m->c_frozen_J_m3K, m->k_W_mK[last] / m->c_thawed_J_m3K);
    for (size_t j = 0; j < last; j++) {
        const double slope = (m->H_J_m3[j + 1] - m->H_J_m3[j]) / (m->T_degC[j + 1] - m->T_degC[j]);
        a = fmax(a, fmax(m->k_W_mK[j], m->k_W_mK[j + 1]) / slope);
    }
    return a;
}

/* The heat capacity that goes with the strongest conductivity: their ratio is the
   quickest diffusivity. A cell's heat flow to its like changes with its own k(T) alone,
   so that k and dH/dT of one temperature belong together. */
static double paired_capacity(const struct uf_material *m)
{
    return strongest(m) / quickest(m);
}

static void add_edge(struct graph *g, size_t a, size_t b, double W_K)
{
    g->edges[g->n_edges++] = (struct edge){a, b, W_K};
    g->sum_W_K[a] += W_K;
    g->sum_W_K[b] += W_K;
}

static void add_face(struct graph *g, double *faces_W_K, size_t a, size_t b, double W_K)
{
    faces_W_K[a] = W_K;
    g->sum_W_K[a] += W_K;
    g->sum_W_K[b] += W_K;
}

/* A way out of a node: a resistance that does not change, and lengths of up to two
   substances whose k changes with the temperatures at its ends. Every conductance of a
   network that is no plain face between like cells comes through here. */
struct way {
    double area_m2, fixed_m2K_W;
    double length_m[2];
    const struct uf_material *substance[2];
};

static double weakest(const struct uf_material *m)
{
    double k = INFINITY;
    for (size_t j = 0; j < m->n; j++) {
        k = fmin(k, m->k_W_mK[j]);
    }
    return k;
}

/* Do two substances conduct alike at every temperature? */
static bool conduct_alike(const struct uf_material *a, const struct uf_material *b)
{
    return a->n == b->n && memcmp(a->T_degC, b->T_degC, a->n * sizeof *a->T_degC) == 0 &&
           memcmp(a->k_W_mK, b->k_W_mK, a->n * sizeof *a->k_W_mK) == 0;
}

/* Largest change of a way's heat flow with the temperature of its node, the node frozen or
   thawed, W/K. With r_i the reciprocal of the secant conductivity and k_i that of the node's
   temperature

   dW/dT = A (R + sum l_i r_i^2 k_i) / (R + sum l_i r_i)^2,

   which for every r_i is largest at one end of its range, 1/k_most to 1/k_least. Both r_i are of the
   same two temperatures: substances that conduct alike are at the same end. */
static double steepest_W_K(const struct way *way, bool frozen)
{
    double most = 0.0;
    const bool alike = way->length_m[0] > 0.0 && way->length_m[1] > 0.0 &&
                       conduct_alike(way->substance[0], way->substance[1]);
    for (unsigned corner = 0; corner < 4; corner += alike ? 3 : 1) {
        double up = way->fixed_m2K_W;
        double down = up;
        for (unsigned p = 0; p < 2; p++) {
            const struct uf_material *m = way->substance[p];
            if (way->length_m[p] > 0.0) {
                const double r = 1.0 / (corner >> p & 1u ? weakest(m) : strongest(m));
                up += way->length_m[p] * r * r * m->k_W_mK[frozen ? 0 : m->n - 1];
                down += way->length_m[p] * r;
            }
        }
        most = fmax(most, way->area_m2 * up / (down * down));
    }
    return most;
}

/* The same over the least heat capacity that goes with it, as a conductance against the
   node's paired capacity. */
static double way_W_K(const struct graph *g, const struct uf_heat *heat, size_t node,
                      const struct way *way)
{
    const struct uf_material *m = &heat->materials[heat->material[node]];
    const double paired = g->paired_J_m3K[heat->material[node]];
    return fmax(steepest_W_K(way, true) * paired / m->c_frozen_J_m3K,
                steepest_W_K(way, false) * paired / m->c_thawed_J_m3K);
}

static void add_faces(struct graph *g, const struct uf_heat *heat)
{
    for (size_t c = 0; c < heat->n_cells; c++) {
        const double k = g->strongest_W_mK[heat->conducts[c]];
        if (heat->gx_m[c] > 0.0) {
            add_face(g, g->right_W_K, c, c + 1, heat->gx_m[c] * k);
        }
        if (heat->gz_m[c] > 0.0) {
            add_face(g, g->below_W_K, c, c + g->nx, heat->gz_m[c] * k);
        }
        if (g->along_W_K != NULL && heat->gy_m[c] > 0.0) {
            add_face(g, g->along_W_K, c, c + g->slice, heat->gy_m[c] * k);
        }
    }
}

static void add_inside(struct graph *g, const struct uf_heat *heat)
{
    add_faces(g, heat);
    for (size_t l = 0; l < heat->n_links; l++) {
        const struct uf_heat_link *link = &heat->links[l];
        const struct way way = {
            .area_m2 = link->area_m2,
            .fixed_m2K_W = link->fixed_m2K_W,
            .length_m = {link->length_a_m, link->length_b_m},
            .substance = {&heat->materials[link->material_a], &heat->materials[link->material_b]}};
        add_edge(g, link->a, link->b,
                 fmax(way_W_K(g, heat, link->a, &way), way_W_K(g, heat, link->b, &way)));
    }
    for (size_t s = 0; s < heat->n_shafts; s++) {
        const struct uf_heat_shaft *shaft = &heat->shafts[s];
        const double steep = shaft->water ? 1.0 + STIRRED_K : 1.0;
        const struct way way = {.area_m2 = steep * shaft->W_K, .fixed_m2K_W = 1.0};
        add_edge(g, shaft->node, shaft->cell,
                 fmax(way_W_K(g, heat, shaft->node, &way), way_W_K(g, heat, shaft->cell, &way)));
    }
}

static void add_outside(struct graph *g, const struct uf_heat *heat, double h_W_m2K)
{
    for (size_t t = 0; t < heat->n_tops; t++) {
        const struct uf_heat_top *top = &heat->tops[t];
        const struct way way = {.area_m2 = top->area_m2,
                                .fixed_m2K_W = isfinite(h_W_m2K) ? 1.0 / h_W_m2K : 0.0,
                                .length_m = {top->half_m},
                                .substance = {&heat->materials[top->material]}};
        g->outer_W_K[top->cell] += way_W_K(g, heat, top->cell, &way);
    }
    for (size_t v = 0; v < heat->n_vents; v++) {
        const struct way way = {.area_m2 = heat->vents[v].W_K, .fixed_m2K_W = 1.0};
        g->outer_W_K[heat->vents[v].node] += way_W_K(g, heat, heat->vents[v].node, &way);
    }
    if (heat->inflow_W_K > 0.0) {
        for (size_t r = heat->water; r < heat->water + heat->n_water; r++) {
            const struct way way = {.area_m2 = heat->inflow_W_K, .fixed_m2K_W = 1.0};
            g->outer_W_K[r] += way_W_K(g, heat, r, &way); /* wherever it comes to rest */
        }
    }
    for (size_t i = 0; i < heat->n; i++) {
        g->sum_W_K[i] += 0.5 * g->outer_W_K[i];
    }
}

static bool graph_create(struct graph *g, const struct uf_heat *heat, double h_W_m2K)
{
    const struct uf_grid *grid = heat->grid;
    *g = (struct graph){.edges = calloc(heat->n_links + heat->n_shafts + 1, sizeof *g->edges),
                        .outer_W_K = calloc(3 * heat->n, sizeof *g->outer_W_K),
                        .right_W_K = calloc(3 * heat->n_cells + 1, sizeof *g->right_W_K),
                        .strongest_W_mK =
                            calloc(2 * heat->n_materials + 1, sizeof *g->strongest_W_mK),
                        .n_cells = heat->n_cells,
                        .nx = grid->nx,
                        .slice = grid->nx * grid->nz};
    if (g->edges == NULL || g->outer_W_K == NULL || g->right_W_K == NULL ||
        g->strongest_W_mK == NULL) {
        return false;
    }
    g->paired_J_m3K = g->strongest_W_mK + heat->n_materials;
    for (size_t m = 0; m < heat->n_materials; m++) {
        g->strongest_W_mK[m] = strongest(&heat->materials[m]);
        g->paired_J_m3K[m] = paired_capacity(&heat->materials[m]);
    }
    g->below_W_K = g->right_W_K + heat->n_cells;
    g->along_W_K = grid->ny > 1 ? g->below_W_K + heat->n_cells : NULL;
    g->sum_W_K = g->outer_W_K + heat->n;
    g->inverse_K_J = g->sum_W_K + heat->n;
    add_inside(g, heat);
    add_outside(g, heat, h_W_m2K);
    for (size_t i = 0; i < heat->n; i++) {
        if (heat->volume_m3[i] > 0.0 && i != heat->held) {
            g->inverse_K_J[i] = 1.0 / (heat->volume_m3[i] * g->paired_J_m3K[heat->material[i]]);
        }
    }
    return true;
}

static void graph_free(struct graph *g)
{
    free(g->edges);
    free(g->outer_W_K);
    free(g->right_W_K);
    free(g->strongest_W_mK);
}

/* Rate of the node that is fastest alone, which no eigenvalue's largest lies below. */
static double alone(const struct graph *g, size_t n)
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++) {
        most = fmax(most, (g->sum_W_K[i] + 0.5 * g->outer_W_K[i]) * g->inverse_K_J[i]);
    }
    return most;
}

/* Largest row sum (Gershgorin): never too small. */
static double row_bound(const struct graph *g, size_t n)
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++) {
        most = fmax(most, 2.0 * g->sum_W_K[i] * g->inverse_K_J[i]);
    }
    return most;
}

/* Adds what flows from each cell to the one `on` further: in two loops, each of which is vectorised. */
UF_CLONES static void flow(size_t n_cells, size_t on, const double *restrict W_K,
                           const double *restrict z, double *restrict y)
{
    for (size_t c = 0; c + on < n_cells; c++) {
        y[c] += W_K[c] * (z[c] - z[c + on]);
    }
    for (size_t c = 0; c + on < n_cells; c++) {
        y[c + on] -= W_K[c] * (z[c] - z[c + on]);
    }
}

UF_CLONES static void scale(size_t n, const double *restrict a, const double *restrict b,
                            double *restrict to)
{
    for (size_t i = 0; i < n; i++) {
        to[i] = a[i] * b[i];
    }
}

/* y *= root; returns |y|^2. */
UF_CLONES static double finish(size_t n, const double *restrict root, double *restrict y)
{
    double sums[8] = {0.0}, rest = 0.0;
    size_t i = 0;
    for (; i + 8 <= n; i += 8) {
        for (size_t k = 0; k < 8; k++) {
            y[i + k] *= root[i + k];
            sums[k] += y[i + k] * y[i + k];
        }
    }
    for (; i < n; i++) {
        y[i] *= root[i];
        rest += y[i] * y[i];
    }
    for (size_t k = 0; k < 8; k++) {
        rest += sums[k];
    }
    return rest;
}

/* y = S K S x with S = (V c)^-1/2: symmetric, same eigenvalues. z [n]: work. Returns |y|. */
static double apply(const struct graph *g, size_t n, const double *root, const double *x, double *y,
                    double *z)
{
    scale(n, root, x, z);
    scale(n, g->outer_W_K, z, y);
    flow(g->n_cells, 1, g->right_W_K, z, y);
    flow(g->n_cells, g->nx, g->below_W_K, z, y);
    if (g->along_W_K != NULL) {
        flow(g->n_cells, g->slice, g->along_W_K, z, y);
    }
    for (size_t e = 0; e < g->n_edges; e++) {
        const size_t a = g->edges[e].a;
        const size_t b = g->edges[e].b;
        const double W = g->edges[e].W_K * (z[a] - z[b]);
        y[a] += W;
        y[b] -= W;
    }
    return sqrt(finish(n, root, y));
}

double uf_spectrum_fastest_1_s(const struct uf_heat *heat, double h_W_m2K)
{
    struct graph g;
    const size_t n = heat->n;
    double *work = calloc(4 * n, sizeof *work);
    double fastest = INFINITY;
    if (graph_create(&g, heat, h_W_m2K) && work != NULL) {
        double *const root = work;
        double *x = work + n;
        double *y = work + 2 * n;
        double *z = work + 3 * n;
        double norm = 0.0;
        for (size_t i = 0; i < n; i++) {
            root[i] = sqrt(g.inverse_K_J[i]);
            /* Alternating signs lie near the fastest mode of a chequered grid. */
            const struct uf_grid *grid = heat->grid;
            const size_t place = uf_grid_i(grid, i) + uf_grid_j(grid, i) + uf_grid_k(grid, i);
            x[i] = (place % 2 == 0 ? 1.0 : -1.0) * (1.0 + 0.01 * (double)(i % 7)) / sqrt((double)n);
        }
        for (int k = 0; k < ITERATIONS; k++) {
            norm = apply(&g, n, root, x, y, z);
            const double whole = norm > 0.0 ? 1.0 / norm : 0.0;
            for (size_t i = 0; i < n; i++) {
                x[i] = whole * y[i];
            }
        }
        fastest = fmin(SPARE * fmax(norm, alone(&g, n)), row_bound(&g, n));
    }
    graph_free(&g);
    free(work);
    return fastest;
}

double uf_spectrum_thawed_1_s(const struct uf_heat *heat, double h_W_m2K)
{
    struct uf_heat like = *heat;
    like.materials = calloc(heat->n_materials + 1, sizeof *like.materials);
    if (like.materials == NULL) {
        return INFINITY;
    }
    for (size_t m = 0; m < heat->n_materials; m++) {
        const struct uf_material *of = &heat->materials[m];
        uf_material_inert(&like.materials[m], of->name, of->k_W_mK[of->n - 1], of->c_thawed_J_m3K);
    }
    const double fastest_1_s = uf_spectrum_fastest_1_s(&like, h_W_m2K);
    free(like.materials);
    return fastest_1_s;
}
