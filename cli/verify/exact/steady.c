#include "steady.h"

#include "solver/heat/sparse.h"

#include <math.h>
#include <stdlib.h>

enum { STEPS_MOST = 50 };

/* A change below this is rounding: temperatures are some tens of degrees. */
static const double SETTLED_K = 1e-10;
/* A diagonal that holds a node where it is; conductances are some W/K. */
static const double HELD_W_K = 1e30;

struct solve {
    const struct uf_heat *heat;
    const struct uf_heat_now *now;
    const bool *fixed;
    struct uf_sparse *matrix;
    double *into_W; /* [n] */
};

static bool keeps(const struct solve *s, size_t i)
{
    return !(s->heat->volume_m3[i] > 0.0) || i == s->heat->held ||
           (s->fixed != NULL && s->fixed[i]);
}

/* One Newton step; the largest change of any node, K. */
static enum uf_status newton(const struct solve *s, double *T_degC, double *largest_K,
                             struct uf_error *err)
{
    const struct uf_heat *heat = s->heat;
    struct uf_heat_flow flow;
    uf_heat_rate(heat, s->now, T_degC, s->into_W, &flow);
    uf_sparse_zero(s->matrix);
    uf_heat_matrix(heat, s->now, T_degC, 1.0, s->matrix);
    for (size_t i = 0; i < heat->n; i++) {
        if (keeps(s, i)) {
            *uf_sparse_diagonal(s->matrix, i) += HELD_W_K;
            s->into_W[i] = 0.0;
        }
    }
    enum uf_status status = uf_sparse_factor(s->matrix, err);
    if (status == UF_OK) {
        status = uf_sparse_solve(s->matrix, s->into_W, err);
    }
    *largest_K = 0.0;
    for (size_t i = 0; i < heat->n && status == UF_OK; i++) {
        T_degC[i] += s->into_W[i];
        *largest_K = fmax(*largest_K, fabs(s->into_W[i]));
    }
    return status;
}

static enum uf_status prepare(struct solve *s, struct uf_error *err)
{
    size_t(*pairs)[2] = NULL;
    size_t n_pairs = 0;
    s->into_W = calloc(s->heat->n, sizeof *s->into_W);
    enum uf_status status = s->into_W == NULL ? uf_fail(err, UF_E_MEMORY, "out of memory")
                                              : uf_heat_pairs(s->heat, &pairs, &n_pairs, err);
    if (status == UF_OK) {
        status = uf_sparse_create(&s->matrix, s->heat->n, (const size_t(*)[2])pairs, n_pairs, err);
    }
    free(pairs);
    return status;
}

enum uf_status uf_steady_solve(const struct uf_heat *heat, const struct uf_heat_now *now,
                               const bool *fixed, double *T_degC, struct uf_error *err)
{
    struct solve s = {.heat = heat, .now = now, .fixed = fixed};
    double change_K = INFINITY;
    enum uf_status status = prepare(&s, err);
    for (int k = 0; k < STEPS_MOST && status == UF_OK && !(change_K < SETTLED_K); k++) {
        status = newton(&s, T_degC, &change_K, err);
    }
    if (status == UF_OK && !(change_K < SETTLED_K)) {
        status = uf_fail(err, UF_E_SOLVER, "no steady state was found in %d steps", STEPS_MOST);
    }
    uf_sparse_free(s.matrix);
    free(s.into_W);
    return status;
}
