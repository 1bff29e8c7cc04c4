#include "solver/base/constants.h"
#include "solver/heat/spectrum.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* What is a millimetre wide must not set the grid or the time step. */

static struct uf_section *make(const struct uf_case *design)
{
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    return s;
}

static double fastest_1_s(const struct uf_section *s)
{
    return uf_spectrum_fastest_1_s(s->heat, 15.0);
}

static double sum_m3(const struct uf_section *s)
{
    double sum = 0.0;
    for (size_t c = 0; c < s->heat->n; c++) {
        sum += s->heat->volume_m3[c];
    }
    return sum;
}

/* A design with a length of ordinary size and with one of a millimetre: stages go with the
   root of the fastest rate, cost with their product with the cells. */
static void expect_no_dearer(const struct uf_case *usual, const struct uf_case *thin)
{
    struct uf_section *a = make(usual);
    struct uf_section *b = make(thin);
    const double cost =
        sqrt(fastest_1_s(b) / fastest_1_s(a)) * (double)b->heat->n_cells / (double)a->heat->n_cells;
    cr_expect(cost < 3.0, "%g times the cost, %zu for %zu cells", cost, b->heat->n_cells,
              a->heat->n_cells);
    for (size_t c = 0; c < b->heat->n; c++) {
        cr_assert(b->heat->volume_m3[c] >= 0.0, "cell %zu has lent too much", c);
    }
    uf_section_free(a);
    uf_section_free(b);
}

Test(section_thin, a_board_that_ends_a_millimetre_past_the_tank)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    for (size_t k = 0; k < 3; k++) {
        struct uf_case usual = designs_tank(shapes[k], 1.0);
        usual.board.skirt_m = 0.0;
        struct uf_case thin = usual;
        thin.board.beyond_tank_m = 0.001;
        expect_no_dearer(&usual, &thin);
    }
}

Test(section_thin, a_board_a_millimetre_over_the_crown_or_under_grade)
{
    struct uf_case usual = designs_tank(UF_BOX, 1.0);
    struct uf_case thin = usual;
    thin.board.above_crown_m = 0.001;
    expect_no_dearer(&usual, &thin);
    thin.board.above_crown_m = thin.burial.cover_m - thin.board.thickness_m - 0.001;
    expect_no_dearer(&usual, &thin);
}

Test(section_thin, a_board_and_a_skirt_of_five_millimetres)
{
    struct uf_case usual = designs_tank(UF_VERTICAL_CYLINDER, 1.0);
    struct uf_case thin = usual;
    thin.board.thickness_m = 0.005;
    expect_no_dearer(&usual, &thin);
    thin = usual;
    thin.board.skirt_m = 0.001;
    expect_no_dearer(&usual, &thin);
}

Test(section_thin, a_layer_of_a_millimetre)
{
    struct uf_case usual = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0);
    usual.ground.n_layers = 3;
    usual.ground.layers[2] = usual.ground.layers[1] = usual.ground.layers[0];
    usual.ground.layers[1].spec.thermal.k_thawed_W_mK *= 1.5;
    usual.ground.layers[0].to_m = 0.5;
    usual.ground.layers[1].to_m = 0.9;
    struct uf_case thin = usual;
    thin.ground.layers[1].to_m = 0.501;
    expect_no_dearer(&usual, &thin);
}

Test(section_thin, the_end_of_the_tank_in_three_dimensions)
{
    struct uf_case usual = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0);
    usual.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    usual.grid.finest_m = 0.3;
    usual.board.skirt_m = 0.0;
    struct uf_case thin = usual;
    thin.board.beyond_tank_m = 0.001;
    expect_no_dearer(&usual, &thin);
}

/* What one cell borrows another lends: the domain keeps its volume. */
Test(section_thin, volume_is_moved_not_made)
{
    struct uf_case d = designs_tank(UF_BOX, 1.0);
    d.board.skirt_m = 0.0;
    struct uf_section *usual = make(&d);
    d.board.beyond_tank_m = 0.001;
    d.board.above_crown_m = 0.001;
    struct uf_section *thin = make(&d);
    cr_expect(fabs(sum_m3(usual) - sum_m3(thin)) < 1e-9 * sum_m3(usual), "%.12g and %.12g",
              sum_m3(usual), sum_m3(thin));
    double narrowest_m3 = INFINITY;
    for (size_t c = 0; c < thin->heat->n_cells; c++) {
        const double v = thin->heat->volume_m3[c];
        narrowest_m3 = v > 0.0 ? fmin(narrowest_m3, v) : narrowest_m3;
    }
    cr_expect(narrowest_m3 > 1e-4, "a cell of %g m3 borrowed nothing", narrowest_m3);
    uf_section_free(usual);
    uf_section_free(thin);
}

