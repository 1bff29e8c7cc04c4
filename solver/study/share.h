#ifndef UF_SHARE_H
#define UF_SHARE_H

#include <stddef.h>

/* A share of cases, such as those that miss a limit, and how well it is known. */
struct uf_share {
    double share, low, high; /* NAN where there is no case */
};

/* k of n, with the interval of Wilson 1927 (J. American Statistical Association 22, 209-212) in which
   the true share lies with 95 %:

       (p + z^2/2n -+ z sqrt(p (1 - p)/n + z^2/4n^2)) / (1 + z^2/n),   z = 1.96 */
struct uf_share uf_share(size_t k, size_t n);

/* The share of years that fail, from the share of cases that fail in winters of return periods
   years[0] < years[1] < ...: a winter rarer than years[i] is at least as bad as that one and at most
   as bad as the next, so each range between two counts by its colder end, and beyond the last every
   winter is taken to fail. An upper bound.

       P = (1 - 1/T_1) p_1 + sum (1/T_i - 1/T_i+1) p_i+1 + 1/T_n

   NAN for no winter. */
double uf_share_of_years(const double *years, const double *failing, size_t n);

/* At least one failure in a life of so many years: 1 - (1 - p)^life. */
double uf_share_in_life(double yearly, double life_years);

/* The value that a share p of sorted values does not exceed, straight between neighbours (type 7 of
   Hyndman & Fan 1996). NAN for none. */
double uf_share_quantile(const double *sorted, size_t n, double p);

#endif
