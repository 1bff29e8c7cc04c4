#include "draft_route.h"
#include "solver/design/shape.h"

#include <math.h>
#include <stdio.h>

/* The plan: the open pit with what lies in it, the board over it dashed. */

#define OVER_MM    6.0 /* centre lines and section marks beyond the pit */
#define HACHURE_MM 4.0

struct plan {
    struct uf_draft *draft;
    const struct uf_view *view;
    double half_l_m, half_w_m; /* of what is shown: the pit at grade, else board or tank */
};

/* A rectangle about the middle. */
static void centred(const struct plan *p, enum uf_pen pen, double half_l_m, double half_w_m)
{
    uf_draft_box(p->draft, p->view, pen, -half_l_m, -half_w_m, half_l_m, half_w_m);
}

/* Strokes down the slope from two edges of the pit that face one another, long and short by turns. */
static void hachure_edges(const struct plan *p, double run_mm, double away_mm, double slope_mm,
                          bool upright)
{
    const double x = p->view->x_mm, y = p->view->y_mm;
    for (int k = 1; slope_mm > 3.0 && k * HACHURE_MM < 2.0 * run_mm; k++) {
        const double at = k * HACHURE_MM - run_mm;
        const double room_mm =
            fmin(run_mm - fabs(at), slope_mm); /* the corner's own slope begins */
        const double in_mm = (k % 2 == 0 ? 0.5 : 0.25) * room_mm;
        for (int side = -1; side <= 1; side += 2) {
            const double from = side * away_mm, to = from - side * in_mm;
            uf_paper_line(p->draft->paper, UF_PEN_HATCH, x + (upright ? from : at),
                          y + (upright ? at : from), x + (upright ? to : at),
                          y + (upright ? at : to));
        }
    }
}

static void hachures(const struct plan *p, double slope_mm)
{
    const double l_mm = p->half_l_m * p->view->mm_m, w_mm = p->half_w_m * p->view->mm_m;
    hachure_edges(p, l_mm, w_mm, slope_mm, false);
    hachure_edges(p, w_mm, l_mm, slope_mm, true);
}

static void draw_pit(const struct plan *p)
{
    const struct uf_dig *dig = &p->draft->dig;
    if (!p->draft->pit) {
        return;
    }
    const double low_l_m = uf_dig_half_length_m(dig, dig->shelf_m);
    const double low_w_m = uf_dig_half_width_m(dig, dig->shelf_m);
    const bool stepped =
        dig->shelf_across_m > low_w_m + 1e-6 || dig->shelf_along_m > low_l_m + 1e-6;
    centred(p, UF_PEN_EDGE, p->half_l_m, p->half_w_m);
    centred(p, UF_PEN_THIN, dig->along_m, dig->across_m);
    if (stepped) {
        centred(p, UF_PEN_THIN, dig->shelf_along_m, dig->shelf_across_m);
        centred(p, UF_PEN_THIN, low_l_m, low_w_m);
    }
    hachures(p, (p->half_w_m - (stepped ? dig->shelf_across_m : dig->across_m)) * p->view->mm_m);
}

static void draw_anchor(const struct plan *p, const struct uf_anchor_body *body)
{
    const size_t n = uf_draft_station_in_row(body);
    for (int side = body->axis_m > 0.0 ? -1 : 1; side <= 1; side += 2) {
        for (size_t i = 0; i < n; i++) {
            const double u = body->length_m * ((double)i + 0.5 - 0.5 * (double)n);
            const double v = side * body->axis_m;
            const double half_l = 0.5 * body->length_m, half_w = 0.5 * body->width_m;
            uf_draft_box_area(p->draft, p->view, p->draft->concrete, u - half_l, v - half_w,
                              u + half_l, v + half_w);
            uf_draft_box(p->draft, p->view, UF_PEN_EDGE, u - half_l, v - half_w, u + half_l,
                         v + half_w);
        }
    }
}

