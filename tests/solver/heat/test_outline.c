#include "solver/base/constants.h"
#include "solver/heat/outline.h"

#include <criterion/criterion.h>

#include <math.h>

static const struct uf_outline circle = {
    .circle = true, .half_m = 1.2, .top_m = 1.0, .bottom_m = 3.4, .wall_m = 0.01};
static const struct uf_outline box = {.half_m = 0.8, .top_m = 1.0, .bottom_m = 3.4, .wall_m = 0.2};

/* Uneven edges that cut the outline anywhere. */
static double edge(double from_m, double to_m, size_t i, size_t n)
{
    const double s = (double)i / (double)n;
    return from_m + (to_m - from_m) * (s + 0.11 * sin(9.0 * s) * s * (1.0 - s));
}

static double summed_area(const struct uf_outline *outline, size_t nx, size_t nz, bool radial)
{
    double sum_m2 = 0.0;
    for (size_t j = 0; j < nz; j++) {
        for (size_t i = 0; i < nx; i++) {
            const double x0 = edge(0.0, 2.0, i, nx);
            const double x1 = edge(0.0, 2.0, i + 1, nx);
            const double z0 = edge(0.0, 5.0, j, nz);
            const double z1 = edge(0.0, 5.0, j + 1, nz);
            const double plan = radial ? UF_PI * (x1 * x1 - x0 * x0) : x1 - x0;
            const double share = uf_outline_share(outline, x0, x1, z0, z1, radial);
            cr_assert(share >= 0.0 && share <= 1.0);
            sum_m2 += share * plan * (z1 - z0);
        }
    }
    return sum_m2;
}

Test(outline, cells_add_up_to_the_circle)
{
    const double want = 0.5 * UF_PI * 1.2 * 1.2;
    static const size_t sizes[][2] = {{1, 1}, {3, 4}, {13, 29}, {40, 77}};
    for (size_t k = 0; k < 4; k++) {
        const double got = summed_area(&circle, sizes[k][0], sizes[k][1], false);
        cr_expect(fabs(got - want) < 1e-12, "%zu x %zu: off by %g", sizes[k][0], sizes[k][1],
                  got - want);
    }
    cr_expect(fabs(uf_outline_area_below_m2(&circle, -9.0, false) - want) < 1e-12);
}

/* A cell whose corners all lie inside is wholly inside, to the last bit: a section takes
   any other for one that the shell cuts. */
Test(outline, a_whole_cell_is_exactly_whole)
{
    for (size_t n = 7; n < 90; n++) {
        for (size_t k = 0; k < n * n; k++) {
            const double x0 = edge(0.0, 2.0, k % n, n);
            const double x1 = edge(0.0, 2.0, k % n + 1, n);
            const double z0 = edge(0.0, 5.0, k / n, n);
            const double z1 = edge(0.0, 5.0, k / n + 1, n);
            const double share = uf_outline_share(&circle, x0, x1, z0, z1, false);
            const double far = fmax(fabs(z0 - 2.2), fabs(z1 - 2.2));
            const double near = fmax(0.0, fmax(z0 - 2.2, 2.2 - z1));
            if (hypot(x1, far) < 1.2 - 1e-9) {
                cr_assert_eq(share, 1.0, "%zu: %g", n, share - 1.0);
            } else if (hypot(x0, near) > 1.2 + 1e-9) {
                cr_assert_eq(share, 0.0, "%zu: %g", n, share);
            }
        }
    }
}

Test(outline, cells_add_up_to_the_box_and_the_drum)
{
    cr_expect(fabs(summed_area(&box, 13, 29, false) - 0.8 * 2.4) < 1e-12);
    cr_expect(fabs(summed_area(&box, 13, 29, true) - UF_PI * 0.64 * 2.4) < 1e-12);
    cr_expect(fabs(uf_outline_area_below_m2(&box, 0.0, true) - UF_PI * 0.64 * 2.4) < 1e-12);
}

/* One cell cut by the circle, by the integral of sqrt(R^2 - x^2) in closed form. */
Test(outline, one_cut_cell)
{
    const double x0 = 0.3;
    const double x1 = 0.5;
    const double R2 = 1.44;
    const double zc = 2.2;
    const double under = 0.5 * (x1 * sqrt(R2 - x1 * x1) + R2 * asin(x1 / 1.2) -
                                x0 * sqrt(R2 - x0 * x0) - R2 * asin(x0 / 1.2));
    const double z0 = zc - 1.3; /* above the circle everywhere */
    const double z1 = zc - 1.0; /* inside it everywhere */
    const double want = (under - 1.0 * (x1 - x0)) / ((x1 - x0) * (z1 - z0));
    cr_expect(fabs(uf_outline_share(&circle, x0, x1, z0, z1, false) - want) < 1e-12);
    cr_expect(uf_outline_share(&circle, 0.0, 0.2, 2.0, 2.2, false) == 1.0);
    cr_expect(uf_outline_share(&circle, 1.3, 1.4, 2.0, 2.2, false) == 0.0);
}

