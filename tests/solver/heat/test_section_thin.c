#include "solver/base/constants.h"
#include "solver/heat/spectrum.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>

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
