#include "fast_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A length of nothing: no resistance, whatever the temperatures. */
static const struct uf_fast_law NOTHING = {.T0 = -1.0, .ku = 1.0, .kf = 1.0};
enum { NO_MATERIAL = UINT16_MAX };

/* A link and where it belongs. Links of one pair go by turns, so that two that follow
   each other seldom end in one node: adding to a number that was stored a moment ago
   waits for it. */
struct place {
    const struct uf_heat_link *link;
    int a, b, turn; /* materials on its way, or NO_MATERIAL */
};

static struct place place_of(const struct uf_heat_link *link)
{
    return (struct place){.link = link,
                          .a = link->length_a_m > 0.0 ? link->material_a : NO_MATERIAL,
                          .b = link->length_b_m > 0.0 ? link->material_b : NO_MATERIAL,
                          .turn = link->b == link->a + 1 ? (int)(link->a % 2) : 2};
}

static int compare(const void *x, const void *y)
{
    const struct place *p = x;
    const struct place *q = y;
    const int order[][2] = {{p->a, q->a}, {p->b, q->b}, {p->turn, q->turn}};
    for (size_t k = 0; k < sizeof order / sizeof *order; k++) {
        if (order[k][0] != order[k][1]) {
            return order[k][0] < order[k][1] ? -1 : 1;
        }
    }
    return p->link < q->link ? -1 : p->link > q->link;
}

static bool same_pair(const struct place *p, const struct place *q)
{
    return p->a == q->a && p->b == q->b;
}

static bool is_simple(const struct uf_heat *heat, int material)
{
    return material == NO_MATERIAL || heat->materials[material].simple;
}

static bool make_table(struct uf_fast *f, int material)
{
    return is_simple(f->heat, material) ||
           uf_fast_law_table(&f->tables[material], &f->heat->materials[material]);
}

static struct uf_fast_kind side_kind(const struct uf_fast *f, int material)
{
    const struct uf_fast_kind none = {.law = NOTHING};
    return material == NO_MATERIAL ? none : uf_fast_law_kind(f, (size_t)material);
}

/* Entry `at`; link NULL: one that fills up the line, between the ends of another and
   without area. */
static void fill(struct uf_fast *f, size_t at, const struct uf_heat_link *link,
                 const struct uf_heat_link *ends)
{
    struct uf_fast_links *s = &f->links;
    double row[UF_LINK_TA] = {[UF_LINK_L1] = 1.0};
    if (link != NULL) {
        row[UF_LINK_AREA] = link->area_m2;
        row[UF_LINK_FIXED] = link->fixed_m2K_W;
        row[UF_LINK_L1] = link->length_a_m;
        row[UF_LINK_L2] = link->length_b_m;
        row[UF_LINK_INV_A] = f->inv_volume[link->a];
        row[UF_LINK_INV_B] = f->inv_volume[link->b];
    }
    for (size_t k = 0; k < UF_LINK_TA; k++) {
        s->rows[k * s->stride + at] = row[k];
    }
    s->a[at] = (uint32_t)ends->a;
    s->b[at] = (uint32_t)ends->b;
}

static size_t pair_end(const struct place *places, size_t n, size_t from)
{
    size_t end = from + 1;
    while (end < n && same_pair(&places[from], &places[end])) {
        end++;
    }
    return end;
}

static bool allocate(struct uf_fast_links *s, const struct place *places, size_t n)
{
    size_t pairs = 0;
    for (size_t from = 0; from < n;) {
        const size_t end = pair_end(places, n, from);
        s->stride += uf_fast_lines(end - from);
        from = end;
        pairs++;
    }
    s->rows = calloc(UF_LINK_ARRAYS * s->stride + 1, sizeof *s->rows);
    s->a = calloc(s->stride + 1, sizeof *s->a);
    s->b = calloc(s->stride + 1, sizeof *s->b);
    s->pairs = calloc(pairs + 1, sizeof *s->pairs);
    return s->rows && s->a && s->b && s->pairs;
}

