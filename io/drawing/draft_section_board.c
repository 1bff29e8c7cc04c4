#include "draft_section.h"

#include <math.h>

/* The board in a section: between the risers that come through it, sheet by sheet where there is room. */

#define LAYER_MM    1.2 /* thinner layers of board are not told apart */
#define MOST_JOINTS 128

static size_t joints_of(double *at_m, const struct uf_draft_section *s, size_t layer)
{
    const struct uf_quantities *q = &s->draft->quantities;
    const struct uf_quantities_cut *cut = layer % 2 == 0 ? &q->cut : &q->staggered;
    return s->along ? uf_quantities_cut_joints(at_m, MOST_JOINTS, cut->first_end_m, cut->full_along,
                                               cut->along_m, cut->end_strip_m)
                    : uf_quantities_cut_joints(at_m, MOST_JOINTS, cut->first_side_m,
                                               cut->full_across, cut->across_m, cut->side_strip_m);
}

/* Sheets lie in layers, their joints aside: drawn where there is room between two lines. */
static void draw_layers(const struct uf_draft_section *s, const double span_m[2], double bottom_m)
{
    const size_t layers = s->draft->quantities.board_layers;
    const double sheet_m = s->draft->design->board.thickness_m / fmax(1.0, (double)layers);
    for (size_t i = 0; i < layers && sheet_m * s->view->mm_m > LAYER_MM; i++) {
        double at_m[MOST_JOINTS];
        const size_t n = joints_of(at_m, s, i);
        const struct uf_point a = uf_view_at(s->view, span_m[0], bottom_m - (double)i * sheet_m);
        const struct uf_point b =
            uf_view_at(s->view, span_m[1], bottom_m - (double)(i + 1) * sheet_m);
        uf_paper_line(s->draft->paper, UF_PEN_EDGE, a.x, a.y, b.x, a.y);
        for (size_t k = 1; k + 1 < n; k++) {
            const double x = s->view->x_mm + (at_m[k] - s->board_m) * s->view->mm_m;
            if (x > a.x && x < b.x) {
                uf_paper_line(s->draft->paper, UF_PEN_EDGE, x, a.y, x, b.y);
            }
        }
    }
}

void uf_draft_section_board(const struct uf_draft_section *s)
{
    const struct uf_case *d = s->draft->design;
    double spans_m[UF_MAX_RISERS + 1][2];
    if (!uf_case_has_board(d)) {
        return;
    }
    const double top_m = uf_case_board_top_m(d), bottom_m = uf_case_board_bottom_m(d);
    const double thick_m = d->board.thickness_m, skirt_m = d->board.skirt_m;
    const size_t n = uf_draft_section_spans(spans_m, s, s->board_m, top_m);
    for (size_t i = 0; i < n; i++) {
        uf_draft_box_area(s->draft, s->view, s->draft->foam, spans_m[i][0], top_m, spans_m[i][1],
                          bottom_m);
        uf_draft_box(s->draft, s->view, UF_PEN_CUT, spans_m[i][0], top_m, spans_m[i][1], bottom_m);
        draw_layers(s, spans_m[i], bottom_m);
    }
    if (skirt_m > 0.0) {
        uf_draft_section_pair(s, s->draft->foam, UF_PEN_CUT, s->board_m - 0.5 * thick_m,
                              0.5 * thick_m, bottom_m, bottom_m + skirt_m);
    }
}
