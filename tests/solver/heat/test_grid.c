#include "solver/heat/grid.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

static const struct uf_grid_zone zones[] = {{1.0, 0.1}, {2.0, 0.2}};
static const double hard[] = {0.737, 1.55, 0.755}; /* any order, close together */
static const double soft[] = {0.75, 3.3};

static struct uf_grid_axis axis_of(double end_m)
{
    return (struct uf_grid_axis){.start_m = 0.0,
                                 .end_m = end_m,
                                 .zones = zones,
                                 .n_zones = 2,
                                 .hard = hard,
                                 .n_hard = 3,
                                 .soft = soft,
                                 .n_soft = 2,
                                 .growth = 1.5,
                                 .largest_m = 3.0};
}

static bool has_line(const double *edges, size_t n, double at_m)
{
    for (size_t i = 0; i <= n; i++) {
        if (fabs(edges[i] - at_m) < 1e-12) {
            return true;
        }
    }
    return false;
}

Test(grid, lines_stand_where_they_must)
{
    const struct uf_grid_axis axis = axis_of(20.0);
    double *edges = NULL;
    size_t n = 0;
    cr_assert(uf_grid_edges(&edges, &n, &axis, NULL) == UF_OK);
    cr_expect(edges[0] == 0.0 && edges[n] == 20.0);
    for (size_t k = 0; k < 3; k++) {
        cr_expect(has_line(edges, n, hard[k]), "no line at %g", hard[k]);
    }
    cr_expect(!has_line(edges, n, 0.75), "a soft line squeezed in beside a hard one");
    cr_expect(has_line(edges, n, 3.3), "no line at the soft 3.3");
    for (size_t i = 0; i < n; i++) {
        const double size_m = edges[i + 1] - edges[i];
        cr_expect(size_m > 0.0, "line %zu does not come after the one before", i + 1);
        cr_expect(edges[i] >= 1.0 - 1e-9 || size_m < 0.15 + 1e-9, "%g at %g", size_m, edges[i]);
        cr_expect(size_m <= 3.0 * 1.5 + 1e-9);
    }
    free(edges);
}

Test(grid, cells_grow_no_faster_than_asked)
{
    struct uf_grid_axis axis = axis_of(40.0);
    axis.n_hard = axis.n_soft = 0;
    double *edges = NULL;
    size_t n = 0;
    cr_assert(uf_grid_edges(&edges, &n, &axis, NULL) == UF_OK);
    for (size_t i = 1; i < n; i++) {
        const double ratio = (edges[i + 1] - edges[i]) / (edges[i] - edges[i - 1]);
        cr_expect(ratio < 1.5 + 1e-9, "%g at %g", ratio, edges[i]);
    }
    cr_expect(n < 50, "%zu cells to 40 m: no growth", n);
    free(edges);
}

Test(grid, too_fine_is_refused)
{
    const struct uf_grid_zone fine[] = {{15.0, 0.001}};
    struct uf_grid_axis axis = axis_of(15.0);
    struct uf_error err = {0};
    double *edges = NULL;
    size_t n = 0;
    axis.zones = fine;
    axis.n_zones = 1;
    cr_expect(uf_grid_edges(&edges, &n, &axis, &err) == UF_E_RANGE);
    cr_expect(edges == NULL, "nothing to free after a failure");
}

static struct uf_case tank_case(enum uf_shape shape)
{
    struct uf_case d;
    uf_case_init(&d);
    d.ground.n_layers = 2;
    d.ground.layers[1].spec.moisture_by_mass = 0.2;
    d.ground.layers[0].to_m = 0.43;
    d.ground.layers[1].to_m = 15.0;
    d.ground.water_winter_m = 2.03;
    d.tank.shape = shape;
    d.tank.diameter_m = 2.4;
    d.tank.length_m = 6.0;
    d.tank.width_m = 2.2;
    d.tank.height_m = 1.7;
    d.burial.cover_m = 1.23;
    d.burial.bedding_m = 0.3;
    d.burial.pit_clearance_m = 0.61;
    d.board.present = true;
    d.board.thickness_m = 0.076;
    d.board.above_crown_m = 0.152;
    d.board.beyond_tank_m = 1.21;
    d.board.skirt_m = 0.6;
    return d;
}

