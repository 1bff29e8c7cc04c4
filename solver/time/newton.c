#include "newton_private.h"
#include "solver/heat/sparse.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ITERATIONS_MOST = 25 };

/* Heat that a step may lose, of the heat that moves in it. */
static const double LEAK = 1e-6;
/* A few last digits, in units of LEAK: so much is rounding. */
static const double ROUNDING = 4.0 * DBL_EPSILON / 1e-6;
/* Newton that gains less than this from one iteration to the next is thrown to and fro
   over a kink; the next step is then half as long. */
static const double SLOW = 0.7;
/* Rows of water that mix: some 1e-5 K between them under the flows of a buried tank, and a hundred rows
   may lie on each other. */
static const double JOINED_W_K = 1e6;
/* Weight of a node kept at its temperature. */
static const double FIXED_W_K = 1e30;

enum uf_status uf_newton_create(struct uf_newton **out, const struct uf_heat *heat,
                                struct uf_error *err)
{
    struct uf_newton *m = calloc(1, sizeof *m);
    size_t(*pairs)[2] = NULL;
    size_t n_pairs = 0;
    const size_t n = heat->n;
    *out = NULL;
    if (m != NULL) {
        m->heat = heat;
        m->T_degC = calloc(5 * n, sizeof *m->T_degC);
        m->joined = calloc(heat->n_water + 1, sizeof *m->joined);
    }
    if (m == NULL || m->T_degC == NULL || m->joined == NULL) {
        uf_newton_free(m);
        return uf_fail(err, UF_E_MEMORY, "out of memory for %zu cells", n);
    }
    m->H_J_m3 = m->T_degC + n;
    m->W = m->H_J_m3 + n;
    m->step_K = m->W + n;
    m->slope_J_m3K = m->step_K + n;
    enum uf_status status = uf_heat_pairs(heat, &pairs, &n_pairs, err);
    if (status == UF_OK) {
        status = uf_sparse_create(&m->matrix, n, (const size_t(*)[2])pairs, n_pairs, err);
    }
    free(pairs);
    if (status != UF_OK) {
        uf_newton_free(m);
        return status;
    }
    *out = m;
    return UF_OK;
}

void uf_newton_free(struct uf_newton *newton)
{
    if (newton != NULL) {
        uf_sparse_free(newton->matrix);
        free(newton->T_degC);
        free(newton->joined);
        free(newton);
    }
}

static void rate(struct uf_newton *m, const struct uf_heat_now *now,
                 double boundary_W[UF_NEWTON_FLOWS])
{
    struct uf_heat_flow flow;
    uf_heat_rate(m->heat, now, m->T_degC, m->W, &flow);
    uf_heat_add_joined(m->heat, JOINED_W_K, m->joined, m->T_degC, m->W);
    m->counts.rates++;
    boundary_W[0] = flow.surface_W;
    boundary_W[1] = flow.bottom_W;
    boundary_W[2] = flow.vent_W;
    boundary_W[3] = flow.held_W;
    boundary_W[4] = flow.inflow_W;
}

void uf_newton_rate(struct uf_newton *newton, const struct uf_heat_now *now, const double *H_J_m3,
                    double boundary_W[UF_NEWTON_FLOWS])
{
    uf_heat_temperatures(newton->heat, H_J_m3, newton->T_degC);
    rate(newton, now, boundary_W);
}

/* Volume of a node; 1 for one that is not in use, so that its row is not empty. */
static double volume_m3(const struct uf_heat *heat, size_t i)
{
    return heat->volume_m3[i] > 0.0 ? heat->volume_m3[i] : 1.0;
}

/* Is every cell still on the branch of H(T) that the factors were made with? Notes the
   branches of today. */
static bool branches_kept(struct uf_newton *m)
{
    bool kept = true;
    for (size_t i = 0; i < m->heat->n; i++) {
        const double slope =
            uf_material_slope_J_m3K(&m->heat->materials[m->heat->material[i]], m->T_degC[i]);
        kept = kept && slope == m->slope_J_m3K[i];
        m->slope_J_m3K[i] = slope;
    }
    return kept;
}

/* The last factors serve again while no cell has changed its branch and gamma is the
   same: between two kinks the equations are nearly linear. */
