/* The loops over a stage's cells, links and surface, compiled for one kind of machine: what includes this
   has asked for it by a pragma, and names the table that stands at the end UF_LANES_KERNEL. Every kind
   gives the same digits. */

#include "lanes_law.h"

enum { U_ROWS = UF_LANES_U_ROWS };
#define EACH_VECTOR for (size_t w = 0; w < UF_LANES; w += UF_LANES_WIDE)

/* Enthalpy to U in a stretch of cells; the long way where a lane is frozen. */
UF_LANES_INLINE void convert(const struct uf_lanes_kind *k, size_t count, const float *start,
                             const float *now, float *restrict U, size_t w)
{
    const uf_lanes_v thawed = V(k->thawed);
    for (size_t at = 0; at < count * UF_LANES; at += UF_LANES) {
        const uf_lanes_v h = V(start + at) + V(now + at);
        if (uf_lanes_law_any_below(h)) {
            INTO(U + at) = uf_lanes_law_U(k, h, w);
        } else {
            INTO(U + at) = thawed * h;
        }
    }
}

/* U of a row: the last few are kept, so that they stay in the nearest cache. */
UF_LANES_INLINE float *U_row(const struct uf_lanes_shape *s, size_t j)
{
    return s->U + (j % U_ROWS) * (s->nx + 2) * UF_LANES;
}

/* A size of cell c in every lane, times x. */
UF_LANES_INLINE uf_lanes_v times(bool even, const float *one, const float *all, size_t c,
                                 uf_lanes_v x, size_t w)
{
    return even ? one[(ptrdiff_t)c] * x : V(all + (ptrdiff_t)c * UF_LANES) * x;
}
#define TIMES(name, c, x) times(even, s->even_##name, s->name, c, x, w)

/* The row's cells from U of it and its neighbours. */
UF_LANES_INLINE void sweep(const struct uf_lanes_shape *s, size_t from, float c4[4][UF_LANES],
                           bool even, float *restrict turn, size_t w)
{
    const size_t nx = s->nx;
    const float *here = U_row(s, from / nx), *above = U_row(s, from / nx + U_ROWS - 1);
    const float *below = U_row(s, from / nx + 1), *now = s->now, *rate0 = s->rate0;
    const uf_lanes_v mu = V(c4[0]), nu = V(c4[1]), mu_t = V(c4[2]), gamma_t = V(c4[3]);
    for (size_t c = from; c < from + nx; c++) {
        const size_t at = c * UF_LANES, i = (c - from) * UF_LANES;
        const uf_lanes_v u = V(here + i);
        const uf_lanes_v into = TIMES(gx, c, V(here + i + UF_LANES) - u) -
                                TIMES(gx, c - 1, u - V(here + i - UF_LANES)) +
                                TIMES(gz, c, V(below + i) - u) -
                                TIMES(gz, c - nx, u - V(above + i));
        INTO(turn + at) = mu * V(now + at) + nu * V(turn + at) + gamma_t * V(rate0 + at) +
                          mu_t * TIMES(inv, c, into);
    }
}

UF_LANES_INLINE void convert_row(const struct uf_lanes_shape *s, size_t j, size_t w)
{
    for (size_t r = s->first_stretch[j]; r < s->first_stretch[j + 1]; r++) {
        const struct uf_lanes_stretch *x = &s->stretches[r];
        convert(&s->kinds[x->kind], x->count, s->start + x->from * UF_LANES,
                s->now + x->from * UF_LANES, U_row(s, j) + (x->from - j * s->nx) * UF_LANES, w);
    }
}

UF_LANES_INLINE void rows_of(const struct uf_lanes_shape *s, float c4[4][UF_LANES],
                             float *restrict turn, size_t w)
{
    convert_row(s, 0, w);
    for (size_t j = 0; j < s->nz; j++) {
        if (j + 1 < s->nz) {
            convert_row(s, j + 1, w);
        }
        if (s->even) {
            sweep(s, j * s->nx, c4, true, turn, w);
        } else {
            sweep(s, j * s->nx, c4, false, turn, w);
        }
    }
    for (size_t at = s->n_cells * UF_LANES; at < s->n * UF_LANES; at += UF_LANES) {
        INTO(turn + at) =
            V(c4[0]) * V(s->now + at) + V(c4[1]) * V(turn + at) + V(c4[3]) * V(s->rate0 + at);
    }
}

