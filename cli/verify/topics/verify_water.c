#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"
#include "solver/heat/section.h"

#include <math.h>
#include <stdlib.h>

/* Freeze-up of standing water: how long it takes to cool, to freeze solid, and for a ring
   of frozen ground to grow. */

#define LUMPED_SOURCE                                                                              \
    "lumped cooling of a pipe: ASHRAE Fundamentals ch. 23 (form read); value computed"
#define INWARD_SOURCE                                                                              \
    "quasi-steady freezing inward: London & Seban 1943; same form in TM 5-852-5 figs. "            \
    "12-4, 12-5 (from memory); value computed"
#define RING_SOURCE "quasi-steady growth of a frozen ring (derived here)"
#define TANK_SOURCE                                                                                \
    "lumped tank in steady ground: ASHRAE form with the exact resistance of ring and "             \
    "ground by multipoles (computed here)"

static const double LIGHT_J_M3K = 1e5; /* the formulas leave sensible heat out */

static enum uf_status light_water(struct uf_material *out, double k_W_mK, double latent_J_m3,
                                  struct uf_error *err)
{
    const struct uf_exact_ground water = {"water",     k_W_mK, k_W_mK, LIGHT_J_M3K, LIGHT_J_M3K,
                                          latent_J_m3, -10.0,  0.0,    0.0};
    return uf_verify_bench_soil(out, &water, 0.02, err);
}

/* Runs on in steps until the value that `measure` takes passes `target`; the day,
   straight between the last two steps. */
static enum uf_status day_of(double *day, struct uf_verify_bench *bench,
                             double (*measure)(const struct uf_verify_bench *), double target,
                             double step_day, struct uf_error *err)
{
    double before = measure(bench);
    const double sign = before < target ? 1.0 : -1.0;
    *day = NAN;
    for (int k = 1; k < 10000 && isnan(*day); k++) {
        const enum uf_status status = uf_season_advance(bench->season, k * step_day, err);
        if (status != UF_OK) {
            return status;
        }
        const double now = measure(bench);
        if (sign * (now - target) >= 0.0) {
            *day = step_day * (k - 1 + (target - before) / (now - before));
        }
        before = now;
    }
    return UF_OK;
}

static double axis_degC(const struct uf_verify_bench *bench)
{
    return uf_season_T_degC(bench->season)[0];
}

/* Share of the pipe's water that is ice. */
static double ice_share(const struct uf_verify_bench *bench)
{
    const struct uf_grid *g = bench->box->grid;
    const double r = uf_verify_bench_radius_m(bench) / g->x_edge_m[g->nx];
    return r * r;
}

/* A pipe of radius r in air at -10 degC behind resistance R (m K/W): `cells` rings of one
   substance. */
static enum uf_status pipe_bench(struct uf_verify_bench *bench, double size_m,
                                 const struct uf_material *water, double start_degC,
                                 struct uf_error *err)
{
    const double r_m = 0.1;
    const double R_mK_W = uf_exact_ring_mK_W(0.105, 0.155, 0.03);
    const struct uf_verify_axis r = {0.0, r_m, size_m, r_m, 1.5, {0.0}};
    enum uf_status status =
        uf_verify_bench_create(bench, &r, &uf_verify_bench_one, true, water, err);
    if (status == UF_OK) {
        uf_box_connect(bench->box);
        const size_t air = uf_box_bath(bench->box, -10.0);
        uf_box_face(bench->box,
                    &(struct uf_box_face){UF_BOX_RIGHT, 0.0, 1.0, air, R_mK_W * 2.0 * UF_PI * r_m});
        status = uf_verify_bench_start(
            bench, &(struct uf_verify_start){UF_FAST, 96.0, start_degC, 0.0, 1.0}, err);
    }
    return status;
}

static enum uf_status pipe_times(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_material mixed;
    struct uf_material still;
    struct uf_verify_bench bench = {0};
    double day = NAN;
    uf_material_inert(&mixed, "mixed water", 1e4, 4.2e6);
    enum uf_status status = light_water(&still, 2.2, 334e6, err);
    status = status == UF_OK ? pipe_bench(&bench, 0.1, &mixed, 5.0, err) : status;
    status = status == UF_OK ? day_of(&day, &bench, axis_degC, 0.0, 0.02, err) : status;
    uf_verify_bench_free(&bench);
    struct uf_verify_check check = {.source = LUMPED_SOURCE,
                                    .why = "0.1 %: straight between steps of half an hour",
                                    .unit = "h",
                                    .got = 24.0 * day,
                                    .expected = 30.7056,
                                    .allowed = 0.031};
    if (status == UF_OK) {
        uf_verify_add(verify, &check, "freezeup.pipe_cools");
        status = pipe_bench(&bench, 0.002, &still, 0.0, err);
    }
    status = status == UF_OK ? day_of(&day, &bench, ice_share, 0.999, 0.1, err) : status;
    if (status == UF_OK) {
        check.source = INWARD_SOURCE;
        check.why = "0.5 %: sensible heat of the ice, and the last thousandth of water";
        check.got = 24.0 * day;
        check.expected = 612.676;
        check.allowed = 0.005 * check.expected;
        uf_verify_add(verify, &check, "freezeup.pipe_freezes");
    }
    uf_verify_bench_free(&bench);
    return status;
}

