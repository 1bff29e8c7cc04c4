#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"
#include "solver/heat/fin.h"
#include "solver/heat/section.h"
#include "solver/heat/standpipe.h"

#include <math.h>

/* Upright shafts and pipes in the ground. */

/* ---- The side of a shaft, against conduction in (r, z) ---------------------------------- */

#define SIDE_SOURCE                                                                                  \
    "steady conduction in (r, z) around a round shaft below an isothermal surface, shaft's radius, " \
    "film and sleeve as they are (this program's network on cells of 2.5 cm)"
#define GROUND_W_MK 2.0

/* What is told of a shaft is at most so far above conduction in (r, z), and not below it. */
static const struct shaft {
    const char *name;
    struct uf_shaft_side side;
    double above;
    const char *why;
} shafts[] = {
    {"pipe",
     {.diameter_m = 0.2, .buried_m = 2.5, .film_m2K_W = 0.13, .shell.sleeve_length_m = INFINITY},
     0.03,
     "3 %: a line of even strength for a pipe 12 times as deep as wide"},
    {"sleeved",
     {.diameter_m = 0.75,
      .buried_m = 1.2,
      .film_m2K_W = 0.13,
      .shell = {.sleeve_m = 0.1, .sleeve_W_mK = 0.032, .sleeve_length_m = INFINITY}},
     0.03,
     "3 %: the sleeve is nearly all of the resistance"},
    {"manway",
     {.diameter_m = 0.75, .buried_m = 1.2, .film_m2K_W = 0.13, .shell.sleeve_length_m = INFINITY},
     0.22,
     "22 %, the safe side: even strength for a shaft not twice as deep as wide"},
};

/* Shaft 1 K above ground and surface: heat through its side by the program's own form, W. */
static double told_W(const struct shaft *s)
{
    double sum_W = 0.0;
    for (int i = 0; i < 1000; i++) {
        const double step_m = 1e-3 * s->side.buried_m;
        sum_W += step_m / uf_shaft_mK_W(&s->side, (i + 0.5) * step_m, GROUND_W_MK);
    }
    return sum_W;
}

/* Film and sleeve for an area of the ground's inner face. */
static double rings_m2K_W(const struct shaft *s, double outer_m)
{
    const double wall_m = 0.5 * s->side.diameter_m;
    return outer_m * (s->side.film_m2K_W / wall_m +
                      (outer_m > wall_m ? log(outer_m / wall_m) / s->side.shell.sleeve_W_mK : 0.0));
}

static enum uf_status computed_W(double *out, const struct shaft *s, struct uf_error *err)
{
    const double outer_m = 0.5 * s->side.diameter_m + s->side.shell.sleeve_m;
    const double deep_m = s->side.buried_m;
    const struct uf_verify_axis r = {outer_m, outer_m + 0.5, 0.025, 30.0, 1.15, {0.0}};
    const struct uf_verify_axis z = {0.0, deep_m + 0.5, 0.025, 30.0, 1.15, {deep_m}};
    struct uf_verify_bench bench = {0};
    struct uf_material ground;
    uf_material_inert(&ground, "ground", GROUND_W_MK, 2e6);
    enum uf_status status = uf_verify_bench_create(&bench, &r, &z, true, &ground, err);
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        const size_t shaft = uf_box_bath(bench.box, 1.0), surface = uf_box_bath(bench.box, 0.0);
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_LEFT, 0.0, deep_m, shaft,
                                                     rings_m2K_W(s, outer_m)});
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_TOP, 0.0, 1e3, surface, 0.0});
        status = uf_verify_bench_settle(&bench, &(struct uf_heat_now){.h_W_m2K = INFINITY}, err);
        *out = status == UF_OK ? uf_box_bath_W(bench.box, bench.T_degC, shaft) : (double)NAN;
    }
    uf_verify_bench_free(&bench);
    return status;
}

static enum uf_status add_sides(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < sizeof shafts / sizeof shafts[0] && status == UF_OK; i++) {
        double W = NAN;
        status = computed_W(&W, &shafts[i], err);
        struct uf_verify_check check = {.source = SIDE_SOURCE,
                                        .why = shafts[i].why,
                                        .unit = "W/K",
                                        .got = told_W(&shafts[i]),
                                        .expected = W * (1.0 + 0.5 * shafts[i].above),
                                        .allowed = 0.5 * shafts[i].above * W};
        if (status == UF_OK) {
            uf_verify_add(verify, &check, "riser.side.%s", shafts[i].name);
        }
    }
    return status;
}

/* ---- Water in a standpipe ---------------------------------------------------------------- */

#define FIN_SOURCE                                                                                 \
    "fin of one section, root kept warm, tip behind a conductance: cosh and sinh of the "          \
    "heat-transfer handbooks (from memory); values computed here"
#define SHUT_SOURCE                                                                                 \
    "quasi-steady freezing inward behind a resistance: London & Seban 1943, as in freezeup; value " \
    "computed"

