#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"
#include "solver/heat/front.h"

#include <math.h>

/* Conduction without freezing: the yearly wave, a half-space under a film, a corner, and
   the depth that an isotherm reaches. Smooth problems: what is left is the square of the
   cell, so they are held to hundredths of a degree. */

/* ---- Yearly wave ---- */

enum { YEAR = 365 };
static const double WAVE_DEPTHS_M[] = {0.5, 1.0, 2.0, 3.0, 5.0};
enum { WAVE_DEPTHS = 5 };

#define WAVE_SOURCE                                                                                \
    "yearly wave under a resistance: Carslaw & Jaeger 1959, sec. 2.6 (section from "               \
    "memory); computed here from the formula"

/* What a year at some depths came to: sums for the first harmonic. */
struct harmonic {
    double cosine, sine;
};

static enum uf_status wave_year(struct harmonic *out, const struct uf_exact_wave *wave,
                                struct uf_verify_bench *bench, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < WAVE_DEPTHS; k++) {
        out[k] = (struct harmonic){0.0, 0.0};
    }
    for (int day = 1; day <= YEAR && status == UF_OK; day++) {
        const double angle = 2.0 * UF_PI * (day - wave->coldest_day) / YEAR;
        status = uf_season_advance(bench->season, day, err);
        for (size_t k = 0; k < WAVE_DEPTHS; k++) {
            const double T = uf_verify_bench_degC(bench, 0.5, WAVE_DEPTHS_M[k]);
            out[k].cosine -= 2.0 / YEAR * T * cos(angle);
            out[k].sine -= 2.0 / YEAR * T * sin(angle);
        }
    }
    return status;
}

static void add_wave(struct uf_verify *verify, const struct uf_exact_wave *wave,
                     const struct harmonic *year, enum uf_integrator integrator)
{
    struct uf_verify_check check = {.source = WAVE_SOURCE};
    double off_day = 0.0;
    double off_K = 0.0;
    for (size_t k = 0; k < WAVE_DEPTHS; k++) {
        const double z_m = WAVE_DEPTHS_M[k];
        double lag = atan2(year[k].sine, year[k].cosine) * YEAR / (2.0 * UF_PI);
        lag += lag < 0.0 ? YEAR : 0.0;
        off_K = fmax(off_K, fabs(hypot(year[k].cosine, year[k].sine) -
                                 uf_exact_wave_amplitude_K(wave, z_m)));
        off_day = fmax(off_day, fabs(lag - uf_exact_wave_lag_day(wave, z_m)));
    }
    check.got = off_K;
    check.unit = "K";
    check.allowed = 0.02;
    check.why = "0.02 K: rows of 5 cm, and days joined by straight lines";
    uf_verify_add(verify, &check, "wave.R%g.amplitude%s", wave->resistance_m2K_W,
                  uf_verify_suffix(integrator));
    check.got = off_day;
    check.unit = "day";
    check.allowed = 0.2;
    check.why = "a fifth of a day: rows of 5 cm";
    uf_verify_add(verify, &check, "wave.R%g.lag%s", wave->resistance_m2K_W,
                  uf_verify_suffix(integrator));
}

static const double RESISTANCES_M2K_W[] = {0.0, 0.5, 2.0};

