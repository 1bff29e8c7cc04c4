#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"

#include <math.h>

/* Freezing in two dimensions: around a line that takes heat out (in radius), and in a
   corner between two cold faces. */

/* ---- Line sink ---- */

#define LINE_SOURCE                                                                                \
    "freezing around a line sink: Carslaw & Jaeger 1959, sec. 11.6 (section from "                 \
    "memory); computed here from the formula"

static const double RING_M = 0.01;

static const struct {
    const char *name;
    size_t ground; /* of uf_exact_grounds, or beyond them `plain` */
    double sink_W_m, start_degC;
} lines[] = {{"N1_50W", 0, 50.0, 5.0},
             {"N1_100W", 0, 100.0, 5.0},
             {"N1_100W_1degC", 0, 100.0, 1.0},
             {"N2_60W", 1, 60.0, 8.0},
             {"equal_100W", 5, 100.0, 4.0}};
static const struct uf_exact_ground plain = {"equal", 2.0, 2.0, 2e6, 2e6, 1e8, NAN, 0.0, 4.0};

/* The sink takes its heat out of the first ring, so only what lies well outside counts. */
static void add_line(struct uf_verify *verify, const struct uf_verify_bench *bench,
                     const struct uf_exact_ground *ground, size_t k, enum uf_integrator integrator)
{
    static const double radius_m[] = {0.1, 0.2, 0.5, 1.0, 2.0};
    const double t_s = 30.0 * UF_DAY_S;
    const double front_m = uf_exact_line_front_m(ground, lines[k].sink_W_m, t_s);
    const char *const suffix = uf_verify_suffix(integrator);
    struct uf_verify_check check = {.source = LINE_SOURCE,
                                    .why = "a quarter of a ring of 1 cm",
                                    .unit = "m",
                                    .got = uf_verify_bench_radius_m(bench),
                                    .expected = front_m,
                                    .allowed = 0.25 * RING_M};
    uf_verify_add(verify, &check, "line.%s.radius_30d%s", lines[k].name, suffix);
    check.got = check.expected = 0.0;
    for (size_t r = 0; r < sizeof radius_m / sizeof radius_m[0]; r++) {
        const double want = uf_exact_line_degC(ground, lines[k].sink_W_m, radius_m[r], t_s);
        const double got = uf_verify_bench_degC(bench, radius_m[r], 0.5);
        check.got = fmax(check.got, fabs(got - want));
    }
    check.why = "half a ring of 1 cm times the gradient of the ice at the front";
    check.unit = "K";
    check.allowed =
        0.5 * RING_M * lines[k].sink_W_m / (2.0 * UF_PI * front_m * ground->k_frozen_W_mK);
    uf_verify_add(verify, &check, "line.%s.temperature%s", lines[k].name, suffix);
}