static void fill_pairs(struct uf_fast *f, const struct place *places, size_t n)
{
    struct uf_fast_links *s = &f->links;
    size_t at = 0;
    for (size_t from = 0; from < n;) {
        const size_t end = pair_end(places, n, from);
        struct uf_fast_pair *pair = &s->pairs[s->n_pairs++];
        *pair = (struct uf_fast_pair){.law_a = side_kind(f, places[from].a).law,
                                      .law_b = side_kind(f, places[from].b).law,
                                      .from = at};
        for (size_t k = from; k < end; k++) {
            fill(f, at++, places[k].link, places[k].link);
        }
        while (at % UF_FAST_LINE != 0) {
            fill(f, at++, NULL, places[from].link);
        }
        pair->count = at - pair->from;
        from = end;
    }
}

/* Conductivity of a substance thawed, and where that begins: later than *from_degC. */
static double thawed_W_mK(const struct uf_fast_kind *kind, double length_m, double *from_degC)
{
    const double T1 = kind->table != NULL ? kind->table->T1 : kind->law.T1;
    *from_degC = length_m > 0.0 ? uf_fast_larger(*from_degC, T1) : *from_degC;
    return kind->table != NULL ? kind->table->ku : kind->law.ku;
}

static void add_curved_link(struct uf_fast *f, const struct place *p)
{
    struct uf_fast_links *s = &f->links;
    const struct uf_heat_link *link = p->link;
    const struct uf_fast_curved_way way = {.area_m2 = link->area_m2,
                                           .fixed_m2K_W = link->fixed_m2K_W,
                                           .l1_m = link->length_a_m,
                                           .l2_m = link->length_b_m,
                                           .kind_a = side_kind(f, p->a),
                                           .kind_b = side_kind(f, p->b)};
    double from_degC = -HUGE_VAL;
    const double ka_W_mK = thawed_W_mK(&way.kind_a, way.l1_m, &from_degC);
    const double kb_W_mK = thawed_W_mK(&way.kind_b, way.l2_m, &from_degC);
    s->curved[s->n_curved] = (struct uf_fast_curved){
        .a = (uint32_t)link->a,
        .b = (uint32_t)link->b,
        .inv_a = f->inv_volume[link->a],
        .inv_b = f->inv_volume[link->b],
        .thawed_degC = from_degC,
        .thawed_W_K = way.area_m2 / (way.fixed_m2K_W + way.l1_m / ka_W_mK + way.l2_m / kb_W_mK)};
    s->curved_ways[s->n_curved++] = way;
}

bool uf_fast_link_create(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    struct uf_fast_links *s = &f->links;
    struct place *places = calloc(h->n_links + 1, sizeof *places);
    size_t n = 0;
    s->curved = calloc(h->n_links + 1, sizeof *s->curved);
    s->curved_ways = calloc(h->n_links + 1, sizeof *s->curved_ways);
    bool ok = places != NULL && s->curved != NULL && s->curved_ways != NULL;
    for (size_t l = 0; ok && l < h->n_links; l++) {
        const struct place p = place_of(&h->links[l]);
        ok = make_table(f, p.a) && make_table(f, p.b);
        if (is_simple(h, p.a) && is_simple(h, p.b)) {
            places[n++] = p;
        } else {
            add_curved_link(f, &p);
        }
    }
    if (ok) {
        qsort(places, n, sizeof *places, compare);
        ok = allocate(s, places, n);
    }
    if (ok) {
        fill_pairs(f, places, n);
    }
    free(places);
    return ok;
}

void uf_fast_link_free(struct uf_fast_links *links)
{
    free(links->rows);
    free(links->a);
    free(links->b);
    free(links->pairs);
    free(links->curved);
    free(links->curved_ways);
}

/* Lengths in series: the flow is A dT / (FIXED + safe (L1 / d1 + L2 / d2)), safe the
   difference of temperature, d that of U; written with one division. */
UF_FAST_CLONES static void pair_flows(const struct uf_fast_pair *pair, size_t stride, double scale,
                                      const double *restrict x, double *restrict out)
{
#define ROW(name) (x[(size_t)(UF_LINK_##name) * stride + l])
    const struct uf_fast_law a = pair->law_a;
    const struct uf_fast_law b = pair->law_b;
    for (size_t l = pair->from; l < pair->from + pair->count; l++) {
        const double T = ROW(TB);
        const double dT = ROW(TA) - T;
        const double safe = uf_fast_safe(dT);
        const double d1 = uf_fast_difference(T + safe, T, a.T0, a.T1, a.ku, a.kf, a.dk);
        const double d2 = uf_fast_difference(T + safe, T, b.T0, b.T1, b.ku, b.kf, b.dk);
        const double W = dT * ROW(AREA) * (d1 * d2) /
                         (ROW(FIXED) * (d1 * d2) + safe * (ROW(L1) * d2 + ROW(L2) * d1));
        out[l] = W;
        out[stride + l] = scale * W * ROW(INV_A);
        out[2 * stride + l] = scale * W * ROW(INV_B);
    }
#undef ROW
}

