#include "draft_private.h"
#include "solver/design/shape.h"

#include <math.h>

/* The sheet: sections side by side at one level, the plan below the long section, cut plan, legend and
   notes in the right column over the title block; the largest scale with which all that fits. */

#define BINDING_MM 20.0 /* left margin, to be punched */
#define MARGIN_MM  10.0
#define PAD_MM     4.0
#define GAP_MM     6.0
#define CORNER_MM  26.0 /* north arrow and scale bar, lower left */

/* Where everything goes, by its origin on paper. */
struct sheet {
    struct uf_box border;
    double mm_m;
    struct uf_point across, along, plan, cut, legend, notes;
    double notes_width;
};

typedef void draw_view(struct uf_draft *draft, const struct uf_view *view);

static void draw_across(struct uf_draft *draft, const struct uf_view *view)
{
    uf_draft_section(draft, view, false);
}

static void draw_along(struct uf_draft *draft, const struct uf_view *view)
{
    uf_draft_section(draft, view, true);
}

static void draw_legend(struct uf_draft *draft, const struct uf_view *view)
{
    uf_draft_fill_legend(draft, view->x_mm, view->y_mm);
}

/* What a view takes around its origin, tried on a paper of its own. */
static enum uf_status measure(struct uf_box *box, const struct uf_draft *draft, double mm_m,
                              draw_view *draw, struct uf_error *err)
{
    struct uf_draft trial = *draft;
    const struct uf_view view = {0.0, 0.0, mm_m};
    enum uf_status status = uf_paper_open(&trial.paper, 0.0, 0.0, err);
    if (status == UF_OK) {
        draw(&trial, &view);
        *box = uf_paper_bounds(trial.paper);
        status = uf_paper_check(trial.paper, err);
    }
    uf_paper_free(trial.paper);
    return status;
}

static enum uf_status measure_notes(double *height_mm, const struct uf_draft *draft,
                                    double width_mm, struct uf_error *err)
{
    struct uf_draft trial = *draft;
    enum uf_status status = uf_paper_open(&trial.paper, 0.0, 0.0, err);
    if (status == UF_OK) {
        *height_mm = -uf_draft_notes(&trial, 0.0, 0.0, width_mm);
        status = uf_paper_check(trial.paper, err);
    }
    uf_paper_free(trial.paper);
    return status;
}

/* Boxes of the views around their origins. */
struct boxes {
    struct uf_box across, along, plan, cut, legend;
    bool lies, board;
};

static enum uf_status measure_all(struct boxes *b, const struct uf_draft *draft, double mm_m,
                                  struct uf_error *err)
{
    const struct {
        struct uf_box *box;
        draw_view *draw;
        bool wanted;
    } views[] = {{&b->across, draw_across, true},
                 {&b->along, draw_along, b->lies},
                 {&b->plan, uf_draft_plan, true},
                 {&b->cut, uf_draft_cut, b->board},
                 {&b->legend, draw_legend, true}};
    enum uf_status status = UF_OK;
    for (size_t i = 0; status == UF_OK && i < sizeof views / sizeof views[0]; i++) {
        *views[i].box = (struct uf_box){0.0, 0.0, 0.0, 0.0};
        if (views[i].wanted) {
            status = measure(views[i].box, draft, mm_m, views[i].draw, err);
        }
    }
    return status;
}

/* The left column: long section, or the only one, over the plan. Returns its right edge. */
static double place_left(struct sheet *s, const struct boxes *b)
{
    const struct uf_box *first = b->lies ? &b->along : &b->across;
    const double x = s->border.left + PAD_MM - fmin(first->left, b->plan.left);
    const double top = b->lies ? fmax(b->along.top, b->across.top) : b->across.top;
    const double y = s->border.top - PAD_MM - top;
    s->along = s->across = (struct uf_point){x, y};
    s->plan = (struct uf_point){x, y + first->bottom - GAP_MM - b->plan.top};
    return x + fmax(first->right, b->plan.right);
}

/* The legend in the upper right corner, where there is room beside what ends at right, the cut plan at
   left below it; moves y below both, false without room for that. */
static bool place_key(struct sheet *s, const struct boxes *b, double left, double right, double *y)
{
    const double top = s->border.top - PAD_MM;
    const double x = s->border.right - PAD_MM - (b->legend.right - b->legend.left);
    const double low = *y - (b->cut.top - b->cut.bottom) - (b->board ? GAP_MM : 0.0);
    if (x < right + GAP_MM || x < left + b->cut.right - b->cut.left + GAP_MM) {
        return false;
    }
    s->legend = (struct uf_point){x, top};
    s->cut = (struct uf_point){left - b->cut.left, *y - b->cut.top};
    *y = fmin(low, top + b->legend.bottom - GAP_MM);
    return true;
}