/* Foam weighs next to nothing: as a thin row of a coarse grid it cost six times the same board as
   thick as half a row. */
Test(section_thin, a_board_that_is_thin_for_a_coarse_grid)
{
    struct uf_case usual = designs_tank(UF_BOX, 1.0);
    usual.grid.finest_m = 0.3;
    usual.board.skirt_m = 0.0;
    usual.board.thickness_m = 0.15;
    struct uf_case thin = usual;
    thin.board.thickness_m = 0.025;
    expect_no_dearer(&usual, &thin);
}

/* What it stores so as not to do that: 42 kJ/m3K of foam, and less than 10 mm of ground; nothing more
   in a board of half a row. */
Test(section_thin, a_thin_board_stores_no_more_than_a_little_ground)
{
    struct uf_case d = designs_tank(UF_BOX, 1.0);
    d.grid.finest_m = 0.3;
    d.board.skirt_m = 0.0;
    for (double thick_m = 0.02; thick_m < 0.31; thick_m += 0.01) {
        d.board.thickness_m = thick_m;
        struct uf_section *s = make(&d);
        const struct uf_material *foam = NULL;
        for (size_t m = 0; m < s->heat->n_materials; m++) {
            foam = strcmp(s->heat->materials[m].name, "board") == 0 ? &s->heat->materials[m] : foam;
        }
        cr_assert_not_null(foam);
        const double more_J_m2K = (foam->c_thawed_J_m3K - 42e3) * thick_m;
        cr_expect(more_J_m2K >= -1e-6 && more_J_m2K < 20e3, "%g m: %g", thick_m, more_J_m2K);
        cr_expect(thick_m < 0.15 - 1e-9 || fabs(more_J_m2K) < 1e-6, "%g m: %g", thick_m,
                  more_J_m2K);
        uf_section_free(s);
    }
}

Test(section_thin, a_few_millimetres_of_air_over_the_water)
{
    struct uf_case usual = designs_tank(UF_BOX, 1.0);
    usual.grid.finest_m = 0.3;
    struct uf_case thin = usual;
    thin.tank.level_m = uf_case_tank_height_m(&usual) - 0.004;
    thin.tank.wall_thickness_m = usual.tank.wall_thickness_m = NAN;
    usual.tank.level_m = 0.5 * uf_case_tank_height_m(&usual);
    expect_no_dearer(&usual, &thin);
}

/* A sliver beside a wall stores heat as its neighbour does and conducts as itself. The face between two
   cells of one conductivity law is swept by that law; a link takes any other. Were a sliver swept, heat
   would come from nothing: a board of 170 mm over a box on a grid of 0.3 m once made 216 degC. */
Test(section_thin, what_is_swept_conducts_alike_on_both_sides)
{
    size_t slivers = 0;
    for (double thickness_m = 0.05; thickness_m < 0.31; thickness_m += 0.01) {
        struct uf_case d = designs_tank(UF_BOX, 0.4);
        d.grid.finest_m = 0.3;
        d.tank.width_m = d.tank.height_m = 2.094;
        d.burial.cover_m = 1.17;
        d.board.thickness_m = thickness_m;
        d.board.beyond_tank_m = 0.1635;
        d.board.above_crown_m = 0.12;
        d.board.skirt_m = 0.6;
        struct uf_section *s = make(&d);
        const struct uf_heat *h = s->heat;
        const size_t step[] = {1, h->grid->nx};
        const double *const g[] = {h->gx_m, h->gz_m};
        for (size_t c = 0; c < h->n_cells; c++) {
            slivers += h->volume_m3[c] > 0.0 && h->material[c] != h->conducts[c];
            for (int axis = 0; axis < 2; axis++) {
                cr_expect(!(g[axis][c] > 0.0) || h->conducts[c] == h->conducts[c + step[axis]],
                          "%g m: cells %zu and %zu", thickness_m, c, c + step[axis]);
            }
        }
        uf_section_free(s);
    }
    cr_expect_gt(slivers, 0);
}
