#include "solver/works/grading.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_grading_list list_of(const double pairs[][2], size_t n)
{
    struct uf_grading_list list = {.n = n};
    for (size_t i = 0; i < n; i++) {
        list.rows[i].opening_m = 1e-3 * pairs[i][0];
        list.rows[i].passing = 0.01 * pairs[i][1];
    }
    return list;
}

static const struct uf_grading_spec *spec_named(const char *name)
{
    const struct uf_grading_spec *row = uf_grading_specs;
    while (strcmp(row->name, name) != 0) {
        row++;
    }
    return row;
}

/* No. 57 (ASTM C33): 1 1/2 in. 100, 1 in. 95-100, 1/2 in. 25-60, No. 4 0-10, No. 8 0-5. */
Test(grading, number_57)
{
    static const double pairs[][2] = {
        {37.5, 100.0}, {25.0, 97.0}, {12.5, 40.0}, {4.75, 6.0}, {2.36, 2.0}};
    struct uf_grading_list list = list_of(pairs, 5);
    struct uf_grading got;
    const struct uf_grading_spec *spec = spec_named("no_57");
    cr_assert_not_null(spec);
    cr_assert_eq(uf_grading_check(&got, spec, &list, NULL), UF_OK);
    cr_expect_eq(got.n_outside, 0u);
    cr_expect_eq(got.n_unknown, 0u);
    list.rows[2].passing = 0.61;
    cr_assert_eq(uf_grading_check(&got, spec, &list, NULL), UF_OK);
    cr_expect_eq(got.n_outside, 1u, "61 percent through 1/2 in. is too fine");
    cr_expect_not(got.rows[2].ok);
}

Test(grading, between_sieves_and_missing_ones)
{
    static const double pairs[][2] = {{19.0, 100.0}, {4.75, 10.0}};
    const struct uf_grading_list list = list_of(pairs, 2);
    struct uf_grading got;
    cr_assert_eq(uf_grading_check(&got, spec_named("no_67"), &list, NULL), UF_OK);
    /* 1 in. is coarser than a sieve that passes everything; 3/8 in. lies midway in the logarithm */
    cr_expect_float_eq(got.rows[0].passing, 1.0, 1e-12);
    cr_expect_not(got.rows[0].between);
    cr_expect_float_eq(got.rows[2].passing, 0.55, 1e-9);
    cr_expect(got.rows[2].between && got.rows[2].ok);
    cr_expect(isnan(got.rows[4].passing), "nothing finer than No. 4 was measured");
    cr_expect_eq(got.n_unknown, 1u);
    cr_expect_eq(got.n_outside, 0u);
}

Test(grading, every_row_is_in_order_with_a_source)
{
    for (const struct uf_grading_spec *row = uf_grading_specs; row->name != NULL; row++) {
        cr_expect(strlen(row->source) > 5);
        for (size_t i = 0; i < row->n; i++) {
            cr_expect(row->rows[i].low <= row->rows[i].high && row->rows[i].high <= 1.0);
            cr_expect(i == 0 || (row->rows[i].opening_m < row->rows[i - 1].opening_m &&
                                 row->rows[i].high <= row->rows[i - 1].high),
                      "%s", row->name);
        }
    }
}

Test(grading, lists_that_cannot_be)
{
    static const double finer_more[][2] = {{12.5, 40.0}, {4.75, 50.0}};
    static const double twice[][2] = {{12.5, 40.0}, {12.5, 40.0}};
    static const double too_much[][2] = {{12.5, 140.0}};
    const struct uf_grading_spec *spec = spec_named("no_8");
    struct uf_grading got;
    struct uf_grading_list list = {.n = 0};
    cr_expect_eq(uf_grading_check(&got, spec, &list, NULL), UF_E_INPUT);
    list = list_of(finer_more, 2);
    cr_expect_eq(uf_grading_check(&got, spec, &list, NULL), UF_E_INPUT);
    list = list_of(twice, 2);
    cr_expect_eq(uf_grading_check(&got, spec, &list, NULL), UF_E_INPUT);
    list = list_of(too_much, 1);
    cr_expect_eq(uf_grading_check(&got, spec, &list, NULL), UF_E_INPUT);
}
