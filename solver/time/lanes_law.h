#ifndef UF_LANES_LAW_H
#define UF_LANES_LAW_H

#include "lanes_private.h"

/* The freezing laws in lanes. Inline, so that they are compiled with the loops that call them, for
   each kind of machine: lanes_kernel_body.h. A vector holds UF_LANES_WIDE lanes; w is the first of
   them, a multiple of that. */

/* Vectors pass from one inline function to another only. */
#pragma GCC diagnostic ignored "-Wpsabi"

#if defined(__AVX512F__) && defined(__AVX512DQ__)
#define UF_LANES_WIDE 16
#define UF_LANES_EVEN 0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30
#define UF_LANES_ODD  1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25, 27, 29, 31
#elif defined(__AVX2__)
#define UF_LANES_WIDE 8
#define UF_LANES_EVEN 0, 2, 4, 6, 8, 10, 12, 14
#define UF_LANES_ODD  1, 3, 5, 7, 9, 11, 13, 15
#else
#define UF_LANES_WIDE 4
#define UF_LANES_EVEN 0, 2, 4, 6
#define UF_LANES_ODD  1, 3, 5, 7
#endif

/* A number of so many lanes; in memory it may begin anywhere. */
#define UF_LANES_VECTOR __attribute__((vector_size(4 * UF_LANES_WIDE), aligned(4), may_alias))
typedef float uf_lanes_v UF_LANES_VECTOR;
typedef int32_t uf_lanes_i UF_LANES_VECTOR;
typedef int64_t uf_lanes_pairs UF_LANES_VECTOR;
#define V(place)     (*(const uf_lanes_v *)((place) + w))
#define INTO(place)  (*(uf_lanes_v *)((place) + w))
#define BOTH(number) ((uf_lanes_v){0} + (number))

/* A bitwise choice is one instruction; a loop over lanes is left in single numbers by the compiler. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_pick(uf_lanes_i which, uf_lanes_v a, uf_lanes_v b)
{
    return (uf_lanes_v)((which & (uf_lanes_i)a) | (~which & (uf_lanes_i)b));
}
UF_LANES_INLINE uf_lanes_v uf_lanes_law_more(uf_lanes_v a, uf_lanes_v b)
{
    return uf_lanes_law_pick(a > b, a, b);
}
UF_LANES_INLINE uf_lanes_v uf_lanes_law_less(uf_lanes_v a, uf_lanes_v b)
{
    return uf_lanes_law_pick(a < b, a, b);
}

/* Is one of them below zero? */
UF_LANES_INLINE bool uf_lanes_law_any_below(uf_lanes_v x)
{
#if UF_LANES_WIDE == 16
    return _mm512_cmp_ps_mask((__m512)x, _mm512_setzero_ps(), _CMP_LT_OQ) != 0;
#elif UF_LANES_WIDE == 8
    return _mm256_movemask_ps(_mm256_cmp_ps((__m256)x, _mm256_setzero_ps(), _CMP_LT_OQ)) != 0;
#else
    const uf_lanes_i below = x < 0.0F;
    uint64_t bits[2];
    __builtin_memcpy(bits, &below, sizeof bits);
    return (bits[0] | bits[1]) != 0;
#endif
}

