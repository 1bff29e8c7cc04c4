#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"
#include "solver/ground/published_depth.h"
#include "solver/heat/front.h"

#include <math.h>

/* Depth from an index by published rules, and two comparisons of plausibility: the solver
   beside the rule of ISO 13793, and beside the least insulation that a building code asks
   for. Plausible is not proved: the rules hold for grounds and winters of their own. */

enum { YEAR = 365, YEARS = 3 };

/* Soil that ISO 13793 takes for frost-susceptible (from memory). */
static const struct uf_exact_ground iso_soil = {
    "ISO 13793 soil", 2.5, 1.5, 1.9e6, 3.0e6, 150e6, NAN, 0.0, NAN};
static const double ISO_RANGE_K = 0.5;
static const double FILM_W_m2K = 25.0; /* ISO 6946: 0.04 m2K/W outside */

/* ---- Rules on paper ---- */

static void rules(struct uf_verify *verify)
{
    const struct {
        const char *name, *source;
        double got, expected;
    } rows[] = {{"iso13793_10000Kh_1", "ISO 13793:2001, undisturbed ground (from memory)",
                 uf_published_depth_iso13793_m(10000.0, 2.5, 150e6, 3e6, 1.0), 1.0847},
                {"iso13793_30000Kh_5", "ISO 13793:2001, undisturbed ground (from memory)",
                 uf_published_depth_iso13793_m(30000.0, 2.5, 150e6, 3e6, 5.0), 1.8091},
                {"iso13793_70000Kh_3", "ISO 13793:2001, undisturbed ground (from memory)",
                 uf_published_depth_iso13793_m(70000.0, 2.5, 150e6, 3e6, 3.0), 2.8151},
                {"ontario_1000Kday",
                 "Chisholm & Phang 1983, Transportation Research Record 918 (study read, "
                 "coefficients from memory)",
                 uf_published_depth_chisholm_phang_m(1000.0), 1.4998},
                {"water_mains_1000Kday",
                 "Fair, Geyer & Okun, Water and Wastewater Engineering, eq. 5.41b (read)",
                 uf_published_depth_fair_m(1000.0), 1.3989}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const struct uf_verify_check check = {.source = rows[k].source,
                                              .why = "half the last digit worked out",
                                              .unit = "m",
                                              .got = rows[k].got,
                                              .expected = rows[k].expected,
                                              .allowed = 5.1e-5};
        uf_verify_add(verify, &check, "depth.%s", rows[k].name);
    }
}

/* ---- A year of weather with a given index ---- */

struct year {
    double air_degC[YEAR], film_W_m2K[YEAR];
};

static double index_of(const struct year *year)
{
    double sum = 0.0;
    for (int d = 0; d < YEAR; d++) {
        sum += fmax(0.0, -year->air_degC[d]);
    }
    return sum;
}

/* A yearly wave about mean_degC whose freezing index is index_Kday, coldest on day 20. */
static void make_year(struct year *year, double mean_degC, double index_Kday)
{
    double low = 0.0;
    double high = 60.0;
    while (high - low > 1e-9) {
        const double swing_K = 0.5 * (low + high);
        for (int d = 0; d < YEAR; d++) {
            year->air_degC[d] = mean_degC - swing_K * cos(2.0 * UF_PI * (d + 0.5 - 20.0) / YEAR);
            year->film_W_m2K[d] = FILM_W_m2K;
        }
        *(index_of(year) < index_Kday ? &low : &high) = swing_K;
    }
}

/* Starts the bench in August at the year's mean and drives it by the year. */
static enum uf_status begin(struct uf_verify_bench *bench, const struct year *year,
                            double mean_degC, struct uf_error *err)
{
    const struct uf_drive drive = {.days = YEAR,
                                   .periodic = true,
                                   .outside_degC = year->air_degC,
                                   .h_W_m2K = year->film_W_m2K,
                                   .air_degC = year->air_degC};
    const enum uf_status status = uf_verify_bench_start(
        bench, &(struct uf_verify_start){UF_FAST, 2.0, mean_degC, 0.0, 1.0}, err);
    if (status == UF_OK) {
        uf_box_start(bench->box, mean_degC, bench->T_degC);
        uf_season_set(bench->season, 220.0, bench->T_degC);
        uf_season_drive(bench->season, &drive);
    }
    return status;
}

/* The solver beside ISO 13793 at a yearly mean of 5 degC. */
static enum uf_status solver_depth(struct uf_verify *verify, double index_Kh, struct uf_error *err)
{
    const struct uf_verify_axis z = {0.0, 3.0, 0.05, 20.0, 1.2, {0.0}};
    struct year year;
    struct uf_material soil;
    struct uf_verify_bench bench = {0};
    double deepest_m = 0.0;
    make_year(&year, 5.0, index_Kh / 24.0);
    enum uf_status status = uf_verify_bench_soil(&soil, &iso_soil, ISO_RANGE_K, err);
    if (status == UF_OK) {
        status = uf_verify_bench_create(&bench, &uf_verify_bench_one, &z, false, &soil, err);
    }
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        uf_box_open_top(bench.box);
        status = begin(&bench, &year, 5.0, err);
    }
    for (int day = 1; day <= YEARS * YEAR && status == UF_OK; day++) {
        status = uf_season_advance(bench.season, 220.0 + day, err);
        if (day > (YEARS - 1) * YEAR) {
            deepest_m = fmax(deepest_m,
                             uf_front_line_m(bench.box->heat, uf_season_T_degC(bench.season), 0));
        }
    }
    if (status == UF_OK) {
        struct uf_verify_check check = {
            .source = "plausibility: solver beside ISO 13793:2001 (formula from memory)",
            .why = "15 %: the rule knows neither the film nor heat from the summer",
            .unit = "m",
            .got = deepest_m,
            .expected = uf_published_depth_iso13793_m(index_Kh, 2.5, 150e6, 3e6, 5.0)};
        check.allowed = 0.15 * check.expected;
        uf_verify_add(verify, &check, "depth.solver_%gKh", index_Kh);
    }
    uf_verify_bench_free(&bench);
    return status;
}

