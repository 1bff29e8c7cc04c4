#include "score.h"

#include <math.h>

struct uf_score uf_score_of(const double *computed, const double *measured, size_t n)
{
    struct uf_score s = {0, NAN, NAN, NAN, NAN};
    double sum = 0.0, absolute = 0.0, square = 0.0, mean = 0.0, spread = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double off = computed[i] - measured[i];
        if (isfinite(off)) {
            sum += off;
            absolute += fabs(off);
            square += off * off;
            mean += measured[i];
            s.n++;
        }
    }
    if (s.n == 0) {
        return s;
    }
    const double days = (double)s.n;
    mean /= days;
    for (size_t i = 0; i < n; i++) {
        if (isfinite(computed[i] - measured[i])) {
            spread += (measured[i] - mean) * (measured[i] - mean);
        }
    }
    s.bias = sum / days;
    s.mae = absolute / days;
    s.rmse = sqrt(square / days);
    s.nash_sutcliffe = spread > 0.0 ? 1.0 - square / spread : (double)NAN;
    return s;
}

static void take_out_absurd(struct uf_score_care *care, double *measured, size_t n,
                            const struct uf_score_rule *rule)
{
    for (size_t i = 0; i < n; i++) {
        if (isnan(measured[i])) {
            care->missing++;
        } else if (!(measured[i] >= rule->low && measured[i] <= rule->high)) {
            care->absurd_at = care->absurd == 0 ? i : care->absurd_at;
            care->absurd++;
            measured[i] = NAN;
        }
    }
}

/* Is the stretch one of a dead sensor? [from, to) all the same reading. */
static int is_flat(const double *measured, const double *computed, size_t from, size_t to,
                   const struct uf_score_rule *rule)
{
    double low = INFINITY, high = -INFINITY;
    if (rule->flat_days == 0 || to - from < rule->flat_days ||
        fabs(measured[from] - rule->still) <= rule->near) {
        return 0;
    }
    for (size_t i = from; i < to; i++) {
        low = fmin(low, computed[i]);
        high = fmax(high, computed[i]);
    }
    return high - low > rule->moved;
}

static void take_out_flat(struct uf_score_care *care, double *measured, const double *computed,
                          size_t n, const struct uf_score_rule *rule)
{
    for (size_t from = 0; from < n;) {
        size_t to = from + 1;
        while (to < n && measured[to] == measured[from]) {
            to++;
        }
        if (!isnan(measured[from]) && is_flat(measured, computed, from, to, rule)) {
            care->flat_at = care->flat == 0 ? from : care->flat_at;
            care->flat += to - from;
            for (size_t i = from; i < to; i++) {
                measured[i] = NAN;
            }
        }
        from = to;
    }
}

struct uf_score_care uf_score_sift(double *measured, const double *computed, size_t n,
                                   const struct uf_score_rule *rule)
{
    struct uf_score_care care = {0};
    size_t gap = 0;
    take_out_absurd(&care, measured, n, rule);
    take_out_flat(&care, measured, computed, n, rule);
    for (size_t i = 0; i < n; i++) {
        gap = isnan(measured[i]) ? gap + 1 : 0;
        care.longest_gap = gap > care.longest_gap ? gap : care.longest_gap;
    }
    return care;
}

double uf_score_frost_m(const double *depth_m, const double *T_degC, size_t n)
{
    double found_m = NAN;
    for (size_t s = n; s-- > 0;) {
        if (T_degC[s] < 0.0) {
            if (s + 1 == n || !isfinite(T_degC[s + 1])) {
                return depth_m[s];
            }
            const double share = T_degC[s] / (T_degC[s] - T_degC[s + 1]);
            return depth_m[s] + share * (depth_m[s + 1] - depth_m[s]);
        }
        found_m = isfinite(T_degC[s]) ? 0.0 : found_m;
    }
    return found_m;
}

struct uf_score_frost uf_score_frost(const double *frost_m, size_t n)
{
    struct uf_score_frost f = {NAN, n, n};
    for (size_t i = 0; i < n; i++) {
        if (isfinite(frost_m[i]) && !(frost_m[i] <= f.deepest_m)) {
            f.deepest_m = frost_m[i];
            f.deepest_at = i;
        }
    }
    for (size_t i = f.deepest_at; i < n && f.deepest_m > 0.0 && f.thaw_at == n; i++) {
        f.thaw_at = frost_m[i] == 0.0 ? i : n;
    }
    return f;
}