static double same_degC(const void *who, double depth_m)
{
    (void)depth_m;
    return *(const double *)who;
}

/* Ground that conducts without limit: what is left is sleeve and wall. */
static double free_W_mK(const void *who, double depth_m)
{
    (void)who;
    (void)depth_m;
    return 1e12;
}

static const double ROOT_K = 3.4, GROUND_DEGC = 0.5; /* both below 4 degC: nothing turns over */
static const double BORE_M = 0.09, OUTER_M = 0.10, SLEEVED_M = 0.15, LONG_M = 2.0;

/* Steel line, 10 mm thick, 2 m, foam of 50 mm. */
static void add_fin(struct uf_verify *verify)
{
    const struct uf_shaft_side side = {
        .diameter_m = 2.0 * OUTER_M,
        .buried_m = LONG_M,
        .shell = {OUTER_M - BORE_M, 50.0, SLEEVED_M - OUTER_M, 0.03, INFINITY}};
    const struct uf_standpipe_ground ground = {same_degC, free_W_mK, &GROUND_DEGC, GROUND_DEGC};
    const double bore_m2 = UF_PI * BORE_M * BORE_M;
    const double kA = 0.57 * bore_m2 + 50.0 * UF_PI * (OUTER_M * OUTER_M - BORE_M * BORE_M);
    const double R_mK_W =
        uf_exact_ring_mK_W(BORE_M, OUTER_M, 50.0) + uf_exact_ring_mK_W(OUTER_M, SLEEVED_M, 0.03);
    const double m = sqrt(1.0 / (kA * R_mK_W)), mL = m * LONG_M;
    const double tip = bore_m2 / (0.13 + 0.17) / (m * kA); /* film, film, outer film */
    struct uf_standpipe_water p;
    uf_standpipe_begin(&p, &side, 0.0, &ground);
    p.base_degC = GROUND_DEGC + ROOT_K;
    for (int step = 0; step < 300; step++) {
        uf_standpipe_step(&p, &ground, 1e6);
    }
    struct uf_verify_check check = {
        .source = FIN_SOURCE,
        .why = "0.3 % of the root's excess: rows of 10 cm in a fin that fades over 80 cm",
        .unit = "degC",
        .got = p.T_degC[0],
        .expected = GROUND_DEGC + ROOT_K *
                                      (cosh(m * 0.5 * p.row_m) + tip * sinh(m * 0.5 * p.row_m)) /
                                      (cosh(mL) + tip * sinh(mL)),
        .allowed = 0.003 * ROOT_K};
    uf_verify_add(verify, &check, "riser.fin.tip");
    check.unit = "W";
    check.why = "0.5 %: rows of 10 cm";
    check.got = 2.0 * kA / p.row_m * (p.base_degC - p.T_degC[p.n - 1]);
    check.expected = ROOT_K * m * kA * (sinh(mL) + tip * cosh(mL)) / (cosh(mL) + tip * sinh(mL));
    check.allowed = 0.005 * check.expected;
    uf_verify_add(verify, &check, "riser.fin.root");
}

/* Plastic line of 200 mm behind 50 mm of foam in ground that falls to -10 degC, from 0 degC:
   t = rho L pi r^2 / dT [ R + 1 / (4 pi k_ice) ]. The lower end is 4 m below its cold tip. */
static void add_shut(struct uf_verify *verify)
{
    static const double freezing_degC = 0.0, cold_degC = -10.0;
    const struct uf_shaft_side side = {
        .diameter_m = 0.2, .buried_m = 4.0, .shell = {0.0, 0.0, 0.05, 0.03, INFINITY}};
    struct uf_standpipe_ground ground = {same_degC, free_W_mK, &freezing_degC, -10.0};
    const double step_s = 1200.0;
    struct uf_standpipe_water p;
    double t_s = 0.0;
    uf_standpipe_begin(&p, &side, 0.0, &ground);
    ground.who = &cold_degC;
    while (p.ice[p.n - 1] < 1.0 && t_s < 200.0 * UF_DAY_S) {
        uf_standpipe_step(&p, &ground, step_s);
        t_s += step_s;
    }
    struct uf_verify_check check = {.source = SHUT_SOURCE,
                                    .why = "0.2 %: a front that lags a step behind",
                                    .unit = "h",
                                    .got = t_s / 3600.0,
                                    .expected = 637.512};
    check.allowed = 0.002 * check.expected;
    uf_verify_add(verify, &check, "riser.shut");
}

/* ---- What a standpipe takes from the tank ------------------------------------------------ */

#define LINE_SOURCE                                                                                   \
    "fin of one section in ground whose temperature goes straight from its root up, root kept warm, " \
    "tip insulated: cosh and sinh; derived here"
#define NETWORK_SOURCE                                                                             \
    "water standing in the same pipe by rows of its own (riser.fin holds these against the exact fin)"

