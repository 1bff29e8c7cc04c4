#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"

#include <math.h>

/* A strip of the ground's surface at a constant temperature, edges where the temperature goes straight
   from the strip's to the outside's, and an outside that goes up and down: heat between the
   ground and the strip. Two dimensions and time at once, without frost. */

#define STRIP_SOURCE                                                                               \
    "strip with linear edges, periodic: theory of Delsante, Stokes & Walsh 1983, Int. J. Heat "    \
    "Mass Transfer 26(1), 121-132; computed here"

enum { DAYS_MOST = 365 };

enum { STRIP, EDGE }; /* baths */

struct swing {
    const char *name;
    struct uf_exact_strip strip;
    int periods; /* until it repeats: the last is looked at */
};

static const struct swing SWINGS[] = {{"narrow.year", {1.6, 2.2e6, 1.0, 0.25, 365.0}, 3},
                                      {"narrow.60_d", {1.6, 2.2e6, 1.0, 0.25, 60.0}, 5},
                                      {"middle.year", {1.5, 3.0e6, 2.0, 0.5, 365.0}, 3},
                                      {"middle.60_d", {1.5, 3.0e6, 2.0, 0.5, 60.0}, 5},
                                      {"wide.60_d", {1.9, 2.682e6, 6.0, 0.24, 60.0}, 5}};

/* How much of a column's surface has the temperature of the outside. */
static double outside_share(const struct swing *s, double x_m)
{
    return fmin(1.0, fmax(0.0, (x_m - s->strip.half_m) / s->strip.edge_m));
}

/* A surface at a mix of two temperatures: half a cell to each, by its share. */
static void surface(struct uf_box *box, const struct swing *s)
{
    struct uf_heat *h = box->heat;
    const double half_m = s->strip.half_m;
    const size_t strip = uf_box_bath(box, 0.0);
    const size_t edge = uf_box_bath(box, 0.0);
    uf_box_face(box, &(struct uf_box_face){UF_BOX_TOP, 0.0, half_m, strip, 0.0});
    uf_box_face(box, &(struct uf_box_face){UF_BOX_TOP, half_m, INFINITY, edge, 0.0});
    uf_box_open_top(box);
    for (size_t l = 0; l < h->n_links; l++) {
        h->links[l].area_m2 *=
            1.0 - outside_share(s, box->grid->x_m[uf_grid_i(box->grid, h->links[l].a)]);
    }
    for (size_t t = 0; t < h->n_tops; t++) {
        h->tops[t].area_m2 *= outside_share(s, box->grid->x_m[h->tops[t].cell]);
    }
}

/* Runs until it repeats; the first harmonic of the last period, of the heat out of the ground into the
   strip: it rises with the outside, later. */
static enum uf_status run_swing(struct uf_exact_harmonic *out, struct uf_verify_bench *bench,
                                const struct swing *s, struct uf_error *err)
{
    static double outside_degC[DAYS_MOST];
    static double film_W_m2K[DAYS_MOST];
    const int days = (int)s->strip.period_day;
    const double turn = 2.0 * UF_PI / days;
    for (int d = 0; d < days; d++) {
        outside_degC[d] = sin(turn * (d + 0.5));
        film_W_m2K[d] = INFINITY;
    }
    const struct uf_drive drive = {.days = (size_t)days,
                                   .periodic = true,
                                   .outside_degC = outside_degC,
                                   .h_W_m2K = film_W_m2K,
                                   .air_degC = outside_degC};
    uf_season_drive(bench->season, &drive);
    double in_phase = 0.0;
    double ahead = 0.0;
    enum uf_status status = UF_OK;
    for (int day = 1; day <= s->periods * days && status == UF_OK; day++) {
        status = uf_season_advance(bench->season, day, err);
        if (status == UF_OK && day > (s->periods - 1) * days) {
            const double W =
                -2.0 * uf_box_bath_W(bench->box, uf_season_T_degC(bench->season), STRIP);
            in_phase += 2.0 / days * W * sin(turn * day);
            ahead += 2.0 / days * W * cos(turn * day);
        }
    }
    *out = (struct uf_exact_harmonic){hypot(in_phase, ahead), atan2(ahead, in_phase)};
    return status;
}

static enum uf_status make_bench(struct uf_verify_bench *bench, const struct swing *s,
                                 enum uf_integrator integrator, struct uf_error *err)
{
    const double reach_m = s->strip.half_m + s->strip.edge_m;
    const double size_m = s->strip.edge_m / 5.0;
    const struct uf_verify_axis x = {
        0.0, reach_m + 0.5, size_m, reach_m + 15.0, 1.3, {s->strip.half_m, reach_m, 0.0}};
    const struct uf_verify_axis z = {0.0, 0.3, 0.05, 20.0, 1.2, {0.0}};
    struct uf_material soil;
    uf_material_inert(&soil, "soil", s->strip.k_W_mK, s->strip.c_J_m3K);
    enum uf_status status = uf_verify_bench_create(bench, &x, &z, false, &soil, err);
    if (status == UF_OK) {
        uf_box_connect(bench->box);
        surface(bench->box, s);
        status = uf_verify_bench_start(
            bench, &(struct uf_verify_start){integrator, 4.0, 0.0, 0.0, 1.0}, err);
    }
    return status;
}

/* The second integrator on the smallest of them: the network is the same. */
static enum uf_status one_swing(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                                struct uf_error *err)
{
    const struct swing *s = &SWINGS[k];
    const struct uf_exact_harmonic exact = uf_exact_strip_outside(&s->strip);
    struct uf_exact_harmonic got = {NAN, NAN};
    struct uf_verify_bench bench = {0};
    if (integrator != UF_FAST && k > 0) {
        return UF_OK;
    }
    enum uf_status status = make_bench(&bench, s, integrator, err);
    status = status == UF_OK ? run_swing(&got, &bench, s, err) : status;
    uf_verify_bench_free(&bench);
    if (status == UF_OK) {
        struct uf_verify_check check = {.source = STRIP_SOURCE,
                                        .why = "1 %: a fifth of an edge a column, rows of 5 cm",
                                        .unit = "W/mK",
                                        .got = got.W_mK,
                                        .expected = exact.W_mK,
                                        .allowed = 0.01 * exact.W_mK};
        uf_verify_add(verify, &check, "strip.%s.heat%s", s->name, uf_verify_suffix(integrator));
        check.why = "1 degree of the turn: the same cells";
        check.unit = "degree";
        check.got = got.lead_rad * 180.0 / UF_PI;
        check.expected = exact.lead_rad * 180.0 / UF_PI;
        check.allowed = 1.0;
        uf_verify_add(verify, &check, "strip.%s.lead%s", s->name, uf_verify_suffix(integrator));
    }
    return status;
}

const struct uf_verify_topic uf_verify_strip = {
    .name = "strip",
    .doc = "strip of surface with edges, outside that swings: heat, phase",
    .each = one_swing,
    .n = sizeof SWINGS / sizeof *SWINGS,
    .slow = true};
