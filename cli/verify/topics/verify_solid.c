#include "cli/verify/exact/steady.h"
#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/heat/section.h"

#include <math.h>
#include <stdlib.h>

/* Three dimensions, steady: the section as slices along the axis of a long tank, of a sphere and a
   cube, and a slab on the ground. */

static const double K_W_MK =
    0.01; /* so small that wall films do not count; steady flow goes with it */

static struct uf_case uniform(double k_W_mK, double width_m, double depth_m, double finest_m)
{
    struct uf_case d = uf_verify_plain(uf_verify_plain_soil(k_W_mK, 2e6), depth_m, finest_m);
    d.grid.width_m = width_m;
    return d;
}

/* Edges from 0 to end_m that grow both ways from size_m at at_m, and with a line so far past
   it. */
struct about {
    double at_m, past_m, end_m, size_m, growth;
};
static enum uf_status edges_about(double **edges_m, size_t *n, const struct about *a,
                                  struct uf_error *err)
{
    double *in_m = NULL;
    double *out_m = NULL;
    size_t n_in = 0;
    size_t n_out = 0;
    const struct uf_grid_zone zone = {a->past_m + a->size_m, a->size_m};
    struct uf_grid_axis axis = {.end_m = a->at_m,
                                .zones = &zone,
                                .n_zones = 1,
                                .hard = &a->past_m,
                                .growth = a->growth,
                                .largest_m = 1e6};
    enum uf_status status = a->at_m > 0.0 ? uf_grid_edges(&in_m, &n_in, &axis, err) : UF_OK;
    axis.end_m = a->end_m - a->at_m;
    axis.n_hard = 1;
    status = status == UF_OK ? uf_grid_edges(&out_m, &n_out, &axis, err) : status;
    *edges_m = status == UF_OK ? calloc(n_in + n_out + 1, sizeof **edges_m) : NULL;
    *n = n_in + n_out;
    if (status == UF_OK && *edges_m == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
    }
    for (size_t k = 0; status == UF_OK && k <= *n; k++) {
        (*edges_m)[k] = k < n_in ? a->at_m - in_m[n_in - k] : a->at_m + out_m[k - n_in];
    }
    free(in_m);
    free(out_m);
    return status;
}

/* The design on its own grid, repeated as slices between the edges, which are taken over;
   NULL: plane. */
static enum uf_status section_of(struct uf_section **out, const struct uf_case *design,
                                 double *y_edge_m, size_t ny, struct uf_error *err)
{
    struct uf_grid *grid = NULL;
    struct uf_case plane = *design;
    *out = NULL;
    plane.tank.ends = UF_ENDS_PLANE;
    enum uf_status status = uf_grid_for_case(&grid, &plane, 4.0, err);
    if (status != UF_OK) {
        free(y_edge_m);
        return status;
    }
    if (y_edge_m != NULL) {
        status = uf_grid_slice(grid, y_edge_m, ny, err);
    }
    return status == UF_OK ? uf_section_create_on(out, design, grid, err) : status;
}

