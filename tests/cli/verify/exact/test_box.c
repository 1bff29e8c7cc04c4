#include "cli/verify/exact/box.h"
#include "cli/verify/exact/steady.h"
#include "solver/base/constants.h"

#include <criterion/criterion.h>

#include <math.h>

static const struct uf_grid_zone tenth[] = {{3.0, 0.1}};

static struct uf_box *make(double x0_m, double x1_m, double z1_m, bool radial)
{
    const struct uf_grid_axis x = {.start_m = x0_m,
                                   .end_m = x1_m,
                                   .zones = tenth,
                                   .n_zones = 1,
                                   .growth = 1.5,
                                   .largest_m = 1.0};
    const struct uf_grid_axis z = {
        .end_m = z1_m, .zones = tenth, .n_zones = 1, .growth = 1.5, .largest_m = 1.0};
    struct uf_material stone;
    struct uf_box *box = NULL;
    cr_assert(uf_box_create(&box, &x, &z, radial, 3, NULL) == UF_OK);
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    uf_box_fill(box, &stone, (struct uf_box_part){x0_m, x1_m, 0.0, z1_m});
    return box;
}

Test(box, volume_and_faces)
{
    struct uf_box *plane = make(0.0, 1.0, 0.5, false);
    struct uf_box *ring = make(0.5, 1.0, 0.5, true);
    double plane_m3 = 0.0;
    double ring_m3 = 0.0;
    for (size_t c = 0; c < plane->heat->n_cells; c++) {
        plane_m3 += plane->heat->volume_m3[c];
    }
    for (size_t c = 0; c < ring->heat->n_cells; c++) {
        ring_m3 += ring->heat->volume_m3[c];
    }
    cr_expect(fabs(plane_m3 - 0.5) < 1e-12);
    cr_expect(fabs(ring_m3 - UF_PI * (1.0 - 0.25) * 0.5) < 1e-12);
    uf_box_connect(plane);
    const size_t bath = uf_box_bath(plane, 4.0);
    uf_box_face(plane, &(struct uf_box_face){UF_BOX_TOP, 0.3, 0.8, bath, 0.0});
    cr_expect(plane->heat->n_links == 5, "the five cells between 0.3 and 0.8");
    cr_expect(fabs(plane->heat->links[0].length_a_m - 0.05) < 1e-12);
    uf_box_free(plane);
    uf_box_free(ring);
    uf_box_free(NULL);
}

/* A ring between two radii: 2 pi k h dT / ln(r2/r1), exact on any grid. */
Test(box, ring_conducts_by_the_logarithm)
{
    struct uf_box *box = make(0.2, 1.0, 0.3, true);
    double T[128];
    bool fixed[128];
    const struct uf_heat_now now = {.h_W_m2K = 1.0};
    uf_box_connect(box);
    const size_t inner = uf_box_bath(box, 6.0);
    const size_t outer = uf_box_bath(box, 1.0);
    uf_box_face(box, &(struct uf_box_face){UF_BOX_LEFT, 0.0, 0.3, inner, 0.0});
    uf_box_face(box, &(struct uf_box_face){UF_BOX_RIGHT, 0.0, 0.3, outer, 0.0});
    uf_box_start(box, 0.0, T);
    uf_box_fixed(box, fixed);
    cr_assert(uf_steady_solve(box->heat, &now, fixed, T, NULL) == UF_OK);
    const double want = 2.0 * UF_PI * 2.0 * 0.3 * 5.0 / log(5.0);
    cr_expect(fabs(uf_box_bath_W(box, T, inner) - want) < 1e-9 * want);
    const double mid = 6.0 - 5.0 * log(box->grid->x_m[3] / 0.2) / log(5.0);
    cr_expect(fabs(T[3] - mid) < 1e-9);
    uf_box_free(box);
}

Test(box, start_fixed_and_lookup)
{
    struct uf_box *box = make(0.0, 1.0, 0.5, false);
    double T[128];
    bool fixed[128];
    uf_box_connect(box);
    (void)uf_box_bath(box, 7.5);
    uf_box_start(box, 2.0, T);
    uf_box_fixed(box, fixed);
    cr_expect(box->heat->n == 51 && T[0] == 2.0 && T[50] == 7.5);
    cr_expect(!fixed[49] && fixed[50]);
    for (size_t c = 0; c < 50; c++) { /* a plane is met exactly between centres */
        T[c] = 3.0 * box->grid->x_m[c % 10] - 2.0 * box->grid->z_m[c / 10];
    }
    cr_expect(fabs(uf_box_at_degC(box, T, 0.43, 0.27) - (1.29 - 0.54)) < 1e-12);
    cr_expect(fabs(uf_box_at_degC(box, T, 0.95, 0.05) - (2.85 - 0.1)) < 1e-12);
    cr_expect(fabs(uf_box_at_degC(box, T, 0.999, 0.499) - (2.85 - 0.9)) < 1e-12);
    uf_box_free(box);
}

Test(box, too_many_lines_are_refused)
{
    const struct uf_grid_zone dust[] = {{3.0, 1e-4}};
    const struct uf_grid_axis x = {
        .end_m = 1.0, .zones = tenth, .n_zones = 1, .growth = 1.5, .largest_m = 1.0};
    const struct uf_grid_axis z = {
        .end_m = 1.0, .zones = dust, .n_zones = 1, .growth = 1.5, .largest_m = 1.0};
    struct uf_box *box = NULL;
    cr_expect(uf_box_create(&box, &x, &z, false, 1, NULL) == UF_E_RANGE);
    cr_expect(box == NULL);
}
