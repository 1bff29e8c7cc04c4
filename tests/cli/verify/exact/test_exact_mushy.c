#include "cli/verify/exact/exact.h"

#include <criterion/criterion.h>

#include <math.h>

#define DAY 86400.0

static void printed(double got, double expected, double half_digit)
{
    cr_expect(fabs(got - expected) <= 1.01 * half_digit, "%.10g, printed %.10g", got, expected);
}

/* Computed apart from this code. Lunardini's published pairs (0.136, 2.062) and
   (0.0617, 1.395), from memory, lie within 1 % and 0.2 %. */
Test(exact_mushy, roots_lines_and_temperatures)
{
    const struct {
        double psi, gamma, day1[2], day30[2], degC[4];
    } rows[] = {
        {0.13738705,
         2.06003856,
         {0.180928, 0.249712},
         {0.990984, 1.367727},
         {-3.224408, 0.001501, 1.217755, 2.937856}},
        {0.06172734,
         1.39731627,
         {0.081290, 0.333797},
         {0.445244, 1.828284},
         {-3.474423, -0.623329, 0.883070, 2.810088}},
        {0.21363875,
         3.28057444,
         {0.144066, 0.156841},
         {0.789079, 0.859056},
         {-3.354058, 1.672686, 4.250908, 4.994367}},
        {0.18350612,
         1.83045016,
         {0.123746, 0.172977},
         {0.677784, 0.947436},
         {-3.510097, 1.448842, 4.200513, 4.993988}},
    };
    const double depth[] = {0.1, 0.25, 0.5, 1.0};
    for (size_t i = 0; i < 4; i++) {
        const struct uf_exact_three_zone *ground = &uf_exact_three_zones[i];
        const struct uf_exact_three_zone_roots roots = uf_exact_three_zone_solve(ground);
        double lines[2];
        printed(roots.psi, rows[i].psi, 5e-9);
        printed(roots.gamma, rows[i].gamma, 5e-9);
        uf_exact_three_zone_fronts_m(lines, ground, &roots, DAY);
        printed(lines[0], rows[i].day1[0], 5e-7);
        printed(lines[1], rows[i].day1[1], 5e-7);
        uf_exact_three_zone_fronts_m(lines, ground, &roots, 30 * DAY);
        printed(lines[0], rows[i].day30[0], 5e-7);
        printed(lines[1], rows[i].day30[1], 5e-7);
        for (size_t j = 0; j < 4; j++) {
            printed(uf_exact_three_zone_degC(ground, &roots, depth[j], DAY), rows[i].degC[j], 5e-7);
        }
    }
    cr_expect_null(uf_exact_three_zones[4].name);
}

Test(exact_mushy, published_roots_are_near)
{
    struct uf_exact_three_zone_roots roots = uf_exact_three_zone_solve(&uf_exact_three_zones[0]);
    cr_expect(fabs(roots.psi / 0.136 - 1.0) < 0.011 && fabs(roots.gamma / 2.062 - 1.0) < 0.002);
    roots = uf_exact_three_zone_solve(&uf_exact_three_zones[1]);
    cr_expect(fabs(roots.psi / 0.0617 - 1.0) < 0.011 && fabs(roots.gamma / 1.395 - 1.0) < 0.002);
}

/* As the range narrows the three zones become Neumann's two. */
Test(exact_mushy, narrow_range_tends_to_the_sharp_front)
{
    struct uf_exact_three_zone silt = uf_exact_three_zones[2];
    const double sharp_m = uf_exact_neumann_front_m(&uf_exact_grounds[0], 30 * DAY);
    double last = 1.0;
    for (double range = 0.4; range > 0.04; range *= 0.5) {
        double lines[2];
        silt.mushy_degC = -range;
        const struct uf_exact_three_zone_roots roots = uf_exact_three_zone_solve(&silt);
        uf_exact_three_zone_fronts_m(lines, &silt, &roots, 30 * DAY);
        const double off = fabs(lines[0] / sharp_m - 1.0);
        cr_expect(off < 0.7 * last, "range %g: %g after %g", range, off, last);
        last = off;
    }
    cr_expect(last < 0.01, "%g", last);
}

Test(exact_mushy, a_range_out_of_order_gives_no_number)
{
    struct uf_exact_three_zone silt = uf_exact_three_zones[2];
    silt.mushy_degC = -11.0; /* colder than the surface */
    cr_expect(isnan(uf_exact_three_zone_solve(&silt).psi));
}