Test(grid, a_design_finds_its_lines)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    for (size_t k = 0; k < 3; k++) {
        const struct uf_case d = tank_case(shapes[k]);
        struct uf_grid *g = NULL;
        cr_assert(uf_grid_for_case(&g, &d, 1.8, NULL) == UF_OK);
        cr_expect(g->radial == (shapes[k] == UF_VERTICAL_CYLINDER));
        cr_expect(has_line(g->z_edge_m, g->nz, uf_case_board_top_m(&d)));
        cr_expect(has_line(g->z_edge_m, g->nz, uf_case_board_bottom_m(&d)));
        cr_expect(has_line(g->x_edge_m, g->nx, uf_case_board_half_width_m(&d)));
        cr_expect(has_line(g->z_edge_m, g->nz, 0.43), "layer");
        cr_expect(has_line(g->z_edge_m, g->nz, 2.03), "water table");
        if (shapes[k] != UF_HORIZONTAL_CYLINDER) {
            cr_expect(has_line(g->z_edge_m, g->nz, uf_case_crown_m(&d)));
            cr_expect(has_line(g->z_edge_m, g->nz, uf_case_invert_m(&d)));
            cr_expect(has_line(g->x_edge_m, g->nx, uf_case_half_width_m(&d)));
        }
        for (size_t j = 0; j < g->nz && g->z_edge_m[j] < 1.8; j++) {
            cr_expect(g->z_edge_m[j + 1] - g->z_edge_m[j] < 0.08, "coarse above frost");
        }
        cr_expect(g->z_edge_m[g->nz] == 15.0 && g->x_edge_m[g->nx] == 15.0);
        cr_expect(fabs(g->x_m[0] - 0.5 * g->x_edge_m[1]) < 1e-15);
        cr_expect(uf_grid_at(g, 2, 3) == 3 * g->nx + 2);
        uf_grid_free(g);
    }
}

/* Thinner than a row, at grade, between two others and deep down where rows are large. */
Test(grid, a_thin_layer_is_not_passed_over)
{
    static const double to_m[] = {0.02, 0.43, 0.45, 7.0, 7.3, 15.0};
    struct uf_case d = tank_case(UF_HORIZONTAL_CYLINDER);
    struct uf_grid *g = NULL;
    d.ground.n_layers = 6;
    for (size_t i = 0; i < 6; i++) {
        d.ground.layers[i].to_m = to_m[i];
        d.ground.layers[i].spec.moisture_by_mass = 0.1 + 0.01 * (double)i;
    }
    cr_assert(uf_grid_for_case(&g, &d, 1.8, NULL) == UF_OK);
    for (size_t i = 0; i < 6; i++) {
        cr_expect(has_line(g->z_edge_m, g->nz, to_m[i]), "%g m", to_m[i]);
    }
    uf_grid_free(g);
}

Test(grid, bare_ground_is_one_column)
{
    struct uf_case d = tank_case(UF_NO_TANK);
    struct uf_grid *g = NULL;
    d.surface.kind = UF_SURFACE_MEASURED;
    d.surface.measured_depth_m = 0.05;
    cr_assert(uf_grid_for_case(&g, &d, 1.8, NULL) == UF_OK);
    cr_expect(g->nx == 1 && g->x_edge_m[1] == 1.0);
    cr_expect(g->z_edge_m[0] == 0.05, "the ground begins at the sensor");
    uf_grid_free(g);
    uf_grid_free(NULL);
}

/* Under the board's edge heat flows round a corner, and the wetted wall ends where the water
   does. */
