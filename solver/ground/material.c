#include "material.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Where a freezing curve A |T|^B is cut off: nothing a site meets is colder. */
static const double CURVE_COLDEST_DEGC = -40.0;
static const size_t CURVE_POINTS = 41;

static bool positive(double x)
{
    return x > 0.0 && isfinite(x);
}

static enum uf_status check(const char *name, const struct uf_thermal *t, struct uf_error *err)
{
    if (!positive(t->k_thawed_W_mK) || !positive(t->k_frozen_W_mK)) {
        return uf_fail(err, UF_E_RANGE, "%s: conductivity must be positive", name);
    }
    if (!positive(t->c_thawed_J_m3K) || !positive(t->c_frozen_J_m3K)) {
        return uf_fail(err, UF_E_RANGE, "%s: heat capacity must be positive", name);
    }
    if (!(t->latent_J_m3 >= 0.0) || !isfinite(t->latent_J_m3)) {
        return uf_fail(err, UF_E_RANGE, "%s: latent heat must be zero or more", name);
    }
    if (t->unfrozen_B == 0.0 && !(t->freezing_from_degC > t->freezing_to_degC)) {
        return uf_fail(err, UF_E_RANGE, "%s: freezing_from must be warmer than freezing_to", name);
    }
    if (t->unfrozen_B != 0.0 &&
        !(t->unfrozen_B < 0.0 && positive(t->unfrozen_A_percent) && positive(t->water_percent))) {
        return uf_fail(err, UF_E_RANGE,
                       "%s: the curve of unfrozen water needs A > 0, B < 0, water > 0", name);
    }
    return UF_OK;
}

/* Fills H and U upward-referenced from T, liquid and k: zero at the last breakpoint. */
static void integrate(struct uf_material *m, const struct uf_thermal *t)
{
    m->H_J_m3[m->n - 1] = 0.0;
    m->U_W_m[m->n - 1] = 0.0;
    for (size_t j = m->n - 1; j-- > 0;) {
        const double dT = m->T_degC[j + 1] - m->T_degC[j];
        const double thawed = 0.5 * (m->liquid[j] + m->liquid[j + 1]);
        const double c = t->c_frozen_J_m3K + thawed * (t->c_thawed_J_m3K - t->c_frozen_J_m3K);
        m->H_J_m3[j] =
            m->H_J_m3[j + 1] - c * dT - t->latent_J_m3 * (m->liquid[j + 1] - m->liquid[j]);
        m->U_W_m[j] = m->U_W_m[j + 1] - 0.5 * (m->k_W_mK[j] + m->k_W_mK[j + 1]) * dT;
    }
}

static void fill_points(struct uf_material *m, const struct uf_thermal *t)
{
    if (t->unfrozen_B == 0.0) {
        m->n = 2;
        m->T_degC[0] = t->freezing_to_degC;
        m->T_degC[1] = t->freezing_from_degC;
        m->liquid[0] = 0.0;
        m->liquid[1] = 1.0;
    } else {
        const double start_K = pow(t->water_percent / t->unfrozen_A_percent, 1.0 / t->unfrozen_B);
        const double first_K = fmin(fmax(start_K, 1e-3), -0.5 * CURVE_COLDEST_DEGC);
        const double ratio = pow(-CURVE_COLDEST_DEGC / first_K, 1.0 / (double)(CURVE_POINTS - 1));
        m->n = CURVE_POINTS;
        for (size_t j = 0; j < m->n; j++) {
            const double below_K = first_K * pow(ratio, (double)(m->n - 1 - j));
            m->T_degC[j] = -below_K;
            m->liquid[j] =
                fmin(1.0, t->unfrozen_A_percent * pow(below_K, t->unfrozen_B) / t->water_percent);
        }
        m->liquid[m->n - 1] = 1.0;
    }
    for (size_t j = 0; j < m->n; j++) {
        m->k_W_mK[j] = t->k_frozen_W_mK + m->liquid[j] * (t->k_thawed_W_mK - t->k_frozen_W_mK);
    }
}

