#include "fast_private.h"

#include <math.h>
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

/* Cells looked at together: where all of a block are thawed, one branch of the law is
 * enough. */
enum { BLOCK = 32 };

static inline bool all_thawed(size_t n, const double *H)
{
    double least = 0.0;
    for (size_t i = 0; i < n; i++) {
        least = H[i] < least ? H[i] : least;
    }
    return least >= 0.0;
}

/* Thawed cells, any law: straight lines from the last breakpoint. */
static inline void thawed_block(size_t n, double T1, double inv_cu, double ku,
                                const double *restrict H, double *restrict T,
                                double *restrict U)
{
    for (size_t i = 0; i < n; i++) {
        const double up = H[i] * inv_cu;
        T[i] = T1 + up;
        U[i] = ku * up;
    }
}

/* One linear freezing range: three clipped straight parts, no branch. */
static inline void simple_block(size_t n, const struct uf_fast_law *w,
                                const double *restrict H, double *restrict T,
                                double *restrict U)
{
    for (size_t i = 0; i < n; i++) {
        const double h = H[i];
        const double up = (h > 0.0 ? h : 0.0) * w->inv_cu;
        const double above = h > w->H0 ? h : w->H0;
        const double freezing = (above < 0.0 ? above : 0.0) * w->s;
        const double below = (h < w->H0 ? h - w->H0 : 0.0) * w->inv_cf;
        T[i] = w->T1 + up + freezing + below;
        U[i] = w->ku * up + freezing * (w->ku + 0.5 * w->dk * freezing) + w->kf * below;
    }
}

UF_CLONES static void convert_simple(size_t n, const struct uf_fast_law *law,
                                     const double *restrict H, double *restrict T,
                                     double *restrict U)
{
    const struct uf_fast_law w = *law;
    for (size_t from = 0; from < n; from += BLOCK) {
        const size_t count = n - from < BLOCK ? n - from : BLOCK;
        if (all_thawed(count, H + from)) {
            thawed_block(count, w.T1, w.inv_cu, w.ku, H + from, T + from, U + from);
        } else {
            simple_block(count, &w, H + from, T + from, U + from);
        }
    }
}

/* A curved law from its tables, straight lines between entries. */
static inline void table_block(size_t n, const struct uf_fast_table *w, bool wants_T,
                               const double *restrict H, double *restrict T,
                               double *restrict U)
{
    const double *restrict U_H = w->U_H;
    const double *restrict T_H = w->T_H;
    for (size_t i = 0; i < n; i++) {
        const double h = H[i];
        double at = ((h < 0.0 ? h : 0.0) - w->H0) * w->H_bins_m3_J;
        at = at > 0.0 ? at : 0.0;
        at = at < UF_FAST_BINS - 1e-9 ? at : UF_FAST_BINS - 1e-9;
        const int b = (int)at;
        const double part = h < 0.0 ? at - b : 1.0;
        const double up = (h > 0.0 ? h : 0.0) * w->inv_cu;
        const double below = (h < w->H0 ? h - w->H0 : 0.0) * w->inv_cf;
        U[i] = U_H[b] + part * (U_H[b + 1] - U_H[b]) + w->ku * up + w->kf * below;
        if (wants_T) {
            T[i] = T_H[b] + part * (T_H[b + 1] - T_H[b]) + up + below;
        }
    }
}

