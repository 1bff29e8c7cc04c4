#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"

#include <math.h>

/* How fast the error falls with the cell and with the step: the observed order, from two
   runs of which one is twice as fine. */

static const double WIDE_M = 10.0; /* an insulated rectangle of stone, a = 1e-6 m2/s */
static const double HIGH_M = 8.0;

/* Stone in the mode cos(pi x/W) cos(2 pi z/H), n cells a side, run for one e-fold of the
   exact rate; what its amplitude misses exp(-rate t) by. */
static enum uf_status fade(double *error, size_t n, double rate_1_s,
                           const struct uf_verify_start *start, struct uf_error *err)
{
    const double dx = WIDE_M / (double)n;
    const double dz = HIGH_M / (double)n;
    const struct uf_verify_axis x = {0.0, WIDE_M, dx, WIDE_M, 1.5, {0.0}};
    const struct uf_verify_axis z = {0.0, HIGH_M, dz, HIGH_M, 1.5, {0.0}};
    const double end_s = 1.0 / (1e-6 * UF_PI * UF_PI * (0.01 + 4.0 / 64.0));
    struct uf_material stone;
    struct uf_verify_bench bench = {0};
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    enum uf_status status = uf_verify_bench_create(&bench, &x, &z, false, &stone, err);
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        bench.tighter = 1e-3;
        status = uf_verify_bench_start(&bench, start, err);
    }
    if (status == UF_OK) {
        const struct uf_grid *g = bench.box->grid;
        for (size_t c = 0; c < n * n; c++) {
            bench.T_degC[c] = 5.0 + cos(UF_PI * g->x_m[c % n] / WIDE_M) *
                                        cos(2.0 * UF_PI * g->z_m[c / n] / HIGH_M);
        }
        uf_season_set(bench.season, 0.0, bench.T_degC);
        status = uf_season_advance(bench.season, end_s / UF_DAY_S, err);
    }
    double sum = 0.0;
    double squares = 0.0;
    for (size_t c = 0; c < n * n && status == UF_OK; c++) {
        const double mode = bench.T_degC[c] - 5.0;
        sum += mode * (uf_season_T_degC(bench.season)[c] - 5.0);
        squares += mode * mode;
    }
    *error = fabs(sum / squares - exp(-rate_1_s * end_s));
    uf_verify_bench_free(&bench);
    return status;
}

static void add_order(struct uf_verify *verify, const char *name, double order, double expected,
                      double allowed, const char *why)
{
    const struct uf_verify_check check = {
        .source = "observed order: log2 of the errors of two runs, one twice as fine, "
                  "against the exact solution (computed here)",
        .why = why,
        .unit = "1",
        .got = order,
        .expected = expected,
        .allowed = allowed};
    uf_verify_add(verify, &check, "order.%s", name);
}

/* Smooth, in space: the rate of the heat equation itself. */
static enum uf_status smooth_space(struct uf_verify *verify, enum uf_integrator integrator,
                                   struct uf_error *err)
{
    const double rate_1_s = 1e-6 * UF_PI * UF_PI * (0.01 + 4.0 / 64.0);
    const struct uf_verify_start start = {integrator, 24.0, 5.0, 0.0, 1.0};
    double coarse = 0.0;
    double fine = 0.0;
    enum uf_status status = fade(&coarse, 8, rate_1_s, &start, err);
    status = status == UF_OK ? fade(&fine, 16, rate_1_s, &start, err) : status;
    if (status == UF_OK) {
        add_order(verify, integrator == UF_BDF ? "smooth_space.reference" : "smooth_space",
                  log2(coarse / fine), 2.0, 0.05,
                  "0.05: second order shows cleanly at a sixteenth of a wave a cell");
    }
    return status;
}

/* Smooth, in time, for the integrator with fixed steps: the rate of the very grid, so
   that the error of its cells does not count. */
static enum uf_status smooth_time(struct uf_verify *verify, struct uf_error *err)
{
    const size_t n = 16;
    const double dx = WIDE_M / (double)n;
    const double dz = HIGH_M / (double)n;
    const double rate_1_s = 2e-6 * ((1.0 - cos(UF_PI / (double)n)) / (dx * dx) +
                                    (1.0 - cos(2.0 * UF_PI / (double)n)) / (dz * dz));
    struct uf_verify_start start = {UF_FAST, 0.5, 5.0, 0.0, 1.0};
    double coarse = 0.0;
    double fine = 0.0;
    enum uf_status status = fade(&coarse, n, rate_1_s, &start, err);
    start.steps_per_day = 1.0;
    status = status == UF_OK ? fade(&fine, n, rate_1_s, &start, err) : status;
    if (status == UF_OK) {
        add_order(verify, "smooth_time", log2(coarse / fine), 2.0, 0.2,
                  "0.2: steps of two days and of one, a tenth of the e-fold");
    }
    return status;
}

/* Freezing: ground N1; the largest error of any cell, averaged over twenty days in which
   the front passes several cells. */
static enum uf_status freezing_error(double *error, double cell_m,
                                     const struct uf_verify_start *start, struct uf_error *err)
{
    const struct uf_exact_ground *ground = &uf_exact_grounds[0];
    const struct uf_verify_axis z = {0.0, 3.0, cell_m, 16.0, 1.1, {0.0}};
    struct uf_material soil;
    struct uf_verify_bench bench = {0};
    size_t times = 0;
    enum uf_status status = uf_verify_bench_soil(&soil, ground, 0.002, err);
    if (status == UF_OK) {
        status = uf_verify_bench_column(&bench, &z, &soil, start, err);
    }
    *error = 0.0;
    for (int quarter = 200; quarter <= 280 && status == UF_OK; quarter++) {
        const double day = 0.25 * quarter;
        status = uf_season_advance(bench.season, day, err);
        const double *T = uf_season_T_degC(bench.season);
        const struct uf_grid *g = bench.box->grid;
        double largest_K = 0.0;
        for (size_t j = 0; g->z_m[j] < 3.0; j++) {
            const double want = uf_exact_neumann_degC(ground, g->z_m[j], day * UF_DAY_S);
            largest_K = fmax(largest_K, fabs(T[j] - want));
        }
        *error += largest_K;
        times++;
    }
    *error /= (double)times;
    uf_verify_bench_free(&bench);
    return status;
}

static enum uf_status freezing_space(struct uf_verify *verify, enum uf_integrator integrator,
                                     struct uf_error *err)
{
    const struct uf_verify_start start = {integrator, 24.0, 5.0, -10.0, INFINITY};
    double error[3];
    enum uf_status status = UF_OK;
    for (int k = 0; k < 3 && status == UF_OK; k++) {
        status = freezing_error(&error[k], 0.1 / (1 << k), &start, err);
    }
    if (status == UF_OK) {
        add_order(verify, integrator == UF_BDF ? "freezing_space.reference" : "freezing_space",
                  0.5 * log2(error[0] / error[2]), 1.0, 0.1,
                  "0.1: first order with the cell that freezes, cells of 10 and 2.5 cm");
    }
    return status;
}

static enum uf_status space(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                            struct uf_error *err)
{
    return k == 0 ? smooth_space(verify, integrator, err) : freezing_space(verify, integrator, err);
}

const struct uf_verify_topic uf_verify_order = {
    .name = "order",
    .doc = "observed order of accuracy, smooth and freezing",
    .run = smooth_time,
    .each = space,
    .n = 2};
