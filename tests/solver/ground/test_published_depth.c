#include "solver/ground/published_depth.h"

#include <criterion/criterion.h>

#include <math.h>

/* The manual's worked example (test_exact_front.c) in SI: 100 pcf, 15 % water, mean 37.2 F, index
   2500 F-days in 160 days, k 0.76 Btu/(h ft F): 5.81942 ft. */
#define PCF 16.018463374
#define BTU 1055.05585262
#define FT  0.3048
static const double F_K = 1.0 / 1.8;

static struct uf_published_layer example(double to_m)
{
    const double J_m3 = BTU / (FT * FT * FT);
    return (struct uf_published_layer){.to_m = to_m,
                                       .k_W_mK = 0.76 * BTU / 3600.0 / FT / F_K,
                                       .latent_J_m3 = 144.0 * 100 * 0.15 * J_m3,
                                       .c_J_m3K = 100 * (0.17 + 0.75 * 0.15) * J_m3 / F_K};
}

static const struct uf_published_winter winter = {0.0, 2500.0 / 1.8, 160.0, (37.2 - 32.0) / 1.8};

Test(published_depth, the_manuals_example)
{
    const struct uf_published_layer one = example(15.0);
    cr_expect_float_eq(uf_published_depth_berggren_m(&one, 1, &winter), 5.81942 * FT, 2e-5);
}

/* lambda takes the mean over the depth: layers of one ground are that ground, but that a layer
   passed through keeps the lambda of its own bottom, here the same. */
Test(published_depth, layers_of_one_ground_are_one)
{
    const struct uf_published_layer layers[3] = {example(0.3), example(1.0), example(15.0)};
    cr_expect_float_eq(uf_published_depth_berggren_m(layers, 3, &winter), 5.81942 * FT, 2e-5);
}

/* Dry gravel over wet silt: by hand, with lambda 1 (a mean of 0 K has none less; mu -> 0):
   L 20 and 150 MJ/m3, k 2 and 2 W/mK, 1000 K day: gravel 0.5 m takes 20e6 x 0.5 x 0.125 = 1.25e6 K s,
   then 85.15e6 = 150e6 d (0.25 + d / 4). */
Test(published_depth, two_layers_by_hand)
{
    const struct uf_published_layer layers[2] = {{0.5, 2.0, 20e6, 1e-3}, {15.0, 2.0, 150e6, 1e-3}};
    const struct uf_published_winter w = {0.0, 1000.0, 150.0, 1e-9};
    const double d = -0.5 + sqrt(0.25 + 4.0 * 85.15e6 / 150e6);
    cr_expect_float_eq(uf_published_depth_berggren_m(layers, 2, &w), 0.5 + d, 1e-4);
    const struct uf_published_winter film = {0.1, 1000.0, 150.0, 1e-9};
    cr_expect(uf_published_depth_berggren_m(layers, 2, &film) < 0.5 + d - 0.05);
}

Test(published_depth, what_it_cannot_answer_is_no_number)
{
    const struct uf_published_layer one = example(15.0);
    struct uf_published_winter w = winter;
    w.annual_degC = -1.0;
    cr_expect(isnan(uf_published_depth_berggren_m(&one, 1, &w)));
    w = winter;
    w.surface_index_Kday = NAN;
    cr_expect(isnan(uf_published_depth_berggren_m(&one, 1, &w)));
    cr_expect(isnan(uf_published_depth_berggren_m(&one, 0, &winter)));
    w = winter;
    w.surface_index_Kday = 0.0;
    cr_expect_eq(uf_published_depth_berggren_m(&one, 1, &w), 0.0);
}
