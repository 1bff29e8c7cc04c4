#include "lanes_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define AT(item) ((item)*UF_LANES + lane)

static void load_cells(struct uf_lanes_shape *s, size_t lane, const struct uf_heat *h)
{
    for (size_t c = 0; c < s->n_cells; c++) {
        s->gx[AT(c)] = (float)h->gx_m[c];
        s->gz[AT(c)] = (float)h->gz_m[c];
    }
    for (size_t i = 0; i < s->n; i++) {
        s->inv[AT(i)] = h->volume_m3[i] > 0.0 ? (float)(1.0 / h->volume_m3[i]) : 0.0F;
    }
    s->bottom_W[lane] = 0.0;
    for (size_t i = 0; i < s->nx; i++) {
        s->bottom[AT(i)] = (float)h->bottom_W[i];
        s->bottom_W[lane] += h->bottom_W[i];
    }
    for (size_t v = 0; v < s->n_vents; v++) {
        s->vent_W_K[v][lane] = (float)h->vents[v].W_K;
    }
    for (size_t k = 0; k < s->n_shafts; k++) {
        s->shaft_W_K[k][lane] = (float)h->shafts[k].W_K;
    }
}

static bool same_cells(const struct uf_lanes_shape *s, size_t a, size_t b)
{
    bool same = true;
    for (size_t at = 0; at < s->n_cells * UF_LANES; at += UF_LANES) {
        same = same && s->gx[at + a] == s->gx[at + b] && s->gz[at + a] == s->gz[at + b] &&
               s->inv[at + a] == s->inv[at + b];
    }
    return same;
}

/* Are the cells of all lanes in use alike? Then one number stands for them. */
static void find_even(struct uf_lanes_shape *s, size_t lane)
{
    s->even = true;
    for (size_t other = 0; other < UF_LANES; other++) {
        s->even = s->even && (s->places[other].season == NULL || same_cells(s, lane, other));
    }
    for (size_t c = 0; c < s->n_cells; c++) {
        s->even_gx[c] = s->gx[AT(c)];
        s->even_gz[c] = s->gz[AT(c)];
        s->even_inv[c] = s->inv[AT(c)];
    }
}

/* Room for the tables of a substance; false: no memory. */
bool uf_lanes_load_room(struct uf_lanes_kind *k)
{
    const size_t H = (UF_LANES_H_BINS + 2) * UF_LANES, T = (UF_LANES_T_BINS + 2) * UF_LANES;
    k->U_H = calloc(2 * H + T, sizeof *k->U_H);
    k->T_H = k->U_H + H;
    k->U_T = k->T_H + H;
    return k->U_H != NULL;
}

static int32_t bits_of(float x)
{
    int32_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}
