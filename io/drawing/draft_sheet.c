#include "draft_sheet.h"

#include "draft_view.h"
#include "solver/design/shape.h"

#include <math.h>

/* The first sheet: sections side by side at one level, the plan below the long section, legend and
   notes in the right column over the title block; the largest scale with which all that fits. */

/* Where everything goes, by its origin on paper. */
struct sheet {
    struct uf_box border;
    double mm_m;
    struct uf_point at[UF_DRAFT_VIEW_DETAILS], notes;
    double notes_width;
};

struct uf_box uf_draft_sheet_border(enum uf_units units)
{
    double width_mm, height_mm;
    uf_draft_size(&width_mm, &height_mm, units);
    return (struct uf_box){UF_DRAFT_SHEET_BINDING_MM, UF_DRAFT_SHEET_MARGIN_MM,
                           width_mm - UF_DRAFT_SHEET_MARGIN_MM,
                           height_mm - UF_DRAFT_SHEET_MARGIN_MM};
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

/* The left column: long section, or the only one, over the plan. Returns its right edge. */
static double place_left(struct sheet *s, const struct uf_box *b, bool lies)
{
    const struct uf_box *across = &b[UF_DRAFT_VIEW_ACROSS], *plan = &b[UF_DRAFT_VIEW_PLAN];
    const struct uf_box *first = lies ? &b[UF_DRAFT_VIEW_ALONG] : across;
    const double x = s->border.left + UF_DRAFT_SHEET_PAD_MM - fmin(first->left, plan->left);
    const double y = s->border.top - UF_DRAFT_SHEET_PAD_MM - fmax(first->top, across->top);
    s->at[UF_DRAFT_VIEW_ALONG] = s->at[UF_DRAFT_VIEW_ACROSS] = (struct uf_point){x, y};
    s->at[UF_DRAFT_VIEW_PLAN] =
        (struct uf_point){x, y + first->bottom - UF_DRAFT_SHEET_GAP_MM - plan->top};
    return x + fmax(first->right, plan->right);
}

/* Where the legend may go: in the upper right corner beside the views, else under them with the notes
   beside it, else over the notes. */
static bool place_legend(struct sheet *s, const struct uf_box *legend, int way, double right,
                         double y)
{
    const double wide = legend->right - legend->left, gap = UF_DRAFT_SHEET_GAP_MM;
    const double edge = s->border.right - UF_DRAFT_SHEET_PAD_MM, left = s->notes.x;
    const struct uf_point corner = {edge - wide, s->border.top - UF_DRAFT_SHEET_PAD_MM};
    s->at[UF_DRAFT_VIEW_LEGEND] = way == 0 ? corner : (struct uf_point){left, y};
    s->notes = (struct uf_point){way == 1 ? left + wide + gap : left,
                                 way == 0   ? fmin(y, corner.y + legend->bottom - gap)
                                 : way == 1 ? y
                                            : y + legend->bottom - gap};
    s->notes_width = edge - s->notes.x;
    return (way > 0 || corner.x >= right + gap) && left + wide <= edge && s->notes_width > 90.0 &&
           y + legend->bottom > s->border.bottom + UF_DRAFT_TITLE_H_MM + UF_DRAFT_SHEET_PAD_MM;
}

static enum uf_status fit_notes(bool *fits, struct sheet *s, const struct uf_draft *draft,
                                const struct uf_box *legend, double right, double y,
                                struct uf_error *err)
{
    const struct uf_point at = s->notes;
    enum uf_status status = UF_OK;
    *fits = false;
    for (int way = 0; status == UF_OK && !*fits && way < 3; way++) {
        double high_mm = 0.0;
        s->notes = at;
        if (place_legend(s, legend, way, right, y)) {
            status = measure_notes(&high_mm, draft, s->notes_width, err);
            *fits = s->notes.y - high_mm >
                    s->border.bottom + UF_DRAFT_TITLE_H_MM + UF_DRAFT_SHEET_PAD_MM;
        }
    }
    return status;
}

static enum uf_status place(bool *fits, struct sheet *s, const struct uf_draft *draft,
                            struct uf_error *err)
{
    const bool lies = !uf_shape_is_radial(&draft->design->tank);
    struct uf_box b[UF_DRAFT_VIEW_DETAILS];
    enum uf_status status = UF_OK;
    for (int i = 0; status == UF_OK && i < UF_DRAFT_VIEW_DETAILS; i++) {
        status = uf_draft_view_measure(&b[i], draft, i, s->mm_m, err);
    }
    *fits = false;
    if (status != UF_OK) {
        return status;
    }
    const struct uf_box *across = &b[UF_DRAFT_VIEW_ACROSS];
    const double title_left = s->border.right - UF_DRAFT_TITLE_W_MM;
    const double title_top = s->border.bottom + UF_DRAFT_TITLE_H_MM;
    const double left = place_left(s, b, lies) + UF_DRAFT_SHEET_GAP_MM;
    const double low = s->at[UF_DRAFT_VIEW_PLAN].y + b[UF_DRAFT_VIEW_PLAN].bottom;
    double y = s->border.top - UF_DRAFT_SHEET_PAD_MM, right = left;
    if (lies) {
        s->at[UF_DRAFT_VIEW_ACROSS].x = left - across->left;
        right = s->at[UF_DRAFT_VIEW_ACROSS].x + across->right;
        y = s->at[UF_DRAFT_VIEW_ACROSS].y + across->bottom - UF_DRAFT_SHEET_GAP_MM;
    }
    s->notes = (struct uf_point){left, y};
    const bool room = low >= s->border.bottom + UF_DRAFT_SHEET_CORNER_MM &&
                      (left < title_left || low > title_top + UF_DRAFT_SHEET_PAD_MM) &&
                      right <= s->border.right - UF_DRAFT_SHEET_PAD_MM;
    return room ? fit_notes(fits, s, draft, &b[UF_DRAFT_VIEW_LEGEND], right, y, err) : UF_OK;
}

static void draw_all(struct uf_draft *draft, const struct sheet *s)
{
    for (int i = 0; i < UF_DRAFT_VIEW_DETAILS; i++) {
        const struct uf_view view = {s->at[i].x, s->at[i].y, s->mm_m};
        if (uf_draft_view_rows[i].wanted(draft)) {
            uf_draft_view_rows[i].draw(draft, &view);
        }
    }
    (void)uf_draft_notes(draft, s->notes.x, s->notes.y, s->notes_width);
    uf_draft_frame(draft, s->border, 0);
    uf_draft_frame_north(draft, s->border.left + 14.0, s->border.bottom + 13.0);
    uf_draft_frame_bar(draft, s->border.left + 34.0, s->border.bottom + 6.0);
}

static enum uf_status draw_first(struct uf_draft *draft, struct uf_error *err)
{
    bool fits = false;
    struct sheet s = {.border = uf_draft_sheet_border(draft->units)};
    enum uf_status status = UF_OK;
    for (draft->scale = uf_draft_scales(draft->units);
         status == UF_OK && !fits && draft->scale->under > 0.0; draft->scale += fits ? 0 : 1) {
        s.mm_m = 1000.0 / draft->scale->under;
        status = place(&fits, &s, draft, err);
    }
    if (status == UF_OK && !fits) {
        return uf_fail(err, UF_E_RANGE, "the works are too large for one sheet at any usual scale");
    }
    if (status == UF_OK) {
        draw_all(draft, &s);
    }
    return status;
}

enum uf_status uf_draft_sheet(struct uf_draft *draft, struct uf_error *err)
{
    double width_mm, height_mm;
    enum uf_status status = UF_OK;
    uf_draft_size(&width_mm, &height_mm, draft->units);
    for (size_t i = 0; status == UF_OK && i < UF_DRAFT_SHEETS; i++) {
        status = uf_paper_open(&draft->sheets[i], width_mm, height_mm, err);
        draft->paper = draft->sheets[i];
        if (status == UF_OK) {
            status = i == 0 ? draw_first(draft, err) : uf_draft_sheet_details(draft, err);
        }
        if (status == UF_OK) {
            status = uf_paper_check(draft->paper, err);
        }
    }
    draft->paper = NULL;
    return status;
}
