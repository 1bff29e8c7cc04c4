#include "lanes_kernel.h"

#include <stdlib.h>
#include <string.h>

/* Before and after each array of cells: a row, so that the sweep needs no edges. */
static size_t lead_of(const struct uf_lanes_shape *s)
{
    return s->nx + 1;
}

static bool allocate_block(struct uf_lanes_shape *s)
{
    float **const cells[] = {&s->gx,  &s->gz,   &s->inv,   &s->start,
                             &s->now, &s->turn, &s->rate0, &s->T};
    const size_t count = sizeof cells / sizeof *cells;
    const size_t wide = s->n + 2 * lead_of(s);
    const size_t others = s->n_links + s->nx + 4 * s->n_water + UF_LANES_U_ROWS * (s->nx + 2);
    const size_t bytes = ((count * wide + others) * UF_LANES + 3 * wide) * sizeof *s->block;
    const size_t whole = (bytes + 63) / 64 * 64;
    s->block = aligned_alloc(64, whole);
    s->H = aligned_alloc(64, s->n * UF_LANES * sizeof *s->H);
    if (s->block == NULL || s->H == NULL) {
        return false;
    }
    memset(s->block, 0, whole);
    memset(s->H, 0, s->n * UF_LANES * sizeof *s->H);
    for (size_t k = 0; k < count; k++) {
        *cells[k] = s->block + (k * wide + lead_of(s)) * UF_LANES;
    }
    float **const even[] = {&s->even_gx, &s->even_gz, &s->even_inv};
    for (size_t k = 0; k < sizeof even / sizeof *even; k++) {
        *even[k] = s->block + (count * wide + others) * UF_LANES + k * wide + lead_of(s);
    }
    s->G = s->block + count * wide * UF_LANES;
    s->bottom = s->G + s->n_links * UF_LANES;
    s->joined = s->bottom + s->nx * UF_LANES;
    s->weight = s->joined + s->n_water * UF_LANES;
    s->pooled = s->weight + s->n_water * UF_LANES;
    s->sum = s->pooled + s->n_water * UF_LANES;
    s->U = s->sum + (s->n_water + 1) * UF_LANES;
    return true;
}

/* Room at whole cache lines; size is a multiple of them. */
static void *zeros(size_t n, size_t size)
{
    void *room = aligned_alloc(64, n * size);
    return room != NULL ? memset(room, 0, n * size) : NULL;
}

static bool allocate(struct uf_lanes_shape *s)
{
    s->material = calloc(s->n + 1, sizeof *s->material);
    s->conducts = calloc(s->n_cells + 1, sizeof *s->conducts);
    s->used = calloc(s->n + 1, sizeof *s->used);
    s->stretches = calloc(s->n_cells + 1, sizeof *s->stretches);
    s->first_stretch = calloc(s->nz + 1, sizeof *s->first_stretch);
    s->asked = calloc(s->n + 1, sizeof *s->asked);
    s->asks = calloc(s->n_kinds + 1, sizeof *s->asks);
    s->others = calloc(s->n + 1, sizeof *s->others);
    s->links = calloc(s->n_links + 1, sizeof *s->links);
    s->tops = calloc(s->n_tops + 1, sizeof *s->tops);
    s->kinds = zeros(s->n_kinds + 1, sizeof *s->kinds);
    s->link_numbers = zeros(s->n_links + 1, sizeof *s->link_numbers);
    s->top_numbers = zeros(s->n_tops + 1, sizeof *s->top_numbers);
    s->vent_W_K = calloc(UF_MAX_RISERS, sizeof *s->vent_W_K);
    s->shafts = calloc(s->n_shafts + 1, sizeof *s->shafts);
    s->shaft_W_K = calloc(s->n_shafts + 1, sizeof *s->shaft_W_K);
    s->rate = calloc(s->n + 1, sizeof *s->rate);
    s->joins = calloc(s->n_water + 1, sizeof *s->joins);
    return s->material && s->conducts && s->used && s->stretches && s->first_stretch && s->asked &&
           s->asks && s->others && s->links && s->tops && s->kinds && s->link_numbers &&
           s->top_numbers && s->vent_W_K && s->shafts && s->shaft_W_K && s->rate && s->joins &&
           allocate_block(s);
}

/* A cell whose own temperature drives structured faces. */
static bool is_plain(const struct uf_heat *h, size_t c)
{
    return h->volume_m3[c] > 0.0 && h->material[c] == h->conducts[c];
}

static void add_stretches(struct uf_lanes_shape *s, const struct uf_heat *h)
{
    size_t n = 0;
    for (size_t j = 0; j < s->nz; j++) {
        s->first_stretch[j] = n;
        for (size_t c = j * s->nx; c < (j + 1) * s->nx;) {
            size_t end = c + 1;
            while (end < (j + 1) * s->nx && is_plain(h, end) &&
                   h->material[end] == h->material[c]) {
                end++;
            }
            if (is_plain(h, c)) {
                s->stretches[n++] = (struct uf_lanes_stretch){c, end - c, h->material[c]};
            } else {
                end = c + 1;
            }
            c = end;
        }
    }
    s->first_stretch[s->nz] = n;
    for (size_t i = 0; i < s->n; i++) {
        if (s->used[i] && !(i < s->n_cells && is_plain(h, i))) {
            s->others[s->n_others++] = (uint32_t)i;
        }
    }
}

static bool add_asked(struct uf_lanes_shape *s, const struct uf_heat *h)
{
    bool *asked = uf_fast_compile_asked(h);
    for (size_t m = 0; asked != NULL && m < h->n_materials; m++) {
        const size_t from = s->n_asked;
        for (size_t i = 0; i < h->n; i++) {
            if (asked[i] && h->volume_m3[i] > 0.0 && h->material[i] == m) {
                s->asked[s->n_asked++] = (uint32_t)i;
            }
        }
        if (s->n_asked > from) {
            s->asks[s->n_asks++] = (struct uf_lanes_stretch){from, s->n_asked - from, m};
        }
    }
    const bool ok = asked != NULL;
    free(asked);
    return ok;
}

