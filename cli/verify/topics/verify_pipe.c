#include "cli/verify/exact/exact.h"
#include "cli/verify/exact/steady.h"
#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/heat/section.h"

#include <math.h>
#include <stdlib.h>

/* Buried round bodies in a steady state, built as the program builds a tank: the outline
   cut out of the grid by exact areas and lengths, the shell as a resistance. */

static const double WATER_FILM_W_M2K = 60.0; /* what the section puts into the tank */
/* Half-space in a domain of 120 m: what a dipole's field leaves outside is (z/120)^2. */
static const double DOMAIN_M = 120.0;

struct round_body {
    double depth_m, inner_m, outer_m;
    double wall_W_mK, film_W_m2K; /* film INFINITY: none */
    double inside_degC, surface_degC, finest_m;
    struct uf_thermal soil;
};

struct solved {
    struct uf_section *section;
    double *T_degC;
    double W_m; /* out of the body, whole section */
};

static void solved_free(struct solved *s)
{
    uf_section_free(s->section);
    free(s->T_degC);
}

static struct uf_case design_of(const struct round_body *body)
{
    struct uf_case d = uf_verify_plain(body->soil, DOMAIN_M, body->finest_m);
    d.tank.shape = UF_HORIZONTAL_CYLINDER;
    d.tank.diameter_m = 2.0 * body->outer_m;
    d.tank.length_m = 10.0;
    d.tank.ends = false;
    d.tank.level_m = 2.0 * body->outer_m;
    d.tank.hold_degC = body->inside_degC;
    if (body->inner_m < body->outer_m) {
        d.tank.wall_thickness_m = body->outer_m - body->inner_m;
        d.tank.wall_k_W_mK = body->wall_W_mK;
    }
    d.burial.cover_m = body->depth_m - body->outer_m;
    return d;
}

/* The film that is asked for in the place of the one a tank has. */
static void change_film(struct uf_heat *heat, double film_W_m2K)
{
    const double times = WATER_FILM_W_M2K / film_W_m2K;
    for (size_t l = 0; l < heat->n_links; l++) {
        struct uf_heat_link *link = &heat->links[l];
        if (link->wetted) {
            link->fixed_m2K_W += (times - 1.0) * link->inner_m2K_W;
            link->inner_m2K_W *= times;
        }
    }
}

