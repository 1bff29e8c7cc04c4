#include "cli/verify/exact/block.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

/* A wall of 0.2 m of 0.5 W/mK and 0.1 m of 2 W/mK between films of 0.1 and 0.05 m2K/W, 2 m2 of it:
   20 K / (0.1 + 0.4 + 0.05 + 0.05) m2K/W is 33.333 W/m2. */
Test(block, wall_of_two_layers_between_films)
{
    const struct uf_block wall = {.parts = {{{0.0, 0.5}, {0.0, 1.0}, {0.0, 2.0}, 0.0, 0},
                                            {{0.0, 0.1}, {0.0, 1.0}, {0.0, 2.0}, 0.0, 1},
                                            {{0.1, 0.4}, {0.0, 1.0}, {0.0, 2.0}, 0.5, 0},
                                            {{0.1, 0.2}, {0.0, 1.0}, {0.0, 2.0}, 2.0, 0}},
                                  .n_parts = 4,
                                  .airs = {{20.0, 0.1}, {0.0, 0.05}, {7.0, 1.0}},
                                  .n_airs = 3,
                                  .size_m = 0.02,
                                  .growth = 1.5};
    struct uf_block_answer got;
    struct uf_error err = {0};
    cr_assert(uf_block_solve(&got, &wall, &err) == UF_OK, "%s", err.text);
    const double q = 20.0 / 0.6;
    cr_expect(fabs(got.into_W[0] - 2.0 * q) < 1e-6, "%.9g", got.into_W[0]);
    cr_expect(fabs(got.into_W[1] + 2.0 * q) < 1e-6, "%.9g", got.into_W[1]);
    cr_expect(fabs(got.coldest_degC[0] - (20.0 - 0.1 * q)) < 1e-7);
    cr_expect(fabs(got.warmest_degC[0] - (20.0 - 0.1 * q)) < 1e-7);
    cr_expect(fabs(got.warmest_degC[1] - 0.05 * q) < 1e-7);
    cr_expect(got.into_W[2] == 0.0 && isnan(got.coldest_degC[2]) && isnan(got.warmest_degC[2]));
}

/* A cube of solid in air at one temperature: six sides of 0.2 x 0.2 m about a part that is warmer. */
Test(block, heat_leaves_through_every_side)
{
    const struct uf_block cube = {.parts = {{{-0.3, 0.3}, {-0.3, 0.3}, {-0.3, 0.3}, 0.0, 0},
                                            {{-0.1, 0.1}, {-0.1, 0.1}, {-0.1, 0.1}, 1e9, 0},
                                            {{-0.05, 0.05}, {-0.05, 0.05}, {-0.05, 0.05}, 0.0, 1}},
                                  .n_parts = 3,
                                  .airs = {{0.0, 0.5}, {10.0, 0.0}},
                                  .n_airs = 2,
                                  .size_m = 0.05,
                                  .growth = 1.0};
    struct uf_block_answer got;
    struct uf_error err = {0};
    cr_assert(uf_block_solve(&got, &cube, &err) == UF_OK, "%s", err.text);
    cr_expect(fabs(got.into_W[1] - 10.0 * 6.0 * 0.04 / 0.5) < 1e-5, "%.9g", got.into_W[1]);
    cr_expect(fabs(got.into_W[0] + got.into_W[1]) < 1e-5);
}

Test(block, edges_hit_every_line_and_are_finest_there)
{
    const double lines[] = {-0.1, 0.0, 0.05, 1.2};
    double *edges = NULL;
    size_t n = 0;
    cr_assert(uf_block_edges(&edges, &n, lines, 4, 0.01, 2.0, NULL) == UF_OK);
    size_t hit = 0;
    for (size_t k = 0; k <= n; k++) {
        cr_expect(k == 0 || edges[k] > edges[k - 1]);
        hit += hit < 4 && fabs(edges[k] - lines[hit]) < 1e-12;
    }
    cr_expect(hit == 4 && edges[0] == -0.1 && edges[n] == 1.2);
    cr_expect(edges[1] - edges[0] <= 0.01 && edges[n] - edges[n - 1] <= 0.01 + 1e-12);
    free(edges);
}
