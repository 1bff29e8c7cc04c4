#include "fast_private.h"

#include <stdlib.h>

struct uf_fast_law uf_fast_law_of(const struct uf_material *m)
{
    const double span = m->T_degC[1] - m->T_degC[0];
    return (struct uf_fast_law){.H0 = m->H_J_m3[0],
                                .T0 = m->T_degC[0],
                                .T1 = m->T_degC[1],
                                .s = span / -m->H_J_m3[0],
                                .inv_cu = 1.0 / m->c_thawed_J_m3K,
                                .inv_cf = 1.0 / m->c_frozen_J_m3K,
                                .ku = m->k_W_mK[1],
                                .kf = m->k_W_mK[0],
                                .dk = (m->k_W_mK[1] - m->k_W_mK[0]) / span};
}

/* Steps between entries; none after the last. */
static void fill_steps(double *entries)
{
    for (size_t b = 0; b < UF_FAST_BINS; b++) {
        entries[2 * b + 1] = entries[2 * b + 2] - entries[2 * b];
    }
    entries[(size_t)2 * UF_FAST_BINS + 1] = 0.0;
}

bool uf_fast_law_table(struct uf_fast_table *t, const struct uf_material *m)
{
    const size_t room = (size_t)2 * (UF_FAST_BINS + 1);
    if (t->U_H != NULL) {
        return true;
    }
    t->U_H = malloc(3 * room * sizeof *t->U_H);
    if (t->U_H == NULL) {
        return false;
    }
    t->T_H = t->U_H + room;
    t->U_T = t->T_H + room;
    t->H0 = m->H_J_m3[0];
    t->H_bins_m3_J = (double)UF_FAST_BINS / -t->H0;
    t->T0 = m->T_degC[0];
    t->T1 = m->T_degC[m->n - 1];
    t->T_bins_1_K = (double)UF_FAST_BINS / (t->T1 - t->T0);
    t->inv_cu = 1.0 / m->c_thawed_J_m3K;
    t->inv_cf = 1.0 / m->c_frozen_J_m3K;
    t->ku = m->k_W_mK[m->n - 1];
    t->kf = m->k_W_mK[0];
    t->U0 = m->U_W_m[0];
    for (size_t b = 0; b <= UF_FAST_BINS; b++) {
        const double up = (double)b / UF_FAST_BINS;
        t->T_H[2 * b] = uf_material_T_degC(m, t->H0 * (1.0 - up));
        t->U_H[2 * b] = uf_material_U_W_m(m, t->T_H[2 * b]);
        t->U_T[2 * b] = uf_material_U_W_m(m, t->T0 + up * (t->T1 - t->T0));
    }
    fill_steps(t->T_H);
    fill_steps(t->U_H);
    fill_steps(t->U_T);
    return true;
}

struct uf_fast_kind uf_fast_law_kind(const struct uf_fast *fast, size_t material)
{
    const struct uf_material *m = &fast->heat->materials[material];
    struct uf_fast_kind kind = {.table = NULL};
    if (m->simple) {
        kind.law = uf_fast_law_of(m);
    } else {
        kind.table = &fast->tables[material];
    }
    return kind;
}