static enum uf_status one_line(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                               struct uf_error *err)
{
    const struct uf_verify_axis r = {0.0, 1.3, RING_M, 16.0, 1.1, {0.0}};
    struct uf_exact_ground ground = lines[k].ground < 5 ? uf_exact_grounds[lines[k].ground] : plain;
    struct uf_material soil;
    struct uf_verify_bench bench = {0};
    ground.start_degC = lines[k].start_degC;
    enum uf_status status = uf_verify_bench_soil(&soil, &ground, 0.02, err);
    if (status == UF_OK) {
        status = uf_verify_bench_create(&bench, &r, &uf_verify_bench_one, true, &soil, err);
    }
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        bench.box->heat->bottom_W[0] = -lines[k].sink_W_m;
        status = uf_verify_bench_start(
            &bench, &(struct uf_verify_start){integrator, 24.0, ground.start_degC, 0.0, 1.0}, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(bench.season, 30.0, err);
    }
    if (status == UF_OK) {
        add_line(verify, &bench, &ground, k, integrator);
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_line = {.name = "line",
                                               .doc = "freezing around a line heat sink, in radius",
                                               .each = one_line,
                                               .n = sizeof lines / sizeof lines[0]};

/* ---- Corner ---- */

#define CORNER_SOURCE                                                                              \
    "freezing in a corner: problem of Rathjen & Jiji 1971, J. Heat Transfer 93, "                  \
    "101-109; front computed by the moving-source integral equation (2e-5)"

static const double CORNER_K = 10.0; /* the faces' depth below freezing */
static const double CORNER_DAY = 30.0;

/* The reference takes cells of 15 cm: its matrix grows with every cell. */
static double corner_cell_m(enum uf_integrator integrator)
{
    return integrator == UF_FAST ? 0.075 : 0.15;
}

/* Front on the diagonal: where the frozen height of a column equals its place. */
static double diagonal_m(const struct uf_verify_bench *bench)
{
    const struct uf_grid *g = bench->box->grid;
    double before_m = uf_verify_bench_front_m(bench, 0) - g->x_m[0];
    for (size_t i = 1; i < g->nx; i++) {
        const double after_m = uf_verify_bench_front_m(bench, i) - g->x_m[i];
        if (before_m > 0.0 && after_m <= 0.0) {
            return g->x_m[i - 1] + (g->x_m[i] - g->x_m[i - 1]) * before_m / (before_m - after_m);
        }
        before_m = after_m;
    }
    return (double)NAN;
}

/* Frozen height at x, straight between columns. */
static double height_m(const struct uf_verify_bench *bench, double x_m)
{
    const struct uf_grid *g = bench->box->grid;
    size_t i = 0;
    while (i + 2 < g->nx && g->x_m[i + 1] < x_m) {
        i++;
    }
    const double w = (x_m - g->x_m[i]) / (g->x_m[i + 1] - g->x_m[i]);
    return (1.0 - w) * uf_verify_bench_front_m(bench, i) +
           w * uf_verify_bench_front_m(bench, i + 1);
}

static void add_corner(struct uf_verify *verify, const struct uf_verify_bench *bench,
                       const struct uf_exact_corner *corner, enum uf_integrator integrator)
{
    const double scale_m = sqrt(4.0 * 1e-6 * CORNER_DAY * UF_DAY_S);
    const double cell = corner_cell_m(integrator) / scale_m;
    const char *const suffix = uf_verify_suffix(integrator);
    struct uf_verify_check check = {
        .source = CORNER_SOURCE,
        .why = "a quarter of a cell (7.5 cm; reference 15 cm) over sqrt(4 a t) = 3.22 m",
        .unit = "1",
        .got = diagonal_m(bench) / scale_m,
        .expected = corner->diagonal,
        .allowed = 0.25 * cell};
    uf_verify_add(verify, &check, "corner.b%g_t%g.diagonal%s", corner->beta, corner->start, suffix);
    check.got = height_m(bench, 2.0 * scale_m) / scale_m;
    check.expected = corner->y[UF_EXACT_CORNER_X - 1];
    uf_verify_add(verify, &check, "corner.b%g_t%g.far%s", corner->beta, corner->start, suffix);
    check.got = uf_verify_bench_degC(bench, 0.5 * scale_m, 0.5 * scale_m) / CORNER_K;
    check.expected = corner->theta_05;
    check.why = "half a cell times the gradient, 1 over the front's distance";
    check.allowed = 0.5 * cell / corner->lambda;
    uf_verify_add(verify, &check, "corner.b%g_t%g.theta%s", corner->beta, corner->start, suffix);
}

/* All on the fast integrator; the reference takes the one of ordinary ground, beta = 5. */
static enum uf_status one_corner(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                                 struct uf_error *err)
{
    const struct uf_exact_corner *corner = &uf_exact_corners[k];
    const struct uf_verify_axis axis = {0.0, 3.75, corner_cell_m(integrator), 25.0, 1.2, {0.0}};
    const struct uf_exact_ground ground = {"corner", 2.0, 2.0,
                                           2e6,      2e6, corner->beta * 2e6 * CORNER_K,
                                           NAN,      0.0, corner->start * CORNER_K};
    struct uf_material soil;
    struct uf_verify_bench bench = {0};
    if (integrator != UF_FAST && corner->beta < 5.0) {
        return UF_OK;
    }
    enum uf_status status = uf_verify_bench_soil(&soil, &ground, 0.02, err);
    if (status == UF_OK) {
        status = uf_verify_bench_create(&bench, &axis, &axis, false, &soil, err);
    }
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        const size_t cold = uf_box_bath(bench.box, -CORNER_K);
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_TOP, 0.0, 25.0, cold, 0.0});
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_LEFT, 0.0, 25.0, cold, 0.0});
        status = uf_verify_bench_start(
            &bench, &(struct uf_verify_start){integrator, 12.0, ground.start_degC, 0.0, 1.0}, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(bench.season, CORNER_DAY, err);
    }
    if (status == UF_OK) {
        add_corner(verify, &bench, corner, integrator);
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_corner = {.name = "corner",
                                                 .doc = "freezing between two cold faces",
                                                 .each = one_corner,
                                                 .n = UF_EXACT_CORNERS};
