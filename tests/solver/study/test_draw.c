#include "solver/study/draw.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

enum { MEMBERS = 400 };

/* Quantiles known in closed form, or from the tables of the normal distribution. */
Test(draw, quantiles_are_those_of_their_laws)
{
    const struct uf_draw_law uniform = {UF_DRAW_UNIFORM, 2.0, 6.0, 0.0},
                             normal = {UF_DRAW_NORMAL, 10.0, 2.0, 0.0},
                             lognormal = {UF_DRAW_LOGNORMAL, 18.0, 4.0, 0.0},
                             triangular = {UF_DRAW_TRIANGULAR, 0.0, 1.0, 4.0};
    cr_expect_float_eq(uf_draw_quantile(&uniform, 0.25), 3.0, 1e-12);
    cr_expect_float_eq(uf_draw_quantile(&normal, 0.975), 10.0 + 2.0 * 1.959963984540054, 1e-9);
    cr_expect_float_eq(uf_draw_quantile(&normal, 0.5), 10.0, 1e-9);
    cr_expect_float_eq(uf_draw_quantile(&lognormal, 0.5), 18.0 / sqrt(1.0 + 16.0 / 324.0), 1e-9);
    cr_expect_float_eq(uf_draw_quantile(&triangular, 0.25), 1.0, 1e-12); /* b - a over c - a */
    cr_expect_float_eq(uf_draw_quantile(&triangular, 1.0 - 1.0 / 12.0), 3.0, 1e-12);
}

static double *drawn(const struct uf_draw_input *input)
{
    struct uf_error err = {0};
    double *values = calloc(input->n_members * input->n_laws, sizeof *values);
    cr_assert_eq(uf_draw(values, input, &err), UF_OK, "%s", err.text);
    return values;
}

/* McKay, Beckman & Conover 1979: one value in each part of equal probability. */
Test(draw, each_part_holds_one_value)
{
    const struct uf_draw_law laws[] = {{UF_DRAW_UNIFORM, 0.0, 1.0, 0.0},
                                       {UF_DRAW_UNIFORM, 0.0, 1.0, 0.0}};
    const struct uf_draw_input input = {laws, 2, MEMBERS, 7, NULL};
    double *values = drawn(&input), *again = drawn(&input);
    for (size_t i = 0; i < 2; i++) {
        bool seen[MEMBERS] = {false};
        for (size_t k = 0; k < MEMBERS; k++) {
            seen[(size_t)(values[2 * k + i] * MEMBERS)] = true;
            cr_expect_eq(values[2 * k + i], again[2 * k + i]);
        }
        for (size_t k = 0; k < MEMBERS; k++) {
            cr_expect(seen[k], "part %zu", k);
        }
    }
    struct uf_draw_input other = input;
    other.seed = 8;
    double *differ = drawn(&other);
    cr_expect_neq(differ[0], values[0]);
    free(values);
    free(again);
    free(differ);
}

/* Spearman's correlation of two columns without ties, by Kendall's formula 1 - 6 sum d2 / (n3 - n). */
static double spearman(const double *values, size_t n, size_t a, size_t b)
{
    double sum = 0.0;
    for (size_t i = 0; i < MEMBERS; i++) {
        double rank_a = 0.0, rank_b = 0.0;
        for (size_t k = 0; k < MEMBERS; k++) {
            rank_a += values[k * n + a] < values[i * n + a];
            rank_b += values[k * n + b] < values[i * n + b];
        }
        sum += (rank_a - rank_b) * (rank_a - rank_b);
    }
    const double m = MEMBERS;
    return 1.0 - 6.0 * sum / (m * m * m - m);
}

/* Iman & Conover 1982: the asked correlation of ranks, whatever the laws. */
Test(draw, ranks_correlate_as_asked)
{
    const struct uf_draw_law laws[] = {{UF_DRAW_NORMAL, 1600.0, 60.0, 0.0},
                                       {UF_DRAW_LOGNORMAL, 18.0, 4.0, 0.0},
                                       {UF_DRAW_TRIANGULAR, 1.0, 2.0, 5.0}};
    const double asked[] = {1.0, -0.6, 0.0, -0.6, 1.0, 0.5, 0.0, 0.5, 1.0};
    const struct uf_draw_input input = {laws, 3, MEMBERS, 3, asked};
    double *values = drawn(&input);
    cr_expect_float_eq(spearman(values, 3, 0, 1), -0.6, 0.05);
    cr_expect_float_eq(spearman(values, 3, 1, 2), 0.5, 0.05);
    cr_expect_float_eq(spearman(values, 3, 0, 2), 0.0, 0.05);
    free(values);
}

Test(draw, what_cannot_be_is_refused)
{
    const struct uf_draw_law laws[] = {{UF_DRAW_UNIFORM, 0.0, 1.0, 0.0},
                                       {UF_DRAW_UNIFORM, 0.0, 1.0, 0.0},
                                       {UF_DRAW_UNIFORM, 0.0, 1.0, 0.0}};
    const double contradict[] = {1.0, 0.9, 0.9, 0.9, 1.0, -0.9, 0.9, -0.9, 1.0};
    double values[3 * 50];
    const struct uf_draw_input input = {laws, 3, 50, 1, contradict};
    cr_expect_eq(uf_draw(values, &input, NULL), UF_E_INPUT);
    cr_expect(uf_draw_fault(&(struct uf_draw_law){UF_DRAW_LOGNORMAL, -1.0, 1.0, 0.0}) != NULL);
    cr_expect(uf_draw_fault(&(struct uf_draw_law){UF_DRAW_TRIANGULAR, 1.0, 0.0, 2.0}) != NULL);
    cr_expect(uf_draw_fault(&(struct uf_draw_law){UF_DRAW_NORMAL, (double)NAN, -1.0, 0.0}) != NULL);
    cr_expect(uf_draw_fault(&laws[0]) == NULL);
}