/* Frozen ring 0.05 to 0.5 m, k = 2.5, L = 150 MJ/m3, 10 K: 15.690843 d. */
static enum uf_status ring_growth(struct uf_verify *verify, size_t k __attribute__((unused)),
                                  enum uf_integrator integrator, struct uf_error *err)
{
    const struct uf_verify_axis r = {0.05, 0.7, 0.01, 3.0, 1.2, {0.0}};
    struct uf_material ground;
    struct uf_verify_bench bench = {0};
    enum uf_status status = light_water(&ground, 2.5, 150e6, err);
    if (status == UF_OK) {
        status = uf_verify_bench_create(&bench, &r, &uf_verify_bench_one, true, &ground, err);
    }
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        const size_t pipe = uf_box_bath(bench.box, -10.0);
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_LEFT, 0.0, 1.0, pipe, 0.0});
        status = uf_verify_bench_start(
            &bench, &(struct uf_verify_start){integrator, 24.0, 0.0, 0.0, 1.0}, err);
    }
    if (status == UF_OK) {
        status = uf_season_advance(bench.season, 15.690843, err);
    }
    if (status == UF_OK) {
        const struct uf_verify_check check = {.source = RING_SOURCE,
                                              .why = "a quarter of a ring of 1 cm",
                                              .unit = "m",
                                              .got = uf_verify_bench_radius_m(&bench),
                                              .expected = 0.5,
                                              .allowed = 0.0025};
        uf_verify_add(verify, &check, "freezeup.ring%s", uf_verify_suffix(integrator));
    }
    uf_verify_bench_free(&bench);
    return status;
}

/* ---- A whole tank ---------------------------------------------------------------------- */

/* Written out, not taken from the program: 4.18 kJ/(kg K), 334 kJ/kg (handbook values,
   from memory) and 1000 kg/m3; a shell of 2 MJ/m3K. */
static const double WATER_J_M3K = 4.18e6;
static const double WATER_LATENT_J_M3 = 334e6;
static const double SHELL_J_M3K = 2e6;

static const struct uf_exact_pipe tank_pipe = {"tank", 1.8, 2.1, 1.0, 1.05, 0.03, 60.0, 0.0, -6.0};

static struct uf_case tank_design(void)
{
    struct uf_case d = uf_verify_plain(uf_verify_plain_soil(1.8, 1e4), 60.0, 0.05);
    d.tank.shape = UF_HORIZONTAL_CYLINDER;
    d.tank.diameter_m = 2.1;
    d.tank.length_m = 10.0;
    d.tank.ends = false;
    d.tank.level_m = 2.1;
    d.tank.water = UF_WATER_MIXED;
    d.tank.wall_thickness_m = 0.05;
    d.tank.wall_k_W_mK = 0.03;
    d.burial.cover_m = 1.05;
    return d;
}

/* Runs the tank from 6 degC; days until 0 degC, and from there to a tenth of ice. */
static enum uf_status tank_times(double day[2], const struct uf_section *s,
                                 struct uf_season *season, struct uf_error *err)
{
    const size_t water = s->heat->water;
    const struct uf_material *m = &s->heat->materials[s->heat->material[water]];
    double last_T = 6.0;
    double last_ice = 0.0;
    enum uf_status status = UF_OK;
    day[0] = day[1] = NAN;
    for (int k = 1; k < 400 && isnan(day[1]) && status == UF_OK; k++) {
        const double t = k;
        status = uf_season_advance(season, t, err);
        const double T = uf_season_T_degC(season)[water];
        const double ice = uf_material_ice(m, T);
        if (isnan(day[0]) && T < 0.0) {
            day[0] = t - 1.0 + last_T / (last_T - T);
        }
        if (ice > 0.1) {
            day[1] = t - 1.0 + (0.1 - last_ice) / (ice - last_ice);
        }
        last_T = T;
        last_ice = ice;
    }
    return status;
}