Test(outline, area_and_wetted_line_below_a_level)
{
    /* A third of the depth of a circle: segment 0.2918 of its area (uplift volumes, by
       R^2 acos((R-h)/R) - (R-h) sqrt(2Rh-h^2)); h = R is the half. */
    const double h = 0.8;
    const double want = 0.5 * (1.44 * acos((1.2 - h) / 1.2) - (1.2 - h) * sqrt(2.4 * h - h * h));
    cr_expect(fabs(uf_outline_area_below_m2(&circle, 3.4 - h, false) - want) < 1e-12);
    cr_expect(fabs(uf_outline_area_below_m2(&circle, 2.2, false) - 0.25 * UF_PI * 1.44) < 1e-12);
    cr_expect(fabs(uf_outline_perimeter_below_m(&circle, 2.2, false) - 0.5 * UF_PI * 1.2) < 1e-12);
    cr_expect(fabs(uf_outline_perimeter_below_m(&circle, 0.0, false) - UF_PI * 1.2) < 1e-12);
    cr_expect(fabs(uf_outline_chord_m(&circle, 3.4 - h, false) - sqrt(2.4 * h - h * h)) < 1e-12);
    cr_expect(uf_outline_area_below_m2(&circle, 3.4, false) == 0.0);
    /* box: sides below the level and the floor; a full one its lid too */
    cr_expect(fabs(uf_outline_perimeter_below_m(&box, 2.4, false) - 1.8) < 1e-12);
    cr_expect(fabs(uf_outline_perimeter_below_m(&box, 0.5, false) - 4.0) < 1e-12);
    cr_expect(fabs(uf_outline_perimeter_below_m(&box, 2.4, true) -
                   (UF_PI * 0.64 + 2.0 * UF_PI * 0.8)) < 1e-12);
    cr_expect(fabs(uf_outline_chord_m(&box, 2.0, true) - UF_PI * 0.64) < 1e-12);
}

Test(outline, crossing_along_a_line)
{
    double distance_m = 0.0;
    double normal = 0.0;
    /* from the side at 0.72 above the centre: the circle stands at x = 0.96 (3-4-5) */
    uf_outline_cross(&circle, true, 1.5, 2.2 - 0.72, &distance_m, &normal);
    cr_expect(fabs(distance_m - 0.54) < 1e-12);
    cr_expect(fabs(normal - 0.8) < 1e-12);
    /* from above at x = 0.72, and from below on the axis */
    uf_outline_cross(&circle, false, 0.72, 1.0, &distance_m, &normal);
    cr_expect(fabs(distance_m - (1.2 - 0.96)) < 1e-12);
    uf_outline_cross(&circle, false, 0.0, 3.6, &distance_m, &normal);
    cr_expect(fabs(distance_m - 0.2) < 1e-12 && fabs(normal - 1.0) < 1e-12);
    uf_outline_cross(&box, true, 1.1, 2.0, &distance_m, &normal);
    cr_expect(fabs(distance_m - 0.3) < 1e-12 && normal == 1.0);
    uf_outline_cross(&box, false, 0.4, 0.75, &distance_m, &normal);
    cr_expect(fabs(distance_m - 0.25) < 1e-12);
    uf_outline_cross(&box, false, 0.4, 3.7, &distance_m, &normal);
    cr_expect(fabs(distance_m - 0.3) < 1e-12);
}

Test(outline, inside_is_smaller_by_the_wall)
{
    const struct uf_outline inside = uf_outline_inside(&circle);
    cr_expect(fabs(uf_outline_area_below_m2(&inside, 0.0, false) - 0.5 * UF_PI * 1.19 * 1.19) <
              1e-12);
    const struct uf_outline in_box = uf_outline_inside(&box);
    cr_expect(fabs(uf_outline_area_below_m2(&in_box, 0.0, false) - 0.6 * 2.0) < 1e-12);
    cr_expect(uf_outline_contains(&circle, 1.195, 2.2));
    cr_expect(!uf_outline_contains(&inside, 1.195, 2.2));
    cr_expect(uf_outline_contains(&box, 0.79, 1.01) && !uf_outline_contains(&box, 0.81, 2.0));
}

Test(outline, follows_the_design)
{
    struct uf_case design;
    uf_case_init(&design);
    design.tank.shape = UF_HORIZONTAL_CYLINDER;
    design.tank.diameter_m = 2.4;
    design.burial.cover_m = 1.0;
    struct uf_outline got = uf_outline_of(&design);
    cr_expect(got.circle && got.half_m == 1.2 && got.top_m == 1.0);
    cr_expect(fabs(got.bottom_m - 3.4) < 1e-12 && got.wall_m == 0.0);
    design.tank.shape = UF_BOX;
    design.tank.width_m = 3.0;
    design.tank.height_m = 2.0;
    design.tank.wall_thickness_m = 0.2;
    got = uf_outline_of(&design);
    cr_expect(!got.circle && got.half_m == 1.5 && got.wall_m == 0.2);
    cr_expect(fabs(got.bottom_m - 3.0) < 1e-12);
}
