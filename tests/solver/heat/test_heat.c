#include "solver/heat/heat.h"
#include "solver/heat/sparse.h"
#include "solver/heat/spectrum.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct uf_heat_now winter = {.outside_degC = -12.0, .h_W_m2K = 9.0, .air_degC = -14.0};

static struct uf_section *section_of(const struct uf_case *design)
{
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    return s;
}

/* Random states about zero, so that every branch of every substance is met. */
static void shake(const struct uf_heat *h, unsigned seed, double *T_degC)
{
    for (size_t i = 0; i < h->n; i++) {
        T_degC[i] = 3.0 * designs_noise(&seed);
        T_degC[i] -= 0.2 * T_degC[i] * T_degC[i];
    }
}

static double largest(const double *x, size_t n)
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++) {
        most = fmax(most, fabs(x[i]));
    }
    return most;
}

static void expect_conserving(const struct uf_case *design)
{
    struct uf_section *s = section_of(design);
    const struct uf_heat *h = s->heat;
    double *T = calloc(2 * h->n, sizeof *T);
    double *into = T + h->n;
    cr_assert(T != NULL);
    for (unsigned seed = 1; seed < 6; seed++) {
        struct uf_heat_flow flow;
        double sum_W = 0.0;
        double sizes_W = 0.0;
        shake(h, seed, T);
        uf_heat_rate(h, &winter, T, into, &flow);
        for (size_t i = 0; i < h->n; i++) {
            sum_W += into[i];
            sizes_W += fabs(into[i]);
        }
        cr_expect(fabs(sum_W - designs_total_W(&flow)) < 1e-12 * sizes_W,
                  "%.12g into nodes, %.12g through the boundaries", sum_W, designs_total_W(&flow));
    }
    free(T);
    uf_section_free(s);
}

Test(heat, what_leaves_one_node_enters_another)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    static const double levels_m[] = {2.0, 0.7, 0.0};
    for (size_t k = 0; k < 9; k++) {
        struct uf_case d = designs_tank(shapes[k / 3], levels_m[k % 3]);
        expect_conserving(&d);
        d.tank.mixing_W_mK = 2.0;
        expect_conserving(&d);
        d.tank.mixing_W_mK = NAN;
        d.tank.hold_degC = k % 3 == 2 ? (double)NAN : 5.0;
        expect_conserving(&d);
    }
}

/* All at one temperature, also the outside: nothing flows but the heat from below. */
Test(heat, uniform_temperature_moves_only_the_heat_from_below)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    struct uf_section *s = section_of(&d);
    const struct uf_heat *h = s->heat;
    const struct uf_heat_now same = {.outside_degC = -0.3, .h_W_m2K = 9.0, .air_degC = -0.3};
    double *T = calloc(2 * h->n, sizeof *T);
    double *into = T + h->n;
    struct uf_heat_flow flow;
    cr_assert(T != NULL);
    for (size_t i = 0; i < h->n; i++) {
        T[i] = -0.3;
    }
    uf_heat_rate(h, &same, T, into, &flow);
    const size_t lowest = h->n_cells - h->grid->nx;
    for (size_t i = 0; i < h->n; i++) {
        const bool bottom = i >= lowest && i < h->n_cells;
        cr_expect(fabs(into[i] - (bottom ? h->bottom_W[i - lowest] : 0.0)) < 1e-15);
    }
    cr_expect(fabs(flow.bottom_W - 0.06 * 8.0) < 1e-12);
    cr_expect(flow.surface_W == 0.0 && flow.vent_W == 0.0);
    free(T);
    uf_section_free(s);
}

/* Column j of the matrix against central differences of the flows, for every node that
   the shift does not carry over a corner of U(T). `exact`: within rounding; otherwise
   only the sign and the size are asked. */
struct compare {
    const struct uf_heat *heat;
    const struct uf_heat_now *now;
    double *T, *plus, *minus, *column;
    struct uf_sparse *matrix;
    size_t (*pairs)[2];
    size_t n_pairs;
};

static void compare_create(struct compare *c, const struct uf_heat *heat)
{
    *c = (struct compare){.heat = heat, .now = &winter};
    cr_assert(uf_heat_pairs(heat, &c->pairs, &c->n_pairs, NULL) == UF_OK);
    cr_assert(uf_sparse_create(&c->matrix, heat->n, (const size_t(*)[2])c->pairs, c->n_pairs,
                               NULL) == UF_OK);
    c->T = calloc(4 * heat->n, sizeof *c->T);
    cr_assert(c->T != NULL);
    c->plus = c->T + heat->n;
    c->minus = c->plus + heat->n;
    c->column = c->minus + heat->n;
}

