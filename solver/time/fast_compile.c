#include "fast_private.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* A cell whose own temperature drives structured faces. */
static bool plain(const struct uf_heat *heat, size_t c)
{
    return c < heat->n_cells && heat->volume_m3[c] > 0.0 && heat->material[c] == heat->conducts[c];
}

/* Shorter stretches are done cell by cell, unless they go on with the last run. */
enum { SHORT_RUN = 8 };

/* Slices whose U is kept: the one in hand, its neighbours, and one that is being made. */
enum { RING = 4 };

/* A stretch of cells of one substance: goes on with the last run of it where it may, or begins
   a run, or is done cell by cell. */
static bool add_stretch(struct uf_fast *f, size_t from, size_t end, bool goes_on, bool *brief)
{
    const struct uf_heat *h = f->heat;
    const uint16_t number = h->material[from];
    const struct uf_material *m = &h->materials[number];
    struct uf_fast_run *last = goes_on ? &f->runs[f->n_runs - 1] : NULL;
    if (!m->simple && !uf_fast_law_table(&f->tables[number], m)) {
        return false;
    }
    if (last != NULL && h->material[last->from] == number) {
        last->count = end - last->from;
    } else if (m->simple && end - from < SHORT_RUN) {
        for (size_t c = from; c < end; c++) {
            brief[c] = true;
        }
    } else {
        assert(f->runs != NULL);
        last = f->runs + f->n_runs;
        f->n_runs++;
        *last = (struct uf_fast_run){
            .from = from, .count = end - from, .kind = uf_fast_law_kind(f, number)};
    }
    return true;
}

/* The cells of slice k. brief [n]: false on entry and on return. */
static bool add_slice(struct uf_fast *f, size_t k, bool *brief)
{
    const struct uf_heat *h = f->heat;
    const size_t first = k * f->slice;
    const size_t last = first + f->slice;
    bool ok = true;
    f->first_run[k] = f->n_runs;
    for (size_t c = first; ok && c < last;) {
        size_t end = c + 1;
        if (plain(h, c)) {
            while (end < last && plain(h, end) && h->material[end] == h->material[c]) {
                end++;
            }
            ok = add_stretch(f, c, end, f->n_runs > f->first_run[k], brief);
        }
        c = end;
    }
    f->first_run[k + 1] = f->n_runs;
    ok = ok && uf_fast_list_create(&f->briefs[k], f, brief);
    for (size_t l = 0; ok && l < f->briefs[k].n; l++) {
        f->briefs[k].node[l] -= (uint32_t)first;
    }
    memset(brief + first, 0, f->slice * sizeof *brief);
    return ok;
}

static bool add_cells(struct uf_fast *f)
{
    bool *brief = calloc(f->n + 1, sizeof *brief);
    bool ok = brief != NULL;
    for (size_t k = 0; ok && k < f->n_slices; k++) {
        ok = add_slice(f, k, brief);
    }
    free(brief);
    return ok;
}

bool *uf_fast_compile_asked(const struct uf_heat *h)
{
    bool *asked = calloc(h->n + 1, sizeof *asked);
    for (size_t l = 0; asked != NULL && l < h->n_links; l++) {
        asked[h->links[l].a] = asked[h->links[l].b] = true;
    }
    for (size_t t = 0; asked != NULL && t < h->n_tops; t++) {
        asked[h->tops[t].cell] = true;
    }
    for (size_t v = 0; asked != NULL && v < h->n_vents; v++) {
        asked[h->vents[v].node] = true;
    }
    for (size_t s = 0; asked != NULL && s < h->n_shafts; s++) {
        asked[h->shafts[s].node] = asked[h->shafts[s].cell] = true;
    }
    for (size_t i = h->n_cells; asked != NULL && i < h->n; i++) {
        asked[i] = true;
    }
    return asked;
}

static void add_ramp(struct uf_fast_asked *a, size_t node, const struct uf_material *m)
{
    double row[UF_RAMP_H] = {[UF_RAMP_LAST] = m->T_degC[m->n - 1],
                             [UF_RAMP_INV_CU] = 1.0 / m->c_thawed_J_m3K,
                             [UF_RAMP_INV_CF] = 1.0 / m->c_frozen_J_m3K};
    const size_t missing = UF_RAMP_POINTS - m->n;
    for (size_t j = 0; j < UF_RAMP_POINTS; j++) {
        const size_t own = j < missing ? 0 : j - missing;
        row[UF_RAMP_H0 + j] = m->H_J_m3[own];
        if (j >= missing && own + 1 < m->n) {
            row[UF_RAMP_S0 + j] =
                (m->T_degC[own + 1] - m->T_degC[own]) / (m->H_J_m3[own + 1] - m->H_J_m3[own]);
        }
    }
    for (size_t k = 0; k < UF_RAMP_H; k++) {
        a->ramps[k * a->stride + a->n_ramp] = row[k];
    }
    a->ramp[a->n_ramp++] = (uint32_t)node;
}

static bool in_table_run(const struct uf_fast *f, size_t node)
{
    return plain(f->heat, node) && !f->heat->materials[f->heat->material[node]].simple;
}

static void want_T(struct uf_fast *f, size_t node)
{
    for (size_t r = 0; r < f->n_runs; r++) {
        const struct uf_fast_run *run = &f->runs[r];
        if (run->kind.table != NULL && node >= run->from && node < run->from + run->count) {
            f->wants_T[node - (node - run->from) % UF_FAST_BLOCK] = true;
        }
    }
}