enum uf_status uf_material_from_thermal(struct uf_material *out, const char *name,
                                        const struct uf_thermal *thermal, struct uf_error *err)
{
    const enum uf_status status = check(name, thermal, err);
    if (status != UF_OK) {
        return status;
    }
    memset(out, 0, sizeof *out);
    (void)snprintf(out->name, sizeof out->name, "%s", name);
    out->c_frozen_J_m3K = thermal->c_frozen_J_m3K;
    out->c_thawed_J_m3K = thermal->c_thawed_J_m3K;
    out->water_J_m3 = thermal->latent_J_m3;
    fill_points(out, thermal);
    integrate(out, thermal);
    out->simple = out->n == 2;
    return UF_OK;
}

void uf_material_inert(struct uf_material *out, const char *name, double k_W_mK, double c_J_m3K)
{
    const struct uf_thermal same = {.k_thawed_W_mK = k_W_mK,
                                    .k_frozen_W_mK = k_W_mK,
                                    .c_thawed_J_m3K = c_J_m3K,
                                    .c_frozen_J_m3K = c_J_m3K,
                                    .freezing_from_degC = 0.0,
                                    .freezing_to_degC = -1.0};
    (void)uf_material_from_thermal(out, name, &same, NULL);
}

/* Adds T to the sorted list unless it is there already (within a microkelvin). */
static bool add_point(double *T, size_t *n, double value)
{
    size_t at = 0;
    while (at < *n && T[at] < value - 1e-6) {
        at++;
    }
    if (at < *n && fabs(T[at] - value) <= 1e-6) {
        return true;
    }
    if (*n == UF_MATERIAL_POINTS) {
        return false;
    }
    memmove(T + at + 1, T + at, (*n - at) * sizeof *T);
    T[at] = value;
    *n += 1;
    return true;
}

static void blend_values(struct uf_material *out, const struct uf_material *const *parts,
                         const double *shares, size_t n)
{
    for (size_t p = 0; p < n; p++) {
        out->c_frozen_J_m3K += shares[p] * parts[p]->c_frozen_J_m3K;
        out->c_thawed_J_m3K += shares[p] * parts[p]->c_thawed_J_m3K;
        out->water_J_m3 += shares[p] * parts[p]->water_J_m3;
        for (size_t j = 0; j < out->n; j++) {
            const double T = out->T_degC[j];
            out->H_J_m3[j] += shares[p] * uf_material_H_J_m3(parts[p], T);
            out->U_W_m[j] += shares[p] * uf_material_U_W_m(parts[p], T);
            out->k_W_mK[j] += shares[p] * uf_material_k_W_mK(parts[p], T);
            out->liquid[j] +=
                shares[p] * parts[p]->water_J_m3 * (1.0 - uf_material_ice(parts[p], T));
        }
    }
    const double top_H = out->H_J_m3[out->n - 1];
    const double top_U = out->U_W_m[out->n - 1];
    for (size_t j = 0; j < out->n; j++) {
        out->liquid[j] = out->water_J_m3 > 0.0 ? out->liquid[j] / out->water_J_m3 : 1.0;
        out->H_J_m3[j] -= top_H;
        out->U_W_m[j] -= top_U;
    }
}

enum uf_status uf_material_blend(struct uf_material *out, const char *name,
                                 const struct uf_material *const *parts, const double *shares,
                                 size_t n, struct uf_error *err)
{
    memset(out, 0, sizeof *out);
    (void)snprintf(out->name, sizeof out->name, "%s", name);
    for (size_t p = 0; p < n; p++) {
        for (size_t j = 0; shares[p] > 0.0 && j < parts[p]->n; j++) {
            if (!add_point(out->T_degC, &out->n, parts[p]->T_degC[j])) {
                return uf_fail(err, UF_E_RANGE, "%s: too many breakpoints for one cell", name);
            }
        }
    }
    blend_values(out, parts, shares, n);
    out->simple = out->n == 2;
    return UF_OK;
}

