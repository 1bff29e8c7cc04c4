#ifndef UF_COUNTERS_H
#define UF_COUNTERS_H

/* What a run took: sizes and counts, the same on every machine, and CPU seconds, which are not. */
struct uf_counters {
    long cells, steps, rhs, factorisations, newton_iterations, newton_failures, error_test_failures;
    double simulated_days, cpu_s;
};

#endif
