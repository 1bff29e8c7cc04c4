#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"
#include "solver/heat/shaft.h"

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

static enum uf_status run(struct uf_verify *verify, struct uf_error *err)
{
    return add_sides(verify, err);
}

const struct uf_verify_topic uf_verify_riser = {
    .name = "riser", .doc = "side of an upright shaft in the ground, sleeve and film", .run = run};