static void draw_straps(const struct plan *p, const struct uf_anchor_body *body)
{
    const double given_m = p->draft->site->works.strap_width_m;
    const double half_m = fmax(isfinite(given_m) ? 0.5 * given_m : 0.0, 0.5 / p->view->mm_m);
    const double reach_m = fmax(body->tie_m, p->draft->half_width_m);
    for (size_t i = 0; i < p->draft->design->anchors.straps; i++) {
        const double at_m = uf_draft_station_strap_m(p->draft->site, i);
        uf_draft_box(p->draft, p->view, UF_PEN_THIN, at_m - half_m, -reach_m, at_m + half_m,
                     reach_m);
    }
}

static void draw_tank(const struct plan *p)
{
    struct uf_point points[UF_DRAFT_POINTS];
    struct uf_anchor_body body[UF_ANCHORS];
    for (int i = 0; i < UF_ANCHORS; i++) {
        body[i] = uf_anchor_at((enum uf_anchor_kind)i)->body(p->draft->design);
        if (body[i].count > 0.0) {
            draw_anchor(p, &body[i]);
        }
    }
    const size_t n = uf_draft_tank_plan(points, p->draft, p->view);
    uf_paper_area(p->draft->paper, UF_HATCH_NONE, 0, points, n);
    uf_paper_path(p->draft->paper, UF_PEN_CUT, points, n, true);
    for (int i = 0; i < UF_ANCHORS; i++) {
        if (body[i].count > 0.0) {
            draw_straps(p, &body[i]);
        }
    }
}

static void draw_risers(const struct plan *p)
{
    for (size_t i = 0; i < p->draft->design->tank.n_risers; i++) {
        struct uf_point points[UF_DRAFT_RING];
        const double at_m = uf_draft_station_riser_m(p->draft->site, i);
        const double radius_m = 0.5 * p->draft->design->tank.risers[i].diameter_m;
        uf_draft_tank_ring(points, p->view, at_m, 0.0, radius_m);
        if (isfinite(at_m)) {
            uf_paper_area(p->draft->paper, UF_HATCH_NONE, 0, points, UF_DRAFT_RING);
            uf_paper_path(p->draft->paper, UF_PEN_CUT, points, UF_DRAFT_RING, true);
            const struct uf_point c = uf_view_at(p->view, at_m, 0.0);
            const double r = radius_m * p->view->mm_m + 1.5;
            uf_paper_line(p->draft->paper, UF_PEN_CENTRE, c.x, c.y - r, c.x, c.y + r);
        }
    }
}

/* A mark where a section is cut: a thick stroke, an arrow the way one looks, the letter. */
static void mark(const struct plan *p, double x, double y, bool across, double look,
                 const char *name)
{
    struct uf_paper *paper = p->draft->paper;
    if (across) {
        uf_paper_line(paper, UF_PEN_CUT, x, y - 2.5, x, y + 2.5);
        uf_paper_line(paper, UF_PEN_EDGE, x, y, x + look * 4.0, y);
        uf_paper_line(paper, UF_PEN_EDGE, x + look * 4.0, y, x + look * 2.5, y + 0.7);
        uf_paper_line(paper, UF_PEN_EDGE, x + look * 4.0, y, x + look * 2.5, y - 0.7);
        uf_paper_text(paper, UF_LETTER_MIDDLE, UF_ALIGN_CENTRE, x - look * 3.2, y, false, name);
    } else {
        uf_paper_line(paper, UF_PEN_CUT, x - 2.5, y, x + 2.5, y);
        uf_paper_line(paper, UF_PEN_EDGE, x, y, x, y + look * 4.0);
        uf_paper_line(paper, UF_PEN_EDGE, x, y + look * 4.0, x + 0.7, y + look * 2.5);
        uf_paper_line(paper, UF_PEN_EDGE, x, y + look * 4.0, x - 0.7, y + look * 2.5);
        uf_paper_text(paper, UF_LETTER_MIDDLE, UF_ALIGN_CENTRE, x, y - look * 3.5, false, name);
    }
}

