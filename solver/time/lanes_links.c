#include "lanes_law.h"
#include "lanes_private.h"

#include <string.h>

/* A link's conductance where something on its way may be frozen. */
UF_LANES_INLINE uf_lanes_v frozen_W_K(const struct uf_lanes_shape *s, size_t at, uf_lanes_v Ta,
                                      uf_lanes_v Tb)
{
    const struct uf_lanes_link *link = &s->links[at];
    const struct uf_lanes_link_numbers *x = &s->link_numbers[at];
    uf_lanes_v m2K_W = V(x->fixed);
    if (link->way_a) {
        m2K_W += V(x->l1) / uf_lanes_law_secant(&s->kinds[link->kind_a], Ta, Tb);
    }
    if (link->way_b) {
        m2K_W += V(x->l2) / uf_lanes_law_secant(&s->kinds[link->kind_b], Ta, Tb);
    }
    return V(x->area) / m2K_W;
}

UF_FAST_CLONES static void conductances(const struct uf_lanes_shape *s, float *restrict G)
{
    for (size_t i = 0; i < s->n_links; i++) {
        const struct uf_lanes_link_numbers *x = &s->link_numbers[i];
        const uf_lanes_v Ta = V(s->T + s->links[i].a * (size_t)UF_LANES);
        const uf_lanes_v Tb = V(s->T + s->links[i].b * (size_t)UF_LANES);
        const uf_lanes_v over = uf_lanes_law_less(Ta, Tb) - V(x->thawed_degC);
        uf_lanes_v W_K = V(x->thawed_W_K);
        if (uf_lanes_law_any_below(over)) {
            W_K = uf_lanes_law_pick(over < 0.0F, frozen_W_K(s, i, Ta, Tb), W_K);
        }
        INTO(G + i * UF_LANES) = W_K;
    }
}

UF_FAST_CLONES static void flows(const struct uf_lanes_shape *s, const float *restrict scale,
                                 const float *restrict T, float *restrict rate)
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

void uf_lanes_links(struct uf_lanes_shape *s, const float scale[UF_LANES], bool fresh, float *rate)
{
    if (fresh) {
        conductances(s, s->G);
    }
    flows(s, scale, s->T, rate);
}

/* Flow through the surface of a top cell, as uf_heat_top_W. */
UF_LANES_INLINE uf_lanes_v top_W(const struct uf_lanes_kind *k,
                                 const struct uf_lanes_top_numbers *x,
                                 const struct uf_lanes_now *now, bool snow, uf_lanes_v T)
{
    const uf_lanes_v outside = V(now->outside), film = V(now->film), half = V(x->half);
    const uf_lanes_v coldest = uf_lanes_law_less(uf_lanes_law_less(T, outside), BOTH(0.0F));
    const uf_lanes_v over = coldest - V(k->T1);
    const bool cold = uf_lanes_law_any_below(over);
    uf_lanes_v k_W_mK = V(k->ku), melt_W_mK = V(k->ku);
    if (cold) {
        const uf_lanes_v own = uf_lanes_law_secant(k, T, T);
        const uf_lanes_v surface = outside + (T - outside) * film / (film + half / own);
        k_W_mK = uf_lanes_law_pick(over < 0.0F, uf_lanes_law_secant(k, surface, T), k_W_mK);
    }
    const uf_lanes_v bare = V(x->area) / (film + half / k_W_mK) * (outside - T);
    if (!snow) {
        return bare;
    }
    if (cold) {
        melt_W_mK =
            uf_lanes_law_pick(over < 0.0F, uf_lanes_law_secant(k, BOTH(0.0F), T), melt_W_mK);
    }
    const uf_lanes_v melt = V(x->area) * melt_W_mK / half * -T;
    const uf_lanes_i melts =
        (V(now->snow) > 0.0F) & ((T > 0.0F) | (outside > 0.0F)) & (melt < bare);
    return uf_lanes_law_pick(melts, melt, bare);
}

UF_FAST_CLONES static void tops(const struct uf_lanes_shape *s, const struct uf_lanes_now *now,
                                const float *restrict scale, float *restrict rate,
                                double *restrict sum_W)
{
    const bool snow = uf_lanes_law_any_below(-V(now->snow));
    for (size_t t = 0; t < s->n_tops; t++) {
        const size_t at = s->tops[t].cell * (size_t)UF_LANES;
        const uf_lanes_v W =
            top_W(&s->kinds[s->tops[t].kind], &s->top_numbers[t], now, snow, V(s->T + at));
        INTO(rate + at) = V(rate + at) + V(scale) * W * V(s->inv + at);
        EACH_LANE
        {
            sum_W[l] += (double)W[l];
        }
    }
}

/* Heat from below, and through the lids of risers. */
UF_FAST_CLONES static void rest(const struct uf_lanes_shape *s, const struct uf_lanes_now *now,
                                const float *restrict scale, float *restrict rate,
                                double *restrict vent_W)
{
    for (size_t i = 0; i < s->nx; i++) {
        const size_t at = ((s->nz - 1) * s->nx + i) * UF_LANES;
        INTO(rate + at) = V(rate + at) + V(scale) * V(s->bottom + i * UF_LANES) * V(s->inv + at);
    }
    for (size_t v = 0; v < s->n_vents; v++) {
        const size_t at = s->vent_nodes[v] * UF_LANES;
        const uf_lanes_v W = V(s->vent_W_K[v]) * (V(now->air) - V(s->T + at));
        INTO(rate + at) = V(rate + at) + V(scale) * W * V(s->inv + at);
        EACH_LANE
        {
            vent_W[l] += (double)W[l];
        }
    }
}

void uf_lanes_surface(struct uf_lanes_shape *s, const struct uf_lanes_now *now,
                      const float scale[UF_LANES], float *rate, struct uf_lanes_flow *flow)
{
    memset(flow, 0, sizeof *flow);
    EACH_LANE
    {
        flow->bottom[l] = s->bottom_W[l];
    }
    tops(s, now, scale, rate, flow->surface);
    rest(s, now, scale, rate, flow->vent);
}
