#include "fast.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One binary for old and new x86-64: the loops are compiled three times and chosen at
 * start. */
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) &&                   \
    defined(__OPTIMIZE__) && !defined(__SANITIZE_ADDRESS__)
#define UF_CLONES                                                                        \
    __attribute__((target_clones("default", "arch=x86-64-v3", "arch=x86-64-v4")))
#else
#define UF_CLONES
#endif

/* The constants of a material with one linear freezing range. */
struct law {
    double H0, T0, T1; /* enthalpy and temperature where freezing ends; where it begins */
    double s;          /* dT/dH while freezing */
    double inv_cu, inv_cf, ku, kf, dk;
};

/* A stretch of cells of one substance. table: the substance's place in `tables`, or -1 =
 * simple. */
struct run {
    size_t from, count;
    struct law law;
    long table;
};

/* T and U against enthalpy at even steps, for curved freezing laws. */
#define TABLE_BINS 4096
struct table {
    double H0, inv_step, top_T;
    double inv_cu, inv_cf, ku, kf;
    double *T, *U; /* [TABLE_BINS + 1] */
};

/* Links between substances with linear freezing ranges, one array a member. */
enum {
    LINK_AREA,
    LINK_FIXED,
    LINK_L1,
    LINK_L2,
    LINK_T0A,
    LINK_T1A,
    LINK_KUA,
    LINK_KFA,
    LINK_DKA,
    LINK_T0B,
    LINK_T1B,
    LINK_KUB,
    LINK_KFB,
    LINK_DKB,
    LINK_TA,
    LINK_TB,
    LINK_W,
    LINK_ARRAYS
};

struct uf_fast {
    const struct uf_heat *heat;
    size_t nx, n_cells, n;
    double *block; /* U, gx, gz with a row of zeros before and after; T, W, 1/V */
    double *U, *gx, *gz, *T, *W, *inv_volume;
    struct run *runs;
    size_t n_runs;
    struct table *tables; /* [n_materials], T NULL where not used */
    size_t *odd;          /* nodes handled one by one: cut cells, lumped bodies */
    size_t n_odd;
    double *links; /* [LINK_ARRAYS][n_simple] */
    size_t *link_a, *link_b;
    size_t n_simple;
    const struct uf_heat_link **curved;
    size_t n_curved;
};

static struct law law_of(const struct uf_material *m)
{
    const double span = m->T_degC[1] - m->T_degC[0];
    return (struct law){.H0 = m->H_J_m3[0],
                        .T0 = m->T_degC[0],
                        .T1 = m->T_degC[1],
                        .s = span / -m->H_J_m3[0],
                        .inv_cu = 1.0 / m->c_thawed_J_m3K,
                        .inv_cf = 1.0 / m->c_frozen_J_m3K,
                        .ku = m->k_W_mK[1],
                        .kf = m->k_W_mK[0],
                        .dk = (m->k_W_mK[1] - m->k_W_mK[0]) / span};
}

static bool make_table(struct table *t, const struct uf_material *m)
{
    t->T = malloc((TABLE_BINS + 1) * sizeof *t->T);
    t->U = malloc((TABLE_BINS + 1) * sizeof *t->U);
    if (t->T == NULL || t->U == NULL) {
        return false;
    }
    t->H0 = m->H_J_m3[0];
    t->inv_step = (double)TABLE_BINS / -t->H0;
    t->top_T = m->T_degC[m->n - 1];
    t->inv_cu = 1.0 / m->c_thawed_J_m3K;
    t->inv_cf = 1.0 / m->c_frozen_J_m3K;
    t->ku = m->k_W_mK[m->n - 1];
    t->kf = m->k_W_mK[0];
    for (size_t b = 0; b <= TABLE_BINS; b++) {
        t->T[b] = uf_material_T_degC(m, t->H0 * (1.0 - (double)b / TABLE_BINS));
        t->U[b] = uf_material_U_W_m(m, t->T[b]);
    }
    return true;
}

/* A cell whose own temperature drives structured faces. */
static bool plain(const struct uf_heat *heat, size_t c)
{
    return heat->volume_m3[c] > 0.0 && heat->material[c] == heat->conducts[c];
}

static bool compile_cells(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    for (size_t c = 0; c < f->n; c++) {
        if (h->volume_m3[c] > 0.0) {
            f->inv_volume[c] = 1.0 / h->volume_m3[c];
        }
        if (c >= f->n_cells || !plain(h, c)) {
            if (h->volume_m3[c] > 0.0) {
                f->odd[f->n_odd++] = c;
            }
            continue;
        }
        f->gx[c] = h->gx_m[c];
        f->gz[c] = h->gz_m[c];
        struct run *const last = f->n_runs > 0 ? &f->runs[f->n_runs - 1] : NULL;
        if (last != NULL && last->from + last->count == c &&
            h->material[last->from] == h->material[c]) {
            last->count++;
            continue;
        }
        const struct uf_material *m = &h->materials[h->material[c]];
        struct run *const run = &f->runs[f->n_runs++];
        *run = (struct run){
            .from = c, .count = 1, .table = m->simple ? -1 : (long)h->material[c]};
        if (m->simple) {
            run->law = law_of(m);
        } else if (f->tables[h->material[c]].T == NULL &&
                   !make_table(&f->tables[h->material[c]], m)) {
            return false;
        }
    }
    return true;
}

