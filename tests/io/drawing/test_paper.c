#include "io/drawing/paper_private.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_paper *paper;

static void open_paper(void)
{
    cr_assert_eq(uf_paper_open(&paper, 100.0, 100.0, NULL), UF_OK);
}

static void close_paper(void)
{
    uf_paper_free(paper);
}

TestSuite(paper, .init = open_paper, .fini = close_paper);

static void square(enum uf_hatch hatch, double low, double high)
{
    const struct uf_point at[] = {{low, low}, {high, low}, {high, high}, {low, high}};
    uf_paper_area(paper, hatch, 0, at, 4);
}

static bool strictly_in(struct uf_point p, double low, double high)
{
    return p.x > low + 1e-6 && p.x < high - 1e-6 && p.y > low + 1e-6 && p.y < high - 1e-6;
}

/* Length of all strokes: lines 2.2 mm apart over an area leave area / 2.2 of them. */
static double strokes_mm(void)
{
    double sum = 0.0;
    for (size_t i = 0; i < paper->n_runs; i++) {
        const struct uf_point *p = paper->points + paper->runs[i].first;
        for (size_t k = 0; k + 1 < paper->runs[i].n; k++) {
            sum += hypot(p[k + 1].x - p[k].x, p[k + 1].y - p[k].y);
        }
    }
    return sum;
}

Test(paper, a_hatch_covers_its_area_and_no_more)
{
    square(UF_HATCH_FINE, 10.0, 90.0);
    uf_paper_hatch(paper);
    cr_expect_float_eq(strokes_mm(), 80.0 * 80.0 / 2.2, 0.02 * 80.0 * 80.0 / 2.2);
    for (size_t i = 0; i < paper->n_runs; i++) {
        const struct uf_point *p = paper->points + paper->runs[i].first;
        cr_expect(p->x > 10.0 - 1e-6 && p->x < 90.0 + 1e-6 && p->y > 10.0 - 1e-6 &&
                  p->y < 90.0 + 1e-6);
    }
}

/* Through a window of 40 to 60 mm: of a square from 10 to 90 mm a quarter of a quarter's hatch, of its
   outline nothing, of a line across it 20 mm, and no text that is not whole in it. */
Test(paper, a_window_shows_what_lies_in_it)
{
    const struct uf_box box = {40.0, 40.0, 60.0, 60.0};
    const struct uf_point outline[] = {{10.0, 10.0}, {90.0, 10.0}, {90.0, 90.0}, {10.0, 90.0}};
    uf_paper_window(paper, &box);
    uf_paper_path(paper, UF_PEN_CUT, outline, 4, true);
    cr_expect_eq(paper->n_runs, 0u);
    uf_paper_line(paper, UF_PEN_CUT, 0.0, 50.0, 100.0, 50.0);
    cr_expect_float_eq(strokes_mm(), 20.0, 1e-9);
    uf_paper_text(paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, 58.0, 50.0, false, "half of it");
    cr_expect_eq(paper->n_labels, 0u);
    square(UF_HATCH_FINE, 10.0, 90.0);
    uf_paper_hatch(paper);
    cr_expect_float_eq(strokes_mm() - 20.0, 20.0 * 20.0 / 2.2, 0.1 * 20.0 * 20.0 / 2.2);
    uf_paper_window(paper, NULL);
    uf_paper_line(paper, UF_PEN_CUT, 0.0, 0.0, 0.0, 7.0);
    cr_expect_eq(paper->bounds.left, 0.0);
}

/* What comes later hides what lies under it, a text as well. */
Test(paper, a_hatch_stops_at_later_areas_and_at_texts)
{
    square(UF_HATCH_FINE, 10.0, 90.0);
    square(UF_HATCH_NONE, 30.0, 70.0);
    uf_paper_text(paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, 50.0, 20.0, false, "text");
    uf_paper_hatch(paper);
    const struct uf_box *box = &paper->labels[0].box;
    const double free_mm2 =
        80.0 * 80.0 - 40.0 * 40.0 - (box->right - box->left) * (box->top - box->bottom);
    cr_expect_float_eq(strokes_mm(), free_mm2 / 2.2, 0.02 * free_mm2 / 2.2);
    for (size_t i = 0; i < paper->n_runs; i++) {
        const struct uf_point *p = paper->points + paper->runs[i].first;
        const struct uf_point middle = {0.5 * (p[0].x + p[1].x), 0.5 * (p[0].y + p[1].y)};
        cr_expect(!strictly_in(middle, 30.0, 70.0));
    }
}

Test(paper, every_hatch_draws_something)
{
    for (int hatch = UF_HATCH_NONE + 1; hatch < UF_HATCHES; hatch++) {
        const size_t before = paper->n_runs;
        const double low = 5.0 + 8.0 * hatch;
        const struct uf_point at[] = {{low, 5.0}, {low + 7.0, 5.0}, {low + 7.0, 95.0}, {low, 95.0}};
        paper->n_fills = 0;
        uf_paper_area(paper, (enum uf_hatch)hatch, 0, at, 4);
        uf_paper_hatch(paper);
        cr_expect_gt(paper->n_runs, before + 5, "hatch %d", hatch);
    }
}

Test(paper, texts_that_clash_are_found)
{
    const char *one, *other;
    uf_paper_text(paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, 10.0, 50.0, false, "here");
    uf_paper_text(paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, 10.0, 54.0, false, "above");
    cr_expect(!uf_paper_clash(paper, &one, &other));
    uf_paper_text(paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, 12.0, 51.0, true, "across");
    cr_expect(uf_paper_clash(paper, &one, &other));
}

Test(paper, a_text_beyond_the_paper_is_found)
{
    const char *one, *other;
    uf_paper_text(paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, 95.0, 50.0, false, "too far");
    cr_expect(uf_paper_clash(paper, &one, &other));
    cr_expect_str_eq(one, "too far");
}

Test(paper, a_text_is_cut_to_its_room_between_letters)
{
    char text[40];
    cr_expect_str_eq(uf_paper_fit(text, sizeof text, UF_LETTER_SMALL, "short", 50.0), "short");
    (void)uf_paper_fit(text, sizeof text, UF_LETTER_SMALL,
                       "a much longer one with \u00e9\u00e9\u00e9", 25.0);
    cr_expect_leq(uf_paper_width_mm(UF_LETTER_SMALL, text), 25.0);
    cr_expect_str_eq(text + strlen(text) - 3, "...");
}

/* A point that is no number draws nothing. */
Test(paper, nothing_is_drawn_of_nan)
{
    uf_paper_line(paper, UF_PEN_CUT, 0.0, 0.0, (double)NAN, 1.0);
    uf_paper_text(paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, (double)NAN, 0.0, false, "x");
    cr_expect_eq(paper->n_runs, 0);
    cr_expect_eq(paper->n_labels, 0);
}
