#include "solver/base/constants.h"
#include "solver/heat/layers.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Water in rows of a real section, at temperatures of the test's own. */
struct fixture {
    struct uf_section *section;
    const struct uf_heat *heat;
    double *H_J_m3, *T_degC;
    bool *joined;
};

static struct fixture make(void)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    struct fixture f = {.section = NULL};
    d.tank.water = UF_WATER_LAYERED;
    cr_assert(uf_section_create(&f.section, &d, 1.5, NULL) == UF_OK);
    f.heat = f.section->heat;
    f.H_J_m3 = calloc(3 * f.heat->n, sizeof *f.H_J_m3);
    f.joined = calloc(f.heat->n, sizeof *f.joined);
    cr_assert(f.H_J_m3 != NULL && f.joined != NULL && f.heat->n_water > 5);
    f.T_degC = f.H_J_m3 + f.heat->n;
    return f;
}

static void release(struct fixture *f)
{
    uf_section_free(f->section);
    free(f->H_J_m3);
    free(f->joined);
}

static void set(struct fixture *f, size_t row, double T_degC)
{
    const struct uf_heat *h = f->heat;
    f->H_J_m3[h->water + row] = uf_material_H_J_m3(&h->materials[h->material[h->water]], T_degC);
}

static double row_degC(struct fixture *f, size_t row)
{
    uf_heat_temperatures(f->heat, f->H_J_m3, f->T_degC);
    return f->T_degC[f->heat->water + row];
}

/* Tanaka et al. 2001, table 1: kg/m3. */
Test(layers, density_as_published)
{
    const double at[][2] = {{0, 999.8428}, {4, 999.9749}, {10, 999.7027}, {20, 998.2067}};
    for (size_t i = 0; i < 4; i++) {
        cr_expect_float_eq(uf_layers_density_kg_m3(at[i][0]), at[i][1], 1e-3);
    }
    cr_expect(uf_layers_density_kg_m3(3.98) > uf_layers_density_kg_m3(3.9));
    cr_expect(uf_layers_density_kg_m3(3.98) > uf_layers_density_kg_m3(4.1));
}

/* Whatever the rows were, they come to lie by density, ice on top, and keep their heat. */
Test(layers, settled_rows_keep_their_heat)
{
    struct fixture f = make();
    const struct uf_heat *h = f.heat;
    unsigned seed = 3;
    for (int k = 0; k < 200; k++) {
        for (size_t r = 0; r < h->n_water; r++) {
            set(&f, r, 4.0 + 6.0 * designs_noise(&seed));
        }
        if (k % 3 == 0) {
            set(&f, (size_t)k % h->n_water, -0.15);
        }
        const double before_J = uf_heat_stored_J(h, f.H_J_m3);
        uf_layers_settle(h, f.H_J_m3);
        cr_expect(fabs(uf_heat_stored_J(h, f.H_J_m3) / before_J - 1.0) < 1e-13);
        for (size_t r = 0; r + 1 < h->n_water; r++) {
            const double up = row_degC(&f, r);
            const double low = row_degC(&f, r + 1);
            cr_expect(low < -1e-5 ? up <= UF_WATER_FREEZES_TO_C + 1e-5
                                  : up < 0.0 || uf_layers_density_kg_m3(up) <=
                                                    uf_layers_density_kg_m3(low) + 1e-9,
                      "round %d, row %zu: %g over %g degC", k, r, up, low);
        }
    }
    release(&f);
}

/* Ice of the lowest row goes to the top; what it met there it melts into, with its heat. */
Test(layers, ice_floats)
{
    struct fixture f = make();
    const size_t n = f.heat->n_water;
    for (size_t r = 0; r < n; r++) {
        set(&f, r, 0.0);
    }
    set(&f, n - 1, -0.1);
    uf_layers_settle(f.heat, f.H_J_m3);
    cr_expect_float_eq(row_degC(&f, n - 1), 0.0, 1e-5);
    cr_expect(row_degC(&f, 0) < -0.01, "%g degC at the top", row_degC(&f, 0));
    release(&f);
}

/* Rows of one temperature above 3.98 degC that are cooled from above go on as one; below it they
   part, the top alone goes on cooling. */
Test(layers, joined_while_the_upper_is_heavier)
{
    struct fixture f = make();
    const struct uf_heat *h = f.heat;
    const size_t n = h->n_water;
    double *rate = f.T_degC;
    for (int above = 0; above < 2; above++) {
        for (size_t r = 0; r < n; r++) {
            set(&f, r, above ? 6.0 : 3.0);
        }
        memset(rate, 0, h->n * sizeof *rate);
        rate[h->water] = -1.0;
        uf_layers_join(h, f.H_J_m3, rate, f.joined);
        double sum = 0.0;
        for (size_t r = 0; r < n; r++) {
            sum += rate[h->water + r] * h->volume_m3[h->water + r];
            cr_expect(f.joined[r] == (above && r + 1 < n), "%d: row %zu", above, r);
        }
        cr_expect_float_eq(sum, -h->volume_m3[h->water], 1e-12);
        cr_expect(above ? rate[h->water] > -0.5 : rate[h->water] == -1.0);
    }
    release(&f);
}

/* Water runs in where its own density lies: 4 degC at the bottom, 0.5 degC near the top; 7 degC
   is as heavy as 1 degC. */
Test(layers, inflow_finds_its_level)
{
    struct fixture f = make();
    const struct uf_heat *h = f.heat;
    const size_t n = h->n_water;
    size_t row = 0;
    size_t other = 0;
    double below = 0.0;
    for (size_t r = 0; r < n; r++) {
        set(&f, r, 3.9 * (double)r / (double)(n - 1));
    }
    uf_heat_temperatures(h, f.H_J_m3, f.T_degC);
    uf_layers_level(h, f.T_degC, 3.98, &row, &below);
    cr_expect(row == h->water + n - 1);
    uf_layers_level(h, f.T_degC, 0.0, &row, &below);
    cr_expect(row == h->water && below < 1e-6);
    uf_layers_level(h, f.T_degC, 1.0, &row, &below);
    uf_layers_level(h, f.T_degC, 7.05, &other, &below);
    cr_expect(row == other && row > h->water && row < h->water + n - 1);
    release(&f);
}