static void rows(const struct uf_lanes_shape *s, float c4[4][UF_LANES], float *turn)
{
    EACH_VECTOR
    {
        rows_of(s, c4, turn, w);
    }
}

/* Temperature at an enthalpy: short where all lanes are thawed. */
UF_LANES_INLINE uf_lanes_v temperature(const struct uf_lanes_kind *k, uf_lanes_v h, size_t w)
{
    uf_lanes_v T = V(k->T1) + h * V(k->inv_cu);
    if (uf_lanes_law_any_below(h)) {
        T = uf_lanes_law_T(k, h, w);
    }
    return T;
}

/* Temperature of nodes of one substance. */
UF_LANES_INLINE void temperatures_of(const struct uf_lanes_shape *s,
                                     const struct uf_lanes_stretch *ask, float *restrict T,
                                     size_t w)
{
    const struct uf_lanes_kind *k = &s->kinds[ask->kind];
    const uint32_t *nodes = s->asked + ask->from;
    for (size_t i = 0; i < ask->count; i++) {
        const size_t at = nodes[i] * (size_t)UF_LANES;
        const uf_lanes_v h = V(s->start + at) + V(s->now + at);
        INTO(T + at) = temperature(k, h, w);
    }
}

/* Of all that are asked for. */
static void temperatures(const struct uf_lanes_shape *s, float *T)
{
    for (size_t g = 0; g < s->n_asks; g++) {
        EACH_VECTOR
        {
            temperatures_of(s, &s->asks[g], T, w);
        }
    }
}

UF_LANES_INLINE void stretch_temperatures(const struct uf_lanes_kind *k, size_t count,
                                          const double *H, float *restrict T, size_t w)
{
    for (size_t at = 0; at < count * UF_LANES; at += UF_LANES) {
        uf_lanes_v h;
        for (size_t l = 0; l < UF_LANES_WIDE; l++) {
            h[l] = (float)H[at + w + l];
        }
        INTO(T + at) = temperature(k, h, w);
    }
}

static void all_temperatures(const struct uf_lanes_shape *s, const double *H, float *T)
{
    EACH_VECTOR
    {
        for (size_t r = 0; r < s->first_stretch[s->nz]; r++) {
            const struct uf_lanes_stretch *x = &s->stretches[r];
            stretch_temperatures(&s->kinds[x->kind], x->count, H + x->from * UF_LANES,
                                 T + x->from * UF_LANES, w);
        }
        for (size_t k = 0; k < s->n_others; k++) {
            const size_t node = s->others[k];
            stretch_temperatures(&s->kinds[s->material[node]], 1, H + node * UF_LANES,
                                 T + node * UF_LANES, w);
        }
    }
}

/* A link's conductance where something on its way may be frozen. */
UF_LANES_INLINE uf_lanes_v frozen_W_K(const struct uf_lanes_shape *s, size_t at, uf_lanes_v Ta,
                                      uf_lanes_v Tb, size_t w)
{
    const struct uf_lanes_link *link = &s->links[at];
    const struct uf_lanes_link_numbers *x = &s->link_numbers[at];
    uf_lanes_v m2K_W = V(x->fixed);
    if (link->way_a) {
        m2K_W += uf_lanes_law_way(&s->kinds[link->kind_a], V(x->l1), Ta, Tb, w);
    }
    if (link->way_b) {
        m2K_W += uf_lanes_law_way(&s->kinds[link->kind_b], V(x->l2), Ta, Tb, w);
    }
    return V(x->area) / m2K_W;
}

UF_LANES_INLINE void conductances_of(const struct uf_lanes_shape *s, float *restrict G, size_t w)
{
    for (size_t i = 0; i < s->n_links; i++) {
        const struct uf_lanes_link_numbers *x = &s->link_numbers[i];
        const uf_lanes_v Ta = V(s->T + s->links[i].a * (size_t)UF_LANES);
        const uf_lanes_v Tb = V(s->T + s->links[i].b * (size_t)UF_LANES);
        const uf_lanes_v over = uf_lanes_law_less(Ta, Tb) - V(x->thawed_degC);
        uf_lanes_v W_K = V(x->thawed_W_K);
        if (uf_lanes_law_any_below(over)) {
            W_K = uf_lanes_law_pick(over < 0.0F, frozen_W_K(s, i, Ta, Tb, w), W_K);
        }
        INTO(G + i * UF_LANES) = W_K;
    }
}

