#include "draft_private.h"

#include <math.h>
#include <stdio.h>

/* The board from above, layer by layer, cut from the sheets that are bought: the pieces that the
   quantities count, each size with its letter. */

#define MOST_EDGES 64
#define LINE_MM    4.0

/* A layer being drawn: of its sheets along u and v. */
struct layer {
    struct uf_draft *draft;
    const struct uf_view *view;
    const struct uf_quantities_cut *cut;
    double length_m, width_m;
    double u[MOST_EDGES], v[MOST_EDGES];
    size_t n_u, n_v;
};

static void find_edges(struct layer *l)
{
    const struct uf_quantities_cut *cut = l->cut;
    l->n_u = uf_quantities_cut_joints(l->u, MOST_EDGES, cut->first_end_m, cut->full_along,
                                      cut->along_m, cut->end_strip_m);
    l->n_v = uf_quantities_cut_joints(l->v, MOST_EDGES, cut->first_side_m, cut->full_across,
                                      cut->across_m, cut->side_strip_m);
    for (size_t i = 0; i < l->n_u; i++) {
        l->u[i] -= 0.5 * l->length_m;
    }
    for (size_t i = 0; i < l->n_v; i++) {
        l->v[i] -= 0.5 * l->width_m;
    }
}

/* The letter of the size that a piece has. */
static char letter_of(const struct uf_quantities_cut *cut, double along_m, double across_m)
{
    size_t i = 0;
    while (i < cut->n_pieces && (fabs(cut->pieces[i].along_m - along_m) > 1e-4 ||
                                 fabs(cut->pieces[i].across_m - across_m) > 1e-4)) {
        i++;
    }
    return (char)(i < cut->n_pieces ? 'A' + (int)i : '?');
}

/* Does a riser pass there? Then the letter would lie in its hole. */
static bool in_hole(const struct uf_draft *draft, double u_m, double v_m, double near_m)
{
    bool in = false;
    for (size_t i = 0; i < draft->design->tank.n_risers; i++) {
        const struct uf_riser *riser = &draft->design->tank.risers[i];
        const double at_m = uf_draft_station_riser_m(draft->site, i);
        in =
            in || hypot(u_m - at_m, v_m) < 0.5 * riser->diameter_m + riser->shell.sleeve_m + near_m;
    }
    return in;
}

/* Is there room for a letter between two joints, and between it and that of a whole sheet beside it? */
static bool has_room(const struct layer *l, double strip_m, double whole_m)
{
    const double least_mm = 3.5, apart_mm = 3.6;
    return strip_m * l->view->mm_m > least_mm &&
           0.5 * (strip_m + whole_m) * l->view->mm_m > apart_mm;
}

static void write_letters(const struct layer *l)
{
    for (size_t i = 0; i + 1 < l->n_u; i++) {
        for (size_t k = 0; k + 1 < l->n_v; k++) {
            const double along_m = l->u[i + 1] - l->u[i], across_m = l->v[k + 1] - l->v[k];
            const double u_m = 0.5 * (l->u[i] + l->u[i + 1]), v_m = 0.5 * (l->v[k] + l->v[k + 1]);
            const char text[] = {letter_of(l->cut, along_m, across_m), '\0'};
            const struct uf_point p = uf_view_at(l->view, u_m, v_m);
            if (has_room(l, along_m, l->cut->along_m) && has_room(l, across_m, l->cut->across_m) &&
                !in_hole(l->draft, u_m, v_m, 2.0 / l->view->mm_m)) {
                uf_paper_text(l->draft->paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, p.x, p.y, false,
                              text);
            }
        }
    }
}

static void draw_joints(const struct layer *l)
{
    for (size_t i = 0; i < l->n_u; i++) {
        const struct uf_point a = uf_view_at(l->view, l->u[i], -0.5 * l->width_m);
        uf_paper_line(l->draft->paper, UF_PEN_THIN, a.x, a.y, a.x, 2.0 * l->view->y_mm - a.y);
    }
    for (size_t i = 0; i < l->n_v; i++) {
        const struct uf_point a = uf_view_at(l->view, -0.5 * l->length_m, l->v[i]);
        uf_paper_line(l->draft->paper, UF_PEN_THIN, a.x, a.y, 2.0 * l->view->x_mm - a.x, a.y);
    }
}

/* Where risers come through: of the riser, and of its sleeve, to which the board is cut. */
static void draw_holes(const struct layer *l)
{
    const struct uf_draft *draft = l->draft;
    for (size_t i = 0; i < draft->design->tank.n_risers; i++) {
        struct uf_point ring[UF_DRAFT_RING];
        const struct uf_riser *riser = &draft->design->tank.risers[i];
        const double at_m = uf_draft_station_riser_m(draft->site, i);
        const double radius_m[] = {0.5 * riser->diameter_m,
                                   0.5 * riser->diameter_m + riser->shell.sleeve_m};
        for (size_t k = 0; isfinite(at_m) && k < (riser->shell.sleeve_m > 0.0 ? 2 : 1); k++) {
            uf_draft_tank_ring(ring, l->view, at_m, 0.0, radius_m[k]);
            uf_paper_path(draft->paper, k == 0 ? UF_PEN_THIN : UF_PEN_CUT, ring, UF_DRAFT_RING,
                          true);
        }
    }
}