static enum uf_status solve(struct solved *out, const struct round_body *body, struct uf_error *err)
{
    const struct uf_case design = design_of(body);
    const struct uf_heat_now now = {.outside_degC = body->surface_degC, .h_W_m2K = INFINITY};
    *out = (struct solved){.W_m = NAN};
    enum uf_status status = uf_section_create(&out->section, &design, 2.0 * body->depth_m, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_heat *heat = out->section->heat;
    change_film(heat, body->film_W_m2K);
    out->T_degC = calloc(2 * heat->n, sizeof *out->T_degC);
    if (out->T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a check");
    }
    for (size_t i = 0; i < heat->n; i++) {
        out->T_degC[i] = i == heat->held ? body->inside_degC : body->surface_degC;
    }
    status = uf_steady_solve(heat, &now, NULL, out->T_degC, err);
    if (status == UF_OK) {
        struct uf_heat_flow flow;
        uf_heat_rate(heat, &now, out->T_degC, out->T_degC + heat->n, &flow);
        out->W_m = 2.0 * flow.held_W;
    }
    return status;
}

/* ---- Isothermal cylinder ---- */

#define CYLINDER_SOURCE                                                                            \
    "isothermal cylinder below an isothermal surface: conduction shape factor of the "             \
    "heat-transfer handbooks (from memory); values computed here"

static void cylinder_field(struct uf_verify *verify, const struct uf_exact_cylinder *pipe,
                           const struct solved *s)
{
    static const double at[][2] = {{0.0, 0.5}, {0.0, 4.0}, {1.0, 1.0},
                                   {2.0, 1.0}, {2.0, 4.0}, {4.0, 2.0}};
    for (size_t k = 0; k < sizeof at / sizeof at[0]; k++) {
        const struct uf_verify_check check = {
            .source = CYLINDER_SOURCE,
            .why = "0.05 K, 0.5 % of the difference: columns grow by half beyond 0.4 m "
                   "from the tank",
            .unit = "degC",
            .got = uf_section_at_degC(s->section, s->T_degC, at[k][0], at[k][1]),
            .expected = uf_exact_cylinder_degC(pipe, at[k][0], at[k][1]),
            .allowed = 0.05};
        uf_verify_add(verify, &check, "cylinder.C1.x%g_z%g", at[k][0], at[k][1]);
    }
}

static enum uf_status run_cylinder(struct uf_verify *verify, struct uf_error *err)
{
    const struct uf_exact_cylinder pipe = {1.5, 2.0, 0.9, 5.0, -5.0};
    const struct round_body body = {.depth_m = 2.0,
                                    .inner_m = 0.9,
                                    .outer_m = 0.9,
                                    .film_W_m2K = INFINITY,
                                    .inside_degC = 5.0,
                                    .surface_degC = -5.0,
                                    .finest_m = 0.025,
                                    .soil = uf_verify_plain_soil(1.5, 2e6)};
    struct solved s;
    const enum uf_status status = solve(&s, &body, err);
    if (status == UF_OK) {
        const struct uf_heat *heat = s.section->heat;
        const struct uf_heat_now now = {.outside_degC = -5.0, .h_W_m2K = INFINITY};
        const struct uf_heat_top *top = &heat->tops[0];
        struct uf_verify_check check = {.source = CYLINDER_SOURCE,
                                        .why = "1 %: the outline crosses cells of 2.5 to "
                                               "10 cm, the domain ends at 120 m",
                                        .unit = "W/m",
                                        .got = s.W_m,
                                        .expected = uf_exact_cylinder_W_m(&pipe)};
        check.allowed = 0.01 * check.expected;
        uf_verify_add(verify, &check, "cylinder.C1.heat");
        check.unit = "W/m2";
        check.got = -uf_heat_top_W(heat, top, &now, s.T_degC[0], NULL) / top->area_m2;
        check.expected = uf_exact_cylinder_W_m2(&pipe, 0.0);
        check.allowed = 0.01 * check.expected;
        uf_verify_add(verify, &check, "cylinder.C1.surface_flux");
        cylinder_field(verify, &pipe, &s);
    }
    solved_free(&s);
    return status;
}

const struct uf_verify_topic uf_verify_cylinder = {
    .name = "cylinder", .doc = "buried isothermal cylinder, heat and field", .run = run_cylinder};

/* ---- Ring and film ---- */

static enum uf_status run_pipe(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (const struct uf_exact_pipe *p = uf_exact_pipes; p->name != NULL && status == UF_OK; p++) {
        const struct round_body body = {.depth_m = p->depth_m,
                                        .inner_m = isnan(p->inner_m) ? p->outer_m : p->inner_m,
                                        .outer_m = p->outer_m,
                                        .wall_W_mK = p->ring_W_mK,
                                        .film_W_m2K =
                                            isnan(p->film_W_m2K) ? (double)INFINITY : p->film_W_m2K,
                                        .inside_degC = p->fluid_degC,
                                        .surface_degC = p->surface_degC,
                                        .finest_m = 0.02,
                                        .soil = uf_verify_plain_soil(p->k_W_mK, 2e6)};
        struct solved s;
        status = solve(&s, &body, err);
        if (status == UF_OK) {
            struct uf_verify_check check = {
                .source = "buried pipe with ring and film: multipole series about the "
                          "axis and its image, computed here to 1e-9",
                .why = "1 %: the outline crosses cells of 2 to 8 cm; the usual sum of "
                       "resistances misses the shallow ones by 8 to 17 %",
                .unit = "W/m",
                .got = s.W_m,
                .expected = uf_exact_pipe_W_m(p)};
            check.allowed = 0.01 * check.expected;
            uf_verify_add(verify, &check, "pipe.%.2s", p->name);
        }
        solved_free(&s);
    }
    return status;
}

const struct uf_verify_topic uf_verify_pipe = {
    .name = "pipe", .doc = "buried pipes with insulation ring and inner film", .run = run_pipe};

/* ---- Thaw and frozen bulbs ---- */

#define BULB_SOURCE                                                                                \
    "thaw bulb about a warm pipe: TM 5-852-5 fig. 12-6 (form read); values computed "              \
    "here"

/* Lowest and highest 0 degC on the axis: centre +- radius of the front. */
static void bulb_axis(const struct solved *s, double outer_m, double depth_m, double *top,
                      double *bottom)
{
    const struct uf_grid *g = s->section->grid;
    *top = *bottom = NAN;
    for (size_t j = 0; j + 1 < g->nz; j++) {
        const double a = s->T_degC[j * g->nx];
        const double b = s->T_degC[(j + 1) * g->nx];
        const double at_m = g->z_m[j] + (g->z_m[j + 1] - g->z_m[j]) * a / (a - b);
        const bool ground =
            fabs(g->z_m[j] - depth_m) > outer_m && fabs(g->z_m[j + 1] - depth_m) > outer_m;
        if (ground && a * b < 0.0) {
            *(g->z_m[j] < depth_m ? top : bottom) = at_m;
        }
    }
}

static enum uf_status run_bulb(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (const struct uf_exact_bulb *b = uf_exact_bulbs; b->name != NULL && status == UF_OK; b++) {
        struct round_body body = {.depth_m = b->depth_m,
                                  .inner_m = b->radius_m,
                                  .outer_m = b->radius_m,
                                  .film_W_m2K = INFINITY,
                                  .inside_degC = b->wall_degC,
                                  .surface_degC = b->surface_degC,
                                  .finest_m = 0.025,
                                  .soil = uf_verify_plain_soil(b->k_inside_W_mK, 2e6)};
        struct solved s;
        const struct uf_exact_circle front = uf_exact_bulb_front(b);
        double top_m = NAN;
        double bottom_m = NAN;
        body.soil.k_frozen_W_mK = b->k_outside_W_mK;
        body.soil.freezing_from_degC = b->freezing_degC;
        body.soil.freezing_to_degC = b->freezing_degC - 0.01;
        status = solve(&s, &body, err);
        if (status == UF_OK) {
            struct uf_verify_check check = {.source = BULB_SOURCE,
                                            .why = "1 %: the outline crosses cells of 2.5 to 10 cm",
                                            .unit = "W/m",
                                            .got = s.W_m,
                                            .expected = uf_exact_bulb_W_m(b)};
            check.allowed = 0.01 * check.expected;
            uf_verify_add(verify, &check, "bulb.%.2s.heat", b->name);
            bulb_axis(&s, b->radius_m, b->depth_m, &top_m, &bottom_m);
            check.why = "one cell of 2.5 cm";
            check.unit = "m";
            check.allowed = body.finest_m;
            check.got = top_m;
            check.expected = front.depth_m - front.radius_m;
            uf_verify_add(verify, &check, "bulb.%.2s.top", b->name);
            check.got = bottom_m;
            check.expected = front.depth_m + front.radius_m;
            uf_verify_add(verify, &check, "bulb.%.2s.bottom", b->name);
        }
        solved_free(&s);
    }
    return status;
}

const struct uf_verify_topic uf_verify_bulb = {
    .name = "bulb", .doc = "thawed ground about a warm pipe, k frozen and thawed", .run = run_bulb};
