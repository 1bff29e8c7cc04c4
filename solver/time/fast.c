#include "fast_private.h"
#include "solver/heat/layers.h"
#include "solver/heat/shaft_flow.h"

#include <math.h>
#include <string.h>

/* One slice on its way through a sweep: its first cell, U of its cells and of the slices
   before and behind. */
struct slab {
    size_t from;
    const double *U, *U_front, *U_behind;
};

/* Flow into a cell from its four neighbours. Faces that are not structured have
   conductance zero. */
#define FIVE_POINT(c)                                                                              \
    (gx[c] * (U[(c) + 1] - U[c]) - left[c] * (U[c] - U_left[c]) + gz[c] * (U_below[c] - U[c]) -    \
     above[c] * (U[c] - U_above[c]))

/* What the neighbours along the axis add to it. */
#define AXIAL(c) (gy[c] * (U_behind[c] - U[c]) - front[c] * (U[c] - U_front[c]))

#define SWEEP_ARRAYS(f, s)                                                                         \
    const double *restrict gx = (f)->gx + (s)->from;                                               \
    const double *restrict gz = (f)->gz + (s)->from;                                               \
    const double *restrict left = gx - 1;                                                          \
    const double *restrict above = gz - (f)->nx;                                                   \
    const double *restrict U = (s)->U;                                                             \
    const double *restrict U_left = U - 1;                                                         \
    const double *restrict U_above = U - (f)->nx;                                                  \
    const double *restrict U_below = U + (f)->nx;                                                  \
    const double *restrict inv = (f)->inv_volume + (s)->from;                                      \
    const size_t n = (f)->slice
#define AXIAL_ARRAYS(f, s)                                                                         \
    const double *restrict gy = (f)->gy + (s)->from;                                               \
    const double *restrict front = gy - (f)->slice;                                                \
    const double *restrict U_front = (s)->U_front;                                                 \
    const double *restrict U_behind = (s)->U_behind

/* rate: of the slice's cells, as the arrays of a stage. */
UF_FAST_CLONES static void sweep(const struct uf_fast *f, const struct slab *s,
                                 double *restrict rate)
{
    SWEEP_ARRAYS(f, s);
    for (size_t c = 0; c < n; c++) {
        rate[c] = inv[c] * FIVE_POINT(c);
    }
}

UF_FAST_CLONES static void sweep_solid(const struct uf_fast *f, const struct slab *s,
                                       double *restrict rate)
{
    SWEEP_ARRAYS(f, s);
    AXIAL_ARRAYS(f, s);
    for (size_t c = 0; c < n; c++) {
        rate[c] = inv[c] * (FIVE_POINT(c) + AXIAL(c));
    }
}

#define STAGE_ARRAYS(terms, s, c4)                                                                 \
    const double *restrict now = (terms)->now + (s)->from;                                         \
    const double *restrict rate0 = (terms)->rate0 + (s)->from;                                     \
    const double mu = (c4)[0];                                                                     \
    const double nu = (c4)[1];                                                                     \
    const double mu_t = (c4)[2];                                                                   \
    const double gamma_t = (c4)[3]
#define STAGE(c, into) (mu * now[c] + nu * turn[c] + gamma_t * rate0[c] + mu_t * (into))

/* turn: the terms' own, from the slice's first cell; as a parameter it is known to overlap
   nothing. */
UF_FAST_CLONES static void sweep_stage(const struct uf_fast *f, const struct slab *s,
                                       const double c4[4], const struct uf_fast_terms *terms,
                                       double *restrict turn)
{
    SWEEP_ARRAYS(f, s);
    STAGE_ARRAYS(terms, s, c4);
    for (size_t c = 0; c < n; c++) {
        turn[c] = STAGE(c, inv[c] * FIVE_POINT(c));
    }
}

