#include "cli/verify/exact/steady.h"
#include "solver/base/constants.h"
#include "solver/heat/section.h"
#include "solver/heat/shaft.h"
#include "solver/heat/shaft_flow.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

static struct uf_section *make(const struct uf_case *design)
{
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    return s;
}

/* One riser with its side, no board, one soil, so that every row meets the same ground. */
static struct uf_case with_side(double level_m, enum uf_ends ends)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, level_m);
    d.tank.ends = ends;
    d.board.present = false;
    d.burial.has_backfill = d.burial.has_bedding_soil = false;
    d.tank.risers[0].lid_at = UF_LID_TOP;
    d.tank.risers[0].shell.sleeve_length_m = INFINITY;
    return d;
}

static double sides_W_K(const struct uf_section *s)
{
    double sum_W_K = 0.0;
    for (size_t i = 0; i < s->heat->n_shafts; i++) {
        sum_W_K += s->heat->shafts[i].W_K;
    }
    return sum_W_K;
}

/* The side of the whole riser by the series of its rows' middles, summed here by fine steps. */
static double expected_W_K(const struct uf_case *d)
{
    const struct uf_shaft_side side = {
        .diameter_m = 0.6, .shell = d->tank.risers[0].shell, .buried_m = 1.0, .film_m2K_W = 0.13};
    double sum_W_K = 0.0;
    for (int i = 0; i < 1000; i++) {
        sum_W_K += 1e-3 / uf_shaft_mK_W(&side, 1e-3 * (i + 0.5),
                                        d->ground.layers[0].spec.thermal.k_frozen_W_mK);
    }
    return sum_W_K;
}

/* What the whole tank has once is shared by a metre of half section, and by a quarter; it goes to
   the air over the water. */
Test(section_riser, sides_by_their_share_of_the_tank)
{
    const struct uf_case flat = with_side(1.0, UF_ENDS_PLANE);
    const struct uf_case long_tank = with_side(1.0, UF_ENDS_THREE_DIMENSIONAL);
    struct uf_section *plane = make(&flat), *solid = make(&long_tank);
    cr_expect_float_eq(sides_W_K(plane) * 2.0 * 4.0, expected_W_K(&flat), 0.02);
    cr_expect_float_eq(sides_W_K(solid) * 4.0, expected_W_K(&flat), 0.02);
    for (size_t i = 0; i < plane->heat->n_shafts; i++) {
        cr_expect_eq(plane->heat->shafts[i].node, plane->heat->air);
        cr_expect(plane->grid->z_m[uf_grid_j(plane->grid, plane->heat->shafts[i].cell)] < 1.0);
    }
    uf_section_free(plane);
    uf_section_free(solid);
}

/* A sleeve takes nearly all of it; one that a frost cover closes off at the crown is counted by that
   lid alone. */
Test(section_riser, sleeve_and_frost_cover)
{
    struct uf_case d = with_side(1.0, UF_ENDS_PLANE);
    d.tank.risers[0].shell.sleeve_m = 0.15;
    d.tank.risers[0].shell.sleeve_W_mK = 0.032;
    struct uf_section *s = make(&d);
    cr_expect_float_eq(sides_W_K(s) * 8.0, expected_W_K(&d), 0.01);
    uf_section_free(s);
    d.tank.risers[0].lid_at = UF_LID_CROWN;
    s = make(&d);
    cr_expect_eq(s->heat->n_shafts, 0);
    uf_section_free(s);
}

/* Over a full tank the shaft's air stands between water, lid and side: what leaves the water is
   G_w (T_w - T_a), T_a the mean of the three weighted by their conductances (balance of the air,
   done by hand). */
Test(section_riser, over_a_full_tank_the_air_is_a_node_without_mass)
{
    const struct uf_case d = with_side(3.0, UF_ENDS_PLANE);
    struct uf_section *s = make(&d);
    const double plan_m2 = 0.09 * UF_PI, water_W_K = plan_m2 / 0.13, lid_W_K = plan_m2 / 0.54;
    struct uf_case bare = with_side(1.0, UF_ENDS_PLANE);
    struct uf_section *half = make(&bare); /* its sides in full */
    const double side_W_K = 8.0 * sides_W_K(half);
    const double air_degC =
        (water_W_K * 4.0 + lid_W_K * -20.0 + side_W_K * -6.0) / (water_W_K + lid_W_K + side_W_K);
    const double got_W =
        8.0 * (s->heat->vents[0].W_K * (4.0 - -20.0) + sides_W_K(s) * (4.0 - -6.0));
    cr_expect_float_eq(got_W, water_W_K * (4.0 - air_degC), 1e-9);
    cr_expect_eq(s->heat->vents[0].node, s->heat->water);
    uf_section_free(s);
    uf_section_free(half);
}

/* Heat that leaves the air reaches the ground, none comes back from warmer ground, and the matrix
   knows the way: the steady state that Newton finds has no flow left in any node. */
Test(section_riser, heat_goes_out_and_is_kept)
{
    struct uf_case d = with_side(1.0, UF_ENDS_PLANE);
    struct uf_section *s = make(&d);
    struct uf_heat *h = s->heat;
    double *T_degC = calloc(2 * h->n, sizeof *T_degC);
    struct uf_heat_flow flow;
    const struct uf_heat_now now = {.outside_degC = -5.0, .h_W_m2K = INFINITY, .air_degC = -5.0};
    const struct uf_heat_shaft *shaft = &h->shafts[0];
    T_degC[shaft->node] = 4.0;
    T_degC[shaft->cell] = -6.0;
    cr_expect_float_eq(uf_heat_shaft_W(shaft, T_degC), 10.0 * shaft->W_K, 1e-12);
    T_degC[shaft->cell] = 20.0;
    cr_expect_float_eq(uf_heat_shaft_W(shaft, T_degC), 0.0, 0.0);
    h->held = h->water;
    for (size_t i = 0; i < h->n; i++) {
        T_degC[i] = i == h->held ? 6.0 : -5.0;
    }
    struct uf_error err = {0};
    cr_assert(uf_steady_solve(h, &now, NULL, T_degC, &err) == UF_OK, "%s", err.text);
    uf_heat_rate(h, &now, T_degC, T_degC + h->n, &flow);
    for (size_t i = 0; i < h->n; i++) {
        cr_expect(fabs(T_degC[h->n + i]) < 1e-6, "node %zu: %g W", i, T_degC[h->n + i]);
    }
    cr_expect(fabs(designs_total_W(&flow)) < 1e-6 && flow.held_W > 0.0);
    free(T_degC);
    uf_section_free(s);
}