static enum uf_status run_depth(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    rules(verify);
    for (int k = 1; k <= 3 && status == UF_OK; k++) {
        status = solver_depth(verify, 10000.0 * k, err);
    }
    return status;
}

const struct uf_verify_topic uf_verify_depth = {
    .name = "depth",
    .doc = "depth from an index: published rules, and plausibility",
    .run = run_depth};

/* ---- Least insulation of shallow foundations ---- */

/* Half of a heated building 12 m wide, its slab at 18 degC; a board down the foundation's
   outside to the footing, and where the table asks for it a board out from the wall. The
   concrete is left out: soil in its place conducts as well. */
static const double ROOM_DEGC = 18.0;  /* 64 F, the least the code allows */
static const double FLOOR_M2K_W = 1.0; /* slab with a little insulation */
static const double BOARD_M = 0.05;    /* thickness of either board */
static const double WING_M = 0.30;     /* depth of the board out from the wall */
static const double WALL_M = 6.0;      /* x of the wall's outer face; the axis is at 0 */
static const double RIGHT_M = 18.0;

static enum uf_status foundation(struct uf_verify_bench *bench, const struct uf_exact_irc *row,
                                 struct uf_error *err)
{
    const double wing_m = isnan(row->a_m) ? 0.0 : row->a_m;
    const double cell_m = 0.2;
    const struct uf_verify_axis x = {
        0.0, WALL_M + 2.0, cell_m, RIGHT_M, 1.25, {WALL_M - BOARD_M, WALL_M, WALL_M + wing_m}};
    const struct uf_verify_axis z = {0.0, 1.2, 0.05, 12.0, 1.25, {row->footing_m}};
    struct uf_material soil;
    struct uf_material board;
    enum uf_status status = uf_verify_bench_soil(&soil, &iso_soil, ISO_RANGE_K, err);
    if (status == UF_OK) {
        status = uf_verify_bench_create(bench, &x, &z, false, &soil, err);
    }
    if (status != UF_OK) {
        return status;
    }
    uf_material_inert(&board, "upright board", BOARD_M / row->vertical_m2K_W, 4e4);
    uf_box_fill(bench->box, &board,
                (struct uf_box_part){WALL_M - BOARD_M, WALL_M, 0.0, row->footing_m});
    if (wing_m > 0.0) {
        uf_material_inert(&board, "board out from the wall", BOARD_M / row->wall_m2K_W, 4e4);
        uf_box_fill(bench->box, &board,
                    (struct uf_box_part){WALL_M, WALL_M + wing_m, WING_M, WING_M + BOARD_M});
    }
    uf_box_connect(bench->box);
    const size_t room = uf_box_bath(bench->box, ROOM_DEGC);
    uf_box_face(bench->box,
                &(struct uf_box_face){UF_BOX_TOP, 0.0, WALL_M - BOARD_M, room, FLOOR_M2K_W});
    uf_box_open_part(bench->box, WALL_M, RIGHT_M);
    return UF_OK;
}

static enum uf_status run_irc(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (const struct uf_exact_irc *row = uf_exact_irc_rows;
         row->index_Kday > 0.0 && status == UF_OK; row++) {
        /* Colder winters go with colder years: 8 to 3 degC. */
        const double mean_degC = 8.0 - 5.0 * (row->index_Kday - 833.0) / (2222.0 - 833.0);
        struct year year;
        struct uf_verify_bench bench = {0};
        double least_degC = INFINITY;
        make_year(&year, mean_degC, row->index_Kday);
        status = foundation(&bench, row, err);
        if (status == UF_OK) {
            status = begin(&bench, &year, mean_degC, err);
        }
        for (int day = 1; day <= YEARS * YEAR && status == UF_OK; day++) {
            status = uf_season_advance(bench.season, 220.0 + day, err);
            if (day > (YEARS - 1) * YEAR) {
                least_degC =
                    fmin(least_degC, uf_verify_bench_degC(&bench, WALL_M - 0.1, row->footing_m));
            }
        }
        if (status == UF_OK) {
            const struct uf_verify_check check = {
                .source = row->source,
                .why = "plausibility, not proof: the least of the year under the "
                       "footing is above freezing, and not by more than 4 K",
                .unit = "degC",
                .got = least_degC,
                .expected = 2.0,
                .allowed = 2.0};
            uf_verify_add(verify, &check, "irc.%.0fFday", row->index_Kday * 1.8);
        }
        uf_verify_bench_free(&bench);
    }
    return status;
}

const struct uf_verify_topic uf_verify_irc = {
    .name = "irc",
    .slow = true,
    .doc = "least insulation of shallow foundations (plausibility)",
    .run = run_irc};