Test(grid, fine_columns_at_the_edge_and_a_row_at_the_water)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.68);
    struct uf_grid *g = NULL;
    d.grid.finest_m = 0.075;
    d.board.beyond_tank_m = 1.6;
    cr_assert(uf_grid_for_case(&g, &d, 1.2, NULL) == UF_OK);
    const double edge_m = uf_case_board_half_width_m(&d);
    cr_expect(has_line(g->x_edge_m, g->nx, edge_m));
    for (size_t i = 0; i < g->nx; i++) {
        const double size_m = g->x_edge_m[i + 1] - g->x_edge_m[i];
        cr_expect(g->x_m[i] > edge_m + 0.4 || size_m < 0.8 / 6.0 * 1.3, "%g m at %g m", size_m,
                  g->x_m[i]);
        cr_expect(fabs(g->x_m[i] - edge_m) > 0.15 || size_m < 0.11, "%g m at %g m", size_m,
                  g->x_m[i]);
    }
    cr_expect(has_line(g->z_edge_m, g->nz, uf_case_invert_m(&d) - 0.02 - 0.68));
    uf_grid_free(g);
}

static double whole_steps(unsigned *seed, double step_m, unsigned most)
{
    *seed = *seed * 1664525u + 1013904223u;
    return step_m * (double)((*seed >> 8) % (most + 1));
}

/* A design of round numbers, in which lines fall on lines and on the edges of zones; then
   each number as a conversion of units may leave it. */
static struct uf_case round_numbers(unsigned seed, double off)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    struct uf_case d = designs_tank(shapes[seed % 3], 0.9);
    const double step_m = seed % 2 ? 0.05 : 0.0254;
    unsigned noise = seed;
#define OFF(value) ((value) * (1.0 + off * designs_noise(&noise)))
    unsigned s = seed;
    d.tank.diameter_m = d.tank.width_m = OFF(1.2 + whole_steps(&s, step_m, 20));
    d.burial.cover_m = OFF(0.8 + whole_steps(&s, step_m, 20));
    d.burial.bedding_m = OFF(whole_steps(&s, step_m, 8));
    d.board.thickness_m = OFF(step_m + whole_steps(&s, step_m, 4));
    d.board.beyond_tank_m = OFF(whole_steps(&s, step_m, 24));
    d.board.skirt_m = OFF(whole_steps(&s, step_m, 10));
    d.ground.water_winter_m = OFF(0.5 + whole_steps(&s, step_m, 30));
    d.ground.n_layers = 3;
    d.ground.layers[1] = d.ground.layers[2] = d.ground.layers[0];
    d.ground.layers[1].spec.thermal.k_thawed_W_mK = 1.5;
    d.ground.layers[0].to_m = OFF(0.1 + whole_steps(&s, step_m, 20));
    d.ground.layers[1].to_m = d.ground.layers[0].to_m + OFF(whole_steps(&s, step_m, 20));
    d.ground.layers[2].to_m = 8.0;
    d.grid.finest_m = OFF(0.05 + whole_steps(&s, 0.025, 4));
#undef OFF
    return d;
}

Test(grid, rounding_changes_no_grid)
{
    for (unsigned seed = 1; seed <= 600; seed++) {
        const struct uf_case d = round_numbers(seed, 0.0);
        const struct uf_case rounded = round_numbers(seed, 1e-12);
        struct uf_grid *a = NULL;
        struct uf_grid *b = NULL;
        cr_assert(uf_grid_for_case(&a, &d, 1.5, NULL) == UF_OK);
        cr_assert(uf_grid_for_case(&b, &rounded, 1.5 + 1e-12, NULL) == UF_OK);
        cr_assert(a->nx == b->nx && a->nz == b->nz, "design %u: %zu x %zu, then %zu x %zu", seed,
                  a->nx, a->nz, b->nx, b->nz);
        for (size_t j = 0; j <= a->nz; j++) {
            cr_expect(fabs(a->z_edge_m[j] - b->z_edge_m[j]) < 1e-9, "design %u, row %zu", seed, j);
        }
        for (size_t i = 0; i <= a->nx; i++) {
            cr_expect(fabs(a->x_edge_m[i] - b->x_edge_m[i]) < 1e-9, "design %u, column %zu", seed,
                      i);
        }
        uf_grid_free(a);
        uf_grid_free(b);
    }
}