static bool factor(struct uf_newton *m, const struct uf_newton_question *q)
{
    if (branches_kept(m) && q->gamma_s == m->factored_gamma) {
        return true;
    }
    uf_sparse_zero(m->matrix);
    uf_heat_matrix(m->heat, &q->now, m->T_degC, 1.0, m->matrix);
    uf_heat_join_water(m->heat, JOINED_W_K, m->joined, m->matrix);
    for (size_t i = 0; i < m->heat->n; i++) {
        *uf_sparse_diagonal(m->matrix, i) +=
            i == m->heat->held ? FIXED_W_K : volume_m3(m->heat, i) * m->slope_J_m3K[i] / q->gamma_s;
    }
    m->counts.factorisations++;
    m->factored_gamma = q->gamma_s;
    return uf_sparse_factor(m->matrix, NULL) == UF_OK;
}

/* What is left of the equations at the state in hand, W, into step_K, and the boundary
   flows. Returns the heat that all of it together would lose as a share of the heat that
   moves. */
static double residual(struct uf_newton *m, const struct uf_newton_question *q,
                       double boundary_W[UF_NEWTON_FLOWS])
{
    double lost = 0.0;
    double moved = 0.0;
    rate(m, &q->now, boundary_W);
    for (size_t i = 0; i < m->heat->n; i++) {
        const double change = m->H_J_m3[i] - q->predicted[i] + q->rl1 * q->zn1[i];
        m->step_K[i] = m->W[i] - volume_m3(m->heat, i) * change / q->gamma_s;
        lost += m->step_K[i];
        moved += fabs(m->W[i]) + ROUNDING * volume_m3(m->heat, i) * fabs(m->H_J_m3[i]) / q->gamma_s;
    }
    return moved > 0.0 ? fabs(lost) / moved : 0.0;
}

/* Where a node arrives: one that would leap over its whole freezing range stops inside
   it. */
static double land_degC(const struct uf_material *law, double from_degC, double to_degC)
{
    const double low_degC = law->T_degC[0];
    const double high_degC = law->T_degC[law->n - 1];
    const bool leaps = law->n > 1 && ((from_degC <= low_degC && to_degC > high_degC) ||
                                      (from_degC >= high_degC && to_degC < low_degC));
    return leaps ? 0.5 * (low_degC + high_degC) : to_degC;
}

/* Takes the step; returns the weighted norm of the larger of the change wanted and the
   change got: beyond a kink of H(T) the two differ, and the smaller one would look like
   convergence. */
static double take_step(struct uf_newton *m, const double *weight, double share)
{
    const struct uf_heat *heat = m->heat;
    double sum = 0.0;
    for (size_t i = 0; i < heat->n; i++) {
        if (heat->volume_m3[i] > 0.0 && i != heat->held) {
            const struct uf_material *law = &heat->materials[heat->material[i]];
            const double wanted = m->step_K[i] * m->slope_J_m3K[i];
            m->T_degC[i] = land_degC(law, m->T_degC[i], m->T_degC[i] + share * m->step_K[i]);
            const double H = uf_material_H_J_m3(law, m->T_degC[i]);
            const double change = fmax(fabs(H - m->H_J_m3[i]), fabs(wanted)) * weight[i];
            sum += change * change;
            m->H_J_m3[i] = H;
        }
    }
    return sqrt(sum / (double)(heat->n + UF_NEWTON_FLOWS));
}

bool uf_newton_solve(struct uf_newton *newton, const struct uf_newton_question *question,
                     double tolerance, double boundary_W[UF_NEWTON_FLOWS])
{
    struct uf_newton *m = newton;
    double norm = INFINITY;
    double share = 1.0;
    memcpy(m->H_J_m3, question->predicted, m->heat->n * sizeof *m->H_J_m3);
    uf_heat_temperatures(m->heat, m->H_J_m3, m->T_degC);
    double lost = residual(m, question, boundary_W);
    for (int k = 0; !(norm < tolerance && lost < LEAK); k++) {
        if (k == ITERATIONS_MOST || !factor(m, question) ||
            uf_sparse_solve(m->matrix, m->step_K, NULL) != UF_OK) {
            m->factored_gamma = 0.0;
            m->counts.failures++;
            return false;
        }
        const double before = norm;
        norm = take_step(m, question->weight, share);
        share = norm > SLOW * before ? 0.5 : 1.0;
        lost = residual(m, question, boundary_W);
        m->counts.iterations++;
    }
    return true;
}