UF_FAST_CLONES static void sweep_stage_solid(const struct uf_fast *f, const struct slab *s,
                                             const double c4[4], const struct uf_fast_terms *terms,
                                             double *restrict turn)
{
    SWEEP_ARRAYS(f, s);
    AXIAL_ARRAYS(f, s);
    STAGE_ARRAYS(terms, s, c4);
    for (size_t c = 0; c < n; c++) {
        turn[c] = STAGE(c, inv[c] * (FIVE_POINT(c) + AXIAL(c)));
    }
}

/* U of slice k: the last few slices are kept, so that a slice is still in the cache when it
   is swept. */
static double *ring(const struct uf_fast *f, size_t k)
{
    return f->U + k % f->n_ring * f->wide;
}

/* Slice k, with U of the next one made; beyond the first and the last stands the slice itself,
   behind faces that conduct nothing. */
static struct slab next_slab(struct uf_fast *f, size_t k, const double *start, const double *more)
{
    const bool last = k + 1 == f->n_slices;
    if (k == 0) {
        uf_fast_convert_slice(f, 0, start, more, ring(f, 0));
    }
    if (!last) {
        uf_fast_convert_slice(f, k + 1, start, more, ring(f, k + 1));
    }
    return (struct slab){.from = k * f->slice,
                         .U = ring(f, k),
                         .U_front = ring(f, k > 0 ? k - 1 : k),
                         .U_behind = ring(f, last ? k : k + 1)};
}

/* Adds a flow of W into a node to its rate. */
static inline void add(const struct uf_fast *f, double scale, size_t i, double W, double *rate)
{
    rate[i] += scale * W * f->inv_volume[i];
}

/* Flow through the surface of every top cell, as uf_heat_top_W. film: 0 where the surface
   itself is at outside. */
UF_FAST_CLONES static void top_flows(size_t n, double outside, double film_m2K_W,
                                     const double *restrict x, double *restrict W)
{
#define ROW(name) (x[(size_t)(UF_TOP_##name) * n + t])
    for (size_t t = 0; t < n; t++) {
        const double T = ROW(T);
        double mid = T > ROW(T0) ? T : ROW(T0);
        mid = mid < ROW(T1) ? mid : ROW(T1);
        const double half_m2K_W = ROW(HALF) / (ROW(KF) + ROW(DK) * (mid - ROW(T0)));
        const double surface = outside + (T - outside) * film_m2K_W / (film_m2K_W + half_m2K_W);
        const double safe = uf_fast_safe(surface - T);
        const double d =
            uf_fast_difference(T + safe, T, ROW(T0), ROW(T1), ROW(KU), ROW(KF), ROW(DK));
        W[t] = ROW(AREA) * (outside - T) / (film_m2K_W + ROW(HALF) * safe / d);
    }
#undef ROW
}

static void add_surface(struct uf_fast *f, const struct uf_heat_now *now, double scale,
                        double *rate, struct uf_heat_flow *flow)
{
    const struct uf_heat *h = f->heat;
    double *const T = f->tops + UF_TOP_T * h->n_tops;
    double *const W = f->tops + UF_TOP_W * h->n_tops;
    for (size_t t = 0; t < h->n_tops; t++) {
        T[t] = f->T[h->tops[t].cell];
    }
    if (f->simple_tops && !now->snow) {
        top_flows(h->n_tops, now->outside_degC, isfinite(now->h_W_m2K) ? 1.0 / now->h_W_m2K : 0.0,
                  f->tops, W);
    } else {
        for (size_t t = 0; t < h->n_tops; t++) {
            W[t] = uf_heat_top_W(h, &h->tops[t], now, T[t], NULL);
        }
    }
    for (size_t t = 0; t < h->n_tops; t++) {
        add(f, scale, h->tops[t].cell, W[t], rate);
        flow->surface_W += W[t];
    }
}

