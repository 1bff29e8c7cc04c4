#ifndef SOAK_COST_H
#define SOAK_COST_H

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* What a site cost: right-hand sides times cells. */
struct cost {
    double work;
    uint64_t seed;
};

static inline int cost_order(const void *a, const void *b)
{
    const double x = ((const struct cost *)a)->work, y = ((const struct cost *)b)->work;
    return (x > y) - (x < y);
}

/* Sorts and prints the costs [n], and the sites of more than `times` the median; how many these are. */
static inline long cost_report(struct cost *cost, long n, int times)
{
    static const double shares[] = {0.5, 0.9, 0.99, 0.999, 1.0};
    long costly = 0;
    if (n == 0) {
        return 0;
    }
    qsort(cost, (size_t)n, sizeof *cost, cost_order);
    const double median = cost[n / 2].work;
    for (long i = n - 1; i >= 0 && cost[i].work > times * median; i--) {
        (void)printf("seed %llu: %.0f times the median cost\n", (unsigned long long)cost[i].seed,
                     cost[i].work / median);
        costly++;
    }
    (void)printf("\n| share of sites | right-hand sides x cells | times the median | seed |\n"
                 "|---|---|---|---|\n");
    for (size_t k = 0; k < sizeof shares / sizeof shares[0]; k++) {
        const struct cost *at = &cost[(long)(shares[k] * (double)(n - 1))];
        (void)printf("| %g | %.3g | %.1f | %llu |\n", shares[k], at->work, at->work / median,
                     (unsigned long long)at->seed);
    }
    return costly;
}

#endif