static void compare_free(struct compare *c)
{
    uf_sparse_free(c->matrix);
    free(c->pairs);
    free(c->T);
}

static void matrix_column(struct compare *c, size_t j)
{
    memset(c->column, 0, c->heat->n * sizeof *c->column);
    c->column[j] = *uf_sparse_diagonal(c->matrix, j);
    for (size_t p = 0; p < c->n_pairs; p++) {
        if (c->pairs[p][1] == j) { /* row a, column b */
            c->column[c->pairs[p][0]] = *uf_sparse_ab(c->matrix, p);
        }
        if (c->pairs[p][0] == j) {
            c->column[c->pairs[p][1]] = *uf_sparse_ba(c->matrix, p);
        }
    }
}

static double column_error(struct compare *c, size_t j)
{
    struct uf_heat_flow flow;
    const double T = c->T[j];
    const double d = 1e-4;
    c->T[j] = T + d;
    uf_heat_rate(c->heat, c->now, c->T, c->plus, &flow);
    c->T[j] = T - d;
    uf_heat_rate(c->heat, c->now, c->T, c->minus, &flow);
    c->T[j] = T;
    matrix_column(c, j);
    double error = 0.0;
    for (size_t i = 0; i < c->heat->n; i++) {
        const double difference = -(c->plus[i] - c->minus[i]) / (2.0 * d);
        error = fmax(error, fabs(difference - c->column[i]));
    }
    return error / fmax(largest(c->column, c->heat->n), 1e-30);
}

/* Frozen or thawed throughout, every conductivity stands still and the matrix is the
   exact derivative. Temperatures stay half a degree clear of every freezing range. */
Test(heat, matrix_is_the_derivative_where_k_stands_still)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.burial.bedding_soil.thermal = uf_verify_silt();
    for (int frozen = 0; frozen < 2; frozen++) {
        struct uf_section *s = section_of(&d);
        const struct uf_heat_now thaw = {.outside_degC = 9.0, .h_W_m2K = 9.0};
        struct compare c;
        unsigned seed = 7;
        compare_create(&c, s->heat);
        c.now = frozen ? &winter : &thaw;
        for (size_t i = 0; i < s->heat->n; i++) {
            c.T[i] = (frozen ? -6.0 : 6.0) + 3.0 * designs_noise(&seed);
        }
        uf_sparse_zero(c.matrix);
        uf_heat_matrix(s->heat, c.now, c.T, 1.0, c.matrix);
        for (size_t j = 0; j < s->heat->n; j += 3) {
            if (s->heat->volume_m3[j] > 0.0) {
                cr_expect(column_error(&c, j) < 1e-8, "node %zu, frozen %d: %g", j, frozen,
                          column_error(&c, j));
            }
        }
        compare_free(&c);
        uf_section_free(s);
    }
}

/* Ground of one curved substance at random states through the freezing range: U is smooth
   between corners, so the matrix is exact there too (truncation of the difference allowed
   for). Only the open top keeps its own conductivity: its cells are left out. */
Test(heat, matrix_is_the_derivative_while_freezing)
{
    const struct uf_thermal soil = designs_curved_soil();
    struct uf_case d = designs_ground(&soil);
    struct uf_section *s = section_of(&d);
    struct compare c;
    size_t compared = 0;
    compare_create(&c, s->heat);
    for (unsigned seed = 1; seed < 9; seed++) {
        const struct uf_material *m = &s->heat->materials[0];
        shake(s->heat, seed, c.T);
        uf_sparse_zero(c.matrix);
        uf_heat_matrix(s->heat, c.now, c.T, 1.0, c.matrix);
        for (size_t j = 1; j < s->heat->n; j++) {
            bool corner = false;
            for (size_t k = 0; k < m->n; k++) {
                corner = corner || fabs(m->T_degC[k] - c.T[j]) < 1.1e-4;
            }
            if (!corner) {
                cr_expect(column_error(&c, j) < 1e-6, "node %zu: %g", j, column_error(&c, j));
                compared++;
            }
        }
    }
    cr_expect(compared > 100, "only %zu columns compared", compared);
    compare_free(&c);
    uf_section_free(s);
}

/* Links take the secant conductivity as standing still: not the derivative, but Newton
   needs its sign and size. Off-diagonals are never positive, each column balances. */
