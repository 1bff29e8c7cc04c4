#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>

/* The water's rows: a node a row of the grid, the uppermost two. */

static const enum uf_shape SHAPES[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};

static struct uf_section *make(const struct uf_case *design)
{
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    return s;
}

/* Water in rows: nodes from the surface to the invert that hold what one body holds, none of
   them thin; every wet cell stands on the node of its depth; a node hangs on the next. */
Test(section_rows, hold_what_one_body_holds)
{
    const double levels_m[] = {0.03, 0.4, 1.0, 3.0};
    for (size_t k = 0; k < 12; k++) {
        struct uf_case d = designs_tank(SHAPES[k % 3], levels_m[k / 3]);
        d.tank.water = UF_WATER_MIXED;
        struct uf_section *one = make(&d);
        d.tank.water = UF_WATER_LAYERED;
        struct uf_section *s = make(&d);
        const struct uf_heat *h = s->heat;
        double sum_m3 = 0.0;
        size_t between = 0;
        for (size_t r = 0; r < h->n_water; r++) {
            const double high_m = s->water_edge_m[r + 1] - s->water_edge_m[r];
            sum_m3 += h->volume_m3[h->water + r];
            cr_expect(high_m > 0.015 && h->material[h->water + r] == h->material[h->water],
                      "%zu: row %zu is %g m high", k, r, high_m);
        }
        for (size_t l = 0; l < h->n_links; l++) {
            const struct uf_heat_link *link = &h->links[l];
            between += uf_heat_is_water(h, link->a) && uf_heat_is_water(h, link->b);
            const size_t row = h->water + (link->wetted ? link->b - h->water : 0);
            const size_t r = row - h->water;
            const size_t below =
                r + (r == 0 && h->n_water > 1 ? 2 : 1); /* the uppermost is parted */
            const double z_m =
                link->wetted ? s->grid->z_m[uf_grid_j(s->grid, link->a)] : (double)NAN;
            cr_expect(!link->wetted ||
                          (z_m > s->water_edge_m[r] - 0.2 && z_m < s->water_edge_m[below] + 0.2),
                      "%zu: ground at %g m on the water of row %zu", k, z_m, r);
        }
        cr_expect(fabs(sum_m3 - one->heat->volume_m3[one->heat->water]) < 1e-12, "%zu", k);
        cr_expect(between == h->n_water - 1, "%zu: %zu links", k, between);
        cr_expect(k < 6 || h->n_water > 4, "%zu: %zu rows", k, h->n_water);
        uf_section_free(one);
        uf_section_free(s);
    }
}

/* Wetted wall against a node of the water, or against all of it, from ground over it or beside it. */
static double wall_m2(const struct uf_section *s, size_t node, bool over)
{
    double sum_m2 = 0.0;
    for (size_t l = 0; l < s->heat->n_links; l++) {
        const struct uf_heat_link *link = &s->heat->links[l];
        const bool is_over = s->grid->z_m[uf_grid_j(s->grid, link->a)] < s->water_edge_m[0];
        sum_m2 += link->wetted && link->b == node && is_over == over ? link->area_m2 : 0.0;
    }
    return sum_m2;
}

/* Under a roof the uppermost node is what lies next to it: a part of its row, which alone meets the roof
   and shares the wall beside it by height. No wall is lost by it. */
Test(section_rows, the_uppermost_is_parted)
{
    struct uf_case d = designs_tank(UF_BOX, 3.0); /* full */
    d.tank.water = UF_WATER_MIXED;
    struct uf_section *one = make(&d);
    d.tank.water = UF_WATER_LAYERED;
    struct uf_section *s = make(&d);
    const size_t top = s->heat->water;
    const double *edge_m = s->water_edge_m;
    const double share = (edge_m[1] - edge_m[0]) / (edge_m[2] - edge_m[0]);
    double all_m2 = 0.0;
    for (size_t r = 0; r < s->heat->n_water; r++) {
        all_m2 += wall_m2(s, top + r, false) + wall_m2(s, top + r, true);
    }
    cr_expect(share > 0.3 && share < 0.5 && edge_m[2] - edge_m[0] < 0.15, "%g", share);
    cr_expect(fabs(wall_m2(s, top, true) - wall_m2(one, one->heat->water, true)) < 1e-12);
    cr_expect_eq(wall_m2(s, top + 1, true), 0.0);
    cr_expect(wall_m2(s, top, false) > 0.0);
    cr_expect(fabs(wall_m2(s, top, false) -
                   share * (wall_m2(s, top, false) + wall_m2(s, top + 1, false))) < 1e-12);
    cr_expect(fabs(all_m2 - wall_m2(one, one->heat->water, false) -
                   wall_m2(one, one->heat->water, true)) < 1e-9);
    uf_section_free(one);
    uf_section_free(s);
}
