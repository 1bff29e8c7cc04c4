#include "lanes_law.h"
#include "lanes_private.h"

enum { U_ROWS = UF_LANES_U_ROWS };

/* Enthalpy to U in a stretch of cells: thawed at first, again where a lane is not. */
UF_LANES_INLINE void convert(const struct uf_lanes_kind *k, size_t count, const float *start,
                             const float *now, float *restrict U)
{
    const uf_lanes_v thawed = V(k->thawed);
    uf_lanes_v least = BOTH(0.0F);
    for (size_t at = 0; at < count * UF_LANES; at += UF_LANES) {
        const uf_lanes_v h = V(start + at) + V(now + at);
        least = uf_lanes_law_less(h, least);
        INTO(U + at) = thawed * h;
    }
    if (!uf_lanes_law_any_below(least)) {
        return;
    }
    for (size_t at = 0; at < count * UF_LANES; at += UF_LANES) {
        const uf_lanes_v h = V(start + at) + V(now + at);
        if (uf_lanes_law_any_below(h)) {
            INTO(U + at) = uf_lanes_law_U(k, h);
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
                                 uf_lanes_v x)
{
    return even ? one[(ptrdiff_t)c] * x : V(all + (ptrdiff_t)c * UF_LANES) * x;
}
#define TIMES(name, c, x) times(even, s->even_##name, s->name, c, x)

/* The row's cells from U of it and its neighbours. */
UF_LANES_INLINE void sweep(const struct uf_lanes_shape *s, size_t from, float c4[4][UF_LANES],
                           bool even, float *restrict turn)
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

UF_LANES_INLINE void convert_row(const struct uf_lanes_shape *s, size_t j)
{
    for (size_t r = s->first_stretch[j]; r < s->first_stretch[j + 1]; r++) {
        const struct uf_lanes_stretch *x = &s->stretches[r];
        convert(&s->kinds[x->kind], x->count, s->start + x->from * UF_LANES,
                s->now + x->from * UF_LANES, U_row(s, j) + (x->from - j * s->nx) * UF_LANES);
    }
}

UF_FAST_CLONES static void rows(const struct uf_lanes_shape *s, float c4[4][UF_LANES],
                                float *restrict turn)
{
    convert_row(s, 0);
    for (size_t j = 0; j < s->nz; j++) {
        if (j + 1 < s->nz) {
            convert_row(s, j + 1);
        }
        if (s->even) {
            sweep(s, j * s->nx, c4, true, turn);
        } else {
            sweep(s, j * s->nx, c4, false, turn);
        }
    }
    for (size_t at = s->n_cells * UF_LANES; at < s->n * UF_LANES; at += UF_LANES) {
        INTO(turn + at) =
            V(c4[0]) * V(s->now + at) + V(c4[1]) * V(turn + at) + V(c4[3]) * V(s->rate0 + at);
    }
}

/* Temperature of the nodes that are asked for. */
UF_FAST_CLONES static void temperatures(const struct uf_lanes_shape *s, float *restrict T)
{
    for (size_t g = 0; g < s->n_asks; g++) {
        const struct uf_lanes_kind *k = &s->kinds[s->asks[g].kind];
        const uint32_t *nodes = s->asked + s->asks[g].from;
        for (size_t i = 0; i < s->asks[g].count; i++) {
            const size_t at = nodes[i] * (size_t)UF_LANES;
            const uf_lanes_v h = V(s->start + at) + V(s->now + at);
            INTO(T + at) = V(k->T1) + h * V(k->inv_cu);
            if (uf_lanes_law_any_below(h)) {
                INTO(T + at) = uf_lanes_law_T(k, h);
            }
        }
    }
}

void uf_lanes_stage(struct uf_lanes_shape *s, const struct uf_lanes_now *outside,
                    float c[4][UF_LANES], bool fresh, struct uf_lanes_flow *flow)
{
    rows(s, c, s->turn);
    temperatures(s, s->T);
    uf_lanes_links(s, c[2], fresh, s->turn);
    uf_lanes_surface(s, outside, c[2], s->turn, flow);
}