static float float_of(int32_t bits)
{
    float x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

/* Where steps against temperature begin: as far above where freezing does as that is below 0 degC, or
   a little, so that the coldest is at most 2^13 times as far. The next whole bin. */
static const double LEAST_K = 1.0 / 128.0, LEAST_SHARE = 1.0 / 8192.0;

static void load_tables(struct uf_lanes_kind *k, size_t lane, const struct uf_material *m)
{
    float *T_H = k->T_H + lane * (UF_LANES_H_BINS + 2);
    float *U_H = k->U_H + lane * (UF_LANES_H_BINS + 2);
    float *U_T = k->U_T + lane * (UF_LANES_T_BINS + 2);
    const double H0 = m->H_J_m3[0], T1 = m->T_degC[m->n - 1], span_K = T1 - m->T_degC[0];
    const float least_K = (float)fmax(fmax(-T1, LEAST_K), LEAST_SHARE * span_K);
    const int32_t first = (bits_of(least_K) >> UF_LANES_T_SHIFT) + 1;
    const double from_K = (double)float_of(first << UF_LANES_T_SHIFT);
    for (size_t b = 0; b <= UF_LANES_H_BINS + 1; b++) {
        const double up = fmin(1.0, (double)b / UF_LANES_H_BINS);
        const double T = uf_material_T_degC(m, H0 * (1.0 - up));
        T_H[b] = (float)T;
        U_H[b] = (float)uf_material_U_W_m(m, T);
    }
    for (int32_t b = 0; b <= UF_LANES_T_BINS + 1; b++) {
        const double x_K = (double)float_of((first + b) << UF_LANES_T_SHIFT);
        U_T[b] = (float)uf_material_U_W_m(m, T1 + from_K - x_K);
    }
    k->first_bin[lane] = first;
    k->T_from[lane] = (float)(T1 + from_K);
    k->least_K[lane] = (float)from_K;
    k->most_K[lane] = (float)(from_K + span_K);
}

static void load_kind(struct uf_lanes_kind *k, size_t lane, const struct uf_material *m)
{
    const size_t last = m->n - 1;
    const double span_K = m->T_degC[last] - m->T_degC[0];
    k->H0[lane] = (float)m->H_J_m3[0];
    k->T0[lane] = (float)m->T_degC[0];
    k->T1[lane] = (float)m->T_degC[last];
    k->s[lane] = (float)(span_K / -m->H_J_m3[0]);
    k->inv_cu[lane] = (float)(1.0 / m->c_thawed_J_m3K);
    k->inv_cf[lane] = (float)(1.0 / m->c_frozen_J_m3K);
    k->ku[lane] = (float)m->k_W_mK[last];
    k->kf[lane] = (float)m->k_W_mK[0];
    k->dk[lane] = (float)((m->k_W_mK[last] - m->k_W_mK[0]) / span_K);
    k->thawed[lane] = (float)(m->k_W_mK[last] / m->c_thawed_J_m3K);
    k->U0[lane] = (float)m->U_W_m[0];
    k->warm_H[lane] = (float)uf_season_warm_J_m3(m);
    k->H_bins[lane] = (float)(UF_LANES_H_BINS / -m->H_J_m3[0]);
    if (!k->simple) {
        load_tables(k, lane, m);
    }
}

static double thawed_W_mK(const struct uf_material *m, double *from_degC)
{
    *from_degC = fmax(*from_degC, m->T_degC[m->n - 1]);
    return m->k_W_mK[m->n - 1];
}

static void load_link(struct uf_lanes_link_numbers *x, size_t lane, const struct uf_heat *h,
                      const struct uf_heat_link *link)
{
    double from_degC = -1e30;
    double m2K_W = link->fixed_m2K_W;
    if (link->length_a_m > 0.0) {
        m2K_W += link->length_a_m / thawed_W_mK(&h->materials[link->material_a], &from_degC);
    }
    if (link->length_b_m > 0.0) {
        m2K_W += link->length_b_m / thawed_W_mK(&h->materials[link->material_b], &from_degC);
    }
    x->area[lane] = (float)link->area_m2;
    x->fixed[lane] = (float)link->fixed_m2K_W;
    x->l1[lane] = (float)link->length_a_m;
    x->l2[lane] = (float)link->length_b_m;
    x->thawed_degC[lane] = (float)from_degC;
    x->thawed_W_K[lane] = (float)(link->area_m2 / m2K_W);
}

void uf_lanes_load(struct uf_lanes_shape *s, size_t lane, const struct uf_heat *h)
{
    load_cells(s, lane, h);
    find_even(s, lane);
    for (size_t m = 0; m < s->n_kinds; m++) {
        load_kind(&s->kinds[m], lane, &h->materials[m]);
    }
    for (size_t l = 0; l < s->n_links; l++) {
        load_link(&s->link_numbers[l], lane, h, &h->links[l]);
    }
    for (size_t t = 0; t < s->n_tops; t++) {
        s->top_numbers[t].area[lane] = (float)h->tops[t].area_m2;
        s->top_numbers[t].half[lane] = (float)h->tops[t].half_m;
    }
}

void uf_lanes_clear(struct uf_lanes_shape *s, size_t lane)
{
    float *const arrays[] = {s->start, s->now, s->turn, s->rate0, s->T};
    for (size_t i = 0; i < s->n; i++) {
        for (size_t k = 0; k < sizeof arrays / sizeof *arrays; k++) {
            arrays[k][AT(i)] = 0.0F;
        }
        s->H[AT(i)] = 0.0;
    }
}
