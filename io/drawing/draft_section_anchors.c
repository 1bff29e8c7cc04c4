#include "draft_section.h"
#include "solver/design/shape.h"

#include <math.h>

/* Anchors and straps in a section. */

void uf_draft_section_pair(const struct uf_draft_section *s, size_t fill, enum uf_pen pen,
                           double axis_m, double half_m, double top_m, double bottom_m)
{
    for (int side = axis_m > 0.0 ? -1 : 1; side <= 1; side += 2) {
        const double left_m = side * axis_m - half_m, right_m = side * axis_m + half_m;
        if (pen != UF_PEN_HIDDEN) {
            uf_draft_box_area(s->draft, s->view, fill, left_m, top_m, right_m, bottom_m);
        }
        uf_draft_box(s->draft, s->view, pen, left_m, top_m, right_m, bottom_m);
    }
}

static void draw_anchor(const struct uf_draft_section *s, const struct uf_anchor_body *body)
{
    const double bottom_m = body->top_m + body->height_m;
    const bool beyond = s->along && body->axis_m > 0.0;
    if (!s->along) {
        uf_draft_section_pair(s, s->draft->concrete, UF_PEN_CUT, body->axis_m, 0.5 * body->width_m,
                              body->top_m, bottom_m);
        return;
    }
    const size_t n = uf_draft_station_in_row(body);
    for (size_t i = 0; i < n; i++) {
        const double at_m = body->length_m * ((double)i + 0.5 - 0.5 * (double)n);
        if (!beyond) {
            uf_draft_box_area(s->draft, s->view, s->draft->concrete, at_m - 0.5 * body->length_m,
                              body->top_m, at_m + 0.5 * body->length_m, bottom_m);
        }
        uf_draft_box(s->draft, s->view, beyond ? UF_PEN_HIDDEN : UF_PEN_CUT,
                     at_m - 0.5 * body->length_m, body->top_m, at_m + 0.5 * body->length_m,
                     bottom_m);
    }
}

/* A strap over the tank: from the tie straight to the shell and around it. */
static void draw_strap_across(const struct uf_draft_section *s, const struct uf_anchor_body *body)
{
    struct uf_point points[UF_DRAFT_POINTS];
    const struct uf_draft *draft = s->draft;
    const double radius_m = s->half_m + 0.8 / s->view->mm_m;
    const double axis_m = 0.5 * (draft->crown_m + draft->invert_m);
    const double tie_m = fmax(body->tie_m, radius_m), down_m = fmax(0.0, body->top_m - axis_m);
    size_t n = 0;
    points[n++] = uf_view_at(s->view, -tie_m, body->top_m);
    if (uf_shape_is_round(&draft->design->tank)) {
        const double from = atan2(tie_m, -down_m) - acos(radius_m / hypot(tie_m, down_m));
        for (int k = -24; k <= 24; k++) {
            const double angle = from * k / 24.0;
            points[n++] =
                uf_view_at(s->view, radius_m * sin(angle), axis_m - radius_m * cos(angle));
        }
    } else {
        points[n++] = uf_view_at(s->view, -radius_m, draft->crown_m);
        points[n++] = uf_view_at(s->view, radius_m, draft->crown_m);
    }
    points[n++] = uf_view_at(s->view, tie_m, body->top_m);
    uf_paper_path(draft->paper, UF_PEN_EDGE, points, n, false);
}

static void draw_straps_along(const struct uf_draft_section *s, const struct uf_anchor_body *body)
{
    const double given_m = s->draft->site->works.strap_width_m;
    const double half_m = fmax(isfinite(given_m) ? 0.5 * given_m : 0.0, 0.5 / s->view->mm_m);
    for (size_t i = 0; i < s->draft->design->anchors.straps; i++) {
        const double at_m = uf_draft_station_strap_m(s->draft->site, i);
        for (int side = -1; side <= 1; side += 2) {
            const struct uf_point a = uf_view_at(s->view, at_m + side * half_m, s->draft->crown_m);
            const struct uf_point b = uf_view_at(s->view, at_m + side * half_m, body->top_m);
            uf_paper_line(s->draft->paper, UF_PEN_THIN, a.x, a.y, b.x, b.y);
        }
    }
}

void uf_draft_section_anchors(const struct uf_draft_section *s, bool straps)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body =
            uf_anchor_at((enum uf_anchor_kind)i)->body(s->draft->design);
        if (body.count > 0.0 && !straps) {
            draw_anchor(s, &body);
        } else if (body.count > 0.0 && s->draft->design->anchors.straps > 0) {
            if (s->along) {
                draw_straps_along(s, &body);
            } else {
                draw_strap_across(s, &body);
            }
        }
    }
}
