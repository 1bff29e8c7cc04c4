#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"
#include "solver/ground/published_depth.h"

#include <math.h>

/* Freezing fronts in a half-space: Neumann's two-phase solution, Stefan's with a
   resistance or two layers, and the coefficient of the modified Berggren formula. */

static const double CELL_M = 0.02;
static const double RANGE_K = 0.02; /* stands for a sharp front */
static const struct uf_verify_axis rows = {0.0, 2.2, 0.02, 16.0, 1.15, {0.0}};

#define NEUMANN_SOURCE                                                                             \
    "Neumann's solution: Carslaw & Jaeger, Conduction of Heat in Solids, 1959, sec. "              \
    "11.2 (section from memory); computed here from the formula"

/* A column of one ground whose surface drops at day 0, run to `day`. */
static enum uf_status run_column(struct uf_verify_bench *bench,
                                 const struct uf_exact_ground *ground,
                                 const struct uf_verify_start *start, double day,
                                 struct uf_error *err)
{
    struct uf_material soil;
    enum uf_status status = uf_verify_bench_soil(&soil, ground, RANGE_K, err);
    if (status == UF_OK) {
        status = uf_verify_bench_column(bench, &rows, &soil, start, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(bench->season, day, err);
    }
    return status;
}

static enum uf_status neumann_set(struct uf_verify *verify, size_t row,
                                  enum uf_integrator integrator, struct uf_error *err)
{
    const struct uf_exact_ground *ground = &uf_exact_grounds[row];
    static const double depth_m[] = {0.25, 0.50, 0.75, 1.00, 1.50, 2.00, 3.00, 4.00};
    const char *const suffix = uf_verify_suffix(integrator);
    const double t_s = 60.0 * UF_DAY_S;
    struct uf_verify_bench bench = {0};
    const enum uf_status status =
        run_column(&bench, ground,
                   &(struct uf_verify_start){integrator, 24.0, ground->start_degC,
                                             ground->surface_degC, INFINITY},
                   60.0, err);
    if (status == UF_OK) {
        const double q_W_m2 = uf_exact_neumann_W_m2(ground, t_s);
        double off_K = 0.0;
        for (size_t k = 0; k < sizeof depth_m / sizeof depth_m[0]; k++) {
            off_K = fmax(off_K, fabs(uf_verify_bench_degC(&bench, 0.5, depth_m[k]) -
                                     uf_exact_neumann_degC(ground, depth_m[k], t_s)));
        }
        struct uf_verify_check check = {.source = NEUMANN_SOURCE,
                                        .why = "a quarter of a cell of 2 cm: the front is "
                                               "found from the ice in its cell",
                                        .unit = "m",
                                        .got = uf_verify_bench_front_m(&bench, 0),
                                        .expected = uf_exact_neumann_front_m(ground, t_s),
                                        .allowed = 0.25 * CELL_M};
        uf_verify_add(verify, &check, "neumann.%.2s.front_60d%s", ground->name, suffix);
        check.why = "half a cell times the gradient at the surface: while a cell freezes "
                    "it stands at 0 degC";
        check.unit = "K";
        check.got = off_K;
        check.expected = 0.0;
        check.allowed = 0.5 * CELL_M * q_W_m2 / ground->k_frozen_W_mK;
        uf_verify_add(verify, &check, "neumann.%.2s.temperature%s", ground->name, suffix);
        check.why = "0.25 %: the first cell takes an hour to cool";
        check.unit = "MJ/m2";
        check.got = -1e-6 * uf_season_heat_J(bench.season).surface_J;
        check.expected = 1e-6 * 2.0 * q_W_m2 * t_s; /* q falls as 1/sqrt(t) */
        check.allowed = 0.0025 * check.expected;
        uf_verify_add(verify, &check, "neumann.%.2s.heat%s", ground->name, suffix);
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_neumann = {.name = "neumann",
                                                  .doc = "freezing of a half-space, five grounds",
                                                  .each = neumann_set,
                                                  .n = UF_EXACT_GROUNDS};

/* ---- Little sensible heat: Stefan's formulas ---- */

#define STEFAN_SOURCE                                                                              \
    "Stefan's front; TM 5-852-5 eq. 12-3 without a resistance (read), with one by "                \
    "integrating L dX/dt = dT/(R + X/k) (derived here)"
#define TWO_LAYER_SOURCE                                                                           \
    "Stefan in two layers: TM 5-852-5 two-layer equation (form from memory, derived "              \
    "again here)"

static const double LIGHT_J_M3K = 1e5; /* so little that the formulas' neglect is 0.1 % */
static const double SHARP_K = 0.002;   /* below a board the ice is only tenths colder */
static const double SURFACE_DEGC = -10.0;
static const char STEFAN_WHY[] = "0.3 % for the sensible heat that the formula leaves "
                                 "out, and a tenth of a cell of 1 cm";

static struct uf_exact_ground stefan_ground(double k_W_mK, double latent_J_m3)
{
    return (struct uf_exact_ground){"soil",      k_W_mK,       k_W_mK, LIGHT_J_M3K, LIGHT_J_M3K,
                                    latent_J_m3, SURFACE_DEGC, 0.0,    0.0};
}

/* Depth of the ice in two layers under a surface kept at -10 degC behind a film; ice_m
   comes with the depth down to which rows must be fine. */
static enum uf_status run_layers(double *ice_m, const struct uf_exact_two_layers *layers,
                                 const struct uf_verify_start *start, double day,
                                 struct uf_error *err)
{
    const struct uf_verify_axis fine = {0.0, 1.05 * *ice_m, 0.01, 8.0, 1.15, {layers->upper_m}};
    const struct uf_exact_ground grounds[] = {
        stefan_ground(layers->upper_W_mK, layers->upper_J_m3),
        stefan_ground(layers->lower_W_mK, layers->lower_J_m3)};
    struct uf_material upper;
    struct uf_material lower;
    struct uf_verify_bench bench = {0};
    enum uf_status status = uf_verify_bench_soil(&upper, &grounds[0], SHARP_K, err);
    if (status == UF_OK) {
        status = uf_verify_bench_soil(&lower, &grounds[1], SHARP_K, err);
    }
    if (status == UF_OK) {
        status = uf_verify_bench_create(&bench, &uf_verify_bench_one, &fine, false, &lower, err);
    }
    if (status == UF_OK) {
        uf_box_fill(bench.box, &upper, (struct uf_box_part){0.0, 1.0, 0.0, layers->upper_m});
        uf_box_connect(bench.box);
        uf_box_open_top(bench.box);
        status = uf_verify_bench_start(&bench, start, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(bench.season, day, err);
    }
    if (status == UF_OK) {
        *ice_m = uf_verify_bench_front_m(&bench, 0);
    }
    uf_verify_bench_free(&bench);
    return status;
}

static void add_stefan(struct uf_verify *verify, struct uf_verify_check check, const char *name,
                       enum uf_integrator integrator)
{
    check.why = STEFAN_WHY;
    check.unit = "m";
    check.allowed = 0.003 * check.expected + 0.001;
    uf_verify_add(verify, &check, "stefan.%s%s", name, uf_verify_suffix(integrator));
}

/* The same resistance once as a film, once as a board of its own cells. */
static enum uf_status stefan_resistance(struct uf_verify *verify, enum uf_integrator integrator,
                                        struct uf_error *err)
{
    static const struct {
        const char *name;
        double board_m; /* of 0.034 W/mK */
        bool film;
    } rows_[] = {{"bare", 0.0, true},
                 {"film_R0.88", 0.03, true},
                 {"board_30mm", 0.03, false},
                 {"board_60mm", 0.06, false},
                 {"board_120mm", 0.12, false}};
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < sizeof rows_ / sizeof rows_[0] && status == UF_OK; k++) {
        const double R_m2K_W = rows_[k].board_m / 0.034;
        const struct uf_exact_two_layers layers = {rows_[k].film ? 0.0 : rows_[k].board_m, 0.034,
                                                   0.0, 2.5, 150e6};
        const struct uf_verify_start start = {integrator, 8.0, 0.0, SURFACE_DEGC,
                                              rows_[k].film && R_m2K_W > 0.0 ? 1.0 / R_m2K_W
                                                                             : (double)INFINITY};
        struct uf_verify_check check = {.source = STEFAN_SOURCE};
        check.expected = uf_exact_stefan_m(2.5, 150e6, R_m2K_W, 1200.0 * UF_DAY_S);
        check.got = check.expected + layers.upper_m;
        status = run_layers(&check.got, &layers, &start, 120.0, err);
        add_stefan(verify, check, rows_[k].name, integrator);
    }
    return status;
}

static enum uf_status stefan_layers(struct uf_verify *verify, enum uf_integrator integrator,
                                    struct uf_error *err)
{
    static const struct {
        const char *name;
        struct uf_exact_two_layers layers;
        double index_Kday;
        double printed_m; /* from the formula, computed apart */
    } cases[] = {{"gravel_silt_800", {0.6, 1.9, 30e6, 1.8, 125e6}, 800.0, 1.525535},
                 {"gravel_silt_1200", {0.6, 1.9, 30e6, 1.8, 125e6}, 1200.0, 1.828029},
                 {"board_silt", {0.05, 0.034, 0.0, 2.5, 150e6}, 1000.0, 0.422781},
                 {"snow_clay", {0.3, 0.126, 0.0, 2.0, 140e6}, 1000.0, 0.552505},
                 {"concrete_sand", {0.25, 1.7, 0.0, 2.2, 80e6}, 600.0, 1.645735}};
    const struct uf_verify_start start = {integrator, 8.0, 0.0, SURFACE_DEGC, INFINITY};
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < sizeof cases / sizeof cases[0] && status == UF_OK; k++) {
        struct uf_verify_check check = {.source = TWO_LAYER_SOURCE, .expected = cases[k].printed_m};
        double ice_m = check.expected;
        status =
            run_layers(&ice_m, &cases[k].layers, &start, cases[k].index_Kday / -SURFACE_DEGC, err);
        check.got = ice_m + (cases[k].layers.upper_J_m3 > 0.0 ? 0.0 : cases[k].layers.upper_m);
        add_stefan(verify, check, cases[k].name, integrator);
    }
    return status;
}

static enum uf_status stefan(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                             struct uf_error *err)
{
    return k == 0 ? stefan_resistance(verify, integrator, err)
                  : stefan_layers(verify, integrator, err);
}

const struct uf_verify_topic uf_verify_stefan = {
    .name = "stefan",
    .doc = "fronts with little sensible heat, under film, board, layers",
    .each = stefan,
    .n = 2,
    .slow = true};

/* ---- Modified Berggren ---- */

#define BERGGREN_SOURCE                                                                            \
    "modified Berggren X = lambda sqrt(2 k nF/L): UFC 3-130-04, TM 5-852-4 fig. 4-63 "             \
    "(form read); lambda as the Neumann ratio with equal properties (computed)"

/* Table of lambda by fusion parameter (rows) and thermal ratio, computed apart. */
static void berggren_table(struct uf_verify *verify)
{
    static const double ratio[] = {0.0, 0.2, 0.5, 1.0, 2.0, 3.0};
    static const struct {
        double fusion, lambda[6];
    } printed[] = {{0.02, {0.996692, 0.984287, 0.966030, 0.936524, 0.880842, 0.829382}},
                   {0.1, {0.983943, 0.953813, 0.911066, 0.845831, 0.734814, 0.644927}},
                   {0.2, {0.968997, 0.924709, 0.864055, 0.776213, 0.638967, 0.538215}},
                   {0.5, {0.929572, 0.857555, 0.766820, 0.649248, 0.492119, 0.393214}},
                   {1.0, {0.876901, 0.777427, 0.664470, 0.534233, 0.381905, 0.295914}}};
    for (size_t r = 0; r < sizeof printed / sizeof printed[0]; r++) {
        struct uf_verify_check check = {.source = BERGGREN_SOURCE,
                                        .why = "half the last digit of the table",
                                        .unit = "1",
                                        .allowed = 5.1e-7};
        for (size_t c = 0; c < 6; c++) {
            const double got = uf_published_depth_berggren_lambda(ratio[c], printed[r].fusion);
            check.got = fmax(check.got, fabs(got - printed[r].lambda[c]));
        }
        uf_verify_add(verify, &check, "berggren.table_mu_%g", printed[r].fusion);
    }
}

/* Sandy silt, 100 lb/ft3, 15 % water: L = 2160 Btu/ft3, C = 28.25 Btu/(ft3 F), k = 0.76
   Btu/(h ft F), mean annual 37.2 F, nF = 2500 F day over 160 d. */
static void berggren_example(struct uf_verify *verify)
{
    const double above_F = 37.2 - 32.0;
    const double below_F = 2500.0 / 160.0;
    const double lambda =
        uf_published_depth_berggren_lambda(above_F / below_F, below_F * 28.25 / 2160.0);
    const struct uf_verify_check check = {
        .source = "TM 5-852-6, homogeneous soil example: 5.8 ft (from memory)",
        .why = "half the last digit printed",
        .unit = "ft",
        .got = lambda * sqrt(48.0 * 0.76 * 2500.0 / 2160.0),
        .expected = 5.8,
        .allowed = 0.05};
    uf_verify_add(verify, &check, "berggren.example");
}

/* The solver's own coefficient: frozen and thawed alike, L from the fusion parameter. */
static enum uf_status berggren_solver(struct uf_verify *verify,
                                      size_t unused __attribute__((unused)),
                                      enum uf_integrator integrator, struct uf_error *err)
{
    static const double cases[][2] = {{0.3, 0.2}, {1.0, 0.5}, {2.0, 1.0}};
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < 3 && status == UF_OK; k++) {
        const double L = -SURFACE_DEGC * 2e6 / cases[k][1];
        const struct uf_exact_ground ground = {
            "soil", 2.0, 2.0, 2e6, 2e6, L, SURFACE_DEGC, 0.0, -SURFACE_DEGC * cases[k][0]};
        const struct uf_verify_start start = {integrator, 24.0, ground.start_degC, SURFACE_DEGC,
                                              INFINITY};
        struct uf_verify_bench bench = {0};
        status = run_column(&bench, &ground, &start, 60.0, err);
        if (status == UF_OK) {
            const double stefan_m = uf_exact_stefan_m(2.0, L, 0.0, -SURFACE_DEGC * 60.0 * UF_DAY_S);
            const struct uf_verify_check check = {
                .source = BERGGREN_SOURCE,
                .why = "a quarter of a cell of 2 cm over Stefan's depth",
                .unit = "1",
                .got = uf_verify_bench_front_m(&bench, 0) / stefan_m,
                .expected = uf_published_depth_berggren_lambda(cases[k][0], cases[k][1]),
                .allowed = 0.25 * CELL_M / stefan_m};
            uf_verify_add(verify, &check, "berggren.solver_%g_%g%s", cases[k][0], cases[k][1],
                          uf_verify_suffix(integrator));
        }
        uf_verify_bench_free(&bench);
    }
    return status;
}

static enum uf_status berggren_formulas(struct uf_verify *verify, struct uf_error *err)
{
    (void)err;
    berggren_table(verify);
    berggren_example(verify);
    return UF_OK;
}

const struct uf_verify_topic uf_verify_berggren = {
    .name = "berggren",
    .doc = "coefficient of the modified Berggren formula",
    .run = berggren_formulas,
    .each = berggren_solver,
    .n = 1};
