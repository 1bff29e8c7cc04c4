#include "draft_private.h"

#include <math.h>
#include <stdio.h>

/* The board from above, cut from the sheets that are bought: the cut plan that the quantities count. */

#define MOST_EDGES 64

/* Edges of the sheets in one direction, m from one side: whole ones, then what is left. */
static size_t edges(double *at, size_t whole, double sheet_m, double strip_m)
{
    size_t n = 0;
    for (size_t i = 0; i <= whole && n + 2 < MOST_EDGES; i++) {
        at[n++] = (double)i * sheet_m;
    }
    if (strip_m > 0.0) {
        at[n] = at[n - 1] + strip_m;
        n++;
    }
    return n;
}

/* Returns how low the chains reach. */
static double draw_sheets(struct uf_draft *draft, const struct uf_view *view, double length_m,
                          double width_m)
{
    const struct uf_quantities_cut *cut = &draft->quantities.cut;
    double u[MOST_EDGES], v[MOST_EDGES];
    const size_t n_u = edges(u, cut->full_along, cut->along_m, cut->end_strip_m);
    const size_t n_v = edges(v, cut->full_across, cut->across_m, cut->side_strip_m);
    struct uf_dimension d = {draft->paper, view, draft->units, {0.0, 0.0, 0.0}};
    for (size_t i = 0; i < n_u; i++) {
        u[i] -= 0.5 * length_m;
        const struct uf_point a = uf_view_at(view, u[i], -0.5 * width_m);
        uf_paper_line(draft->paper, UF_PEN_THIN, a.x, a.y, a.x, 2.0 * view->y_mm - a.y);
    }
    for (size_t i = 0; i < n_v; i++) {
        v[i] -= 0.5 * width_m;
        const struct uf_point a = uf_view_at(view, -0.5 * length_m, v[i]);
        uf_paper_line(draft->paper, UF_PEN_THIN, a.x, a.y, 2.0 * view->x_mm - a.x, a.y);
    }
    d.out_mm[UF_DIMENSION_BELOW] = view->y_mm - 0.5 * width_m * view->mm_m;
    d.out_mm[UF_DIMENSION_LEFT] = view->x_mm - 0.5 * length_m * view->mm_m;
    uf_dimension_chain(&d, UF_DIMENSION_BELOW, u, n_u, 0.5 * width_m);
    uf_dimension_chain(&d, UF_DIMENSION_LEFT, v, n_v, -0.5 * length_m);
    return d.out_mm[UF_DIMENSION_BELOW];
}

static double draw_plain(struct uf_draft *draft, const struct uf_view *view, double length_m,
                         double width_m)
{
    struct uf_dimension d = {draft->paper, view, draft->units, {0.0, 0.0, 0.0}};
    const double u[] = {-0.5 * length_m, 0.5 * length_m}, v[] = {-0.5 * width_m, 0.5 * width_m};
    d.out_mm[UF_DIMENSION_BELOW] = view->y_mm - 0.5 * width_m * view->mm_m;
    d.out_mm[UF_DIMENSION_LEFT] = view->x_mm - 0.5 * length_m * view->mm_m;
    uf_dimension_chain(&d, UF_DIMENSION_BELOW, u, 2, 0.5 * width_m);
    uf_dimension_chain(&d, UF_DIMENSION_LEFT, v, 2, -0.5 * length_m);
    return d.out_mm[UF_DIMENSION_BELOW];
}

/* What is bought and how it is laid, centred below the plan. */
static void write_lines(struct uf_draft *draft, double x_mm, double top_mm)
{
    const struct uf_quantities *q = &draft->quantities;
    const struct uf_quantities_input *in = &draft->site->works.quantities;
    char a[32], b[32], c[32], text[160];
    if (q->board_layers == 0) {
        uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, x_mm, top_mm - 2.0, false,
                      "sheets: not given");
        return;
    }
    (void)snprintf(text, sizeof text, "%zu layer%s of %zu sheets %s x %s x %s%s", q->board_layers,
                   q->board_layers == 1 ? "" : "s", q->cut.sheets,
                   uf_dimension_text(a, sizeof a, draft->units, in->sheet_length_m),
                   uf_dimension_text(b, sizeof b, draft->units, in->sheet_width_m),
                   uf_dimension_text(c, sizeof c, draft->units, in->sheet_thickness_m),
                   q->skirt_sheets > 0 ? ", and the skirt" : "");
    uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, x_mm, top_mm - 2.0, false, text);
    size_t n = (size_t)snprintf(text, sizeof text, "a layer: %zu whole", q->cut.full);
    if (q->cut.for_ends > 0) {
        n += (size_t)snprintf(text + n, sizeof text - n, ", %zu cut for the end", q->cut.for_ends);
    }
    if (q->cut.for_sides > 0) {
        n +=
            (size_t)snprintf(text + n, sizeof text - n, ", %zu cut for the side", q->cut.for_sides);
    }
    (void)snprintf(text + n, sizeof text - n, "%s",
                   q->board_layers > 1 ? "; joints staggered" : "");
    uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, x_mm, top_mm - 6.0, false, text);
}

/* Where risers come through. */
static void draw_holes(struct uf_draft *draft, const struct uf_view *view)
{
    for (size_t i = 0; i < draft->design->tank.n_risers; i++) {
        struct uf_point ring[UF_DRAFT_RING];
        const double at_m = uf_draft_tank_riser_m(draft, i);
        if (isfinite(at_m)) {
            uf_draft_tank_ring(ring, view, at_m, 0.5 * draft->design->tank.risers[i].diameter_m);
            uf_paper_path(draft->paper, UF_PEN_CUT, ring, UF_DRAFT_RING, true);
        }
    }
}

void uf_draft_cut(struct uf_draft *draft, const struct uf_view *view)
{
    const double length_m = draft->quantities.pit.board_length_m;
    const double width_m = draft->quantities.pit.board_width_m;
    uf_draft_box(draft, view, UF_PEN_CUT, -0.5 * length_m, -0.5 * width_m, 0.5 * length_m,
                 0.5 * width_m);
    const double low_mm =
        (draft->quantities.board_layers > 0 ? draw_sheets(draft, view, length_m, width_m)
                                            : draw_plain(draft, view, length_m, width_m)) -
        2.0;
    draw_holes(draft, view);
    uf_draft_frame_name(draft, "CUT PLAN OF THE BOARD", view->x_mm, low_mm);
    write_lines(draft, view->x_mm, low_mm - 8.0);
}