/* Bottom, lids, inflow and the held node, as add_rest in heat.c. */
static void add_rest(struct uf_fast *f, const struct uf_heat_now *now, double scale, double *rate,
                     struct uf_heat_flow *flow)
{
    const struct uf_heat *h = f->heat;
    const struct uf_grid *g = h->grid;
    for (size_t k = 0; k < g->ny; k++) {
        for (size_t i = 0; i < g->nx; i++) {
            add(f, scale, uf_grid_in(g, i, g->nz - 1, k), h->bottom_W[k * g->nx + i], rate);
        }
    }
    flow->bottom_W = f->bottom_W;
    for (size_t v = 0; v < h->n_vents; v++) {
        const double W = h->vents[v].W_K * (now->air_degC - f->T[h->vents[v].node]);
        add(f, scale, h->vents[v].node, W, rate);
        flow->vent_W += W;
    }
    double shafts_W = 0.0; /* out of the held node */
    for (size_t s = 0; s < h->n_shafts; s++) {
        const double W = uf_heat_shaft_W(&h->shafts[s], f->T);
        add(f, scale, h->shafts[s].node, -W, rate);
        add(f, scale, h->shafts[s].cell, W, rate);
        shafts_W += h->shafts[s].node == h->held ? W : 0.0;
    }
    if (h->inflow_W_K > 0.0) {
        size_t row = 0;
        double below = 0.0;
        uf_layers_level(h, f->T, h->inflow_degC, &row, &below);
        for (size_t k = 0; k < (below > 0.0 ? 2 : 1); k++) {
            const double W =
                (k == 0 ? 1.0 - below : below) * h->inflow_W_K * (h->inflow_degC - f->T[row + k]);
            add(f, scale, row + k, W, rate);
            flow->inflow_W += W;
        }
    }
    if (h->held != UF_HEAT_NONE) {
        double lids_W = 0.0;
        for (size_t v = 0; v < h->n_vents; v++) {
            lids_W += h->vents[v].node == h->held
                          ? h->vents[v].W_K * (now->air_degC - f->T[h->held])
                          : 0.0;
        }
        for (size_t t = 0; t < h->n_tops; t++) {
            lids_W += h->tops[t].cell == h->held ? f->tops[UF_TOP_W * h->n_tops + t] : 0.0;
        }
        flow->held_W = -uf_fast_link_into_W(f, h->held) - lids_W + shafts_W -
                       (h->held == h->water ? flow->inflow_W : 0.0);
    }
}

/* All flows but those of the sweep, times scale. */
static void add_others(struct uf_fast *f, const struct uf_heat_now *now, double scale, double *rate,
                       struct uf_heat_flow *flow)
{
    *flow = (struct uf_heat_flow){0};
    uf_fast_link_add(f, scale, rate);
    add_surface(f, now, scale, rate, flow);
    add_rest(f, now, scale, rate, flow);
}

void uf_fast_rate(struct uf_fast *f, const struct uf_heat_now *now, const double *H_J_m3,
                  double *rate_W_m3, struct uf_heat_flow *flow)
{
    for (size_t k = 0; k < f->n_slices; k++) {
        const struct slab s = next_slab(f, k, H_J_m3, f->none);
        (f->n_slices > 1 ? sweep_solid : sweep)(f, &s, rate_W_m3 + s.from);
    }
    uf_fast_convert_asked(f, H_J_m3, f->none);
    memset(rate_W_m3 + f->n_cells, 0, (f->n - f->n_cells) * sizeof *rate_W_m3);
    add_others(f, now, 1.0, rate_W_m3, flow);
}

void uf_fast_stage(struct uf_fast *fast, const struct uf_heat_now *outside, const double c[4],
                   const struct uf_fast_terms *terms, struct uf_heat_flow *flow)
{
    for (size_t k = 0; k < fast->n_slices; k++) {
        const struct slab s = next_slab(fast, k, terms->start, terms->now);
        (fast->n_slices > 1 ? sweep_stage_solid : sweep_stage)(fast, &s, c, terms,
                                                               terms->turn + s.from);
    }
    uf_fast_convert_asked(fast, terms->start, terms->now);
    for (size_t i = fast->n_cells; i < fast->n; i++) {
        terms->turn[i] = c[0] * terms->now[i] + c[1] * terms->turn[i] + c[3] * terms->rate0[i];
    }
    add_others(fast, outside, c[2], terms->turn, flow);
}