static void add_tank(struct uf_verify *verify, const double day[2])
{
    const double shell_m2 = UF_PI * (1.05 * 1.05 - 1.0);
    const double R_mK_W = 6.0 / uf_exact_pipe_W_m(&tank_pipe);
    const double capacity = UF_PI * WATER_J_M3K + shell_m2 * SHELL_J_M3K;
    struct uf_verify_check check = {
        .source = TANK_SOURCE,
        .why = "1 %: the outline crosses cells of 5 to 17 cm, heat held by the ground",
        .unit = "day",
        .got = day[0]};
    check.expected = uf_exact_cooling_s(capacity, R_mK_W, 6.0, 0.0, -6.0) / UF_DAY_S;
    check.allowed = 0.01 * check.expected;
    uf_verify_add(verify, &check, "freezeup.tank_cools");
    check.got = day[1] - day[0];
    check.expected = uf_exact_share_s(0.1, 1.0, WATER_LATENT_J_M3, R_mK_W, 6.0) / UF_DAY_S;
    check.allowed = 0.01 * check.expected;
    uf_verify_add(verify, &check, "freezeup.tank_tenth_ice");
}

/* Ground almost without heat capacity is stiff: the reference alone. */
static enum uf_status tank_run(struct uf_verify *verify, struct uf_error *err)
{
    const struct uf_case design = tank_design();
    const double outside_degC = -6.0;
    const double h_W_m2K = INFINITY;
    const struct uf_drive drive = {.days = 1,
                                   .periodic = true,
                                   .outside_degC = &outside_degC,
                                   .h_W_m2K = &h_W_m2K,
                                   .air_degC = &outside_degC};
    struct uf_season_options options = uf_verify_season();
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    double *T_degC = NULL;
    double day[2] = {NAN, NAN};
    options.integrator = UF_BDF;
    enum uf_status status = uf_section_create(&s, &design, 4.0, err);
    if (status == UF_OK) {
        status = uf_season_create(&season, s->heat, &options, err);
    }
    if (status == UF_OK) {
        T_degC = calloc(s->heat->n, sizeof *T_degC);
    }
    if (status == UF_OK && T_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
    }
    if (status == UF_OK && T_degC != NULL) {
        for (size_t i = 0; i < s->heat->n; i++) {
            T_degC[i] = i == s->heat->water ? 6.0 : -6.0;
        }
        uf_season_drive(season, &drive);
        uf_season_set(season, 0.0, T_degC);
        status = tank_times(day, s, season, err);
    }
    if (status == UF_OK) {
        add_tank(verify, day);
    }
    free(T_degC);
    uf_season_free(season);
    uf_section_free(s);
    return status;
}

/* The published times themselves, from the formulas alone. */
static void formulas(struct uf_verify *verify)
{
    static const struct {
        const char *name;
        double inner_m, cold_F, hours;
    } rows[] = {{"m18F", 2.067, -18.0, 1.4}, {"20F", 2.067, 20.0, 4.6}};
    for (size_t k = 0; k < 2; k++) {
        const double r_m = 0.5 * rows[k].inner_m * UF_INCH_M;
        const double k_W_mK = 0.30 * 0.144228;
        const double R_mK_W = uf_exact_ring_mK_W(0.5 * 2.375, 0.5 * 2.375 + 1.5, k_W_mK);
        const struct uf_verify_check check = {
            .source = "ASHRAE Fundamentals ch. 23, table of times to cool water from 42 F "
                      "to freezing in a 2 in. pipe under 1.5 in. (value read)",
            .why = "half the last digit printed",
            .unit = "h",
            .got = uf_exact_cooling_s(UF_PI * r_m * r_m * 4.1868e6, R_mK_W, 42.0, 32.0,
                                      rows[k].cold_F) /
                   3600.0,
            .expected = rows[k].hours,
            .allowed = 0.05};
        uf_verify_add(verify, &check, "freezeup.table_%s", rows[k].name);
    }
}

static enum uf_status pipes_and_tank(struct uf_verify *verify, struct uf_error *err)
{
    formulas(verify);
    const enum uf_status status = pipe_times(verify, err);
    return status == UF_OK ? tank_run(verify, err) : status;
}

const struct uf_verify_topic uf_verify_freezeup = {
    .name = "freezeup",
    .doc = "times to cool and to freeze, pipe, ring and tank",
    .run = pipes_and_tank,
    .each = ring_growth,
    .n = 1};
