#include "sparse_iterate.h"

#include <math.h>
#include <string.h>

enum { STEPS_MOST = 2000 };

/* Entry (i, j), 0 where there is none. */
static double entry(const struct uf_sparse_columns *a, int i, int j)
{
    for (int e = a->start[j]; e < a->start[j + 1]; e++) {
        if (a->row[e] == i) {
            return a->value[e];
        }
    }
    return 0.0;
}

bool uf_sparse_iterate_factor(const struct uf_sparse_columns *a, double *inverse)
{
    for (int j = 0; j < a->n; j++) {
        double pivot = entry(a, j, j);
        for (int e = a->start[j]; e < a->start[j + 1] && a->row[e] < j; e++) {
            const int i = a->row[e];
            pivot -= a->value[e] * inverse[i] * entry(a, j, i);
        }
        if (!(fabs(pivot) > 0.0)) {
            return false;
        }
        inverse[j] = 1.0 / pivot;
    }
    return true;
}

/* x becomes M^-1 b: (D + L) forward, (I + D^-1 U) backward. */
static void precondition(const struct uf_sparse_columns *a, const double *inverse, const double *b,
                         double *x)
{
    memcpy(x, b, (size_t)a->n * sizeof *x);
    for (int j = 0; j < a->n; j++) {
        x[j] *= inverse[j];
        for (int e = a->start[j + 1] - 1; e >= a->start[j] && a->row[e] > j; e--) {
            x[a->row[e]] -= a->value[e] * x[j];
        }
    }
    for (int j = a->n - 1; j >= 0; j--) {
        for (int e = a->start[j]; e < a->start[j + 1] && a->row[e] < j; e++) {
            x[a->row[e]] -= inverse[a->row[e]] * a->value[e] * x[j];
        }
    }
}

static void multiply(const struct uf_sparse_columns *a, const double *x, double *y)
{
    memset(y, 0, (size_t)a->n * sizeof *y);
    for (int j = 0; j < a->n; j++) {
        for (int e = a->start[j]; e < a->start[j + 1]; e++) {
            y[a->row[e]] += a->value[e] * x[j];
        }
    }
}

static double dot(int n, const double *x, const double *y)
{
    double sum = 0.0;
    for (int i = 0; i < n; i++) {
        sum += x[i] * y[i];
    }
    return sum;
}

bool uf_sparse_iterate_solve(const struct uf_sparse_columns *a, const double *inverse, double *b,
                             double *work, double small)
{
    const size_t n = (size_t)a->n;
    double *const r = work;
    double *const shadow = work + n;
    double *const p = work + 2 * n;
    double *const v = work + 3 * n;
    double *const t = work + 4 * n;
    double *const ahead = work + 5 * n;
    double *const behind = work + 6 * n;
    double *const x = work + 7 * n;
    const double goal = small * sqrt(dot(a->n, b, b));
    double rho = 1.0;
    double alpha = 1.0;
    double omega = 1.0;
    memset(work, 0, 8 * n * sizeof *work);
    memcpy(r, b, n * sizeof *r);
    memcpy(shadow, b, n * sizeof *shadow);
    int k = 0;
    while (!(sqrt(dot(a->n, r, r)) <= goal) && k < STEPS_MOST) {
        const double next = dot(a->n, shadow, r);
        const double beta = next / rho * alpha / omega;
        for (size_t i = 0; i < n; i++) {
            p[i] = r[i] + beta * (p[i] - omega * v[i]);
        }
        precondition(a, inverse, p, ahead);
        multiply(a, ahead, v);
        alpha = next / dot(a->n, shadow, v);
        for (size_t i = 0; i < n; i++) {
            r[i] -= alpha * v[i];
        }
        precondition(a, inverse, r, behind);
        multiply(a, behind, t);
        const double along = dot(a->n, t, t);
        omega = along > 0.0 ? dot(a->n, t, r) / along : 0.0;
        for (size_t i = 0; i < n; i++) {
            x[i] += alpha * ahead[i] + omega * behind[i];
            r[i] -= omega * t[i];
        }
        rho = next;
        k += isfinite(omega) && isfinite(alpha) ? 1 : STEPS_MOST;
    }
    memcpy(b, x, n * sizeof *b);
    return k < STEPS_MOST;
}