/* Between the numbers bin and bin + 1 of every lane's row of a table; both come with one load. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_between(const float *table, size_t bins, uf_lanes_i bin,
                                                uf_lanes_v part, size_t w)
{
    uf_lanes_pairs low, high;
    const float *row = table + w * (bins + 2);
    for (size_t l = 0; l < UF_LANES_WIDE / 2; l++) {
        const float *other = row + UF_LANES_WIDE / 2 * (bins + 2);
        int64_t pair;
        __builtin_memcpy(&pair, row + (uint32_t)bin[l], sizeof pair);
        low[l] = pair;
        __builtin_memcpy(&pair, other + (uint32_t)bin[l + UF_LANES_WIDE / 2], sizeof pair);
        high[l] = pair;
        row += bins + 2;
    }
    const uf_lanes_v here =
        __builtin_shufflevector((uf_lanes_v)low, (uf_lanes_v)high, UF_LANES_EVEN);
    const uf_lanes_v next =
        __builtin_shufflevector((uf_lanes_v)low, (uf_lanes_v)high, UF_LANES_ODD);
    return here + part * (next - here);
}

/* A table's value at a place between 0 and UF_LANES_H_BINS. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_look(const float *table, uf_lanes_v at, size_t w)
{
    const uf_lanes_v x =
        uf_lanes_law_less(uf_lanes_law_more(at, BOTH(0.0F)), BOTH((float)UF_LANES_H_BINS));
    const uf_lanes_i bin = __builtin_convertvector(x, uf_lanes_i);
    return uf_lanes_law_between(table, UF_LANES_H_BINS, bin,
                                x - __builtin_convertvector(bin, uf_lanes_v), w);
}

/* What an enthalpy lies below the frozen end, K. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_below(const struct uf_lanes_kind *k, uf_lanes_v h, size_t w)
{
    return (uf_lanes_law_less(h, V(k->H0)) - V(k->H0)) * V(k->inv_cf);
}

/* Whole temperature within the freezing range of a simple law, of the thawed end's. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_within(const struct uf_lanes_kind *k, uf_lanes_v h,
                                               size_t w)
{
    return uf_lanes_law_less(uf_lanes_law_more(h, V(k->H0)), BOTH(0.0F)) * V(k->s);
}

UF_LANES_INLINE uf_lanes_v uf_lanes_law_bin(const struct uf_lanes_kind *k, uf_lanes_v h, size_t w)
{
    return (h - V(k->H0)) * V(k->H_bins);
}

/* U where an enthalpy may lie below zero; of one that does not, the very number that the short way
   gives, which is taken where all lanes are thawed. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_U(const struct uf_lanes_kind *k, uf_lanes_v h, size_t w)
{
    const uf_lanes_v below = V(k->kf) * uf_lanes_law_below(k, h, w);
    uf_lanes_v frozen;
    if (k->simple) {
        const uf_lanes_v f = uf_lanes_law_within(k, h, w);
        frozen = f * (V(k->ku) + 0.5F * V(k->dk) * f) + below;
    } else {
        frozen = uf_lanes_law_look(k->U_H, uf_lanes_law_bin(k, h, w), w) + below;
    }
    return uf_lanes_law_pick(h < 0.0F, frozen, V(k->thawed) * h);
}

/* Temperature, in the same way. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_T(const struct uf_lanes_kind *k, uf_lanes_v h, size_t w)
{
    const uf_lanes_v below = uf_lanes_law_below(k, h, w);
    uf_lanes_v frozen;
    if (k->simple) {
        frozen = V(k->T1) + uf_lanes_law_within(k, h, w) + below;
    } else {
        frozen = uf_lanes_law_look(k->T_H, uf_lanes_law_bin(k, h, w), w) + below;
    }
    return uf_lanes_law_pick(h < 0.0F, frozen, V(k->T1) + h * V(k->inv_cu));
}

/* U at a temperature, less a constant of the lane. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_U_of_T(const struct uf_lanes_kind *k, uf_lanes_v T,
                                               size_t w)
{
    const uf_lanes_v x =
        uf_lanes_law_less(uf_lanes_law_more(V(k->T_from) - T, V(k->least_K)), V(k->most_K));
    const uf_lanes_i bits = (uf_lanes_i)x;
    const uf_lanes_i bin = (bits >> UF_LANES_T_SHIFT) - *(const uf_lanes_i *)(k->first_bin + w);
    const uf_lanes_v part =
        __builtin_convertvector(bits & ((1 << UF_LANES_T_SHIFT) - 1), uf_lanes_v) *
        (1.0F / (float)(1 << UF_LANES_T_SHIFT));
    return uf_lanes_law_between(k->U_T, UF_LANES_T_BINS, bin, part, w) +
           V(k->ku) * (uf_lanes_law_more(T, V(k->T1)) - V(k->T1)) +
           V(k->kf) * (uf_lanes_law_less(T, V(k->T0)) - V(k->T0));
}

/* U(a) - U(b). */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_difference(const struct uf_lanes_kind *k, uf_lanes_v a,
                                                   uf_lanes_v b, size_t w)
{
    if (!k->simple) {
        return uf_lanes_law_U_of_T(k, a, w) - uf_lanes_law_U_of_T(k, b, w);
    }
    const uf_lanes_v T0 = V(k->T0), T1 = V(k->T1);
    const uf_lanes_v high = uf_lanes_law_more(a, T1) - uf_lanes_law_more(b, T1);
    const uf_lanes_v low = uf_lanes_law_less(a, T0) - uf_lanes_law_less(b, T0);
    const uf_lanes_v am = uf_lanes_law_less(uf_lanes_law_more(a, T0), T1) - T1;
    const uf_lanes_v bm = uf_lanes_law_less(uf_lanes_law_more(b, T0), T1) - T1;
    return V(k->ku) * high + V(k->kf) * low + (am - bm) * (V(k->ku) + 0.5F * V(k->dk) * (am + bm));
}

/* Temperatures closer than this give no secant in single precision; a nearby pair stands for them. */
#define UF_LANES_LEAST_K 0.02F

/* Resistance of a length between two temperatures: the length over the mean conductivity. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_way(const struct uf_lanes_kind *k, uf_lanes_v length,
                                            uf_lanes_v a, uf_lanes_v b, size_t w)
{
    const uf_lanes_v dT = a - b;
    const uf_lanes_i apart = (dT > UF_LANES_LEAST_K) | (dT < -UF_LANES_LEAST_K);
    const uf_lanes_v other = b + uf_lanes_law_pick(apart, dT, BOTH(UF_LANES_LEAST_K));
    return length * (other - b) / uf_lanes_law_difference(k, other, b, w);
}

/* Mean conductivity between two temperatures. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_secant(const struct uf_lanes_kind *k, uf_lanes_v a,
                                               uf_lanes_v b, size_t w)
{
    const uf_lanes_v dT = a - b;
    const uf_lanes_i apart = (dT > UF_LANES_LEAST_K) | (dT < -UF_LANES_LEAST_K);
    const uf_lanes_v other = b + uf_lanes_law_pick(apart, dT, BOTH(UF_LANES_LEAST_K));
    return uf_lanes_law_difference(k, other, b, w) / (other - b);
}

#endif