UF_CLONES static void convert_table(size_t n, const struct uf_fast_table *table,
                                    bool wants_T, const double *restrict H,
                                    double *restrict T, double *restrict U)
{
    const struct uf_fast_table w = *table;
    for (size_t from = 0; from < n; from += BLOCK) {
        const size_t count = n - from < BLOCK ? n - from : BLOCK;
        if (all_thawed(count, H + from)) {
            thawed_block(count, w.T1, w.inv_cu, w.ku, H + from, T + from, U + from);
        } else if (wants_T) {
            table_block(count, &w, true, H + from, T + from, U + from);
        } else {
            table_block(count, &w, false, H + from, T + from, U + from);
        }
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

/* Temperatures closer than this give no secant; a nearby pair stands for them. */
static const double LEAST_K = 1e-6;

static inline double safe_difference(double dT)
{
    return dT > LEAST_K || dT < -LEAST_K ? dT : LEAST_K;
}

UF_CLONES static void link_flows(size_t n, size_t stride, const double *restrict x,
                                 double *restrict W)
{
#define ROW(name) (x[(size_t)(UF_LINK_##name) * stride + l])
    for (size_t l = 0; l < n; l++) {
        const double b = ROW(TB);
        const double dT = ROW(TA) - b;
        const double safe = safe_difference(dT);
        const double d1 =
            difference(b + safe, b, ROW(T0A), ROW(T1A), ROW(KUA), ROW(KFA), ROW(DKA));
        const double d2 =
            difference(b + safe, b, ROW(T0B), ROW(T1B), ROW(KUB), ROW(KFB), ROW(DKB));
        W[l] = dT * ROW(AREA) / (ROW(FIXED) + safe * (ROW(L1) / d1 + ROW(L2) / d2));
    }
#undef ROW
}

static void add_simple_links(struct uf_fast *f)
{
    const size_t stride = f->heat->n_links;
    double *const Ta = f->links + UF_LINK_TA * stride;
    double *const Tb = f->links + UF_LINK_TB * stride;
    double *const W = f->links + UF_LINK_W * stride;
    for (size_t l = 0; l < f->n_simple; l++) {
        Ta[l] = f->T[f->link_a[l]];
        Tb[l] = f->T[f->link_b[l]];
    }
    link_flows(f->n_simple, stride, f->links, W);
    for (size_t l = 0; l < f->n_simple; l++) {
        f->W[f->link_a[l]] -= W[l];
        f->W[f->link_b[l]] += W[l];
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
    return t->U_T[b] + (at - b) * (t->U_T[b + 1] - t->U_T[b]);
}

static inline double side_difference(const struct uf_fast_table *table,
                                     const struct uf_fast_law *law, double a, double b)
{
    return table != NULL ? table_U(table, a) - table_U(table, b)
                         : difference(a, b, law->T0, law->T1, law->ku, law->kf, law->dk);
}

static void add_curved_links(struct uf_fast *f)
{
    for (size_t l = 0; l < f->n_curved; l++) {
        const struct uf_fast_curved *c = &f->curved[l];
        const double b = f->T[c->b];
        const double dT = f->T[c->a] - b;
        const double safe = safe_difference(dT);
        double m2K_W = c->fixed_m2K_W;
        if (c->l1_m > 0.0) {
            m2K_W += c->l1_m * safe / side_difference(c->table1, &c->law1, b + safe, b);
        }
        if (c->l2_m > 0.0) {
            m2K_W += c->l2_m * safe / side_difference(c->table2, &c->law2, b + safe, b);
        }
        const double W = c->area_m2 * dT / m2K_W;
        f->W[c->a] -= W;
        f->W[c->b] += W;
    }
}

/* Flow through the surface of every top cell, as uf_heat_top_W. film: 0 where the surface
   itself is at outside. */
UF_CLONES static void top_flows(size_t n, double outside, double film_m2K_W,
                                const double *restrict x, double *restrict W)
{
#define ROW(name) (x[(size_t)(UF_TOP_##name) * n + t])
    for (size_t t = 0; t < n; t++) {
        const double T = ROW(T);
        double mid = T > ROW(T0) ? T : ROW(T0);
        mid = mid < ROW(T1) ? mid : ROW(T1);
        const double half_m2K_W = ROW(HALF) / (ROW(KF) + ROW(DK) * (mid - ROW(T0)));
        const double surface =
            outside + (T - outside) * film_m2K_W / (film_m2K_W + half_m2K_W);
        const double safe = safe_difference(surface - T);
        const double d =
            difference(T + safe, T, ROW(T0), ROW(T1), ROW(KU), ROW(KF), ROW(DK));
        W[t] = ROW(AREA) * (outside - T) / (film_m2K_W + ROW(HALF) * safe / d);
    }
#undef ROW
}

static void add_surface(struct uf_fast *f, const struct uf_heat_now *now,
                        struct uf_heat_flow *flow)
{
    const struct uf_heat *h = f->heat;
    if (!f->simple_tops || now->snow) {
        uf_heat_add_surface(h, now, f->T, f->W, flow);
        return;
    }
    double *const T = f->tops + UF_TOP_T * h->n_tops;
    double *const W = f->tops + UF_TOP_W * h->n_tops;
    for (size_t t = 0; t < h->n_tops; t++) {
        T[t] = f->T[h->tops[t].cell];
    }
    top_flows(h->n_tops, now->outside_degC,
              isfinite(now->h_W_m2K) ? 1.0 / now->h_W_m2K : 0.0, f->tops, W);
    for (size_t t = 0; t < h->n_tops; t++) {
        f->W[h->tops[t].cell] += W[t];
        flow->surface_W += W[t];
    }
}

UF_CLONES static void scale(size_t n, const double *restrict W,
                            const double *restrict inv, double *restrict rate)
{
    for (size_t i = 0; i < n; i++) {
        rate[i] = W[i] * inv[i];
    }
}

UF_CLONES void uf_fast_stage(size_t n, const double c[4], const double *const terms[4],
                             const double *restrict start, double *restrict next,
                             double *restrict H_J_m3)
{
    const double mu = c[0];
    const double nu = c[1];
    const double mu_t = c[2];
    const double gamma_t = c[3];
    const double *restrict now = terms[0];
    const double *restrict before = terms[1];
    const double *restrict rate = terms[2];
    const double *restrict rate0 = terms[3];
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
        const struct uf_fast_run *run = &f->runs[r];
        const size_t from = run->from;
        if (run->table < 0) {
            convert_simple(run->count, &run->law, H_J_m3 + from, f->T + from,
                           f->U + from);
        } else {
            convert_table(run->count, &f->tables[run->table], run->wants_T, H_J_m3 + from,
                          f->T + from, f->U + from);
        }
    }
    for (size_t k = 0; k < f->n_odd; k++) {
        const size_t i = f->odd[k];
        f->T[i] = uf_material_T_degC(&h->materials[h->material[i]], H_J_m3[i]);
    }
    sweep(f->n_cells, f->nx, f->U, f->gx, f->gz, f->W);
    memset(f->W + f->n_cells, 0, (f->n - f->n_cells) * sizeof *f->W);
    add_simple_links(f);
    add_curved_links(f);
    *flow = (struct uf_heat_flow){0};
    add_surface(f, now, flow);
    uf_heat_add_rest(h, now, f->T, f->W, flow);
    scale(f->n, f->W, f->inv_volume, rate_W_m3);
}