static const char *piece_text(char *text, size_t size, const struct layer *l, size_t i)
{
    char a[32], b[32];
    const struct uf_quantities_piece *piece = &l->cut->pieces[i];
    (void)snprintf(text, size, "%c  %s x %s: %zu", (char)('A' + (int)i),
                   uf_dimension_text(a, sizeof a, l->draft->units, piece->along_m),
                   uf_dimension_text(b, sizeof b, l->draft->units, piece->across_m), piece->count);
    return text;
}

/* Sizes and counts below the plan, two in a line. Returns where the next line goes. */
static double write_pieces(const struct layer *l, double left_mm, double y_mm)
{
    char text[100];
    double column_mm = 0.0;
    for (size_t i = 0; i < l->cut->n_pieces; i++) {
        const char *piece = piece_text(text, sizeof text, l, i);
        column_mm = fmax(column_mm, uf_paper_width_mm(UF_LETTER_SMALL, piece) + 3.0);
    }
    for (size_t i = 0; i < l->cut->n_pieces; i++) {
        uf_paper_text(l->draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT,
                      left_mm + (i % 2 == 0 ? 0.0 : column_mm), y_mm, false,
                      piece_text(text, sizeof text, l, i));
        y_mm -= i % 2 == 1 || i + 1 == l->cut->n_pieces ? LINE_MM : 0.0;
    }
    return y_mm;
}

static void write_order(const struct layer *l, double left_mm, double y_mm)
{
    char text[160], a[32], b[32], c[32];
    const struct uf_quantities_input *in = &l->draft->site->works.quantities;
    (void)snprintf(text, sizeof text, "from %zu sheets %s x %s x %s", l->cut->sheets,
                   uf_dimension_text(a, sizeof a, l->draft->units, in->sheet_length_m),
                   uf_dimension_text(b, sizeof b, l->draft->units, in->sheet_width_m),
                   uf_dimension_text(c, sizeof c, l->draft->units, in->sheet_thickness_m));
    uf_paper_text(l->draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, left_mm, y_mm, false, text);
    if (l->cut->waste_share > 0.005) {
        (void)snprintf(text, sizeof text, "offcuts %.0f percent", 100.0 * l->cut->waste_share);
        uf_paper_text(l->draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, left_mm, y_mm - LINE_MM,
                      false, text);
    }
}

static const char *layer_name(char *text, size_t size, const struct uf_draft *draft, bool second)
{
    const size_t n = draft->quantities.board_layers;
    (void)snprintf(text, size, "BOARD, %s",
                   n == 0   ? "SHEETS NOT GIVEN"
                   : n == 1 ? "ONE LAYER"
                   : second ? (n > 3 ? "LAYERS 2, 4 ..." : "LAYER 2")
                   : n > 2  ? "LAYERS 1, 3 ..."
                            : "LAYER 1, LOWEST");
    return text;
}

static void draw_layer(struct uf_draft *draft, const struct uf_view *view, bool second)
{
    char name[64];
    const struct uf_quantities *q = &draft->quantities;
    struct layer l = {.draft = draft,
                      .view = view,
                      .cut = second ? &q->staggered : &q->cut,
                      .length_m = q->pit.board_length_m,
                      .width_m = q->pit.board_width_m};
    if (q->board_layers > 0) {
        find_edges(&l);
    } else {
        l.n_u = l.n_v = 2;
        l.u[1] = -(l.u[0] = -0.5 * l.length_m);
        l.v[1] = -(l.v[0] = -0.5 * l.width_m);
    }
    draw_joints(&l);
    draw_holes(&l);
    uf_draft_box(draft, view, UF_PEN_CUT, -0.5 * l.length_m, -0.5 * l.width_m, 0.5 * l.length_m,
                 0.5 * l.width_m);
    struct uf_dimension d = {draft->paper, view, draft->units, {0.0, 0.0, 0.0}};
    d.out_mm[UF_DIMENSION_BELOW] = view->y_mm - 0.5 * l.width_m * view->mm_m;
    d.out_mm[UF_DIMENSION_LEFT] = view->x_mm - 0.5 * l.length_m * view->mm_m;
    uf_dimension_chain(&d, UF_DIMENSION_BELOW, l.u, l.n_u, 0.5 * l.width_m);
    uf_dimension_chain(&d, UF_DIMENSION_LEFT, l.v, l.n_v, -0.5 * l.length_m);
    const double low_mm = d.out_mm[UF_DIMENSION_BELOW] - 2.0;
    uf_draft_frame_name(draft, view, layer_name(name, sizeof name, draft, second), view->x_mm,
                        low_mm);
    if (q->board_layers > 0) {
        const double left_mm = view->x_mm - 0.5 * l.length_m * view->mm_m;
        write_letters(&l);
        write_order(&l, left_mm, write_pieces(&l, left_mm, low_mm - 9.5));
    }
}

void uf_draft_board(struct uf_draft *draft, const struct uf_view *view)
{
    draw_layer(draft, view, false);
}

void uf_draft_board_second(struct uf_draft *draft, const struct uf_view *view)
{
    draw_layer(draft, view, true);
}
