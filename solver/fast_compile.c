#include "fast_private.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

static struct uf_fast_law law_of(const struct uf_material *m)
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

/* Fills the table of a material on first use. */
static bool make_table(struct uf_fast_table *t, const struct uf_material *m)
{
    if (t->U_H != NULL) {
        return true;
    }
    t->U_H = malloc((size_t)3 * (UF_FAST_BINS + 1) * sizeof *t->U_H);
    if (t->U_H == NULL) {
        return false;
    }
    t->T_H = t->U_H + UF_FAST_BINS + 1;
    t->U_T = t->T_H + UF_FAST_BINS + 1;
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
        t->T_H[b] = uf_material_T_degC(m, t->H0 * (1.0 - up));
        t->U_H[b] = uf_material_U_W_m(m, t->T_H[b]);
        t->U_T[b] = uf_material_U_W_m(m, t->T0 + up * (t->T1 - t->T0));
    }
    return true;
}

/* A cell whose own temperature drives structured faces. */
static bool plain(const struct uf_heat *heat, size_t c)
{
    return c < heat->n_cells && heat->volume_m3[c] > 0.0 &&
           heat->material[c] == heat->conducts[c];
}

static bool add_cell(struct uf_fast *f, size_t c, bool touched)
{
    const struct uf_heat *h = f->heat;
    struct uf_fast_run *last = f->n_runs > 0 ? &f->runs[f->n_runs - 1] : NULL;
    const struct uf_material *m = &h->materials[h->material[c]];
    f->gx[c] = h->gx_m[c];
    f->gz[c] = h->gz_m[c];
    if (last == NULL || last->from + last->count != c ||
        h->material[last->from] != h->material[c]) {
        assert(f->runs != NULL);
        last = f->runs + f->n_runs;
        f->n_runs++;
        *last = (struct uf_fast_run){.from = c,
                                     .table = m->simple ? -1 : (long)h->material[c]};
        if (m->simple) {
            last->law = law_of(m);
        } else if (!make_table(&f->tables[h->material[c]], m)) {
            return false;
        }
    }
    last->count++;
    last->wants_T = last->wants_T || touched;
    return true;
}

/* Cells whose temperature someone asks for: ends of links, and the top row. */
static bool *touched_cells(const struct uf_heat *h)
{
    bool *touched = calloc(h->n + 1, sizeof *touched);
    for (size_t l = 0; touched != NULL && l < h->n_links; l++) {
        touched[h->links[l].a] = touched[h->links[l].b] = true;
    }
    for (size_t t = 0; touched != NULL && t < h->n_tops; t++) {
        touched[h->tops[t].cell] = true;
    }
    return touched;
}

static bool compile_cells(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    bool *touched = touched_cells(h);
    bool ok = touched != NULL;
    for (size_t c = 0; ok && c < f->n; c++) {
        f->inv_volume[c] = h->volume_m3[c] > 0.0 ? 1.0 / h->volume_m3[c] : 0.0;
        if (plain(h, c)) {
            ok = add_cell(f, c, touched[c]);
        } else if (h->volume_m3[c] > 0.0) {
            f->odd[f->n_odd++] = c;
        }
    }
    free(touched);
    return ok;
}

static void add_simple_link(struct uf_fast *f, const struct uf_heat_link *link)
{
    const struct uf_heat *h = f->heat;
    const struct uf_fast_law none = {.T0 = -1.0, .ku = 1.0, .kf = 1.0};
    const struct uf_fast_law a =
        link->length_a_m > 0.0 ? law_of(&h->materials[link->material_a]) : none;
    const struct uf_fast_law b =
        link->length_b_m > 0.0 ? law_of(&h->materials[link->material_b]) : none;
    const double row[UF_LINK_TA] = {link->area_m2,
                                    link->fixed_m2K_W,
                                    link->length_a_m,
                                    link->length_b_m,
                                    a.T0,
                                    a.T1,
                                    a.ku,
                                    a.kf,
                                    a.dk,
                                    b.T0,
                                    b.T1,
                                    b.ku,
                                    b.kf,
                                    b.dk};
    for (size_t k = 0; k < UF_LINK_TA; k++) {
        f->links[k * h->n_links + f->n_simple] = row[k];
    }
    f->link_a[f->n_simple] = link->a;
    f->link_b[f->n_simple++] = link->b;
}