static void add_pairs(struct uf_fast *f, double scale, double *restrict rate)
{
    struct uf_fast_links *s = &f->links;
    double *const restrict Ta = s->rows + UF_LINK_TA * s->stride;
    double *const restrict Tb = s->rows + UF_LINK_TB * s->stride;
    const double *const restrict rate_a = s->rows + UF_LINK_RATE_A * s->stride;
    const double *const restrict rate_b = s->rows + UF_LINK_RATE_B * s->stride;
    for (size_t l = 0; l < s->stride; l++) {
        Ta[l] = f->T[s->a[l]];
        Tb[l] = f->T[s->b[l]];
    }
    for (size_t p = 0; p < s->n_pairs; p++) {
        pair_flows(&s->pairs[p], s->stride, scale, s->rows, s->rows + UF_LINK_W * s->stride);
    }
    for (size_t l = 0; l < s->stride; l++) {
        rate[s->a[l]] -= rate_a[l];
        rate[s->b[l]] += rate_b[l];
    }
}

/* U of a curved law at a temperature. */
static inline double table_U(const struct uf_fast_table *t, double T_degC)
{
    if (T_degC >= t->T1) {
        return t->ku * (T_degC - t->T1);
    }
    const double at = (T_degC - t->T0) * t->T_bins_1_K;
    if (at < 0.0) {
        return t->U0 + t->kf * (T_degC - t->T0);
    }
    const int b = at < UF_FAST_BINS - 1e-9 ? (int)at : UF_FAST_BINS - 1;
    return uf_fast_look(t->U_T, b, at - b);
}

static inline double U_difference(const struct uf_fast_kind *kind, double a, double b)
{
    const struct uf_fast_law *w = &kind->law;
    return kind->table != NULL ? table_U(kind->table, a) - table_U(kind->table, b)
                               : uf_fast_difference(a, b, w->T0, w->T1, w->ku, w->kf, w->dk);
}

static inline double curved_W(const struct uf_fast_curved_way *way, double a, double b)
{
    const double dT = a - b;
    const double safe = uf_fast_safe(dT);
    const double d1 = U_difference(&way->kind_a, b + safe, b);
    const double d2 = U_difference(&way->kind_b, b + safe, b);
    return way->area_m2 * dT * (d1 * d2) /
           (way->fixed_m2K_W * (d1 * d2) + safe * (way->l1_m * d2 + way->l2_m * d1));
}

/* The freezing laws are asked only where an end is below the freezing range's upper end. */
UF_FAST_CLONES static void add_curved(struct uf_fast_links *links, double scale,
                                      const double *restrict T, double *restrict rate)
{
    for (size_t l = 0; l < links->n_curved; l++) {
        struct uf_fast_curved *c = &links->curved[l];
        const double a = T[c->a];
        const double b = T[c->b];
        const bool thawed = uf_fast_smaller(a, b) >= c->thawed_degC;
        c->W = thawed ? c->thawed_W_K * (a - b) : curved_W(&links->curved_ways[l], a, b);
        rate[c->a] -= scale * c->W * c->inv_a;
        rate[c->b] += scale * c->W * c->inv_b;
    }
}

void uf_fast_link_add(struct uf_fast *fast, double scale, double *rate)
{
    add_pairs(fast, scale, rate);
    add_curved(&fast->links, scale, fast->T, rate);
}

double uf_fast_link_into_W(const struct uf_fast *fast, size_t node)
{
    const struct uf_fast_links *s = &fast->links;
    const double *W = s->rows + UF_LINK_W * s->stride;
    double sum_W = 0.0;
    for (size_t l = 0; l < s->stride; l++) {
        sum_W += s->b[l] == node ? W[l] : s->a[l] == node ? -W[l] : 0.0;
    }
    for (size_t l = 0; l < s->n_curved; l++) {
        const struct uf_fast_curved *c = &s->curved[l];
        sum_W += c->b == node ? c->W : c->a == node ? -c->W : 0.0;
    }
    return sum_W;
}
