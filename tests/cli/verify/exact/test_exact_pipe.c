#include "cli/verify/exact/exact.h"

#include <criterion/criterion.h>

#include <math.h>

static void printed(double got, double expected, double half_digit)
{
    cr_expect(fabs(got - expected) <= 1.01 * half_digit, "%.12g, printed %.12g", got, expected);
}

/* Conduction shape factor of the handbooks, worked apart from this code. */
Test(exact_pipe, shape_factor)
{
    const double rows[][2] = {{0.6, 10.09570029}, {0.75, 6.52850261}, {1, 4.77098419},
                              {1.5, 3.56442796},  {2, 3.04500942},    {3, 2.53570115},
                              {5, 2.09913716},    {10, 1.70356638}};
    for (size_t i = 0; i < 8; i++) {
        printed(uf_exact_cylinder_shape(rows[i][0] * 0.74, 0.37), rows[i][1], 5e-9);
    }
}

Test(exact_pipe, buried_cylinder_field_flux_and_isotherm)
{
    const struct uf_exact_cylinder c1 = {1.5, 2.0, 0.9, 5, -5};
    const double rows[][3] = {{0, 0.5, -0.996010}, {0, 1, 3.807447}, {0, 3, 4.548597},
                              {0, 4, 1.686752},    {1, 1, 0.879216}, {1, 2, 4.345581},
                              {2, 1, -1.746168},   {2, 2, 0.258970}, {2, 4, 0.002979},
                              {4, 2, -2.783679}};
    printed(uf_exact_cylinder_W_m(&c1), 65.60083580, 5e-9);
    printed(uf_exact_cylinder_W_m2(&c1, 0), 11.6913364, 5e-8);
    printed(uf_exact_cylinder_W_m2(&c1, 2), 5.1871159, 5e-8);
    for (size_t i = 0; i < 10; i++) {
        printed(uf_exact_cylinder_degC(&c1, rows[i][0], rows[i][1]), rows[i][2], 5e-7);
    }
    /* the wall and a point of the 0 degC circle stand at their own temperatures */
    printed(uf_exact_cylinder_degC(&c1, 0.9 * sin(0.7), 2.0 - 0.9 * cos(0.7)), 5.0, 1e-12);
    printed(uf_exact_cylinder_degC(&c1, 2.2847319 * sin(1.1), 2.9 + 2.2847319 * cos(1.1)), 0.0,
            5e-8);
}

/* Multipole sums computed apart from this code. */
Test(exact_pipe, ring_and_film)
{
    const double rows[] = {13.93793647, 26.52481066, 39.75147985,
                           75.68598492, 6.08404572,  15.86290383};
    for (size_t i = 0; i < 6; i++) {
        printed(uf_exact_pipe_W_m(&uf_exact_pipes[i]), rows[i], 5e-9);
    }
    cr_expect_null(uf_exact_pipes[6].name);
}

/* Without ring and film the multipoles must give the closed form, also close to the surface. */
Test(exact_pipe, bare_pipe_is_the_isothermal_cylinder)
{
    for (double ratio = 1.03; ratio < 5; ratio *= 1.3) {
        struct uf_exact_pipe bare = uf_exact_pipes[2];
        bare.film_W_m2K = (double)NAN;
        bare.depth_m = ratio * bare.outer_m;
        const double closed = 1.5 * 10.0 * uf_exact_cylinder_shape(bare.depth_m, bare.outer_m);
        cr_expect(fabs(uf_exact_pipe_W_m(&bare) / closed - 1.0) < 1e-9, "z/R = %g: %.12g", ratio,
                  uf_exact_pipe_W_m(&bare) / closed);
    }
}

/* A ring of the soil itself is no ring. */
Test(exact_pipe, ring_of_soil_changes_nothing)
{
    struct uf_exact_pipe ring = uf_exact_pipes[1], bare = ring;
    ring.ring_W_mK = ring.k_W_mK;
    bare.outer_m = bare.inner_m;
    bare.inner_m = (double)NAN;
    printed(uf_exact_pipe_W_m(&ring), uf_exact_pipe_W_m(&bare), 1e-7);
    ring.film_W_m2K = bare.film_W_m2K = 7.0;
    printed(uf_exact_pipe_W_m(&ring), uf_exact_pipe_W_m(&bare), 1e-7);
}

/* TM 5-852-5 example p. 12-20 (ft, F, Btu; inputs chosen to give the manual's ratio
   0.366): the manual prints c 3.99, A 1.268, H2 4.68 ft, q 22.3; its radius 2.08 is a
   slip. Then B1, B2 in SI. */
Test(exact_pipe, frozen_and_thawed_bulbs)
{
    const struct uf_exact_bulb manual = {"TM", 0.6, 1.0, 4, 0.25, 45, 32, 27.5};
    struct uf_exact_circle front = uf_exact_bulb_front(&manual);
    printed(front.depth_m, 4.6793723, 5e-8);
    printed(front.radius_m, 2.4411114, 5e-8);
    printed(uf_exact_bulb_W_m(&manual), 22.3055063, 5e-8);
    cr_expect(fabs(front.depth_m - 4.68) < 0.005 && fabs(uf_exact_bulb_W_m(&manual) - 22.3) < 0.05);
    front = uf_exact_bulb_front(&uf_exact_bulbs[0]);
    printed(front.depth_m, 2.2542657, 5e-8);
    printed(front.radius_m, 1.1539990, 5e-8);
    printed(uf_exact_bulb_W_m(&uf_exact_bulbs[0]), 60.9001883, 5e-8);
    front = uf_exact_bulb_front(&uf_exact_bulbs[1]);
    printed(front.depth_m, 2.0835525, 5e-8);
    printed(front.radius_m, 1.0729358, 5e-8);
    printed(uf_exact_bulb_W_m(&uf_exact_bulbs[1]), 122.4548935, 5e-8);
}

/* With one conductivity the front is an isotherm of the plain cylinder. */
Test(exact_pipe, bulb_in_one_conductivity_is_an_isotherm)
{
    const struct uf_exact_bulb bulb = {"one", 1.7, 1.7, 2.1, 0.6, 6, 0, -4};
    const struct uf_exact_cylinder pipe = {1.7, 2.1, 0.6, 6, -4};
    const struct uf_exact_circle front = uf_exact_bulb_front(&bulb);
    for (double turn = 0.0; turn < 3.0; turn += 0.7) {
        printed(uf_exact_cylinder_degC(&pipe, front.radius_m * sin(turn),
                                       front.depth_m + front.radius_m * cos(turn)),
                0.0, 1e-12);
    }
    printed(uf_exact_bulb_W_m(&bulb), uf_exact_cylinder_W_m(&pipe), 1e-10);
}
