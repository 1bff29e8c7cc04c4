#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A lying tank as slices along its axis: what a quarter of it holds, where its end lies, and
   that heat is neither made nor lost between slices. */

static struct uf_case solid(enum uf_shape shape, enum uf_heads heads, double level_m)
{
    struct uf_case d = designs_tank(shape, level_m);
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    d.tank.heads = heads;
    d.board.skirt_m = 0.3;
    return d;
}

static struct uf_section *make(const struct uf_case *design)
{
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    return s;
}

static const struct {
    enum uf_shape shape;
    enum uf_heads heads;
} KINDS[] = {{UF_BOX, UF_FLAT},
             {UF_HORIZONTAL_CYLINDER, UF_FLAT},
             {UF_HORIZONTAL_CYLINDER, UF_HEMISPHERICAL},
             {UF_HORIZONTAL_CYLINDER, UF_ELLIPSOIDAL_2_TO_1}};
enum { N_KINDS = sizeof KINDS / sizeof *KINDS };

Test(slice, a_quarter_of_tank_and_ground)
{
    for (size_t k = 0; k < N_KINDS; k++) {
        const struct uf_case d = solid(KINDS[k].shape, KINDS[k].heads, 0.7);
        struct uf_section *s = make(&d);
        const struct uf_grid *g = s->grid;
        double ground_m3 = 0.0;
        cr_assert(g->ny > 6);
        for (size_t c = 0; c < s->heat->n_cells; c++) {
            ground_m3 += s->heat->volume_m3[c];
        }
        const double water_m3 = 0.25 * uf_tank_content_m3(&d.tank, 0.7);
        const double domain_m3 = 8.0 * 8.0 * g->y_edge_m[g->ny];
        const double round = KINDS[k].heads == UF_FLAT ? 1e-9 : 0.002; /* a slice's level */
        cr_expect_float_eq(ground_m3, domain_m3 - 0.25 * uf_tank_volume_m3(&d.tank),
                           1e-9 * domain_m3, "kind %zu", k);
        cr_expect_float_eq(s->heat->water_m3, water_m3, round * water_m3, "kind %zu: %g, not %g", k,
                           s->heat->water_m3, water_m3);
        uf_section_free(s);
    }
}

/* The end is a line of the slices, and the wall's area over it the end's own. */
Test(slice, the_end_has_its_own_area)
{
    for (size_t k = 0; k < N_KINDS; k++) {
        const struct uf_case d = solid(KINDS[k].shape, KINDS[k].heads, 3.0);
        struct uf_section *s = make(&d);
        const struct uf_grid *g = s->grid;
        const double end_m = 0.5 * uf_tank_plan_length_m(&d.tank);
        double end_m2 = 0.0;
        double nearest_m = INFINITY;
        for (size_t e = 0; e <= g->ny; e++) {
            nearest_m = fmin(nearest_m, fabs(g->y_edge_m[e] - end_m));
        }
        for (size_t l = 0; l < s->heat->n_links; l++) {
            const struct uf_heat_link *link = &s->heat->links[l];
            const bool past = !(s->slices[uf_grid_k(g, link->a)].outline.half_m > 0.0);
            end_m2 += link->wetted && past ? link->area_m2 : 0.0;
        }
        const double want_m2 = 0.5 * (KINDS[k].shape == UF_BOX ? 1.6 * 1.4 : UF_PI * 0.64);
        cr_expect(nearest_m < 1e-9, "kind %zu", k);
        if (KINDS[k].heads == UF_FLAT) {
            cr_expect_float_eq(end_m2, want_m2, 1e-9, "kind %zu: %g", k, end_m2);
        }
        uf_section_free(s);
    }
}

Test(slice, heat_in_is_heat_stored)
{
    const struct uf_heat_now now = {.outside_degC = -7.0, .h_W_m2K = 9.0, .air_degC = -10.0};
    for (size_t k = 0; k < N_KINDS; k++) {
        struct uf_case d = solid(KINDS[k].shape, KINDS[k].heads, 0.7);
        for (int still = 0; still < 2; still++) {
            d.tank.mixing_W_mK = still ? 5.0 : (double)NAN;
            struct uf_section *s = make(&d);
            const struct uf_heat *h = s->heat;
            double *T = calloc(2 * h->n, sizeof *T);
            unsigned noise = 7;
            double sum_W = 0.0;
            struct uf_heat_flow flow;
            cr_assert(T != NULL);
            for (size_t i = 0; i < h->n; i++) {
                T[i] = 10.0 * designs_noise(&noise) - 3.0;
            }
            uf_heat_rate(h, &now, T, T + h->n, &flow);
            for (size_t i = 0; i < h->n; i++) {
                sum_W += T[h->n + i];
                cr_expect(h->volume_m3[i] > 0.0 || T[h->n + i] == 0.0, "flow into no volume");
            }
            cr_expect_float_eq(sum_W, designs_total_W(&flow), 1e-9 * fabs(flow.surface_W));
            free(T);
            uf_section_free(s);
        }
    }
}

/* Past the end of board and pit the ground is the undisturbed column's. */
Test(slice, ground_as_it_lies_past_the_end)
{
    const struct uf_case d = solid(UF_BOX, UF_FLAT, 1.0);
    struct uf_section *s = make(&d);
    const struct uf_grid *g = s->grid;
    const double edge_m = 0.5 * d.tank.length_m + d.board.beyond_tank_m;
    size_t over_end = 0;
    for (size_t k = 0; k < g->ny; k++) {
        for (size_t j = 0; j < g->nz; j++) {
            const size_t c = uf_grid_in(g, 0, j, k);
            const char *name = s->names[s->shown[c]];
            const bool slab =
                g->z_m[j] > uf_case_board_top_m(&d) && g->z_m[j] < uf_case_board_bottom_m(&d);
            if (slab) {
                cr_expect((strcmp(name, "board") == 0) == (g->y_m[k] < edge_m), "slice %zu", k);
                over_end += g->y_m[k] > 0.5 * d.tank.length_m && g->y_m[k] < edge_m;
            }
        }
    }
    cr_expect(over_end > 0);
    cr_expect(strcmp(s->names[s->shown[uf_grid_in(g, 0, 0, g->ny - 1)]], "measured soil") == 0);
    uf_section_free(s);
}
