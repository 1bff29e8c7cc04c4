#include "io/drawing/dimension.h"

#include <criterion/criterion.h>

static void expect_text(enum uf_units units, double m, const char *wanted)
{
    char text[32];
    cr_expect_str_eq(uf_dimension_text(text, sizeof text, units, m), wanted);
}

/* 1 ft = 304.8 mm, 1 in = 25.4 mm. */
Test(dimension, lengths_are_written_as_a_drawing_writes_them)
{
    expect_text(UF_UNITS_SI, 1.2, "1200");
    expect_text(UF_UNITS_SI, 0.0504, "50");
    expect_text(UF_UNITS_US, 1.2192, "4\u2032-0\u2033");
    expect_text(UF_UNITS_US, 0.0254 * 66.5, "5\u2032-6 1/2\u2033");
    expect_text(UF_UNITS_US, 0.0254 * 6.25, "6 1/4\u2033");
    expect_text(UF_UNITS_US, 0.0254 * 11.99, "1\u2032-0\u2033");
}

static struct uf_paper *paper_of(void)
{
    struct uf_paper *paper = NULL;
    cr_assert_eq(uf_paper_open(&paper, 400.0, 300.0, NULL), UF_OK);
    return paper;
}

/* Stretches far narrower than their texts: each text in a place of its own. */
Test(dimension, texts_of_a_narrow_chain_keep_apart)
{
    const double places[] = {0.0, 0.95, 1.05, 1.2, 3.6, 3.9};
    const char *one, *other;
    struct uf_paper *paper = paper_of();
    const struct uf_view view = {100.0, 200.0, 8.0};
    struct uf_dimension d = {paper, &view, UF_UNITS_SI, {150.0, 220.0, 90.0}};
    uf_dimension_chain(&d, UF_DIMENSION_LEFT, places, 6, 0.0);
    uf_dimension_chain(&d, UF_DIMENSION_BELOW, places, 6, 0.0);
    uf_dimension_chain(&d, UF_DIMENSION_ABOVE, places, 6, 0.0);
    cr_expect(!uf_paper_clash(paper, &one, &other), "'%s' and '%s'", one, other);
    cr_expect_lt(d.out_mm[UF_DIMENSION_BELOW], 150.0);
    cr_expect_gt(d.out_mm[UF_DIMENSION_ABOVE], 220.0);
    cr_expect_lt(d.out_mm[UF_DIMENSION_LEFT], 90.0);
    uf_paper_free(paper);
}

Test(dimension, levels_that_crowd_are_set_apart)
{
    const char *one, *other;
    struct uf_paper *paper = paper_of();
    const struct uf_view view = {100.0, 200.0, 8.0};
    struct uf_dimension d = {paper, &view, UF_UNITS_SI, {0.0, 0.0, 0.0}};
    struct uf_dimension_level rows[] = {{0.0, "a"}, {0.01, "b"}, {0.0, "c"},
                                        {3.0, "d"}, {0.02, "e"}, {2.99, "f"}};
    uf_dimension_levels(&d, rows, 6, 150.0);
    cr_expect(!uf_paper_clash(paper, &one, &other), "'%s' and '%s'", one, other);
    uf_paper_free(paper);
}