Test(heat, matrix_of_a_whole_section_conserves_and_dominates)
{
    struct uf_case d = designs_tank(UF_VERTICAL_CYLINDER, 0.9);
    struct uf_section *s = section_of(&d);
    struct compare c;
    compare_create(&c, s->heat);
    shake(s->heat, 3, c.T);
    uf_heat_matrix(s->heat, c.now, c.T, 2.0, c.matrix);
    double outside_W_K = 0.0;
    for (size_t j = 0; j < s->heat->n; j++) {
        double sum_W_K = 0.0;
        matrix_column(&c, j);
        for (size_t i = 0; i < s->heat->n; i++) {
            cr_assert(i == j || c.column[i] <= 0.0);
            sum_W_K += c.column[i];
        }
        cr_expect(sum_W_K >= -1e-9 * c.column[j], "column %zu: %g", j, sum_W_K);
        outside_W_K += 0.5 * sum_W_K;
    }
    double want_W_K = 0.0;
    for (size_t t = 0; t < s->heat->n_tops; t++) {
        double W_K = 0.0;
        (void)uf_heat_top_W(s->heat, &s->heat->tops[t], c.now, c.T[s->heat->tops[t].cell], &W_K);
        want_W_K += W_K;
    }
    want_W_K += s->heat->vents[0].W_K;
    cr_expect(fabs(outside_W_K - want_W_K) < 1e-9 * want_W_K);
    compare_free(&c);
    uf_section_free(s);
}

/* Two substances over 0.1 and 0.3 m with a shell of 0.05 m2K/W: resistances add. */
Test(heat, a_link_adds_resistances)
{
    struct uf_case d = designs_tank(UF_BOX, 1.0);
    struct uf_section *s = section_of(&d);
    struct uf_material stone;
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    s->heat->materials[0] = stone;
    uf_material_inert(&s->heat->materials[1], "wood", 0.2, 1e6);
    const struct uf_heat_link link = {.a = 0,
                                      .b = 1,
                                      .area_m2 = 4.0,
                                      .fixed_m2K_W = 0.05,
                                      .length_a_m = 0.1,
                                      .length_b_m = 0.3,
                                      .material_a = 0,
                                      .material_b = 1};
    const double T[] = {8.0, -8.0};
    const double want_W_K = 4.0 / (0.05 + 0.05 + 1.5);
    cr_expect(fabs(uf_heat_link_W_K(s->heat, &link, T) - want_W_K) < 1e-12);
    cr_expect(fabs(uf_heat_link_W(s->heat, &link, T) - 16.0 * want_W_K) < 1e-12);
    uf_section_free(s);
}

/* Surface laws: a film in series with half a cell; no film at all; a freezing soil below
   a fixed surface takes the mean conductivity between the two temperatures. */
Test(heat, surface_law)
{
    const struct uf_thermal soil = uf_verify_silt();
    struct uf_case d = designs_ground(&soil);
    struct uf_section *s = section_of(&d);
    const struct uf_heat_top *top = &s->heat->tops[0];
    const double half = top->half_m;
    struct uf_heat_now now = {.outside_degC = 3.0, .h_W_m2K = 10.0};
    double slope = 0.0;
    double want = 2.0 / (0.1 + half / 1.6);
    cr_expect(fabs(uf_heat_top_W(s->heat, top, &now, 1.0, &slope) - want) < 1e-12);
    cr_expect(fabs(slope - 1.0 / (0.1 + half / 1.6)) < 1e-12);
    now = (struct uf_heat_now){.outside_degC = -3.5, .h_W_m2K = INFINITY};
    /* -3.5 .. -0.5 frozen, -0.5 .. 0 half way on average, 0 .. 2 thawed */
    want = -(3.0 * 2.1 + 0.5 * 1.85 + 2.0 * 1.6) / half;
    cr_expect(fabs(uf_heat_top_W(s->heat, top, &now, 2.0, NULL) - want) < 1e-9);
    uf_section_free(s);
}

/* Snow on top: ground warmer than 0 degC melts it and is held at 0 degC; colder ground
   knows nothing of it. The two laws meet where the surface is just at 0 degC. */