UF_LANES_INLINE void flows_of(const struct uf_lanes_shape *s, const float *restrict scale,
                              const float *restrict T, float *restrict rate, size_t w)
{
    const uf_lanes_v factor = V(scale);
    for (size_t i = 0; i < s->n_links; i++) {
        const size_t a = s->links[i].a * (size_t)UF_LANES;
        const size_t b = s->links[i].b * (size_t)UF_LANES;
        const uf_lanes_v W = factor * (V(s->G + i * UF_LANES) * (V(T + a) - V(T + b)));
        INTO(rate + a) = V(rate + a) - W * V(s->inv + a);
        INTO(rate + b) = V(rate + b) + W * V(s->inv + b);
    }
    for (size_t k = 0; k < s->n_shafts; k++) {
        const size_t a = s->shafts[k].node * (size_t)UF_LANES;
        const size_t b = s->shafts[k].cell * (size_t)UF_LANES;
        const uf_lanes_v out_K = uf_lanes_law_more(V(T + a) - V(T + b), BOTH(0.0F));
        const uf_lanes_v W = factor * (V(s->shaft_W_K[k]) * out_K);
        INTO(rate + a) = V(rate + a) - W * V(s->inv + a);
        INTO(rate + b) = V(rate + b) + W * V(s->inv + b);
    }
}

static void links(const struct uf_lanes_shape *s, const float *scale, bool fresh, float *rate)
{
    EACH_VECTOR
    {
        if (fresh) {
            conductances_of(s, s->G, w);
        }
        flows_of(s, scale, s->T, rate, w);
    }
}

UF_LANES_INLINE void add_to(double *restrict sum, uf_lanes_v x)
{
    for (size_t l = 0; l < UF_LANES_WIDE; l++) {
        sum[l] += (double)x[l];
    }
}

/* Flow through the surface of a top cell, as uf_heat_top_W. */
UF_LANES_INLINE uf_lanes_v top_W(const struct uf_lanes_kind *k,
                                 const struct uf_lanes_top_numbers *x,
                                 const struct uf_lanes_now *now, bool snow, uf_lanes_v T, size_t w)
{
    const uf_lanes_v outside = V(now->outside), film = V(now->film), half = V(x->half);
    const uf_lanes_v coldest = uf_lanes_law_less(uf_lanes_law_less(T, outside), BOTH(0.0F));
    const uf_lanes_v over = coldest - V(k->T1);
    const bool cold = uf_lanes_law_any_below(over);
    uf_lanes_v k_W_mK = V(k->ku), melt_W_mK = V(k->ku);
    if (cold) {
        const uf_lanes_v own = uf_lanes_law_secant(k, T, T, w);
        const uf_lanes_v surface = outside + (T - outside) * film / (film + half / own);
        k_W_mK = uf_lanes_law_pick(over < 0.0F, uf_lanes_law_secant(k, surface, T, w), k_W_mK);
    }
    const uf_lanes_v bare = V(x->area) / (film + half / k_W_mK) * (outside - T);
    if (!snow) {
        return bare;
    }
    if (cold) {
        melt_W_mK =
            uf_lanes_law_pick(over < 0.0F, uf_lanes_law_secant(k, BOTH(0.0F), T, w), melt_W_mK);
    }
    const uf_lanes_v melt = V(x->area) * melt_W_mK / half * -T;
    const uf_lanes_i melts =
        (V(now->snow) > 0.0F) & ((T > 0.0F) | (outside > 0.0F)) & (melt < bare);
    return uf_lanes_law_pick(melts, melt, bare);
}

UF_LANES_INLINE void tops_of(const struct uf_lanes_shape *s, const struct uf_lanes_now *now,
                             const float *restrict scale, float *restrict rate,
                             double *restrict sum_W, size_t w)
{
    const bool snow = uf_lanes_law_any_below(-V(now->snow));
    for (size_t t = 0; t < s->n_tops; t++) {
        const size_t at = s->tops[t].cell * (size_t)UF_LANES;
        const uf_lanes_v W =
            top_W(&s->kinds[s->tops[t].kind], &s->top_numbers[t], now, snow, V(s->T + at), w);
        INTO(rate + at) = V(rate + at) + V(scale) * W * V(s->inv + at);
        add_to(sum_W + w, W);
    }
}

