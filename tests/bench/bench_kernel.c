/* How close the inner loop is to what this machine can do: one stage of the fast
   integrator (uf_fast_stage) on the bare reference problem in January,
   beside the machine's own speed measured in the same run.

   bench_kernel [ROWS_CM]             default 7.5
   bench_kernel ROWS_CM --count N     N stages and no clock, for callgrind: see count.sh

   Least traffic of a cell update, whatever the code: reads H, two conductances, 1/V, the
   two increments before, the first rate and the start; writes the next increment over one of
   them, and H.
   Least operations: conversion of H to T and U 3 (thawed; 14 in a freezing range), five
   points 11, 1/V 1, the recurrence 8; a link 45, 3 of them divisions; a top cell 40. */
#include "reference.h"
#include "solver/time/fast.h"

#include <time.h>

#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && defined(__OPTIMIZE__) &&    \
    !defined(__SANITIZE_ADDRESS__)
#define CLONES                                                                                     \
    __attribute__((noinline, target_clones("default", "arch=x86-64-v3", "arch=x86-64-v4")))
#else
#define CLONES __attribute__((noinline))
#endif

enum { TRIALS = 9, LANES = 96 };
static const double BYTES = 10.0 * sizeof(double);
static const double OPERATIONS = 3.0 + 11.0 + 1.0 + 8.0;
static const double FREEZING_OPERATIONS = 14.0 - 3.0;
static const double LINK_OPERATIONS = 45.0;
static const double TOP_OPERATIONS = 40.0;