/* Cut plan, and the legend beside it, or below where that is too wide; moves y below both, false
   without room. */
static bool place_pair(struct sheet *s, const struct boxes *b, double left, double *y)
{
    const double edge = s->border.right - PAD_MM;
    const double key_w = b->legend.right - b->legend.left;
    const double cut_w = b->cut.right - b->cut.left;
    const double low = *y - (b->cut.top - b->cut.bottom) - (b->board ? GAP_MM : 0.0);
    const double beside = left + (b->board ? cut_w + 2.0 * GAP_MM : 0.0);
    s->cut = (struct uf_point){left - b->cut.left, *y - b->cut.top};
    s->legend =
        beside + key_w <= edge ? (struct uf_point){beside, *y} : (struct uf_point){left, low};
    *y = fmin(low, s->legend.y + b->legend.bottom - GAP_MM);
    return left + fmax(cut_w, key_w) <= edge;
}

static enum uf_status place(bool *fits, struct sheet *s, const struct uf_draft *draft,
                            struct uf_error *err)
{
    struct boxes b = {.lies = !uf_shape_is_radial(&draft->design->tank),
                      .board = uf_case_has_board(draft->design)};
    enum uf_status status = measure_all(&b, draft, s->mm_m, err);
    *fits = false;
    if (status != UF_OK) {
        return status;
    }
    const double title_left = s->border.right - UF_DRAFT_TITLE_W_MM;
    const double title_top = s->border.bottom + UF_DRAFT_TITLE_H_MM;
    const double edge = place_left(s, &b), left = edge + GAP_MM;
    double y = s->border.top - PAD_MM, notes_h = 0.0;
    bool ok = s->plan.y + b.plan.bottom >= s->border.bottom + CORNER_MM &&
              (edge < title_left - PAD_MM || s->plan.y + b.plan.bottom > title_top + PAD_MM);
    double right = left;
    if (b.lies) {
        s->across.x = left - b.across.left;
        right = s->across.x + b.across.right;
        y = s->across.y + b.across.bottom - GAP_MM;
        ok = ok && right <= s->border.right - PAD_MM;
    }
    ok = ((b.lies && place_key(s, &b, left, right, &y)) || place_pair(s, &b, left, &y)) && ok;
    s->notes = (struct uf_point){left, y};
    s->notes_width = s->border.right - PAD_MM - left;
    if (ok && s->notes_width > 90.0) {
        status = measure_notes(&notes_h, draft, s->notes_width, err);
        *fits = status == UF_OK && y - notes_h > title_top + PAD_MM;
    }
    return status;
}

static void draw_at(struct uf_draft *draft, const struct sheet *s, struct uf_point at,
                    draw_view *draw)
{
    const struct uf_view view = {at.x, at.y, s->mm_m};
    draw(draft, &view);
}

static void draw_all(struct uf_draft *draft, const struct sheet *s)
{
    draw_at(draft, s, s->across, draw_across);
    if (!uf_shape_is_radial(&draft->design->tank)) {
        draw_at(draft, s, s->along, draw_along);
    }
    draw_at(draft, s, s->plan, uf_draft_plan);
    if (uf_case_has_board(draft->design)) {
        draw_at(draft, s, s->cut, uf_draft_cut);
    }
    draw_at(draft, s, s->legend, draw_legend);
    (void)uf_draft_notes(draft, s->notes.x, s->notes.y, s->notes_width);
    uf_draft_frame(draft, s->border);
    uf_draft_frame_north(draft, s->border.left + 14.0, s->border.bottom + 13.0);
    uf_draft_frame_bar(draft, s->border.left + 34.0, s->border.bottom + 6.0);
}

enum uf_status uf_draft_sheet(struct uf_draft *draft, struct uf_error *err)
{
    double width_mm, height_mm;
    bool fits = false;
    struct sheet s = {.mm_m = 0.0};
    uf_draft_size(&width_mm, &height_mm, draft->units);
    s.border = (struct uf_box){BINDING_MM, MARGIN_MM, width_mm - MARGIN_MM, height_mm - MARGIN_MM};
    enum uf_status status = UF_OK;
    for (draft->scale = uf_draft_scales(draft->units);
         status == UF_OK && !fits && draft->scale->under > 0.0; draft->scale += fits ? 0 : 1) {
        s.mm_m = 1000.0 / draft->scale->under;
        status = place(&fits, &s, draft, err);
    }
    if (status == UF_OK && !fits) {
        status =
            uf_fail(err, UF_E_RANGE, "the works are too large for one sheet at any usual scale");
    }
    if (status == UF_OK) {
        status = uf_paper_open(&draft->paper, width_mm, height_mm, err);
    }
    if (status == UF_OK) {
        draw_all(draft, &s);
        status = uf_paper_check(draft->paper, err);
    }
    return status;
}