static enum uf_status one_wave(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                               struct uf_error *err)
{
    const double resistance_m2K_W = RESISTANCES_M2K_W[k];
    const struct uf_exact_wave wave = {6.0, 14.0, 15.0, YEAR, 1.5, 0.5e-6, resistance_m2K_W};
    const struct uf_verify_axis rows = {0.0, 3.0, 0.05, 30.0, 1.1, {0.0}};
    static double outside_degC[YEAR];
    static double film_W_m2K[YEAR];
    struct harmonic year[WAVE_DEPTHS];
    struct uf_material soil;
    struct uf_verify_bench bench = {0};
    uf_material_inert(&soil, "soil", 1.5, 3e6);
    enum uf_status status = uf_verify_bench_column(
        &bench, &rows, &soil, &(struct uf_verify_start){integrator, 12.0, 0.0, 0.0, 1.0}, err);
    if (status == UF_OK) {
        const struct uf_grid *g = bench.box->grid;
        for (int d = 0; d < YEAR; d++) {
            outside_degC[d] =
                wave.mean_degC -
                wave.amplitude_K * cos(2.0 * UF_PI * (d + 0.5 - wave.coldest_day) / YEAR);
            film_W_m2K[d] = 1.0 / resistance_m2K_W; /* infinite for 0 */
        }
        for (size_t j = 0; j < g->nz; j++) {
            bench.T_degC[j] = uf_exact_wave_degC(&wave, g->z_m[j], 0.0);
        }
        const struct uf_drive drive = {.days = YEAR,
                                       .periodic = true,
                                       .outside_degC = outside_degC,
                                       .h_W_m2K = film_W_m2K,
                                       .air_degC = outside_degC};
        uf_season_drive(bench.season, &drive);
        uf_season_set(bench.season, 0.0, bench.T_degC);
        status = wave_year(year, &wave, &bench, err);
    }
    if (status == UF_OK) {
        add_wave(verify, &wave, year, integrator);
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_wave = {
    .name = "wave",
    .doc = "the yearly wave, bare and under a film or board",
    .each = one_wave,
    .n = sizeof RESISTANCES_M2K_W / sizeof RESISTANCES_M2K_W[0]};

/* ---- Half-space and quarter space ---- */

#define FILM_SOURCE                                                                                \
    "half-space under a film: Carslaw & Jaeger 1959, sec. 2.7 (section from memory); "             \
    "computed here from the formula"
#define QUARTER_SOURCE                                                                             \
    "quarter space: Carslaw & Jaeger 1959, sec. 5.6 (section from memory); computed "              \
    "here from the formula"

/* Runs a column under one film; the bench is the caller's to free. */
static enum uf_status run_film(struct uf_verify_bench *bench, const struct uf_exact_film *film,
                               enum uf_integrator integrator, struct uf_error *err)
{
    const struct uf_verify_axis rows = {0.0, 1.0, 0.02, 20.0, 1.1, {0.0}};
    struct uf_material soil;
    uf_material_inert(&soil, "soil", film->k_W_mK, film->c_J_m3K);
    enum uf_status status =
        uf_verify_bench_create(bench, &uf_verify_bench_one, &rows, false, &soil, err);
    if (status == UF_OK) {
        uf_box_connect(bench->box);
        uf_box_open_top(bench->box);
        bench->tighter = 0.1; /* so that only the rows show */
        status = uf_verify_bench_start(bench,
                                       &(struct uf_verify_start){integrator, 24.0, film->start_degC,
                                                                 film->air_degC, film->film_W_m2K},
                                       err);
    }
    return status;
}

static enum uf_status one_film(struct uf_verify *verify, size_t unused __attribute__((unused)),
                               enum uf_integrator integrator, struct uf_error *err)
{
    static const double depth_m[] = {0.1, 0.25, 0.5, 1.0, 2.0};
    static const double day[] = {1.0, 10.0, 60.0};
    const struct uf_exact_film film = {1.5, 3e6, 20.0, 10.0, -5.0};
    struct uf_verify_bench bench = {0};
    enum uf_status status = run_film(&bench, &film, integrator, err);
    for (size_t d = 0; d < 3 && status == UF_OK; d++) {
        struct uf_verify_check check = {
            .source = FILM_SOURCE, .why = "0.02 K: rows of 2 cm", .unit = "K", .allowed = 0.02};
        status = uf_season_advance(bench.season, day[d], err);
        for (size_t k = 0; k < 5; k++) {
            const double want = uf_exact_film_degC(&film, depth_m[k], day[d] * UF_DAY_S);
            check.got = fmax(check.got, fabs(uf_verify_bench_degC(&bench, 0.5, depth_m[k]) - want));
        }
        uf_verify_add(verify, &check, "film.day_%g%s", day[d], uf_verify_suffix(integrator));
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_film = {
    .name = "film", .doc = "half-space that cools under a film", .each = one_film, .n = 1};

static enum uf_status one_quarter(struct uf_verify *verify, size_t unused __attribute__((unused)),
                                  enum uf_integrator integrator, struct uf_error *err)
{
    static const double at[][2] = {{0.5, 0.5}, {1.0, 1.0}, {1.0, 0.5}, {2.0, 1.0}, {2.0, 2.0}};
    const struct uf_verify_axis axis = {0.0, 2.2, 0.1, 16.0, 1.15, {0.0}};
    struct uf_material soil;
    struct uf_verify_bench bench = {0};
    uf_material_inert(&soil, "soil", 1.5, 3e6);
    enum uf_status status = uf_verify_bench_create(&bench, &axis, &axis, false, &soil, err);
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        const size_t cold = uf_box_bath(bench.box, -5.0);
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_TOP, 0.0, 16.0, cold, 0.0});
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_LEFT, 0.0, 16.0, cold, 0.0});
        status = uf_verify_bench_start(
            &bench, &(struct uf_verify_start){integrator, 12.0, 10.0, 0.0, 1.0}, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(bench.season, 60.0, err);
    }
    for (size_t k = 0; k < 5 && status == UF_OK; k++) {
        const struct uf_verify_check check = {
            .source = QUARTER_SOURCE,
            .why = "0.02 K: cells of 10 cm",
            .unit = "degC",
            .got = uf_verify_bench_degC(&bench, at[k][0], at[k][1]),
            .expected =
                uf_exact_quarter_degC(0.5e-6, -5.0, 10.0, at[k][0], at[k][1], 60.0 * UF_DAY_S),
            .allowed = 0.02};
        uf_verify_add(verify, &check, "quarter.x%g_y%g%s", at[k][0], at[k][1],
                      uf_verify_suffix(integrator));
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_quarter = {
    .name = "quarter",
    .doc = "quarter space between two cold faces, no freezing",
    .each = one_quarter,
    .n = 1};

/* ---- Depth of an isotherm ---- */

#define BURIAL_SOURCE "depth of a water main by conduction alone, textbook exercise: "

static enum uf_status run_burial(struct uf_verify *verify, struct uf_error *err)
{
    static const struct {
        const char *name, *source;
        double diffusivity_m2_s, start_degC, surface_degC, day, depth_m, digit_m;
    } rows[] = {{"H1", BURIAL_SOURCE "Incropera & DeWitt, printed 0.68 m (from memory)",
                 0.52 / (2050.0 * 1840.0), 20.0, -15.0, 60.0, 0.68, 0.005},
                {"H2", BURIAL_SOURCE "inputs read, depth computed", 0.15e-6, 15.0, -10.0, 90.0,
                 0.800943, 5e-4},
                {"H3", BURIAL_SOURCE "inputs read, depth computed", 0.15e-6, 8.0, -8.0, 60.0,
                 0.841140, 5e-4}};
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < 3 && status == UF_OK; k++) {
        /* A film so strong that the surface follows; the solver finds the 0 degC line. */
        const struct uf_exact_film film = {1.0, 1.0 / rows[k].diffusivity_m2_s, INFINITY,
                                           rows[k].start_degC, rows[k].surface_degC};
        struct uf_verify_bench bench = {0};
        status = run_film(&bench, &film, verify->integrators[0], err);
        if (status == UF_OK) {
            status = uf_season_advance(bench.season, rows[k].day, err);
        }
        if (status == UF_OK) {
            const struct uf_verify_check check = {
                .source = rows[k].source,
                .why = "half the last digit printed, or 0.5 mm for rows of 2 cm",
                .unit = "m",
                .got = uf_front_line_m(bench.box->heat, uf_season_T_degC(bench.season), 0),
                .expected = rows[k].depth_m,
                .allowed = rows[k].digit_m};
            uf_verify_add(verify, &check, "burial.%s", rows[k].name);
        }
        uf_verify_bench_free(&bench);
    }
    return status;
}

const struct uf_verify_topic uf_verify_burial = {
    .name = "burial", .doc = "depth of the 0 degC line by conduction alone", .run = run_burial};
