#include "solver/base/constants.h"
#include "solver/heat/heat.h"
#include "solver/heat/shaft.h"
#include "solver/heat/shaft_flow.h"

#include <criterion/criterion.h>

#include <math.h>

static const struct uf_shaft_side bare = {.diameter_m = 0.75,
                                          .buried_m = 1.2,
                                          .film_m2K_W = 0.13,
                                          .shell = {.sleeve_length_m = INFINITY}};

static struct uf_shaft_side sleeved(double thickness_m, double length_m)
{
    struct uf_shaft_side side = bare;
    side.shell.sleeve_m = thickness_m;
    side.shell.sleeve_W_mK = 0.032;
    side.shell.sleeve_length_m = length_m;
    return side;
}

/* Deep below grade and far from the ends the potential of a line source and its image: ln(2 z / r)
   less what the ends take; at grade nothing is between the shaft and the surface. */
Test(shaft, the_ground_reaches_to_its_image)
{
    cr_expect_float_eq(uf_shaft_reach(0.0, 2.0, 0.1), 0.0, 1e-12);
    cr_expect_float_eq(uf_shaft_reach(5.0, 1e6, 0.01), log(2.0 * 5.0 / 0.01), 1e-4);
    cr_expect(uf_shaft_reach(1.0, 2.0, 0.05) < uf_shaft_reach(1.0, 4.0, 0.05));
    for (double z_m = 0.1; z_m < 1.0; z_m += 0.1) {
        cr_expect(uf_shaft_reach(z_m, 2.0, 0.3) > uf_shaft_reach(z_m - 0.1, 2.0, 0.3), "%g", z_m);
    }
}

/* Rings in series, each ln(outer / inner) / (2 pi k). */
Test(shaft, films_and_rings_in_series)
{
    struct uf_shaft_side side = sleeved(0.1, INFINITY);
    side.shell.wall_m = 0.01;
    side.shell.wall_W_mK = 0.25;
    const double expected = (0.13 / 0.365 + log(0.375 / 0.365) / 0.25 + log(0.475 / 0.375) / 0.032 +
                             uf_shaft_reach(0.6, 1.2, 0.475) / 2.0) /
                            (2.0 * UF_PI);
    cr_expect_float_eq(uf_shaft_mK_W(&side, 0.6, 2.0), expected, 1e-12);
}

Test(shaft, a_sleeve_of_no_thickness_is_bare_and_a_thick_one_lets_nothing_through)
{
    const struct uf_shaft_side none = sleeved(0.0, INFINITY), thick = sleeved(1e9, INFINITY);
    cr_expect_float_eq(uf_shaft_mK_W(&none, 0.6, 2.0), uf_shaft_mK_W(&bare, 0.6, 2.0), 0.0);
    cr_expect(uf_shaft_mK_W(&thick, 0.6, 2.0) > 300.0 * uf_shaft_mK_W(&bare, 0.6, 2.0));
    for (double m = 0.05; m < 0.4; m += 0.05) {
        const struct uf_shaft_side thin = sleeved(m - 0.05, INFINITY), more = sleeved(m, INFINITY);
        cr_expect(uf_shaft_mK_W(&more, 0.6, 2.0) > uf_shaft_mK_W(&thin, 0.6, 2.0), "%g", m);
    }
}

Test(shaft, a_sleeve_ends_at_its_length)
{
    const struct uf_shaft_side half = sleeved(0.1, 0.5), whole = sleeved(0.1, INFINITY);
    cr_expect_float_eq(uf_shaft_mK_W(&half, 0.4, 2.0), uf_shaft_mK_W(&whole, 0.4, 2.0), 0.0);
    cr_expect_float_eq(uf_shaft_mK_W(&half, 0.6, 2.0), uf_shaft_mK_W(&bare, 0.6, 2.0), 0.0);
}

/* Water in a shaft: still below 3.98 degC and towards warmer ground, stirred above by a kelvin's ramp
   to colder ground; the slope is the difference quotient. */
Test(shaft, water_in_a_shaft_stirs_above_its_densest)
{
    const struct uf_heat_shaft shaft = {
        .node = 0, .cell = 1, .W_K = 5.0, .still_W_K = 0.2, .water = true};
    const struct {
        double node_degC, cell_degC, W_K;
    } rows[] = {
        {3.5, 0.0, 0.2}, {3.5, 6.0, 0.2}, {6.0, 8.0, 0.2}, {4.483035, 1.0, 2.6}, {6.0, 1.0, 5.0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double T[2] = {rows[i].node_degC, rows[i].cell_degC};
        cr_expect_float_eq(uf_heat_shaft_W_K(&shaft, T), rows[i].W_K, 1e-9, "row %zu", i);
        const double slope = uf_heat_shaft_slope_W_K(&shaft, T);
        T[0] += 1e-6;
        const double above_W = uf_heat_shaft_W(&shaft, T);
        T[0] -= 2e-6;
        cr_expect_float_eq(slope, (above_W - uf_heat_shaft_W(&shaft, T)) / 2e-6, 1e-4, "row %zu",
                           i);
    }
}