static bool add_curved_link(struct uf_fast *f, const struct uf_heat_link *link)
{
    const struct uf_heat *h = f->heat;
    const uint16_t material[2] = {link->material_a, link->material_b};
    struct uf_fast_curved *out = &f->curved[f->n_curved++];
    *out = (struct uf_fast_curved){.a = link->a,
                                   .b = link->b,
                                   .area_m2 = link->area_m2,
                                   .fixed_m2K_W = link->fixed_m2K_W,
                                   .l1_m = link->length_a_m,
                                   .l2_m = link->length_b_m};
    for (int side = 0; side < 2; side++) {
        const struct uf_material *m = &h->materials[material[side]];
        if (m->simple) {
            *(side == 0 ? &out->law1 : &out->law2) = law_of(m);
        } else {
            if (!make_table(&f->tables[material[side]], m)) {
                return false;
            }
            *(side == 0 ? &out->table1 : &out->table2) = &f->tables[material[side]];
        }
    }
    return true;
}

static bool compile_links(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    bool ok = true;
    for (size_t l = 0; ok && l < h->n_links; l++) {
        const struct uf_heat_link *link = &h->links[l];
        const bool simple =
            (h->materials[link->material_a].simple || link->length_a_m <= 0.0) &&
            (h->materials[link->material_b].simple || link->length_b_m <= 0.0);
        if (simple) {
            add_simple_link(f, link);
        } else {
            ok = add_curved_link(f, link);
        }
    }
    return ok;
}

static void compile_tops(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    f->simple_tops = true;
    for (size_t t = 0; t < h->n_tops; t++) {
        const struct uf_material *m = &h->materials[h->tops[t].material];
        f->simple_tops = f->simple_tops && m->simple;
        if (f->simple_tops) {
            const struct uf_fast_law w = law_of(m);
            const double row[UF_TOP_T] = {
                h->tops[t].area_m2, h->tops[t].half_m, w.T0, w.T1, w.ku, w.kf, w.dk};
            for (size_t k = 0; k < UF_TOP_T; k++) {
                f->tops[k * h->n_tops + t] = row[k];
            }
        }
    }
}

static bool allocate(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    const size_t wide = f->n + 2 * f->nx + 2; /* room before and after */
    f->block = calloc(6 * wide, sizeof *f->block);
    f->runs = calloc(f->n_cells + 1, sizeof *f->runs);
    f->tables = calloc(h->n_materials, sizeof *f->tables);
    f->odd = calloc(f->n + 1, sizeof *f->odd);
    f->links = calloc(UF_LINK_ARRAYS * h->n_links + 1, sizeof *f->links);
    f->link_a = calloc(h->n_links + 1, sizeof *f->link_a);
    f->link_b = calloc(h->n_links + 1, sizeof *f->link_b);
    f->curved = calloc(h->n_links + 1, sizeof *f->curved);
    f->tops = calloc(UF_TOP_ARRAYS * h->n_tops + 1, sizeof *f->tops);
    if (!f->block || !f->runs || !f->tables || !f->odd || !f->links || !f->link_a ||
        !f->link_b || !f->curved || !f->tops) {
        return false;
    }
    double **const arrays[6] = {&f->U, &f->gx, &f->gz, &f->T, &f->W, &f->inv_volume};
    for (size_t k = 0; k < 6; k++) {
        *arrays[k] = f->block + k * wide + f->nx + 1;
    }
    return true;
}

enum uf_status uf_fast_create(struct uf_fast **out, const struct uf_heat *heat,
                              struct uf_error *err)
{
    struct uf_fast *f = calloc(1, sizeof *f);
    *out = NULL;
    if (f != NULL) {
        f->heat = heat;
        f->nx = heat->grid->nx;
        f->n_cells = heat->n_cells;
        f->n = heat->n;
    }
    if (f == NULL || !allocate(f) || !compile_cells(f) || !compile_links(f)) {
        uf_fast_free(f);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the fast integrator");
    }
    compile_tops(f);
    *out = f;
    return UF_OK;
}

void uf_fast_free(struct uf_fast *f)
{
    if (f == NULL) {
        return;
    }
    for (size_t m = 0; f->tables != NULL && m < f->heat->n_materials; m++) {
        free(f->tables[m].U_H);
    }
    free(f->block);
    free(f->runs);
    free(f->tables);
    free(f->odd);
    free(f->links);
    free(f->link_a);
    free(f->link_b);
    free(f->curved);
    free(f->tops);
    free(f);
}