static struct uf_lanes_shaft shaft_of(const struct uf_heat_shaft *shaft)
{
    return (struct uf_lanes_shaft){(uint32_t)shaft->node, (uint32_t)shaft->cell};
}

static struct uf_lanes_link link_of(const struct uf_heat_link *link)
{
    return (struct uf_lanes_link){.a = (uint32_t)link->a,
                                  .b = (uint32_t)link->b,
                                  .kind_a = link->material_a,
                                  .kind_b = link->material_b,
                                  .way_a = link->length_a_m > 0.0,
                                  .way_b = link->length_b_m > 0.0};
}

struct uf_lanes_shape *uf_lanes_shape_create(const struct uf_heat *h)
{
    struct uf_lanes_shape *s = calloc(1, sizeof *s);
    if (s == NULL) {
        return NULL;
    }
    s->kernel = uf_lanes_kernel();
    s->nx = h->grid->nx;
    s->nz = h->grid->nz;
    s->n_cells = h->n_cells;
    s->n = h->n;
    s->n_links = h->n_links;
    s->n_tops = h->n_tops;
    s->n_vents = h->n_vents;
    s->n_shafts = h->n_shafts;
    s->n_kinds = h->n_materials;
    s->water = h->water;
    s->n_water = h->n_water;
    bool ok = allocate(s) && add_asked(s, h);
    for (size_t m = 0; ok && m < h->n_materials; m++) {
        s->kinds[m].simple = h->materials[m].simple;
        ok = s->kinds[m].simple || uf_lanes_load_room(&s->kinds[m]);
    }
    if (!ok) {
        uf_lanes_shape_free(s);
        return NULL;
    }
    memcpy(s->material, h->material, h->n * sizeof *s->material);
    memcpy(s->conducts, h->conducts, h->n_cells * sizeof *s->conducts);
    for (size_t i = 0; i < h->n; i++) {
        s->used[i] = h->volume_m3[i] > 0.0;
    }
    for (size_t l = 0; l < h->n_links; l++) {
        s->links[l] = link_of(&h->links[l]);
    }
    for (size_t t = 0; t < h->n_tops; t++) {
        s->tops[t] = (struct uf_lanes_top){(uint32_t)h->tops[t].cell, h->tops[t].material};
    }
    for (size_t v = 0; v < h->n_vents; v++) {
        s->vent_nodes[v] = h->vents[v].node;
    }
    for (size_t k = 0; k < s->n_shafts; k++) {
        s->shafts[k] = shaft_of(&h->shafts[k]);
    }
    add_stretches(s, h);
    return s;
}

void uf_lanes_shape_free(struct uf_lanes_shape *s)
{
    if (s == NULL) {
        return;
    }
    for (size_t m = 0; s->kinds != NULL && m < s->n_kinds; m++) {
        free(s->kinds[m].U_H);
    }
    void *const all[] = {
        s->material, s->conducts, s->used,         s->stretches,   s->first_stretch,
        s->asked,    s->asks,     s->links,        s->tops,        s->kinds,
        s->vent_W_K, s->rate,     s->link_numbers, s->top_numbers, s->joins,
        s->block,    s->H,        s->others,       s->shafts,      s->shaft_W_K};
    for (size_t k = 0; k < sizeof all / sizeof *all; k++) {
        free(all[k]);
    }
    free(s);
}

static bool same_counts(const struct uf_lanes_shape *s, const struct uf_heat *h)
{
    return s->nx == h->grid->nx && s->nz == h->grid->nz && s->n == h->n &&
           s->n_links == h->n_links && s->n_tops == h->n_tops && s->n_vents == h->n_vents &&
           s->n_shafts == h->n_shafts && s->n_kinds == h->n_materials && s->water == h->water &&
           s->n_water == h->n_water;
}

static bool same_link(const struct uf_lanes_link *x, const struct uf_heat_link *link)
{
    const struct uf_lanes_link y = link_of(link);
    return x->a == y.a && x->b == y.b && x->kind_a == y.kind_a && x->kind_b == y.kind_b &&
           x->way_a == y.way_a && x->way_b == y.way_b;
}

bool uf_lanes_shape_fits(const struct uf_lanes_shape *s, const struct uf_heat *h)
{
    bool same = same_counts(s, h);
    same = same && memcmp(s->material, h->material, h->n * sizeof *s->material) == 0 &&
           memcmp(s->conducts, h->conducts, h->n_cells * sizeof *s->conducts) == 0;
    for (size_t i = 0; same && i < h->n; i++) {
        same = s->used[i] == (h->volume_m3[i] > 0.0);
    }
    for (size_t m = 0; same && m < h->n_materials; m++) {
        same = s->kinds[m].simple == h->materials[m].simple;
    }
    for (size_t l = 0; same && l < h->n_links; l++) {
        same = same_link(&s->links[l], &h->links[l]);
    }
    for (size_t t = 0; same && t < h->n_tops; t++) {
        same = s->tops[t].cell == h->tops[t].cell && s->tops[t].kind == h->tops[t].material;
    }
    for (size_t v = 0; same && v < h->n_vents; v++) {
        same = s->vent_nodes[v] == h->vents[v].node;
    }
    for (size_t k = 0; same && k < s->n_shafts; k++) {
        const struct uf_lanes_shaft x = shaft_of(&h->shafts[k]);
        same = s->shafts[k].node == x.node && s->shafts[k].cell == x.cell;
    }
    return same;
}