/* Heat from below, and through the lids of risers. */
UF_LANES_INLINE void rest_of(const struct uf_lanes_shape *s, const struct uf_lanes_now *now,
                             const float *restrict scale, float *restrict rate,
                             double *restrict vent_W, size_t w)
{
    for (size_t i = 0; i < s->nx; i++) {
        const size_t at = ((s->nz - 1) * s->nx + i) * UF_LANES;
        INTO(rate + at) = V(rate + at) + V(scale) * V(s->bottom + i * UF_LANES) * V(s->inv + at);
    }
    for (size_t v = 0; v < s->n_vents; v++) {
        const size_t at = s->vent_nodes[v] * UF_LANES;
        const uf_lanes_v W = V(s->vent_W_K[v]) * (V(now->air) - V(s->T + at));
        INTO(rate + at) = V(rate + at) + V(scale) * W * V(s->inv + at);
        add_to(vent_W + w, W);
    }
}

static void surface(const struct uf_lanes_shape *s, const struct uf_lanes_now *now,
                    const float *scale, float *rate, struct uf_lanes_flow *flow)
{
    EACH_VECTOR
    {
        tops_of(s, now, scale, rate, flow->surface, w);
        rest_of(s, now, scale, rate, flow->vent, w);
    }
}

/* How far beyond a substance's range a stretch of nodes is, J/m3; less than 0: within. */
UF_LANES_INLINE uf_lanes_v beyond_by(const struct uf_lanes_shape *s, size_t from, size_t count,
                                     size_t kind, size_t w)
{
    const struct uf_lanes_kind *k = &s->kinds[kind];
    uf_lanes_v least = V(k->most_H), most = V(k->least_H);
    for (size_t at = from * UF_LANES; at < (from + count) * UF_LANES; at += UF_LANES) {
        const uf_lanes_v h = V(s->start + at) + V(s->now + at);
        least = uf_lanes_law_less(h, least);
        most = uf_lanes_law_more(h, most);
    }
    return uf_lanes_law_more(V(k->least_H) - least, most - V(k->most_H));
}

/* Which lanes leave the range of what drives them: more than 0. */
UF_LANES_INLINE void beyond_of(const struct uf_lanes_shape *s, float *restrict out, size_t w)
{
    uf_lanes_v most = BOTH(0.0F);
    for (size_t r = 0; r < s->first_stretch[s->nz]; r++) {
        const struct uf_lanes_stretch *x = &s->stretches[r];
        most = uf_lanes_law_more(beyond_by(s, x->from, x->count, x->kind, w), most);
    }
    for (size_t k = 0; k < s->n_others; k++) {
        most = uf_lanes_law_more(beyond_by(s, s->others[k], 1, s->material[s->others[k]], w), most);
    }
    INTO(out) = most;
}

static void beyond(const struct uf_lanes_shape *s, float *out)
{
    EACH_VECTOR
    {
        beyond_of(s, out, w);
    }
}

UF_LANES_INLINE uf_lanes_v cold_by(const struct uf_lanes_shape *s, size_t from, size_t count,
                                   size_t kind, size_t w)
{
    const uf_lanes_v warm = V(s->kinds[kind].warm_H);
    uf_lanes_v least = V(s->start + from * UF_LANES);
    for (size_t at = from * UF_LANES; at < (from + count) * UF_LANES; at += UF_LANES) {
        least = uf_lanes_law_less(V(s->start + at), least);
    }
    return warm - least;
}

UF_LANES_INLINE void cold_of(const struct uf_lanes_shape *s, float *restrict below, size_t w)
{
    uf_lanes_v most = BOTH(-1.0F);
    for (size_t r = 0; r < s->first_stretch[s->nz]; r++) {
        const struct uf_lanes_stretch *x = &s->stretches[r];
        most = uf_lanes_law_more(cold_by(s, x->from, x->count, x->kind, w), most);
    }
    for (size_t k = 0; k < s->n_others; k++) {
        const size_t node = s->others[k];
        most = uf_lanes_law_more(cold_by(s, node, 1, s->material[node], w), most);
    }
    INTO(below) = most;
}

static void cold(const struct uf_lanes_shape *s, float *below)
{
    EACH_VECTOR
    {
        cold_of(s, below, w);
    }
}

const struct uf_lanes_kernel UF_LANES_KERNEL = {
    rows, temperatures, all_temperatures, links, surface, beyond, cold};