/* Index j of the segment [j, j+1] that holds x in the rising array; x lies inside the array. */
static size_t segment(const double *rising, size_t n, double x)
{
    size_t low = 0;
    size_t high = n - 1;
    while (high - low > 1) {
        const size_t middle = (low + high) / 2;
        if (rising[middle] <= x) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

double uf_material_T_degC(const struct uf_material *m, double H_J_m3)
{
    const size_t last = m->n - 1;
    if (H_J_m3 >= 0.0) {
        return m->T_degC[last] + H_J_m3 / m->c_thawed_J_m3K;
    }
    if (H_J_m3 < m->H_J_m3[0]) {
        return m->T_degC[0] + (H_J_m3 - m->H_J_m3[0]) / m->c_frozen_J_m3K;
    }
    const size_t j = segment(m->H_J_m3, m->n, H_J_m3);
    return m->T_degC[j] + (H_J_m3 - m->H_J_m3[j]) * (m->T_degC[j + 1] - m->T_degC[j]) /
                              (m->H_J_m3[j + 1] - m->H_J_m3[j]);
}

double uf_material_H_J_m3(const struct uf_material *m, double T_degC)
{
    const size_t last = m->n - 1;
    if (T_degC >= m->T_degC[last]) {
        return (T_degC - m->T_degC[last]) * m->c_thawed_J_m3K;
    }
    if (T_degC < m->T_degC[0]) {
        return m->H_J_m3[0] + (T_degC - m->T_degC[0]) * m->c_frozen_J_m3K;
    }
    const size_t j = segment(m->T_degC, m->n, T_degC);
    return m->H_J_m3[j] + (T_degC - m->T_degC[j]) * (m->H_J_m3[j + 1] - m->H_J_m3[j]) /
                              (m->T_degC[j + 1] - m->T_degC[j]);
}

double uf_material_U_W_m(const struct uf_material *m, double T_degC)
{
    const size_t last = m->n - 1;
    if (T_degC >= m->T_degC[last]) {
        return (T_degC - m->T_degC[last]) * m->k_W_mK[last];
    }
    if (T_degC < m->T_degC[0]) {
        return m->U_W_m[0] + (T_degC - m->T_degC[0]) * m->k_W_mK[0];
    }
    const size_t j = segment(m->T_degC, m->n, T_degC);
    const double t = T_degC - m->T_degC[j];
    const double dk = (m->k_W_mK[j + 1] - m->k_W_mK[j]) / (m->T_degC[j + 1] - m->T_degC[j]);
    return m->U_W_m[j] + t * (m->k_W_mK[j] + 0.5 * dk * t);
}

double uf_material_k_W_mK(const struct uf_material *m, double T_degC)
{
    const size_t last = m->n - 1;
    if (T_degC >= m->T_degC[last]) {
        return m->k_W_mK[last];
    }
    if (T_degC < m->T_degC[0]) {
        return m->k_W_mK[0];
    }
    const size_t j = segment(m->T_degC, m->n, T_degC);
    return m->k_W_mK[j] + (T_degC - m->T_degC[j]) * (m->k_W_mK[j + 1] - m->k_W_mK[j]) /
                              (m->T_degC[j + 1] - m->T_degC[j]);
}

double uf_material_slope_J_m3K(const struct uf_material *m, double T_degC)
{
    const size_t last = m->n - 1;
    if (T_degC >= m->T_degC[last]) {
        return m->c_thawed_J_m3K;
    }
    if (T_degC < m->T_degC[0]) {
        return m->c_frozen_J_m3K;
    }
    const size_t j = segment(m->T_degC, m->n, T_degC);
    return (m->H_J_m3[j + 1] - m->H_J_m3[j]) / (m->T_degC[j + 1] - m->T_degC[j]);
}

double uf_material_ice(const struct uf_material *m, double T_degC)
{
    const size_t last = m->n - 1;
    if (!(m->water_J_m3 > 0.0) || T_degC >= m->T_degC[last]) {
        return 0.0;
    }
    if (T_degC < m->T_degC[0]) {
        return 1.0 - m->liquid[0];
    }
    const size_t j = segment(m->T_degC, m->n, T_degC);
    const double liquid = m->liquid[j] + (T_degC - m->T_degC[j]) *
                                             (m->liquid[j + 1] - m->liquid[j]) /
                                             (m->T_degC[j + 1] - m->T_degC[j]);
    return 1.0 - liquid;
}

double uf_material_secant_W_mK(const struct uf_material *m, double a_degC, double b_degC)
{
    const double dT = a_degC - b_degC;
    if (fabs(dT) < 1e-6) {
        return uf_material_k_W_mK(m, 0.5 * (a_degC + b_degC));
    }
    return (uf_material_U_W_m(m, a_degC) - uf_material_U_W_m(m, b_degC)) / dT;
}
