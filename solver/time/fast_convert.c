#include "fast_private.h"

/* Enthalpy to the Kirchhoff variable U, the one thing that conduction between like cells
   needs, and to temperature where somebody asks for it. */

/* One linear freezing range: three clipped straight parts, no branch. */
UF_FAST_CLONES static void simple_run(size_t n, const struct uf_fast_law *law,
                                      const double *restrict start, const double *restrict more,
                                      double *restrict U)
{
    const struct uf_fast_law w = *law;
    const double half_dk = 0.5 * w.dk;
    for (size_t i = 0; i < n; i++) {
        const double h = start[i] + more[i];
        const double up = uf_fast_larger(h, 0.0) * w.inv_cu;
        const double freezing = uf_fast_smaller(uf_fast_larger(h, w.H0), 0.0) * w.s;
        const double below = (uf_fast_smaller(h, w.H0) - w.H0) * w.inv_cf;
        U[i] = w.ku * up + freezing * (w.ku + half_dk * freezing) + w.kf * below;
    }
}

/* The same to temperature. */
UF_FAST_CLONES static void simple_T(size_t n, const struct uf_fast_law *law,
                                    const double *restrict H, double *restrict T)
{
    const struct uf_fast_law w = *law;
    for (size_t i = 0; i < n; i++) {
        const double h = H[i];
        T[i] = w.T1 + uf_fast_larger(h, 0.0) * w.inv_cu +
               uf_fast_smaller(uf_fast_larger(h, w.H0), 0.0) * w.s +
               (uf_fast_smaller(h, w.H0) - w.H0) * w.inv_cf;
    }
}

/* A frozen cell: entries and what lies beyond the first of them go on straight. */
static inline double look_up(const struct uf_fast_table *w, const double *entries, double beyond,
                             double h)
{
    const double at = (h - w->H0) * w->H_bins_m3_J;
    return at < 0.0 ? entries[0] + beyond * ((h - w->H0) * w->inv_cf)
                    : uf_fast_look(entries, (int)at, at - (int)at);
}

/* All cells as thawed, which is vectorised, a sum of comparisons with it; then those that are frozen. These
   lie side by side: branches that are foretold cost less than all three parts of the law for every cell.
   T NULL: not asked for. */
static inline void table_block(size_t n, const struct uf_fast_table *w,
                               const double *restrict start, const double *restrict more,
                               double *restrict U, double *restrict T)
{
    int64_t frozen = 0;
    for (size_t i = 0; i < n; i++) {
        const double h = start[i] + more[i];
        U[i] = w->ku * (h * w->inv_cu);
        frozen += h < 0.0 ? 1 : 0;
    }
    for (size_t i = 0; T != NULL && i < n; i++) {
        T[i] = w->T1 + (start[i] + more[i]) * w->inv_cu;
    }
    for (size_t i = 0; frozen > 0 && i < n; i++) {
        const double h = start[i] + more[i];
        if (h < 0.0) {
            U[i] = look_up(w, w->U_H, w->kf, h);
            if (T != NULL) {
                T[i] = look_up(w, w->T_H, 1.0, h);
            }
        }
    }
}

UF_FAST_CLONES static void table_run(const struct uf_fast_run *run, const bool *wants_T,
                                     const double *restrict start, const double *restrict more,
                                     double *restrict U, double *restrict T)
{
    const struct uf_fast_table w = *run->kind.table;
    for (size_t from = 0; from < run->count; from += UF_FAST_BLOCK) {
        const size_t rest = run->count - from;
        table_block(rest < UF_FAST_BLOCK ? rest : UF_FAST_BLOCK, &w, start + from, more + from,
                    U + from, wants_T[from] ? T + from : NULL);
    }
}

UF_FAST_CLONES static void ramps(size_t n, size_t stride, const double *restrict x,
                                 double *restrict T)
{
#define ROW(name) (x[(size_t)(UF_RAMP_##name) * stride + i])
#define PART(low, high, slope)                                                                     \
    ((uf_fast_smaller(uf_fast_larger(h, ROW(low)), ROW(high)) - ROW(high)) * ROW(slope))
    for (size_t i = 0; i < n; i++) {
        const double h = ROW(H);
        T[i] = ROW(LAST) + uf_fast_larger(h, 0.0) * ROW(INV_CU) +
               (uf_fast_smaller(h, ROW(H0)) - ROW(H0)) * ROW(INV_CF) + PART(H0, H1, S0) +
               PART(H1, H2, S1) + PART(H2, H3, S2);
    }
#undef PART
#undef ROW
}

static void gather(size_t n, const uint32_t *restrict node, const double *restrict start,
                   const double *restrict more, double *restrict H)
{
    for (size_t k = 0; k < n; k++) {
        H[k] = start[node[k]] + more[node[k]];
    }
}

static void scatter(size_t n, const uint32_t *restrict node, const double *restrict from,
                    double *restrict to)
{
    for (size_t k = 0; k < n; k++) {
        to[node[k]] = from[k];
    }
}

void uf_fast_convert_slice(struct uf_fast *f, size_t k, const double *start, const double *more,
                           double *U)
{
    const struct uf_fast_list *brief = &f->briefs[k];
    const size_t first = k * f->slice;
    for (size_t r = f->first_run[k]; r < f->first_run[k + 1]; r++) {
        const struct uf_fast_run *run = &f->runs[r];
        const size_t at = run->from;
        if (run->kind.table == NULL) {
            simple_run(run->count, &run->kind.law, start + at, more + at, U + (at - first));
        } else {
            table_run(run, f->wants_T + at, start + at, more + at, U + (at - first), f->T + at);
        }
    }
    gather(brief->n, brief->node, start + first, more + first, brief->H);
    for (size_t g = 0; g < brief->n_groups; g++) {
        const struct uf_fast_run *group = &brief->groups[g];
        simple_run(group->count, &group->kind.law, brief->H + group->from, f->none,
                   brief->out + group->from);
    }
    scatter(brief->n, brief->node, brief->out, U);
}

void uf_fast_convert_asked(struct uf_fast *f, const double *start, const double *more)
{
    const struct uf_heat *h = f->heat;
    const struct uf_fast_asked *a = &f->asked;
    const struct uf_fast_list *plain = &a->plain;
    double *const H = a->ramps + UF_RAMP_H * a->stride;
    double *const T = a->ramps + UF_RAMP_T * a->stride;
    gather(plain->n, plain->node, start, more, plain->H);
    for (size_t g = 0; g < plain->n_groups; g++) {
        const struct uf_fast_run *group = &plain->groups[g];
        simple_T(group->count, &group->kind.law, plain->H + group->from, plain->out + group->from);
    }
    scatter(plain->n, plain->node, plain->out, f->T);
    gather(a->n_ramp, a->ramp, start, more, H);
    ramps(a->n_ramp, a->stride, a->ramps, T);
    scatter(a->n_ramp, a->ramp, T, f->T);
    for (size_t k = 0; k < a->n_other; k++) {
        const size_t i = a->other[k];
        f->T[i] = uf_material_T_degC(&h->materials[h->material[i]], start[i] + more[i]);
    }
}
