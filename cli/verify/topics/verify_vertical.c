#include "cli/verify/exact/steady.h"
#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/heat/section.h"

#include <math.h>
#include <stdlib.h>

/* A vertical cylinder as the program builds one, in (r, z): the steady heat it gives off
   below an isothermal surface. */

static const double DOMAIN_M = 60.0;
static const double K_W_MK = 1.5;

/* Heat from an isothermal solid cylinder of radius a and length 2 b in a medium without
   end, over k and the difference of temperature: a (8 + 6.95 (b/a)^0.76), m. */
static double smythe_m(double radius_m, double half_length_m)
{
    return radius_m * (8.0 + 6.95 * pow(half_length_m / radius_m, 0.76));
}

/* With an isothermal plane at the distance h of its middle: the mirrored body takes its
   share, S = C / (1 - C / (8 pi h)), good to about (a/2h)^3. */
static double buried_m(double free_m, double depth_m)
{
    return free_m / (1.0 - free_m / (8.0 * UF_PI * depth_m));
}

static const struct {
    const char *name;
    double radius_m, half_length_m, depth_m;
} bodies[] = {{"squat", 1.0, 0.5, 5.0}, {"even", 1.0, 1.0, 6.0}, {"tall", 0.75, 1.5, 7.0}};

static struct uf_case design_of(size_t body)
{
    struct uf_case d = uf_verify_plain(uf_verify_plain_soil(K_W_MK, 2e6), DOMAIN_M, 0.05);
    d.tank.shape = UF_VERTICAL_CYLINDER;
    d.tank.diameter_m = 2.0 * bodies[body].radius_m;
    d.tank.height_m = d.tank.level_m = 2.0 * bodies[body].half_length_m;
    d.tank.hold_degC = 5.0;
    d.burial.cover_m = bodies[body].depth_m - bodies[body].half_length_m;
    return d;
}

/* The wall itself at the water's temperature. */
static void drop_films(struct uf_heat *heat)
{
    for (size_t l = 0; l < heat->n_links; l++) {
        if (heat->links[l].wetted) {
            heat->links[l].fixed_m2K_W -= heat->links[l].inner_m2K_W;
            heat->links[l].inner_m2K_W = 0.0;
        }
    }
}

/* Heat out of the body, W, at 10 K above the surface. */
static enum uf_status solve(double *heat_W, size_t body, struct uf_error *err)
{
    const struct uf_case design = design_of(body);
    const struct uf_heat_now now = {.outside_degC = -5.0, .h_W_m2K = INFINITY};
    struct uf_section *section = NULL;
    struct uf_heat_flow flow;
    double *T_degC = NULL;
    enum uf_status status = uf_section_create(&section, &design, 1.5 * bodies[body].depth_m, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_heat *heat = section->heat;
    drop_films(heat);
    T_degC = calloc(2 * heat->n, sizeof *T_degC);
    if (T_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
        goto done;
    }
    for (size_t i = 0; i < heat->n; i++) {
        T_degC[i] = i == heat->held ? 5.0 : -5.0;
    }
    status = uf_steady_solve(heat, &now, NULL, T_degC, err);
    if (status == UF_OK) {
        uf_heat_rate(heat, &now, T_degC, T_degC + heat->n, &flow);
        *heat_W = flow.held_W;
    }
done:
    free(T_degC);
    uf_section_free(section);
    return status;
}

/* Every cell of a column at degC, which the steady state is to keep. */
static void hold_column(const struct uf_grid *g, size_t i, double degC, double *T_degC, bool *fixed)
{
    for (size_t j = 0; j < g->nz; j++) {
        T_degC[uf_grid_at(g, i, j)] = degC;
        fixed[uf_grid_at(g, i, j)] = true;
    }
}

/* Two rings of ground beside the tank held apart by 10 K: between them the field is the
   logarithm of r, from grade to the bottom. Out of the outer one, W. */
static enum uf_status solve_ring(double *W, double *expected_W, struct uf_error *err)
{
    const struct uf_case design = design_of(1);
    const struct uf_heat_now now = {.h_W_m2K = 1e-12};
    struct uf_section *section = NULL;
    struct uf_heat_flow flow;
    double *T_degC = NULL;
    bool *fixed = NULL;
    enum uf_status status = uf_section_create(&section, &design, 4.0, err);
    if (status != UF_OK) {
        return status;
    }
    const struct uf_grid *g = section->grid;
    const size_t n = section->heat->n;
    size_t near = 0;
    while (g->x_m[near] < bodies[1].radius_m) {
        near++;
    }
    T_degC = calloc(2 * n, sizeof *T_degC);
    fixed = calloc(n, sizeof *fixed);
    if (T_degC == NULL || fixed == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
        goto done;
    }
    hold_column(g, near, 5.0, T_degC, fixed);
    hold_column(g, g->nx - 1, -5.0, T_degC, fixed);
    status = uf_steady_solve(section->heat, &now, fixed, T_degC, err);
    if (status == UF_OK) {
        uf_heat_rate(section->heat, &now, T_degC, T_degC + n, &flow);
        *W = 0.0;
        for (size_t j = 0; j < g->nz; j++) {
            *W += T_degC[n + uf_grid_at(g, g->nx - 1, j)];
        }
        *expected_W =
            2.0 * UF_PI * K_W_MK * DOMAIN_M * 10.0 / log(g->x_m[g->nx - 1] / g->x_m[near]);
    }
done:
    free(T_degC);
    free(fixed);
    uf_section_free(section);
    return status;
}

static enum uf_status add_ring(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_verify_check check = {
        .source = "heat through a hollow cylinder, 2 pi k H dT / ln(r2/r1), by hand",
        .why = "1e-6 of it: the faces take the logarithm itself",
        .unit = "W"};
    const enum uf_status status = solve_ring(&check.got, &check.expected, err);
    check.allowed = 1e-6 * check.expected;
    if (status == UF_OK) {
        uf_verify_add(verify, &check, "vertical.ring");
    }
    return status;
}

static enum uf_status run(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < sizeof bodies / sizeof bodies[0] && status == UF_OK; k++) {
        struct uf_verify_check check = {
            .source = "isothermal solid cylinder, Smythe 1962, J. Appl. Phys. 33, 2966 (from "
                      "memory, good to 0.2 %), and its image in the surface",
            .why = "2 %: cells of 5 to 20 cm against corners where the flux has no bound, "
                   "0.2 % of the formula, 0.2 % of the image, a domain of 60 m",
            .unit = "W"};
        status = solve(&check.got, k, err);
        check.expected =
            10.0 * K_W_MK *
            buried_m(smythe_m(bodies[k].radius_m, bodies[k].half_length_m), bodies[k].depth_m);
        check.allowed = 0.02 * check.expected;
        if (status == UF_OK) {
            uf_verify_add(verify, &check, "vertical.%s", bodies[k].name);
        }
    }
    return status == UF_OK ? add_ring(verify, err) : status;
}

const struct uf_verify_topic uf_verify_vertical = {
    .name = "vertical", .doc = "buried vertical cylinder in (r, z)", .run = run};
