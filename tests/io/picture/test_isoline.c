#include "io/picture/isoline.h"

#include <criterion/criterion.h>

#include <math.h>

#define N 61

static double axis[N], values[N * N];
static const struct uf_isoline_field field = {values, axis, axis, N, N};

/* value(x, z) on a grid of -3 .. 3 both ways. */
static void fill(double (*value)(double, double))
{
    for (size_t i = 0; i < N; i++) {
        axis[i] = -3.0 + 0.1 * (double)i;
    }
    for (size_t j = 0; j < N; j++) {
        for (size_t i = 0; i < N; i++) {
            values[j * N + i] = value(axis[i], axis[j]);
        }
    }
}

static double from_centre(double x, double z)
{
    return hypot(x - 0.013, z + 0.027);
}

Test(isoline, a_circle_is_one_loop_of_the_right_area)
{
    struct uf_isoline_list list;
    const double level = 1.7;
    fill(from_centre);
    cr_assert_eq(uf_isoline_trace(&list, &field, &level, 1, NULL), UF_OK);
    cr_assert_eq(list.n_loops, 1);
    cr_expect(list.loops[0].low_inside);
    /* Area of the circle; chords of 0.1 m lose less than 0.1 %. */
    cr_expect_float_eq(list.loops[0].area, 3.14159265 * level * level, 0.01);
    for (size_t i = 0; i < list.n_points; i++) {
        cr_expect(!list.points[i].border);
        cr_expect_float_eq(from_centre(list.points[i].x, list.points[i].z), level, 0.003);
    }
    uf_isoline_clear(&list);
}

static double ring(double x, double z)
{
    return fabs(hypot(x, z) - 2.0);
}

Test(isoline, a_ring_is_two_loops_painted_outside_first)
{
    struct uf_isoline_list list;
    const double level = 0.53;
    fill(ring);
    cr_assert_eq(uf_isoline_trace(&list, &field, &level, 1, NULL), UF_OK);
    cr_assert_eq(list.n_loops, 2);
    cr_expect(list.loops[0].low_inside);
    cr_expect(!list.loops[1].low_inside);
    cr_expect_float_eq(list.loops[0].area, 3.14159265 * 2.53 * 2.53, 0.02);
    cr_expect_float_eq(list.loops[1].area, 3.14159265 * 1.47 * 1.47, 0.02);
    uf_isoline_clear(&list);
}

static double depth(double x, double z)
{
    (void)x;
    return z;
}

Test(isoline, a_level_that_meets_the_grids_side_closes_along_it)
{
    struct uf_isoline_list list;
    const double levels[2] = {-1.23, 0.77};
    fill(depth);
    cr_assert_eq(uf_isoline_trace(&list, &field, levels, 2, NULL), UF_OK);
    cr_assert_eq(list.n_loops, 2);
    /* Everything above the level: a rectangle 6 m wide, the larger one first. */
    cr_expect_eq(list.loops[0].level, 1);
    cr_expect_float_eq(list.loops[0].area, 6.0 * 3.77, 1e-9);
    cr_expect_float_eq(list.loops[1].area, 6.0 * 1.77, 1e-9);
    size_t inner = 0;
    for (size_t i = 0; i < list.n_points; i++) {
        inner += list.points[i].border ? 0 : 1;
    }
    cr_expect_eq(inner, 2 * N); /* one point a column and level is a line of the field */
    uf_isoline_clear(&list);
}

static double checks(double x, double z)
{
    return sin(7.0 * x) * sin(7.0 * z);
}

/* Saddles everywhere: whatever is joined, loops close and low plus high make up the whole. */
Test(isoline, saddles_leave_no_open_line)
{
    struct uf_isoline_list list;
    const double level = 0.05;
    double low = 0.0;
    fill(checks);
    cr_assert_eq(uf_isoline_trace(&list, &field, &level, 1, NULL), UF_OK);
    cr_assert_gt(list.n_loops, 20);
    for (size_t i = 0; i < list.n_loops; i++) {
        cr_expect_geq(list.loops[i].n, 3);
        low += list.loops[i].low_inside ? list.loops[i].area : -list.loops[i].area;
    }
    /* Share of a checked field under a small positive level is a little over one half. */
    cr_expect(low / 36.0 > 0.5 && low / 36.0 < 0.6, "%g", low / 36.0);
    uf_isoline_clear(&list);
}

Test(isoline, nothing_below_the_level_is_no_loop)
{
    struct uf_isoline_list list;
    const double level = -10.0;
    fill(depth);
    cr_assert_eq(uf_isoline_trace(&list, &field, &level, 1, NULL), UF_OK);
    cr_expect_eq(list.n_loops, 0);
    uf_isoline_clear(&list);
}
