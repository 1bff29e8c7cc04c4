#include "cli/verify/exact/exact.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static void printed(double got, double expected, double half_digit)
{
    cr_expect(fabs(got - expected) <= 1.01 * half_digit, "%.12g, printed %.12g", got, expected);
}

/* 2D case of Delsante, Stokes & Walsh 1983, worked apart from this code. */
Test(exact_section, slab_on_ground)
{
    const struct uf_exact_slab first = {12, 0.24, 1.9, 30, 10}, second = {6, 0.3, 1.5, 10, 0},
                               third = {4, 0.25, 2.0, 15, 0};
    printed(uf_exact_slab_W_m(&first), 119.06977545, 5e-9);
    printed(uf_exact_slab_W_m(&second), 38.39128268, 5e-9);
    printed(uf_exact_slab_W_m(&third), 72.63590884, 5e-9);
    const double rows[][3] = {{0, 0.5, 28.961945}, {0, 1, 27.937515}, {0, 2, 25.977952},
                              {0, 5, 21.277610},   {3, 1, 27.329271}, {5, 0.5, 27.033303},
                              {6, 1, 20.232680},   {7, 1, 14.930033}, {9, 2, 13.028122}};
    for (size_t i = 0; i < 9; i++) {
        printed(uf_exact_slab_degC(&first, rows[i][0], rows[i][1]), rows[i][2], 5e-7);
        printed(uf_exact_slab_degC(&first, -rows[i][0], rows[i][1]), rows[i][2], 5e-7);
    }
    printed(uf_exact_slab_degC(&first, 6.12, 1e-9), 20.0, 1e-6);
}

Test(exact_section, iso_10211_case_1)
{
    const double rows[7][4] = {
        {9.658188, 13.379055, 14.728918, 15.085380}, {5.251738, 8.640567, 10.315548, 10.810584},
        {3.188684, 5.608999, 7.014153, 7.465122},    {2.014153, 3.640567, 4.658188, 5.000000},
        {1.262467, 2.308603, 2.985847, 3.218502},    {0.739647, 1.359433, 1.766849, 1.908282},
        {0.341812, 0.629560, 0.819931, 0.886314}};
    /* the standard's own list, from memory */
    const double standard[7][4] = {
        {9.7, 13.4, 14.7, 15.1}, {5.3, 8.6, 10.3, 10.8}, {3.2, 5.6, 7.0, 7.5}, {2.0, 3.6, 4.7, 5.0},
        {1.3, 2.3, 3.0, 3.2},    {0.7, 1.4, 1.8, 1.9},   {0.3, 0.6, 0.8, 0.9}};
    for (int i = 0; i < 7; i++) {
        for (int j = 0; j < 4; j++) {
            const double got = uf_exact_iso_column_degC(0.25 * (j + 1), 0.25 * (i + 1));
            printed(got, rows[i][j], 5e-7);
            printed(got, standard[i][j], 0.05);
        }
    }
}

Test(exact_section, iso_10211_case_2_points_lie_on_the_drawing)
{
    size_t n = 0;
    for (const struct uf_exact_iso_point *p = uf_exact_iso_points; p->name != NULL; p++, n++) {
        cr_expect(p->x_m >= 0 && p->x_m <= 0.5 && p->y_m >= 0 && p->y_m <= 0.0475);
        cr_expect(p->degC > 0 && p->degC < 20, "%s", p->name);
    }
    cr_expect_eq(n, 9);
}

static const double corner_x[UF_EXACT_CORNER_X] = {0.6, 0.7, 0.8, 1.0, 1.2, 1.5, 2.0};

/* Far from the corner the front must be Neumann's, with equal properties. */
Test(exact_section, corner_rows_agree_with_neumann)
{
    size_t n = 0;
    for (const struct uf_exact_corner *row = uf_exact_corners; row->beta > 0; row++, n++) {
        const struct uf_exact_ground unit = {"unit", 1, 1, 1, 1, row->beta, -1, 0, row->start};
        printed(uf_exact_neumann_lambda(&unit), row->lambda, 5e-9);
        cr_expect(row->diagonal > row->lambda && row->theta_05 < row->theta_15);
        cr_expect(fabs(row->y[6] - row->lambda) < 2e-3);
        double last = row->diagonal;
        for (size_t j = 0; j < UF_EXACT_CORNER_X; j++) {
            cr_expect(isnan(row->y[j]) == (corner_x[j] < row->diagonal), "x %g", corner_x[j]);
            if (!isnan(row->y[j])) {
                cr_expect(row->y[j] < last && row->y[j] > row->lambda - 1e-5);
                last = row->y[j];
            }
        }
    }
    cr_expect_eq(n, 6);
}

/* The row beta 5, start 0.2 in metres: k 2, C 2 MJ/(m3 K), L 100 MJ/m3, faces -10, start
   2 degC, 30 days: 1.13468 m on the diagonal, 0.941570 m far away, 0.96204 m at x 1.93196
   m, 0.165 degC at 1.60997 m. */
Test(exact_section, corner_row_in_metres)
{
    const struct uf_exact_corner *row = &uf_exact_corners[5];
    const double unit_m = sqrt(4.0 * 2.0 / 2e6 * 30 * 86400);
    const struct uf_exact_ground ground = {"K1", 2, 2, 2e6, 2e6, 100e6, -10, 0, 2};
    printed(unit_m, 3.219938, 5e-7);
    printed(row->diagonal * unit_m, 1.13468, 2e-5);
    printed(uf_exact_neumann_front_m(&ground, 30 * 86400.0), 0.941570, 5e-7);
    printed(row->y[0] * unit_m, 0.96204, 2e-5);
    printed(corner_x[0] * unit_m, 1.93196, 5e-6);
    printed(row->theta_05 * 10, 0.165, 5e-4);
    printed(row->theta_15 * 10, 1.805, 5e-4);
}