static double now_s(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* a = b + s c */
CLONES static void triad(size_t n, double s, double *restrict a, const double *restrict b,
                         const double *restrict c)
{
    for (size_t i = 0; i < n; i++) {
        a[i] = b[i] + s * c[i];
    }
}

/* Many independent chains of a multiplication and an addition, as the solver is built:
   the two are not contracted. */
CLONES static double chains(size_t rounds, double factor, double more)
{
    double x[LANES];
    double sum = 0.0;
    for (size_t k = 0; k < LANES; k++) {
        x[k] = (double)k;
    }
    for (size_t r = 0; r < rounds; r++) {
        for (size_t k = 0; k < LANES; k++) {
            x[k] = x[k] * factor + more;
        }
    }
    for (size_t k = 0; k < LANES; k++) {
        sum += x[k];
    }
    return sum;
}

/* GB/s of the triad, 24 bytes an entry, on arrays of so many bytes in all. */
static double bandwidth_GB_s(size_t bytes)
{
    const size_t n = bytes / (3 * sizeof(double));
    const size_t rounds = 60000000 / n;
    double *a = calloc(3 * n, sizeof *a);
    double best_s = INFINITY;
    for (int k = 0; a != NULL && k < TRIALS; k++) {
        const double start_s = now_s();
        for (size_t r = 0; r < rounds; r++) {
            triad(n, 1e-9 * (double)r, a, a + n, a + 2 * n);
        }
        best_s = fmin(best_s, now_s() - start_s);
    }
    free(a);
    return 24e-9 * (double)(n * rounds) / best_s;
}

static double peak_GFLOP_s(void)
{
    const size_t rounds = 1000000;
    double best_s = INFINITY;
    double kept = 0.0;
    for (int k = 0; k < TRIALS; k++) {
        const double start_s = now_s();
        kept += chains(rounds, 0.999, 1e-3 * (double)k);
        best_s = fmin(best_s, now_s() - start_s);
    }
    return kept > -1.0 ? 2e-9 * (double)(LANES * rounds) / best_s : 0.0;
}

/* A network in January, and the arrays of a step. */
struct kernel {
    struct reference_place place;
    struct uf_fast *fast;
    struct uf_heat_now now;
    size_t n;
    double *start, *rate0, *now_inc, *turn;
};

static void kernel_open(struct kernel *k, double rows_m)
{
    struct uf_season_options options = uf_season_defaults();
    struct uf_season *season = NULL;
    const double january = 110.0;
    options.steps_per_day = 2.0;
    reference_open(&k->place, rows_m, false);
    const struct uf_heat *h = k->place.section->heat;
    k->n = h->n;
    k->now = uf_season_now(&k->place.drive, january);
    k->start = calloc(4 * k->n, sizeof *k->start);
    if (k->start == NULL || uf_fast_create(&k->fast, h, NULL) != UF_OK ||
        uf_season_create(&season, h, &options, NULL) != UF_OK) {
        exit(1);
    }
    k->rate0 = k->start + k->n;
    k->now_inc = k->rate0 + k->n;
    k->turn = k->now_inc + k->n;
    uf_season_set(season, 0.0, k->place.start_degC);
    uf_season_drive(season, &k->place.drive);
    (void)uf_season_advance(season, january, NULL);
    memcpy(k->start, uf_season_H_J_m3(season), k->n * sizeof *k->start);
    uf_season_free(season);
}

static void kernel_close(struct kernel *k)
{
    uf_fast_free(k->fast);
    free(k->start);
    reference_close(&k->place);
}

static void stages(struct kernel *k, size_t count)
{
    const double c[4] = {1.9, -0.9, 1e-3, -1e-3};
    struct uf_heat_flow flow;
    for (size_t r = 0; r < count; r++) {
        uf_fast_stage(k->fast, &k->now, c,
                      &(const struct uf_fast_terms){
                          .start = k->start, .now = k->now_inc, .rate0 = k->rate0, .turn = k->turn},
                      &flow);
    }
}

static double best_us(struct kernel *k)
{
    const size_t count = 1 + 12000000 / k->n;
    double best_s = INFINITY;
    for (int trial = 0; trial < TRIALS; trial++) {
        const double start_s = now_s();
        stages(k, count);
        best_s = fmin(best_s, now_s() - start_s);
    }
    return 1e6 * best_s / (double)count;
}

/* Least operations of one stage in this state. */
static double operations(const struct kernel *k)
{
    const struct uf_heat *h = k->place.section->heat;
    double sum = LINK_OPERATIONS * (double)h->n_links + TOP_OPERATIONS * (double)h->n_tops;
    for (size_t i = 0; i < k->n; i++) {
        sum += OPERATIONS + (k->start[i] < 0.0 ? FREEZING_OPERATIONS : 0.0);
    }
    return sum;
}

static void report(struct kernel *k, double rows_cm)
{
    const struct uf_heat *h = k->place.section->heat;
    const double cells = (double)h->n_cells;
    const size_t held = (size_t)BYTES * k->n;
    const double L1_GB_s = bandwidth_GB_s(24576);
    const double L2_GB_s = bandwidth_GB_s(393216);
    const double at_size_GB_s = bandwidth_GB_s(held);
    const double peak = peak_GFLOP_s();
    const double stage_us = best_us(k);
    const double traffic_us = 1e-3 * BYTES * (double)k->n / at_size_GB_s;
    const double work_us = 1e-3 * operations(k) / peak;
    const double least_us = fmax(traffic_us, work_us);
    printf("machine: triad %.0f GB/s in 24 kB, %.0f in 384 kB, %.0f in the %zu kB of this "
           "problem; peak %.1f GFLOP/s (double, multiply and add not contracted)\n",
           L1_GB_s, L2_GB_s, at_size_GB_s, held / 1024, peak);
    printf("%.1f cm rows, %zu cells, %zu links: one stage %.3f us, %.2f ns a cell\n", rows_cm,
           h->n_cells, h->n_links, stage_us, 1e3 * stage_us / cells);
    printf("least a cell: %.0f bytes, %.1f operations; least time by traffic %.3f us, by "
           "arithmetic %.3f us: the stage runs at %.0f %% of the machine (%.1f GFLOP/s, "
           "%.0f GB/s)\n",
           BYTES, operations(k) / cells, traffic_us, work_us, 100.0 * least_us / stage_us,
           1e-3 * operations(k) / stage_us, 1e-3 * BYTES * (double)k->n / stage_us);
}

int main(int argc, char **argv)
{
    struct kernel k = {.n = 0};
    const double rows_cm = argc > 1 ? strtod(argv[1], NULL) : 7.5;
    const bool count = argc == 4 && strcmp(argv[2], "--count") == 0;
    if (!(rows_cm > 0.0) || (argc > 2 && !count)) {
        (void)fprintf(stderr, "usage: bench_kernel [ROWS_CM [--count N]]\n");
        return 2;
    }
    kernel_open(&k, 1e-2 * rows_cm);
    if (count) {
        stages(&k, (size_t)strtoul(argv[3], NULL, 10));
        printf("%zu\n", k.place.section->heat->n_cells);
    } else {
        report(&k, rows_cm);
    }
    kernel_close(&k);
    return 0;
}
