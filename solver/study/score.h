#ifndef UF_SCORE_H
#define UF_SCORE_H

#include <stddef.h>

/* A computed series against a measured one, day by day. A day where either is NAN does not count.

   With e = computed - measured over the n days that count:

       bias = sum e / n        mae = sum |e| / n        rmse = sqrt(sum e^2 / n)

       NSE = 1 - sum e^2 / sum (measured - mean of measured)^2

   NSE: Nash & Sutcliffe 1970, River flow forecasting through conceptual models, part I, J. Hydrology
   10, 282-290. 1 is perfect, 0 as good as the mean of what was measured. */
struct uf_score {
    size_t n;               /* days that count; 0: every number is NAN */
    double bias, mae, rmse; /* in the unit of the series */
    double nash_sutcliffe;  /* NAN where what was measured does not vary */
};
struct uf_score uf_score_of(const double *computed, const double *measured, size_t n);

/* What was wrong with a measured series. A run of days counts as flat where the same number, to the
   last digit, was read for flat_days or longer while the computed series moved by more than
   moved, and it does not lie within near of still, where it may stand for long (ground that
   freezes stands at 0 degC). Common practice, no source. */
struct uf_score_rule {
    double low, high; /* beyond them a reading is absurd */
    size_t flat_days; /* 0: flat is no fault */
    double moved, still, near;
};
struct uf_score_care {
    size_t absurd, flat;       /* days taken out */
    size_t missing;            /* days that were never read */
    size_t longest_gap;        /* days, of the three above, in a row */
    size_t absurd_at, flat_at; /* index of the first of each */
};
/* Takes absurd and flat readings out of measured (NAN) and tells. */
struct uf_score_care uf_score_sift(double *measured, const double *computed, size_t n,
                                   const struct uf_score_rule *rule);

/* Deepest 0 degC crossing between sensors, straight, from grade; the sensor's own depth
   where the one below is missing or there is none; 0 when none is frozen. NAN when no sensor reads.
   depth_m rises. [n] */
double uf_score_frost_m(const double *depth_m, const double *T_degC, size_t n);

/* The deepest frost of a series and when it was gone. */
struct uf_score_frost {
    double deepest_m;           /* NAN: never known */
    size_t deepest_at, thaw_at; /* indices; thaw_at: the first day without frost after the deepest;
                                   n: none */
};
struct uf_score_frost uf_score_frost(const double *frost_m, size_t n);

#endif