Test(heat, snow_holds_the_surface_at_zero)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    struct uf_section *s = section_of(&d);
    const struct uf_heat_top *top = &s->heat->tops[0];
    const struct uf_heat_now bare = {.outside_degC = -6.0, .h_W_m2K = 0.5};
    struct uf_heat_now snow = bare;
    double slope_W_K = 0.0;
    snow.snow = true;
    const double W = uf_heat_top_W(s->heat, top, &snow, 3.0, &slope_W_K);
    const double k_W_mK = uf_material_secant_W_mK(&s->heat->materials[top->material], 0.0, 3.0);
    cr_expect_float_eq(W, -3.0 * top->area_m2 * k_W_mK / top->half_m, 1e-9);
    cr_expect_float_eq(slope_W_K, -W / 3.0, 1e-9);
    cr_expect_eq(uf_heat_surface_degC(s->heat, top, &snow, 3.0), 0.0);
    cr_expect_eq(uf_heat_top_W(s->heat, top, &snow, -1.0, NULL),
                 uf_heat_top_W(s->heat, top, &bare, -1.0, NULL));
    /* q through the snow at a surface of 0 degC is 3 W/m2: the cell is then at half q / k */
    const double meet_degC = 3.0 * top->half_m / k_W_mK;
    cr_expect_float_eq(uf_heat_top_W(s->heat, top, &snow, meet_degC, NULL),
                       uf_heat_top_W(s->heat, top, &bare, meet_degC, NULL), 1e-9 * top->area_m2);
    uf_section_free(s);
}

/* Between two days the air above lying snow can be warm: a law that then jumped at a cell
   of 0 degC could be met by no implicit step. */
Test(heat, snow_under_warm_air_does_not_jump_at_zero)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    struct uf_section *s = section_of(&d);
    const struct uf_heat_top *top = &s->heat->tops[0];
    const struct uf_heat_now warm = {.outside_degC = 3.5, .h_W_m2K = 14.8, .snow = true};
    const double k_W_mK = uf_material_secant_W_mK(&s->heat->materials[top->material], 0.0, -0.3);
    const double below = uf_heat_top_W(s->heat, top, &warm, -1e-9, NULL);
    const double above = uf_heat_top_W(s->heat, top, &warm, 1e-9, NULL);
    cr_expect_float_eq(below, above, 1e-6 * top->area_m2);
    cr_expect_eq(uf_heat_surface_degC(s->heat, top, &warm, -0.3), 0.0);
    cr_expect_float_eq(uf_heat_top_W(s->heat, top, &warm, -0.3, NULL),
                       0.3 * top->area_m2 * k_W_mK / top->half_m, 1e-9);
    uf_section_free(s);
}

Test(heat, enthalpy_and_temperature_of_all_nodes)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    struct uf_section *s = section_of(&d);
    const struct uf_heat *h = s->heat;
    double *T = calloc(3 * h->n, sizeof *T);
    double stored_J = 0.0;
    cr_assert(T != NULL);
    shake(h, 5, T);
    uf_heat_enthalpies(h, T, T + h->n);
    uf_heat_temperatures(h, T + h->n, T + 2 * h->n);
    for (size_t i = 0; i < h->n; i++) {
        cr_expect(fabs(T[i] - T[2 * h->n + i]) < 1e-11);
        stored_J += h->volume_m3[i] * T[h->n + i];
    }
    cr_expect(fabs(uf_heat_stored_J(h, T + h->n) - stored_J) < 1e-9 * fabs(stored_J));
    free(T);
    uf_section_free(s);
}

/* A step of the inverse rate never overshoots: the bound is safe for every node and every
   state, and is not idle (some node comes within a tenth of it). */
Test(heat, fastest_rate_bounds_every_node)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    struct uf_section *s = section_of(&d);
    struct compare c;
    double most_1_s = 0.0;
    compare_create(&c, s->heat);
    for (size_t i = 0; i < s->heat->n; i++) {
        c.T[i] = -8.0;
    }
    uf_heat_matrix(s->heat, &winter, c.T, 1.0, c.matrix);
    for (size_t i = 0; i < s->heat->n; i++) {
        if (s->heat->volume_m3[i] > 0.0) {
            const struct uf_material *m = &s->heat->materials[s->heat->material[i]];
            const double rate = 2.0 * *uf_sparse_diagonal(c.matrix, i) /
                                (s->heat->volume_m3[i] * m->c_frozen_J_m3K);
            most_1_s = fmax(most_1_s, rate);
        }
    }
    const double fastest = uf_spectrum_fastest_1_s(s->heat, winter.h_W_m2K);
    cr_expect(0.5 * most_1_s <= fastest && most_1_s > 0.1 * fastest, "%g of %g", most_1_s, fastest);
    compare_free(&c);
    uf_section_free(s);
}
