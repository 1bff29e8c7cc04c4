#include "draw.h"

#include "solver/base/constants.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

const struct uf_draw_kind_row uf_draw_kinds[UF_DRAW_KINDS] = {
    [UF_DRAW_UNIFORM] = {"uniform", "[least, largest]", 2},
    [UF_DRAW_NORMAL] = {"normal", "[mean, standard deviation]", 2},
    [UF_DRAW_LOGNORMAL] = {"lognormal", "[mean, standard deviation]", 2},
    [UF_DRAW_TRIANGULAR] = {"triangular", "[least, likeliest, largest]", 3}};

const char *uf_draw_fault(const struct uf_draw_law *law)
{
    switch (law->kind) {
    case UF_DRAW_UNIFORM:
        return law->b >= law->a ? NULL : "the largest is less than the least";
    case UF_DRAW_NORMAL:
        return law->b >= 0.0 ? NULL : "the standard deviation is negative";
    case UF_DRAW_LOGNORMAL:
        return law->b >= 0.0 && law->a > 0.0
                   ? NULL
                   : "a lognormal needs a positive mean and no negative standard deviation";
    case UF_DRAW_TRIANGULAR:
        return law->a <= law->b && law->b <= law->c ? NULL : "the three must rise";
    case UF_DRAW_KINDS:
        break;
    }
    return "no such distribution";
}

/* Standard normal quantile: the root of the distribution function, halved until no number lies
   between its bounds. */
static double normal_quantile(double p)
{
    double low = -40.0, high = 40.0;
    for (int i = 0; i < 200; i++) {
        const double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high) {
            break;
        }
        if (0.5 * erfc(-middle / sqrt(2.0)) < p) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

double uf_draw_quantile(const struct uf_draw_law *law, double p)
{
    const double a = law->a, b = law->b, c = law->c;
    if (law->kind == UF_DRAW_UNIFORM) {
        return a + p * (b - a);
    }
    if (law->kind == UF_DRAW_NORMAL) {
        return a + b * normal_quantile(p);
    }
    if (law->kind == UF_DRAW_LOGNORMAL) {
        const double square = log1p((b / a) * (b / a)); /* variance of the logarithm */
        return exp(log(a) - 0.5 * square + sqrt(square) * normal_quantile(p));
    }
    if (!(c > a)) {
        return a;
    }
    const double mode = (b - a) / (c - a);
    return p < mode ? a + sqrt(p * (c - a) * (b - a)) : c - sqrt((1.0 - p) * (c - a) * (c - b));
}

/* SplitMix64 (Steele, Lea & Flood 2014, OOPSLA). */
static uint64_t next(uint64_t *state)
{
    uint64_t z = *state += 0x9E3779B97F4A7C15ULL;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
}

static double between_0_and_1(uint64_t *state)
{
    return ((double)(next(state) >> 11) + 0.5) * 0x1p-53;
}

static void shuffle(double *values, size_t n, uint64_t *state)
{
    for (size_t i = n; i > 1; i--) {
        const size_t k = (size_t)(next(state) % i);
        const double held = values[i - 1];
        values[i - 1] = values[k];
        values[k] = held;
    }
}

/* L with L L' = a, both [n][n]; false where a is not positive definite. */
static bool cholesky(double *l, const double *a, size_t n)
{
    memset(l, 0, n * n * sizeof *l);
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j <= i; j++) {
            double sum = a[i * n + j];
            for (size_t k = 0; k < j; k++) {
                sum -= l[i * n + k] * l[j * n + k];
            }
            if (i == j && !(sum > 1e-12)) {
                return false;
            }
            l[i * n + j] = i == j ? sqrt(sum) : sum / l[j * n + j];
        }
    }
    return true;
}

/* Correlation matrix of the columns of scores [m][n], which have mean 0. */
static void correlation_of(double *out, const double *scores, size_t m, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j < n; j++) {
            double both = 0.0, mine = 0.0, other = 0.0;
            for (size_t k = 0; k < m; k++) {
                both += scores[k * n + i] * scores[k * n + j];
                mine += scores[k * n + i] * scores[k * n + i];
                other += scores[k * n + j] * scores[k * n + j];
            }
            out[i * n + j] = both / sqrt(mine * other);
        }
    }
}