static void draw_marks(const struct plan *p)
{
    const double x = p->view->x_mm, y = p->view->y_mm;
    const double l_mm = p->half_l_m * p->view->mm_m + OVER_MM;
    const double w_mm = p->half_w_m * p->view->mm_m + OVER_MM;
    uf_paper_line(p->draft->paper, UF_PEN_CENTRE, x - l_mm + 2.0, y, x + l_mm - 2.0, y);
    uf_paper_line(p->draft->paper, UF_PEN_CENTRE, x, y - w_mm + 2.0, x, y + w_mm - 2.0);
    mark(p, x, y + w_mm, true, 1.0, "A");
    mark(p, x, y - w_mm, true, 1.0, "A");
    if (!uf_shape_is_radial(&p->draft->design->tank)) {
        mark(p, x - l_mm, y, false, 1.0, "B");
        mark(p, x + l_mm, y, false, 1.0, "B");
    }
}

static void draw_sizes(const struct plan *p, struct uf_dimension *d)
{
    const struct uf_draft *draft = p->draft;
    const double l[] = {-p->half_l_m, -draft->dig.along_m, draft->dig.along_m, p->half_l_m};
    const double w[] = {-p->half_w_m, -draft->dig.across_m, draft->dig.across_m, p->half_w_m};
    const double tank_l[] = {-draft->half_length_m, draft->half_length_m};
    const double beyond_m = draft->design->board.beyond_tank_m;
    const double tank_w[] = {-draft->half_width_m - beyond_m, -draft->half_width_m,
                             draft->half_width_m, draft->half_width_m + beyond_m};
    uf_dimension_chain(d, UF_DIMENSION_BELOW, tank_l, 2, p->half_w_m);
    if (draft->pit) {
        uf_dimension_chain(d, UF_DIMENSION_BELOW, l, 4, p->half_w_m);
    }
    if (uf_case_has_board(draft->design)) {
        uf_dimension_chain(d, UF_DIMENSION_LEFT, tank_w, 4, -p->half_l_m);
    } else {
        uf_dimension_chain(d, UF_DIMENSION_LEFT, tank_w + 1, 2, -p->half_l_m);
    }
    if (draft->pit) {
        uf_dimension_chain(d, UF_DIMENSION_LEFT, w, 4, -p->half_l_m);
    }
}

void uf_draft_plan(struct uf_draft *draft, const struct uf_view *view)
{
    const double beyond_m =
        uf_case_has_board(draft->design) ? draft->design->board.beyond_tank_m : 0.0;
    const struct plan p = {
        draft, view,
        draft->pit ? uf_dig_half_length_m(&draft->dig, 0.0) : draft->half_length_m + beyond_m,
        draft->pit ? uf_dig_half_width_m(&draft->dig, 0.0) : draft->half_width_m + beyond_m};
    const struct uf_point far = uf_view_at(view, p.half_l_m, -p.half_w_m);
    const double over_mm = OVER_MM - 2.0;
    const struct uf_box window = {2.0 * view->x_mm - far.x - over_mm,
                                  2.0 * view->y_mm - far.y - over_mm, far.x + over_mm,
                                  far.y + over_mm};
    draw_pit(&p);
    uf_draft_route_plan(draft, view, &window);
    draw_tank(&p);
    draw_risers(&p);
    if (beyond_m > 0.0) {
        centred(&p, UF_PEN_HIDDEN, draft->half_length_m + beyond_m, draft->half_width_m + beyond_m);
    }
    draw_marks(&p);
    struct uf_dimension d = {draft->paper, view, draft->units, {0.0, 0.0, 0.0}};
    d.out_mm[UF_DIMENSION_BELOW] = view->y_mm - p.half_w_m * view->mm_m - OVER_MM - 4.0;
    d.out_mm[UF_DIMENSION_LEFT] = view->x_mm - p.half_l_m * view->mm_m - OVER_MM - 4.0;
    draw_sizes(&p, &d);
    uf_draft_frame_name(draft, view, "PLAN, BOARD DASHED", view->x_mm,
                        d.out_mm[UF_DIMENSION_BELOW] - 3.0);
}