/* A node whose temperature is asked for and not found by the groups. */
static void add_asked(struct uf_fast *f, size_t node)
{
    struct uf_fast_asked *a = &f->asked;
    const struct uf_material *m = &f->heat->materials[f->heat->material[node]];
    if (in_table_run(f, node)) {
        want_T(f, node);
    } else if (m->n <= UF_RAMP_POINTS) {
        add_ramp(a, node, m);
    } else {
        a->other[a->n_other++] = (uint32_t)node;
    }
}

static bool compile_cells(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    bool *asked = uf_fast_compile_asked(h);
    const bool ok = asked != NULL && add_cells(f) && uf_fast_list_create(&f->asked.plain, f, asked);
    for (size_t c = 0; ok && c < f->n; c++) {
        const bool still = h->volume_m3[c] <= 0.0 || c == h->held;
        f->inv_volume[c] = still ? 0.0 : 1.0 / h->volume_m3[c];
        if (asked[c] && h->volume_m3[c] > 0.0 && !h->materials[h->material[c]].simple) {
            add_asked(f, c);
        }
    }
    memcpy(f->gx, h->gx_m, f->n_cells * sizeof *f->gx);
    memcpy(f->gz, h->gz_m, f->n_cells * sizeof *f->gz);
    memcpy(f->gy, h->gy_m, f->n_cells * sizeof *f->gy);
    free(asked);
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
            const struct uf_fast_law w = uf_fast_law_of(m);
            const double row[UF_TOP_T] = {
                h->tops[t].area_m2, h->tops[t].half_m, w.T0, w.T1, w.ku, w.kf, w.dk};
            for (size_t k = 0; k < UF_TOP_T; k++) {
                f->tops[k * h->n_tops + t] = row[k];
            }
        }
    }
}

static bool allocate_asked(struct uf_fast_asked *a, size_t n)
{
    a->stride = uf_fast_lines(n);
    a->ramps = calloc(UF_RAMP_ARRAYS * a->stride, sizeof *a->ramps);
    a->ramp = calloc(n + 1, sizeof *a->ramp);
    a->other = calloc(n + 1, sizeof *a->other);
    return a->ramps && a->ramp && a->other;
}

/* Each array has room before and after for a row or a slice, so that the sweep needs no
   edges. */
static bool allocate_arrays(struct uf_fast *f)
{
    double **const arrays[] = {&f->gx, &f->gz, &f->gy, &f->T, &f->inv_volume, &f->none};
    const size_t count = sizeof arrays / sizeof *arrays;
    const size_t reach = f->n_slices > 1 ? f->slice : f->nx;
    const size_t lead = uf_fast_lines(reach + 1);
    const size_t wide = uf_fast_lines(lead + f->n + reach + 1 + UF_FAST_LINE);
    const size_t row = uf_fast_lines(f->nx + 1);
    f->n_ring = f->n_slices < RING ? f->n_slices : RING;
    f->wide = uf_fast_lines(2 * row + f->slice + UF_FAST_LINE);
    const size_t bytes = (count * wide + f->n_ring * f->wide) * sizeof *f->block;
    f->block = aligned_alloc(UF_FAST_LINE * sizeof *f->block, bytes);
    if (f->block == NULL) {
        return false;
    }
    memset(f->block, 0, bytes);
    for (size_t k = 0; k < count; k++) {
        *arrays[k] = f->block + k * wide + lead;
    }
    f->U = f->block + count * wide + row;
    return true;
}

static bool allocate(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    f->runs = calloc(f->n_cells + 1, sizeof *f->runs);
    f->wants_T = calloc(f->n_cells + 1, sizeof *f->wants_T);
    f->first_run = calloc(f->n_slices + 1, sizeof *f->first_run);
    f->briefs = calloc(f->n_slices, sizeof *f->briefs);
    f->tables = calloc(h->n_materials, sizeof *f->tables);
    f->tops = calloc(UF_TOP_ARRAYS * h->n_tops + 1, sizeof *f->tops);
    for (size_t i = 0; i < f->nx * h->grid->ny; i++) {
        f->bottom_W += h->bottom_W[i];
    }
    return f->runs && f->wants_T && f->first_run && f->briefs && f->tables && f->tops &&
           allocate_asked(&f->asked, h->n) && allocate_arrays(f);
}

enum uf_status uf_fast_create(struct uf_fast **out, const struct uf_heat *heat,
                              struct uf_error *err)
{
    struct uf_fast *f = calloc(1, sizeof *f);
    *out = NULL;
    if (f != NULL) {
        f->heat = heat;
        f->nx = heat->grid->nx;
        f->slice = heat->grid->nx * heat->grid->nz;
        f->n_slices = heat->grid->ny;
        f->n_cells = heat->n_cells;
        f->n = heat->n;
    }
    if (f == NULL || !allocate(f) || !compile_cells(f) || !uf_fast_link_create(f)) {
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
    free(f->wants_T);
    free(f->tables);
    for (size_t k = 0; f->briefs != NULL && k < f->n_slices; k++) {
        uf_fast_list_free(&f->briefs[k]);
    }
    free(f->briefs);
    free(f->first_run);
    uf_fast_list_free(&f->asked.plain);
    free(f->asked.ramps);
    free(f->asked.ramp);
    free(f->asked.other);
    uf_fast_link_free(&f->links);
    free(f->tops);
    free(f);
}
