#include "solver/design/tank.h"
#include "tests/drafts.h"

#include <zlib.h>

/* What is measured on the sheet as it comes from the printer. */

TestSuite(draft_scale, .init = open_folder, .fini = close_folder);

/* The strokes of a PDF, its first stream unpacked; pdf begins with the head. */
static char *strokes_of(const char *pdf, size_t size)
{
    char *text = calloc(1, MOST);
    uLongf n = MOST - 1;
    cr_assert_not_null(text);
    const char *at = strstr(pdf, "stream\n"); /* the head holds no '\0' */
    cr_assert_not_null(at);
    at += strlen("stream\n");
    z_stream z = {.next_in = (unsigned char *)(uintptr_t)at,
                  .avail_in = (uInt)(size - (size_t)(at - pdf)),
                  .next_out = (unsigned char *)text,
                  .avail_out = (uInt)n};
    cr_assert_eq(inflateInit(&z), Z_OK);
    cr_assert_eq(inflate(&z, Z_FINISH), Z_STREAM_END);
    (void)inflateEnd(&z);
    return text;
}

/* How many outlines of the page description are that wide and high: "x y m x y l ...", or a
   rectangle "x y w h re", in points. */
static int count_in_pdf(const char *text, double width_mm, double height_mm)
{
    struct gauge g = gauge_of(25.4 / 72.0, width_mm, height_mm);
    double v[4] = {0.0, 0.0, 0.0, 0.0};
    while (*text != '\0') {
        char *end;
        const double number = strtod(text, &end);
        if (end != text) {
            memmove(v, v + 1, 3 * sizeof v[0]);
            v[3] = number;
        } else if ((*text == 'm' || *text == 'l') && strchr(" \n", text[1]) != NULL) {
            gauge_point(&g, v[2], v[3], *text == 'm');
        } else if (strncmp(text, "re ", 3) == 0) {
            gauge_point(&g, v[0], v[1], true);
            gauge_point(&g, v[0] + v[2], v[1] + v[3], false);
        }
        text = end != text ? end : text + strcspn(text, " \n");
        text += strspn(text, " \n");
    }
    gauge_close(&g);
    return g.found;
}

/* The scale on the sheet is the scale on paper: the tank's outline of the long section, of the
   cross-section and of the plan, measured in the file against its declared size. */
static void expect_to_scale(const char *path, enum uf_units units)
{
    double paper_w_mm, paper_h_mm;
    size_t size = 0;
    struct uf_site *site = site_of(path, NULL);
    struct uf_draft *draft = draft_of(site, units);
    const struct uf_draft_scale *scale = uf_draft_scale_of(draft);
    const double mm_m = 1000.0 / scale->under;
    const double l = uf_tank_plan_length_m(&site->design.tank) * mm_m;
    const double w = uf_tank_plan_width_m(&site->design.tank) * mm_m;
    const double h = uf_tank_height_m(&site->design.tank) * mm_m;
    const double outlines[][2] = {{l, h}, {w, h}, {l, w}};
    uf_draft_size(&paper_w_mm, &paper_h_mm, units);
    char *svg = drawn_svg(draft), *pdf = drawn(draft, "sheet.pdf", &size);
    char *strokes = strokes_of(pdf, size);
    const double unit_mm = mm_of_unit(svg, paper_w_mm);
    for (size_t i = 0; i < 3; i++) {
        const double *wanted = outlines[i];
        cr_expect_geq(count_in_svg(svg, unit_mm, wanted[0], wanted[1]), 1, "%s %zu", path, i);
        cr_expect_geq(count_in_pdf(strokes, wanted[0], wanted[1]), 1, "%s %zu", path, i);
    }
    cr_expect_eq(count_in_svg(svg, unit_mm, 1.013 * l, h), 0, "the measure is blind");
    cr_expect_eq(count_in_pdf(strokes, 1.013 * l, h), 0, "the measure is blind");
    cr_expect_not_null(strstr(svg, scale->text));
    free(strokes);
    free(pdf);
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

Test(draft_scale, the_tank_is_as_long_on_paper_as_the_scale_says)
{
    expect_to_scale(LARCH, UF_UNITS_SI);
    expect_to_scale(ALDER, UF_UNITS_US);
    expect_to_scale(MILL, UF_UNITS_US);
}

/* ISO 216: A3 is 297 by 420 mm; the PDF's page in points of 1/72 in, cut to whole ones. */
Test(draft_scale, the_page_is_a3_or_eleven_by_seventeen)
{
    static const struct {
        enum uf_units units;
        double width_mm, height_mm;
    } sheets[] = {{UF_UNITS_SI, 420.0, 297.0}, {UF_UNITS_US, 431.8, 279.4}};
    struct uf_site *site = site_of(LARCH, NULL);
    for (size_t i = 0; i < 2; i++) {
        double w = 0.0, h = 0.0;
        struct uf_draft *draft = draft_of(site, sheets[i].units);
        size_t size = 0;
        char *pdf = drawn(draft, "sheet.pdf", &size);
        for (size_t k = 0; k < size; k++) {
            pdf[k] = pdf[k] == '\0' ? ' ' : pdf[k];
        }
        const char *box = strstr(pdf, "/MediaBox [");
        cr_assert_not_null(box);
        cr_assert_eq(sscanf(box, "/MediaBox [ 0 0 %lf %lf", &w, &h), 2);
        cr_expect_float_eq(w * 25.4 / 72.0, sheets[i].width_mm, 0.36);
        cr_expect_float_eq(h * 25.4 / 72.0, sheets[i].height_mm, 0.36);
        free(pdf);
        uf_draft_free(draft);
    }
    uf_site_free(site);
}

/* A pipe of 150 mm that leaves the right end, 7.2 m, turns up in plan at 9.5 m, and leaves the pit: its
   outline in plan is two lines beside its axis, 2.3 m less and more half a pipe at the bend. */
Test(draft_scale, a_route_is_drawn_where_it_runs)
{
    struct uf_site *site = site_of(LARCH, NULL);
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    const double mm_m = 1000.0 / uf_draft_scale_of(draft)->under;
    char *svg = drawn_svg(draft);
    const double unit_mm = mm_of_unit(svg, 420.0);
    cr_expect_eq(count_in_svg(svg, unit_mm, (2.3 - 0.075) * mm_m, 0.0), 1);
    cr_expect_eq(count_in_svg(svg, unit_mm, (2.3 + 0.075) * mm_m, 0.0), 1);
    cr_expect_null(strstr(svg, "drawing.routes"));
    free(svg);
    uf_draft_free(draft);
    site->drawing.n_routes = 0;
    draft = draft_of(site, UF_UNITS_SI);
    svg = drawn_svg(draft);
    cr_expect_eq(count_in_svg(svg, unit_mm, (2.3 + 0.075) * mm_m, 0.0), 0);
    cr_expect_not_null(strstr(svg, "drawing.routes"), "asked for once");
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}