/* T'' = m^2 (T - b s): T - b s = (T0) cosh(m s) + B sinh(m s), T'(L) = 0; the root gives
   -K (m B + b). */
static void add_slope(struct uf_verify *verify)
{
    enum { PARTS = 200 };
    static const double K_WMK = 0.2, R_MK_W = 2.0, PER_M = -3.0;
    struct uf_fin_part parts[PARTS];
    const double m = 1.0 / sqrt(K_WMK * R_MK_W), mL = m * LONG_M;
    const double B = (-PER_M / m - ROOT_K * sinh(mL)) / cosh(mL);
    double W = 0.0;
    for (int i = 0; i < PARTS; i++) {
        parts[i] = (struct uf_fin_part){.length_m = LONG_M / PARTS, .R_mK_W = R_MK_W};
    }
    (void)uf_fin(parts, PARTS, K_WMK, 0.0);
    for (int i = 0; i < PARTS; i++) {
        W += parts[i].W_K * (ROOT_K - PER_M * (i + 0.5) * LONG_M / PARTS);
    }
    uf_verify_add(verify,
                  &(struct uf_verify_check){.source = LINE_SOURCE,
                                            .why = "1e-4: 200 parts of even temperature",
                                            .unit = "W",
                                            .got = W,
                                            .expected = -K_WMK * (m * B + PER_M),
                                            .allowed = 1e-4 * K_WMK * fabs(m * B + PER_M)},
                  "riser.line.slope");
}

/* A full tank of 1.5 x 1.5 x 4 m under 1 m, and a steel line in foam, 0.2 m across, down to 2.4 m. */
static struct uf_case with_line(void)
{
    struct uf_case d = uf_verify_plain(uf_verify_plain_soil(GROUND_W_MK, 2e6), 10.0, 0.1);
    d.tank.shape = UF_BOX;
    d.tank.width_m = d.tank.height_m = 1.5;
    d.tank.length_m = 4.0;
    d.tank.level_m = 1.5;
    d.tank.water = UF_WATER_LAYERED;
    d.burial.cover_m = 1.0;
    d.n_standpipes = 1;
    d.standpipes[0] = (struct uf_standpipe){.name = "line",
                                            .diameter_m = 0.2,
                                            .bottom_m = 2.4,
                                            .from_axis_m = 3.0,
                                            .cap_m2K_W = 2.0,
                                            .shell = {0.01, 50.0, 0.05, 0.03, INFINITY}};
    return d;
}

static double ground_W_mK(const void *who, double depth_m)
{
    (void)who;
    (void)depth_m;
    return GROUND_W_MK;
}

/* Root 1 K above ground and air: what the network's ways lead in still water, of the whole tank. */
static enum uf_status add_network(struct uf_verify *verify, struct uf_error *err)
{
    static const double none_degC = 0.0;
    const struct uf_case d = with_line();
    const struct uf_standpipe *asked = &d.standpipes[0];
    const struct uf_shaft_side side = {
        .diameter_m = asked->diameter_m, .shell = asked->shell, .buried_m = asked->bottom_m};
    const struct uf_standpipe_ground ground = {same_degC, ground_W_mK, &none_degC, 0.0};
    struct uf_section *section = NULL;
    struct uf_standpipe_water p;
    const enum uf_status status = uf_section_create(&section, &d, 1.0, err);
    if (status != UF_OK) {
        return status;
    }
    uf_standpipe_begin(&p, &side, d.burial.cover_m, &ground);
    p.base_degC = 1.0;
    p.cap_m2K_W = asked->cap_m2K_W;
    for (int step = 0; step < 300; step++) {
        uf_standpipe_step(&p, &ground, 1e6);
    }
    const double along_WmK = UF_WATER_CONDUCTIVITY_W_MK * p.bore_m2 + 50.0 * p.wall_m2;
    struct uf_verify_check check = {.source = NETWORK_SOURCE,
                                    .why = "0.5 %: rows of 10 cm",
                                    .unit = "W/K",
                                    .expected =
                                        2.0 * along_WmK / p.row_m * (1.0 - p.T_degC[p.n - 1])};
    check.allowed = 0.005 * check.expected;
    for (size_t i = 0; i < section->heat->n_shafts; i++) {
        check.got += section->heat->shafts[i].still_W_K / section->whole_share;
    }
    uf_verify_add(verify, &check, "riser.line.network");
    uf_section_free(section);
    return UF_OK;
}

static enum uf_status run(struct uf_verify *verify, struct uf_error *err)
{
    add_fin(verify);
    add_slope(verify);
    const enum uf_status status = add_network(verify, err);
    if (status != UF_OK) {
        return status;
    }
    add_shut(verify);
    return add_sides(verify, err);
}

const struct uf_verify_topic uf_verify_riser = {
    .name = "riser", .doc = "side of risers, water in standpipes and what they take", .run = run};
