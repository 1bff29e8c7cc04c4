#include "cli/verify/exact/box.h"
#include "cli/verify/exact/steady.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

static const struct uf_heat_now nothing = {.h_W_m2K = 1.0};

/* A wall 0.4 m thick, 3 cells wide, of two halves; both faces on baths. */
static struct uf_box *wall(const struct uf_material *left, const struct uf_material *right,
                           double film_m2K_W)
{
    const struct uf_grid_zone fine[] = {{0.4, 0.05}};
    const struct uf_grid_zone coarse[] = {{0.3, 0.1}};
    const struct uf_grid_axis x = {
        .end_m = 0.4, .zones = fine, .n_zones = 1, .growth = 1.5, .largest_m = 1.0};
    const struct uf_grid_axis z = {
        .end_m = 0.3, .zones = coarse, .n_zones = 1, .growth = 1.5, .largest_m = 1.0};
    struct uf_box *box = NULL;
    cr_assert(uf_box_create(&box, &x, &z, false, 2, NULL) == UF_OK);
    uf_box_fill(box, left, (struct uf_box_part){0.0, 0.4, 0.0, 0.3});
    uf_box_fill(box, right, (struct uf_box_part){0.2, 0.4, 0.0, 0.3});
    uf_box_connect(box);
    const size_t warm = uf_box_bath(box, 10.0);
    const size_t cold = uf_box_bath(box, -10.0);
    uf_box_face(box, &(struct uf_box_face){UF_BOX_LEFT, 0.0, 0.3, warm, film_m2K_W});
    uf_box_face(box, &(struct uf_box_face){UF_BOX_RIGHT, 0.0, 0.3, cold, 0.0});
    return box;
}

static void solve(const struct uf_box *box, double *T_degC)
{
    bool fixed[64];
    struct uf_error err = {0};
    uf_box_start(box, 3.0, T_degC);
    uf_box_fixed(box, fixed);
    cr_assert(uf_steady_solve(box->heat, &nothing, fixed, T_degC, &err) == UF_OK, "%s", err.text);
}

/* Resistances in series: 0.2/0.5 + 0.2/2 + 0.1 = 0.6 m2K/W over 20 K and 0.3 m2: 10 W. */
Test(steady, wall_of_two_substances_behind_a_film)
{
    struct uf_material brick;
    struct uf_material stone;
    double T[64];
    uf_material_inert(&brick, "brick", 0.5, 1e6);
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    struct uf_box *box = wall(&brick, &stone, 0.1);
    solve(box, T);
    cr_expect(fabs(uf_box_bath_W(box, T, 0) - 10.0) < 1e-9);
    cr_expect(fabs(uf_box_bath_W(box, T, 1) + 10.0) < 1e-9);
    for (size_t i = 0; i < box->grid->nx; i++) {
        const double x = box->grid->x_m[i];
        const double q = 10.0 / 0.3;
        const double want = x < 0.2 ? 10.0 - q * (0.1 + x / 0.5) : -10.0 + q * (0.4 - x) / 2.0;
        cr_expect(fabs(T[i] - want) < 1e-9 && fabs(T[i + 16] - want) < 1e-9);
    }
    uf_box_free(box);
}

/* k from 1 (thawed) to 3 (frozen) over 0..-4 degC: the flow is the integral of k over the
   temperatures, (10 x 1 + 4 x 2 + 6 x 3)/0.4 m per m2 (Kirchhoff), 27 W. */
Test(steady, conductivity_that_changes_with_freezing)
{
    const struct uf_thermal soil = {.k_thawed_W_mK = 1.0,
                                    .k_frozen_W_mK = 3.0,
                                    .c_thawed_J_m3K = 2e6,
                                    .c_frozen_J_m3K = 2e6,
                                    .latent_J_m3 = 1e8,
                                    .freezing_from_degC = 0.0,
                                    .freezing_to_degC = -4.0};
    struct uf_material m;
    double T[64];
    cr_assert(uf_material_from_thermal(&m, "soil", &soil, NULL) == UF_OK);
    struct uf_box *box = wall(&m, &m, 0.0);
    for (size_t l = 0; l < box->heat->n_links; l++) { /* one soil, known by two numbers */
        cr_expect(box->heat->links[l].length_a_m > 0.0);
    }
    solve(box, T);
    cr_expect(fabs(uf_box_bath_W(box, T, 0) - 27.0) < 1e-8, "%.10g", uf_box_bath_W(box, T, 0));
    /* U falls evenly across the wall, so T follows. */
    for (size_t i = 0; i < box->grid->nx; i++) {
        const double want = 10.0 - 36.0 * box->grid->x_m[i] / 0.4;
        cr_expect(fabs(uf_material_U_W_m(&m, T[i]) - want) < 1e-8);
    }
    uf_box_free(box);
}

Test(steady, an_open_top_settles_with_the_air)
{
    struct uf_material stone;
    double T[64];
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    struct uf_box *box = wall(&stone, &stone, 0.0);
    box->heat->n_links -= 6; /* take the baths off again: the last 3 + 3 faces */
    box->heat->n = box->heat->n_cells;
    uf_box_open_top(box);
    for (size_t i = 0; i < box->grid->nx; i++) {
        box->heat->bottom_W[i] = 0.05; /* 1 W/m2 */
    }
    const struct uf_heat_now now = {.outside_degC = -7.0, .h_W_m2K = 10.0};
    for (size_t i = 0; i < box->heat->n; i++) {
        T[i] = 20.0;
    }
    cr_assert(uf_steady_solve(box->heat, &now, NULL, T, NULL) == UF_OK);
    /* 1 W/m2 through 0.1 m2K/W and 0.05 m of stone to the first centre */
    cr_expect(fabs(T[0] - (-7.0 + 0.1 + 0.05 / 2.0)) < 1e-9, "%.10g", T[0]);
    uf_box_free(box);
}

Test(steady, nothing_to_hold_on_to_is_refused)
{
    struct uf_material stone;
    struct uf_error err = {0};
    double T[64];
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    struct uf_box *box = wall(&stone, &stone, 0.0);
    box->heat->n_links -= 6;
    box->heat->n = box->heat->n_cells;
    box->heat->bottom_W[0] = 1.0; /* heat that cannot leave */
    for (size_t i = 0; i < box->heat->n; i++) {
        T[i] = 20.0;
    }
    cr_expect(uf_steady_solve(box->heat, &nothing, NULL, T, &err) == UF_E_SOLVER);
    uf_box_free(box);
}
