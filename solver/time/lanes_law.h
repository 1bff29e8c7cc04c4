#ifndef UF_LANES_LAW_H
#define UF_LANES_LAW_H

#include "lanes_private.h"

/* The freezing laws in lanes. Inline, so that they are compiled with the loops that call them, for
   each kind of machine. */

/* Vectors pass from one inline function to another only. */
#pragma GCC diagnostic ignored "-Wpsabi"

/* A number of every lane; in memory it may begin anywhere. */
typedef float uf_lanes_v __attribute__((vector_size(4 * UF_LANES), aligned(4), may_alias));
typedef int32_t uf_lanes_i __attribute__((vector_size(4 * UF_LANES), aligned(4), may_alias));
#define V(place)     (*(const uf_lanes_v *)(place))
#define INTO(place)  (*(uf_lanes_v *)(place))
#define BOTH(number) ((uf_lanes_v){0} + (number))

UF_LANES_INLINE uf_lanes_v uf_lanes_law_more(uf_lanes_v a, uf_lanes_v b)
{
    uf_lanes_v x;
    EACH_LANE
    {
        x[l] = a[l] > b[l] ? a[l] : b[l];
    }
    return x;
}
UF_LANES_INLINE uf_lanes_v uf_lanes_law_less(uf_lanes_v a, uf_lanes_v b)
{
    uf_lanes_v x;
    EACH_LANE
    {
        x[l] = a[l] < b[l] ? a[l] : b[l];
    }
    return x;
}
UF_LANES_INLINE uf_lanes_v uf_lanes_law_pick(uf_lanes_i which, uf_lanes_v a, uf_lanes_v b)
{
    return (uf_lanes_v)((which & (uf_lanes_i)a) | (~which & (uf_lanes_i)b));
}

/* Is one of them below zero? */
UF_LANES_INLINE bool uf_lanes_law_any_below(uf_lanes_v x)
{
    const uf_lanes_i below = x < 0.0F;
    uint64_t bits[UF_LANES / 2];
    uint64_t any = 0;
    __builtin_memcpy(bits, &below, sizeof bits);
    for (size_t k = 0; k < UF_LANES / 2; k++) {
        any |= bits[k];
    }
    return any != 0;
}

/* A table's value at a place between 0 and bins. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_look(const float *table, uf_lanes_v at, float bins)
{
    const uf_lanes_v x = uf_lanes_law_less(uf_lanes_law_more(at, BOTH(0.0F)), BOTH(bins));
    const uf_lanes_i bin = __builtin_convertvector(x, uf_lanes_i);
    const uf_lanes_v part = x - __builtin_convertvector(bin, uf_lanes_v);
    uf_lanes_v here, next;
    EACH_LANE
    {
        const float *place = table + (size_t)(uint32_t)bin[l] * UF_LANES + l;
        here[l] = place[0];
        next[l] = place[UF_LANES];
    }
    return here + part * (next - here);
}

/* What an enthalpy lies below the frozen end, K. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_below(const struct uf_lanes_kind *k, uf_lanes_v h)
{
    return (uf_lanes_law_less(h, V(k->H0)) - V(k->H0)) * V(k->inv_cf);
}

/* Whole temperature within the freezing range of a simple law, of the thawed end's. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_within(const struct uf_lanes_kind *k, uf_lanes_v h)
{
    return uf_lanes_law_less(uf_lanes_law_more(h, V(k->H0)), BOTH(0.0F)) * V(k->s);
}

UF_LANES_INLINE uf_lanes_v uf_lanes_law_bin(const struct uf_lanes_kind *k, uf_lanes_v h)
{
    return (h - V(k->H0)) * V(k->H_bins);
}

/* U where an enthalpy may lie below zero; of one that does not, the very number that the short way
   gives, which is taken where all lanes are thawed. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_U(const struct uf_lanes_kind *k, uf_lanes_v h)
{
    const uf_lanes_v below = V(k->kf) * uf_lanes_law_below(k, h);
    uf_lanes_v frozen;
    if (k->simple) {
        const uf_lanes_v f = uf_lanes_law_within(k, h);
        frozen = f * (V(k->ku) + 0.5F * V(k->dk) * f) + below;
    } else {
        frozen = uf_lanes_law_look(k->U_H, uf_lanes_law_bin(k, h), (float)UF_LANES_H_BINS) + below;
    }
    return uf_lanes_law_pick(h < 0.0F, frozen, V(k->thawed) * h);
}

/* Temperature, in the same way. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_T(const struct uf_lanes_kind *k, uf_lanes_v h)
{
    const uf_lanes_v below = uf_lanes_law_below(k, h);
    uf_lanes_v frozen;
    if (k->simple) {
        frozen = V(k->T1) + uf_lanes_law_within(k, h) + below;
    } else {
        frozen = uf_lanes_law_look(k->T_H, uf_lanes_law_bin(k, h), (float)UF_LANES_H_BINS) + below;
    }
    return uf_lanes_law_pick(h < 0.0F, frozen, V(k->T1) + h * V(k->inv_cu));
}

/* U at a temperature, less a constant of the lane. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_U_of_T(const struct uf_lanes_kind *k, uf_lanes_v T)
{
    const uf_lanes_v at = (T - V(k->T0)) * V(k->T_bins);
    return uf_lanes_law_look(k->U_T, at, (float)UF_LANES_T_BINS) +
           V(k->ku) * (uf_lanes_law_more(T, V(k->T1)) - V(k->T1)) +
           V(k->kf) * (uf_lanes_law_less(T, V(k->T0)) - V(k->T0));
}

/* U(a) - U(b). */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_difference(const struct uf_lanes_kind *k, uf_lanes_v a,
                                                   uf_lanes_v b)
{
    if (!k->simple) {
        return uf_lanes_law_U_of_T(k, a) - uf_lanes_law_U_of_T(k, b);
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

/* Mean conductivity between two temperatures. */
UF_LANES_INLINE uf_lanes_v uf_lanes_law_secant(const struct uf_lanes_kind *k, uf_lanes_v a,
                                               uf_lanes_v b)
{
    const uf_lanes_v dT = a - b;
    const uf_lanes_i apart = (dT > UF_LANES_LEAST_K) | (dT < -UF_LANES_LEAST_K);
    const uf_lanes_v other = b + uf_lanes_law_pick(apart, dT, BOTH(UF_LANES_LEAST_K));
    return uf_lanes_law_difference(k, other, b) / (other - b);
}

#endif