/* Steady heat out of a tank kept 1 K over the surface, W of the section; it goes up. */
static enum uf_status tank_W(double *W, const struct uf_case *design, double *y_edge_m, size_t ny,
                             struct uf_error *err)
{
    const struct uf_heat_now now = {.h_W_m2K = INFINITY};
    struct uf_section *section = NULL;
    struct uf_heat_flow flow;
    enum uf_status status = section_of(&section, design, y_edge_m, ny, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_heat *heat = section->heat;
    double *T_degC = calloc(2 * heat->n, sizeof *T_degC);
    if (T_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
    } else {
        T_degC[heat->water] = 1.0;
        heat->held = heat->water;
        status = uf_steady_solve(heat, &now, NULL, T_degC, err);
    }
    if (status == UF_OK) {
        uf_heat_rate(heat, &now, T_degC, T_degC + heat->n, &flow);
        *W = flow.held_W;
    }
    free(T_degC);
    uf_section_free(section);
    return status;
}

static struct uf_case drum(double diameter_m, double length_m, double centre_m)
{
    struct uf_case d = uniform(K_W_MK, 30.0 * diameter_m, 30.0 * diameter_m, diameter_m / 40.0);
    d.tank.shape = UF_HORIZONTAL_CYLINDER;
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    d.tank.diameter_m = d.tank.level_m = diameter_m;
    d.tank.length_m = length_m;
    d.tank.water = UF_WATER_MIXED;
    d.burial.cover_m = centre_m - 0.5 * diameter_m;
    return d;
}

/* 4 km long: its two ends are as much as 2 m more of it, 0.05 %. */
static enum uf_status add_long(struct uf_verify *verify, struct uf_error *err)
{
    const struct uf_case d = drum(2.0, 4000.0, 2.0);
    const struct about about = {2000.0, 0.0, 2040.0, 0.2, 2.0};
    double plane_W = NAN;
    double solid_W = NAN;
    double *y_edge_m = NULL;
    size_t ny = 0;
    enum uf_status status = tank_W(&plane_W, &d, NULL, 0, err);
    status = status == UF_OK ? edges_about(&y_edge_m, &ny, &about, err) : status;
    status = status == UF_OK ? tank_W(&solid_W, &d, y_edge_m, ny, err) : status;
    if (status == UF_OK) {
        const struct uf_verify_check check = {.source = "the plane section of the same tank",
                                              .why = "0.5 %: ends and all",
                                              .unit = "1",
                                              .got = solid_W / 2000.0 / plane_W,
                                              .expected = 1.0,
                                              .allowed = 0.005};
        uf_verify_add(verify, &check, "solid.long_tank");
    }
    return status;
}

/* A body 2 m wide and long under a surface, alone: by the image of its charge, S = 4 pi C / (1 - C / (2 z))
   with C the capacity of the body in free space, a sphere's its radius. */
struct alone {
    const char *name, *source;
    double capacity_m, centre_m;
    bool cube; /* else a sphere: two heads and nothing between them */
};

#define SPHERE_SOURCE "shape factor of a buried sphere, S = 2 pi D / (1 - D / (4 z)), handbooks"
#define CUBE_SOURCE                                                                                 \
    "a cube's capacity is 0.6606782 of its edge (Hwang & Mascagni 2004, J. Appl. Phys. 95: 3798), " \
    "with its image"

static const struct alone ALONE[] = {{"sphere.z2", SPHERE_SOURCE, 1.0, 2.0, false},
                                     {"sphere.z4", SPHERE_SOURCE, 1.0, 4.0, false},
                                     {"cube.z4", CUBE_SOURCE, 2.0 * 0.6606782, 4.0, true}};

static struct uf_case alone_design(const struct alone *alone)
{
    struct uf_case d = drum(2.0, 0.0, alone->centre_m);
    d.tank.heads = UF_HEMISPHERICAL;
    if (alone->cube) {
        d.tank.shape = UF_BOX;
        d.tank.width_m = d.tank.height_m = d.tank.length_m = 2.0;
    }
    return d;
}

static enum uf_status add_alone(struct uf_verify *verify, const struct alone *alone,
                                struct uf_error *err)
{
    const struct about about = {1.0, 0.0, 60.0, 0.1, 1.5};
    const struct uf_case d = alone_design(alone);
    double *y_edge_m = NULL;
    size_t ny = 0;
    double W = NAN;
    enum uf_status status = edges_about(&y_edge_m, &ny, &about, err);
    status = status == UF_OK ? tank_W(&W, &d, y_edge_m, ny, err) : status;
    if (status == UF_OK) {
        const double shape_m =
            4.0 * UF_PI * alone->capacity_m / (1.0 - alone->capacity_m / (2.0 * alone->centre_m));
        const struct uf_verify_check check = {
            .source = alone->source,
            .why = "3 %: columns of a twelfth of the diameter, slices of a twentieth and more",
            .unit = "m",
            .got = 4.0 * W / K_W_MK,
            .expected = shape_m,
            .allowed = 0.03 * shape_m};
        uf_verify_add(verify, &check, "solid.%s", alone->name);
    }
    return status;
}

#define SLAB_SOURCE                                                                                \
    "Neymark & Judkoff 2008, NREL/TP-550-43388, IEA BESTEST ground coupling: 12 x 12 m floor at "  \
    "30 degC, 0.24 m of wall, outside and deep ground at 10 degC"

/* The slab on the ground: a film of NAN is none; linear: the surface under the wall goes
   straight from inside to outside, else it lets no heat through. */
struct slab {
    const char *name, *why;
    double deep_m, far_m, film_in_W_m2K, film_out_W_m2K;
    bool linear;
    double expected_W, allowed_W;
};

static const struct slab SLABS[] = {
    {"gc10a", "1 %: cells of 6 cm at the wall, the domain ends at 400 m", 400.0, 400.0, NAN, NAN,
     true, 2432.597, 24.3},
    {"gc30a", "spread of three programs, 2585 to 2695 W, and 1 %", 30.0, 20.0, NAN, NAN, false,
     2640.0, 55.0 + 26.4},
    {"gc30b", "spread of three programs, 2504 to 2570 W, and 1 %", 15.0, 15.0, 100.0, 100.0, false,
     2537.0, 33.0 + 25.4},
    {"gc30c", "spread of three programs, 2123 to 2154 W, and 1 %", 15.0, 8.0, 7.95, NAN, false,
     2138.5, 15.5 + 21.4},
    {"gc60b", "spread of three programs, 2104 to 2128 W, and 1 %", 15.0, 15.0, 7.95, 100.0, false,
     2116.0, 12.0 + 21.2},
    {"gc65b", "spread of three programs, 1991 to 2004 W, and 1 %", 15.0, 15.0, 7.95, 11.95, false,
     1997.5, 6.5 + 20.0},
};

static const double FLOOR_M = 6.0;
static const double WALL_M = 0.24;

static enum uf_status slab_grid(struct uf_grid **out, const struct slab *slab, struct uf_error *err)
{
    const double end_m = FLOOR_M + WALL_M + slab->far_m;
    const struct about side = {FLOOR_M, WALL_M, end_m, 0.06, 1.4};
    const struct about down = {0.0, 0.0, slab->deep_m, 0.002, 1.2};
    double *edges_m[3] = {NULL};
    size_t n[3] = {0};
    *out = NULL;
    enum uf_status status = edges_about(&edges_m[0], &n[0], &side, err);
    status = status == UF_OK ? edges_about(&edges_m[1], &n[1], &down, err) : status;
    status = status == UF_OK ? edges_about(&edges_m[2], &n[2], &side, err) : status;
    if (status != UF_OK) {
        free(edges_m[0]);
        free(edges_m[1]);
        free(edges_m[2]);
        return status;
    }
    status = uf_grid_create(out, edges_m[0], n[0], edges_m[1], n[1], false, err);
    if (status != UF_OK) {
        free(edges_m[2]);
        return status;
    }
    return uf_grid_slice(*out, edges_m[2], n[2], err);
}

/* Hangs the first or last row of one column on a bath through half a cell and a film. */
static void hang(struct uf_heat *heat, size_t i, size_t j, size_t k, size_t bath, double film_W_m2K)
{
    const struct uf_grid *g = heat->grid;
    heat->links[heat->n_links++] = (struct uf_heat_link){
        .a = uf_grid_in(g, i, j, k),
        .b = bath,
        .area_m2 = (g->x_edge_m[i + 1] - g->x_edge_m[i]) * (g->y_edge_m[k + 1] - g->y_edge_m[k]),
        .fixed_m2K_W = isnan(film_W_m2K) ? 0.0 : 1.0 / film_W_m2K,
        .length_a_m = 0.5 * (g->z_edge_m[j + 1] - g->z_edge_m[j])};
}

/* Baths at the end of the nodes: inside, outside; the ground under the wall at its own. */
static void slab_surfaces(struct uf_heat *heat, const struct slab *slab, double *T_degC,
                          bool *fixed)
{
    const struct uf_grid *g = heat->grid;
    const size_t inside = heat->n;
    const size_t outside = inside + 1;
    heat->n += 2;
    heat->volume_m3[inside] = heat->volume_m3[outside] = 1.0;
    fixed[inside] = fixed[outside] = true;
    T_degC[inside] = 30.0;
    for (size_t c = 0; c <= outside; c++) {
        T_degC[c] = c == inside ? 30.0 : 10.0;
    }
    for (size_t k = 0; k < g->ny; k++) {
        for (size_t i = 0; i < g->nx; i++) {
            const double past_m = fmax(g->x_m[i], g->y_m[k]) - FLOOR_M;
            const size_t top = uf_grid_in(g, i, 0, k);
            hang(heat, i, g->nz - 1, k, outside, NAN);
            if (past_m < 0.0) {
                hang(heat, i, 0, k, inside, slab->film_in_W_m2K);
            } else if (past_m > WALL_M) {
                hang(heat, i, 0, k, outside, slab->film_out_W_m2K);
            } else if (slab->linear) {
                fixed[top] = true;
                T_degC[top] = 30.0 - 20.0 * past_m / WALL_M;
            }
        }
    }
}

static enum uf_status slab_W(double *W, const struct slab *slab, struct uf_error *err)
{
    const struct uf_case design = uniform(1.9, slab->far_m, slab->deep_m, 0.1);
    const struct uf_heat_now closed = {.h_W_m2K = 1e-12};
    struct uf_section *section = NULL;
    struct uf_grid *grid = NULL;
    double *T_degC = NULL;
    bool *fixed = NULL;
    enum uf_status status = slab_grid(&grid, slab, err);
    if (status != UF_OK) {
        uf_grid_free(grid);
        return status;
    }
    status = uf_section_create_on(&section, &design, grid, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_heat *heat = section->heat;
    const size_t inside = heat->n;
    T_degC = calloc(heat->n + 2, sizeof *T_degC);
    fixed = calloc(heat->n + 2, sizeof *fixed);
    if (T_degC == NULL || fixed == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
    } else {
        slab_surfaces(heat, slab, T_degC, fixed);
        status = uf_steady_solve(heat, &closed, fixed, T_degC, err);
    }
    *W = 0.0;
    for (size_t l = 0; l < heat->n_links && status == UF_OK; l++) {
        *W -=
            heat->links[l].b == inside ? 4.0 * uf_heat_link_W(heat, &heat->links[l], T_degC) : 0.0;
    }
    free(T_degC);
    free(fixed);
    uf_section_free(section);
    return status;
}

static enum uf_status add_slab(struct uf_verify *verify, const struct slab *slab,
                               struct uf_error *err)
{
    double W = NAN;
    const enum uf_status status = slab_W(&W, slab, err);
    if (status == UF_OK) {
        const struct uf_verify_check check = {.source = SLAB_SOURCE,
                                              .why = slab->why,
                                              .unit = "W",
                                              .got = W,
                                              .expected = slab->expected_W,
                                              .allowed = slab->allowed_W};
        uf_verify_add(verify, &check, "solid.%s", slab->name);
    }
    return status;
}

static enum uf_status run(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = add_long(verify, err);
    for (size_t k = 0; k < sizeof ALONE / sizeof *ALONE && status == UF_OK; k++) {
        status = add_alone(verify, &ALONE[k], err);
    }
    for (size_t k = 0; k < sizeof SLABS / sizeof *SLABS && status == UF_OK; k++) {
        status = add_slab(verify, &SLABS[k], err);
    }
    return status;
}

const struct uf_verify_topic uf_verify_solid = {
    .name = "solid",
    .doc = "three dimensions: long tank, sphere, cube, slab on ground",
    .run = run,
    .slow = true};