/* Each row of scores becomes P F^-1 times it, so that the correlation E = F F' becomes C = P P'. */
static void correlate(double *scores, size_t m, size_t n, const double *f, const double *p)
{
    double y[UF_DRAW_MOST_LAWS];
    for (size_t k = 0; k < m; k++) {
        double *row = scores + k * n;
        for (size_t i = 0; i < n; i++) {
            y[i] = row[i];
            for (size_t j = 0; j < i; j++) {
                y[i] -= f[i * n + j] * y[j];
            }
            y[i] /= f[i * n + i];
        }
        for (size_t i = 0; i < n; i++) {
            row[i] = 0.0;
            for (size_t j = 0; j <= i; j++) {
                row[i] += p[i * n + j] * y[j];
            }
        }
    }
}

struct ranked {
    double value;
    size_t at;
};

static int by_value(const void *a, const void *b)
{
    const struct ranked *one = a, *other = b;
    if (one->value != other->value) {
        return one->value < other->value ? -1 : 1;
    }
    return one->at < other->at ? -1 : 1;
}

/* Normal scores with the asked correlation, [m][n]. */
static enum uf_status make_scores(double *scores, const struct uf_draw_input *in, uint64_t *state,
                                  double *column, struct uf_error *err)
{
    const size_t m = in->n_members, n = in->n_laws;
    double e[UF_DRAW_MOST_LAWS * UF_DRAW_MOST_LAWS], f[UF_DRAW_MOST_LAWS * UF_DRAW_MOST_LAWS],
        p[UF_DRAW_MOST_LAWS * UF_DRAW_MOST_LAWS];
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < m; k++) {
            column[k] = normal_quantile(((double)k + 1.0) / ((double)m + 1.0));
        }
        shuffle(column, m, state);
        for (size_t k = 0; k < m; k++) {
            scores[k * n + i] = column[k];
        }
    }
    if (in->correlation == NULL) {
        return UF_OK;
    }
    correlation_of(e, scores, m, n);
    if (!cholesky(p, in->correlation, n)) {
        return uf_fail(err, UF_E_INPUT,
                       "the rank correlations contradict each other: no numbers can have them all");
    }
    if (!cholesky(f, e, n)) {
        return uf_fail(err, UF_E_INPUT,
                       "%zu members are too few to correlate %zu numbers: give more", m, n);
    }
    correlate(scores, m, n, f, p);
    return UF_OK;
}

/* One value in each of m parts of equal probability, rising, put in the order of the scores. */
static void place(double *values, const double *scores, const struct uf_draw_input *in, size_t i,
                  uint64_t *state, struct ranked *ranks)
{
    const size_t m = in->n_members, n = in->n_laws;
    for (size_t k = 0; k < m; k++) {
        ranks[k] = (struct ranked){scores[k * n + i], k};
    }
    qsort(ranks, m, sizeof *ranks, by_value);
    for (size_t k = 0; k < m; k++) {
        const double p = ((double)k + between_0_and_1(state)) / (double)m;
        values[ranks[k].at * n + i] = uf_draw_quantile(&in->laws[i], p);
    }
}

enum uf_status uf_draw(double *values, const struct uf_draw_input *in, struct uf_error *err)
{
    const size_t m = in->n_members, n = in->n_laws;
    uint64_t state = in->seed;
    if (n > UF_DRAW_MOST_LAWS) {
        return uf_fail(err, UF_E_INPUT, "%zu drawn keys are too many: at most %d", n,
                       UF_DRAW_MOST_LAWS);
    }
    double *scores = calloc(m * n + m + 1, sizeof *scores);
    struct ranked *ranks = calloc(m + 1, sizeof *ranks);
    enum uf_status status = UF_OK;
    if (scores == NULL || ranks == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for %zu members", m);
    } else {
        status = make_scores(scores, in, &state, scores + m * n, err);
    }
    for (size_t i = 0; i < n && status == UF_OK; i++) {
        place(values, scores, in, i, &state, ranks);
    }
    free(scores);
    free(ranks);
    return status;
}