static void compile_links(struct uf_fast *f)
{
    const struct uf_heat *h = f->heat;
    for (size_t l = 0; l < h->n_links; l++) {
        const struct uf_heat_link *link = &h->links[l];
        const struct uf_material *ma = &h->materials[link->material_a];
        const struct uf_material *mb = &h->materials[link->material_b];
        const bool simple = (ma->simple || link->length_a_m <= 0.0) &&
                            (mb->simple || link->length_b_m <= 0.0);
        if (!simple) {
            f->curved[f->n_curved++] = link;
            continue;
        }
        const struct law none = {.T0 = -1.0, .ku = 1.0, .kf = 1.0};
        const struct law a = link->length_a_m > 0.0 ? law_of(ma) : none;
        const struct law b = link->length_b_m > 0.0 ? law_of(mb) : none;
        const double row[LINK_TA] = {link->area_m2,
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
        for (size_t k = 0; k < LINK_TA; k++) {
            f->links[k * h->n_links + f->n_simple] = row[k];
        }
        f->link_a[f->n_simple] = link->a;
        f->link_b[f->n_simple++] = link->b;
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
    f->links = calloc(LINK_ARRAYS * h->n_links + 1, sizeof *f->links);
    f->link_a = calloc(h->n_links + 1, sizeof *f->link_a);
    f->link_b = calloc(h->n_links + 1, sizeof *f->link_b);
    f->curved = calloc(h->n_links + 1, sizeof *f->curved);
    if (!f->block || !f->runs || !f->tables || !f->odd || !f->links || !f->link_a ||
        !f->link_b || !f->curved) {
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
    if (f == NULL || !allocate(f) || !compile_cells(f)) {
        uf_fast_free(f);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the fast integrator");
    }
    compile_links(f);
    *out = f;
    return UF_OK;
}

void uf_fast_free(struct uf_fast *f)
{
    if (f == NULL) {
        return;
    }
    for (size_t m = 0; f->tables != NULL && m < f->heat->n_materials; m++) {
        free(f->tables[m].T);
        free(f->tables[m].U);
    }
    free(f->block);
    free(f->runs);
    free(f->tables);
    free(f->odd);
    free(f->links);
    free(f->link_a);
    free(f->link_b);
    free(f->curved);
    free(f);
}

/* Enthalpy to temperature and Kirchhoff's variable, one linear freezing range: three
   clipped straight parts, no branch. */
UF_CLONES static void convert_simple(size_t n, const struct law *law,
                                     const double *restrict H, double *restrict T,
                                     double *restrict U)
{
    const struct law w = *law;
    for (size_t i = 0; i < n; i++) {
        const double h = H[i];
        const double up = (h > 0.0 ? h : 0.0) * w.inv_cu;
        const double above = h > w.H0 ? h : w.H0;
        const double freezing = (above < 0.0 ? above : 0.0) * w.s;
        const double below = (h < w.H0 ? h - w.H0 : 0.0) * w.inv_cf;
        T[i] = w.T1 + up + freezing + below;
        U[i] = w.ku * up + freezing * (w.ku + 0.5 * w.dk * freezing) + w.kf * below;
    }
}

UF_CLONES static void convert_table(size_t n, const struct table *t,
                                    const double *restrict H, double *restrict T,
                                    double *restrict U)
{
    const struct table w = *t;
    for (size_t i = 0; i < n; i++) {
        const double h = H[i];
        const double up = (h > 0.0 ? h : 0.0) * w.inv_cu;
        const double below = (h < w.H0 ? h - w.H0 : 0.0) * w.inv_cf;
        double at = (h - w.H0) * w.inv_step;
        at = at > 0.0 ? at : 0.0;
        at = at < TABLE_BINS - 1e-9 ? at : TABLE_BINS - 1e-9;
        const int b = (int)at;
        const double part = (h >= 0.0 ? 1.0 : at - b);
        T[i] = w.T[b] + part * (w.T[b + 1] - w.T[b]) + up + below;
        U[i] = w.U[b] + part * (w.U[b + 1] - w.U[b]) + w.ku * up + w.kf * below;
    }
}

/* Five-point sweep. Faces that are not structured have conductance zero. */
UF_CLONES static void sweep(size_t n, size_t nx, const double *restrict U,
                            const double *restrict gx, const double *restrict gz,
                            double *restrict W)
{
    const double *restrict left = gx - 1;
    const double *restrict above = gz - nx;
    const double *restrict U_left = U - 1;
    const double *restrict U_above = U - nx;
    const double *restrict U_right = U + 1;
    const double *restrict U_below = U + nx;
    for (size_t c = 0; c < n; c++) {
        W[c] = gx[c] * (U_right[c] - U[c]) - left[c] * (U[c] - U_left[c]) +
               gz[c] * (U_below[c] - U[c]) - above[c] * (U[c] - U_above[c]);
    }
}

/* U(a) - U(b) of one linear freezing range. */
static inline double difference(double a, double b, double T0, double T1, double ku,
                                double kf, double dk)
{
    const double a_up = a > T1 ? a - T1 : 0.0;
    const double b_up = b > T1 ? b - T1 : 0.0;
    const double a_low = a < T0 ? a - T0 : 0.0;
    const double b_low = b < T0 ? b - T0 : 0.0;
    const double a_mid = a - T1 - a_up - a_low;
    const double b_mid = b - T1 - b_up - b_low;
    return ku * (a_up - b_up) + kf * (a_low - b_low) +
           (a_mid - b_mid) * (ku + 0.5 * dk * (a_mid + b_mid));
}

UF_CLONES static void link_flows(size_t n, size_t stride, const double *restrict x,
                                 double *restrict W)
{
#define ROW(name) (x[(size_t)(name)*stride + l])
    for (size_t l = 0; l < n; l++) {
        const double b = ROW(LINK_TB);
        const double dT = ROW(LINK_TA) - b;
        const double safe = (dT > 1e-6 || dT < -1e-6) ? dT : 1e-6;
        const double d1 = difference(b + safe, b, ROW(LINK_T0A), ROW(LINK_T1A),
                                     ROW(LINK_KUA), ROW(LINK_KFA), ROW(LINK_DKA));
        const double d2 = difference(b + safe, b, ROW(LINK_T0B), ROW(LINK_T1B),
                                     ROW(LINK_KUB), ROW(LINK_KFB), ROW(LINK_DKB));
        W[l] = dT * ROW(LINK_AREA) /
               (ROW(LINK_FIXED) + safe * (ROW(LINK_L1) / d1 + ROW(LINK_L2) / d2));
    }
#undef ROW
}

static void add_links(struct uf_fast *f)
{
    const size_t stride = f->heat->n_links;
    double *const Ta = f->links + LINK_TA * stride;
    double *const Tb = f->links + LINK_TB * stride;
    double *const W = f->links + LINK_W * stride;
    for (size_t l = 0; l < f->n_simple; l++) {
        Ta[l] = f->T[f->link_a[l]];
        Tb[l] = f->T[f->link_b[l]];
    }
    link_flows(f->n_simple, stride, f->links, W);
    for (size_t l = 0; l < f->n_simple; l++) {
        f->W[f->link_a[l]] -= W[l];
        f->W[f->link_b[l]] += W[l];
    }
    for (size_t l = 0; l < f->n_curved; l++) {
        const double flow_W = uf_heat_link_W(f->heat, f->curved[l], f->T);
        f->W[f->curved[l]->a] -= flow_W;
        f->W[f->curved[l]->b] += flow_W;
    }
}

UF_CLONES static void scale(size_t n, const double *restrict W,
                            const double *restrict inv, double *restrict rate)
{
    for (size_t i = 0; i < n; i++) {
        rate[i] = W[i] * inv[i];
    }
}

UF_CLONES void uf_fast_stage(size_t n, const double c[4], const double *restrict now,
                             const double *restrict before, const double *restrict rate,
                             const double *restrict rate0, const double *restrict start,
                             double *restrict next, double *restrict H_J_m3)
{
    const double mu = c[0];
    const double nu = c[1];
    const double mu_t = c[2];
    const double gamma_t = c[3];
    for (size_t i = 0; i < n; i++) {
        const double d =
            mu * now[i] + nu * before[i] + mu_t * rate[i] + gamma_t * rate0[i];
        next[i] = d;
        H_J_m3[i] = start[i] + d;
    }
}

void uf_fast_rate(struct uf_fast *f, const struct uf_heat_now *now, const double *H_J_m3,
                  double *rate_W_m3, struct uf_heat_flow *flow)
{
    const struct uf_heat *h = f->heat;
    for (size_t r = 0; r < f->n_runs; r++) {
        const struct run *run = &f->runs[r];
        const size_t from = run->from;
        if (run->table < 0) {
            convert_simple(run->count, &run->law, H_J_m3 + from, f->T + from,
                           f->U + from);
        } else {
            convert_table(run->count, &f->tables[run->table], H_J_m3 + from, f->T + from,
                          f->U + from);
        }
    }
    for (size_t k = 0; k < f->n_odd; k++) {
        const size_t i = f->odd[k];
        f->T[i] = uf_material_T_degC(&h->materials[h->material[i]], H_J_m3[i]);
    }
    sweep(f->n_cells, f->nx, f->U, f->gx, f->gz, f->W);
    memset(f->W + f->n_cells, 0, (f->n - f->n_cells) * sizeof *f->W);
    add_links(f);
    *flow = (struct uf_heat_flow){0};
    uf_heat_add_boundaries(h, now, f->T, f->W, flow);
    scale(f->n, f->W, f->inv_volume, rate_W_m3);
}
