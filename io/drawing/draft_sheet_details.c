#include "draft_sheet.h"
#include "draft_view.h"

#include <math.h>

/* The second sheet: tables over the title block at right, details and layers of the board in rows at
   left; the largest scales with which all that fits. */

#define MOST_APART 10.0 /* scales of board and details */

struct shelf {
    struct uf_box field;
    double x, y, low; /* where the next one goes; the lowest of the row */
};

struct details {
    struct uf_point at[UF_DRAFT_VIEWS];
    double mm_m[UF_DRAFT_VIEWS];
};

/* The next place in a row, or at the head of a new row; false without room. */
static bool put(struct shelf *shelf, struct uf_point *at, const struct uf_box *box)
{
    const double wide = box->right - box->left, high = box->top - box->bottom;
    if (shelf->x + wide > shelf->field.right && shelf->x > shelf->field.left) {
        shelf->x = shelf->field.left;
        shelf->y = shelf->low - UF_DRAFT_SHEET_GAP_MM;
    }
    *at = (struct uf_point){shelf->x - box->left, shelf->y - box->top};
    shelf->x += wide + UF_DRAFT_SHEET_GAP_MM;
    shelf->low = fmin(shelf->low, shelf->y - high);
    return at->x + box->right <= shelf->field.right + 1e-9 &&
           shelf->y - high >= shelf->field.bottom;
}

static struct shelf shelf_of(struct uf_box field)
{
    return (struct shelf){field, field.left, field.top, field.top};
}

/* How wide the left column is: as its widest detail, at most up to the title block. */
static double column_mm(const struct uf_box *boxes)
{
    double wide = 0.0;
    for (int i = UF_DRAFT_VIEW_DETAILS; i < UF_DRAFT_VIEW_BOARDS; i++) {
        wide = fmax(wide, boxes[i].right - boxes[i].left);
    }
    return wide;
}

/* Tables at right; details at left; layers of the board where there is room. */
static enum uf_status place(bool *fits, struct details *d, const struct uf_draft *draft,
                            struct uf_error *err)
{
    const struct uf_box border = uf_draft_sheet_border(draft->units);
    const double pad = UF_DRAFT_SHEET_PAD_MM;
    const double title_left = border.right - UF_DRAFT_TITLE_W_MM;
    struct uf_box boxes[UF_DRAFT_VIEWS];
    enum uf_status status = UF_OK;
    for (int i = UF_DRAFT_VIEW_DETAILS; status == UF_OK && i < UF_DRAFT_VIEWS; i++) {
        status = uf_draft_view_measure(&boxes[i], draft, i, d->mm_m[i], err);
    }
    if (status != UF_OK) {
        return status;
    }
    const double middle = fmin(border.left + column_mm(boxes) + 2.0 * pad, title_left);
    struct shelf left = shelf_of(
        (struct uf_box){border.left + pad, border.bottom + pad, middle - pad, border.top - pad});
    struct shelf right =
        shelf_of((struct uf_box){middle + pad, border.bottom + UF_DRAFT_TITLE_H_MM + pad,
                                 border.right - pad, border.top - pad});
    *fits = true;
    for (int k = UF_DRAFT_VIEW_DETAILS; k < UF_DRAFT_VIEWS; k++) {
        const int i = k < UF_DRAFT_VIEW_DETAILS + 2
                          ? k + UF_DRAFT_VIEW_TABLES - UF_DRAFT_VIEW_DETAILS
                          : k - 2; /* tables first */
        struct shelf trial = i < UF_DRAFT_VIEW_BOARDS ? left : right;
        struct shelf *const chosen = i < UF_DRAFT_VIEW_BOARDS ? &left : &right;
        struct shelf *const other = chosen == &left ? &right : &left;
        if (!uf_draft_view_rows[i].wanted(draft)) {
            continue;
        }
        if (put(&trial, &d->at[i], &boxes[i])) {
            *chosen = trial;
        } else {
            *fits = put(other, &d->at[i], &boxes[i]) && *fits;
        }
    }
    return UF_OK;
}

/* The finest scale, from that of the details on, with which a layer of board takes less than half of the
   sheet. */
static enum uf_status board_scale(double *mm_m, const struct uf_draft *draft,
                                  const struct uf_draft_scale *from, struct uf_error *err)
{
    const struct uf_box border = uf_draft_sheet_border(draft->units);
    const double wide = border.right - border.left - UF_DRAFT_TITLE_W_MM - 10.0;
    enum uf_status status = UF_OK;
    for (bool fits = false; status == UF_OK && !fits && from->under > 0.0; from++) {
        struct uf_box box;
        *mm_m = 1000.0 / from->under;
        status = uf_draft_view_measure(&box, draft, UF_DRAFT_VIEW_BOARDS, *mm_m, err);
        fits = box.right - box.left < wide &&
               box.top - box.bottom < 0.45 * (border.top - border.bottom);
    }
    return status;
}

static enum uf_status find(bool *fits, struct details *d, struct uf_draft *draft,
                           const struct uf_draft_scale *details,
                           const struct uf_draft_scale *boards, struct uf_error *err)
{
    double board_mm_m = 0.0;
    enum uf_status status = board_scale(&board_mm_m, draft, boards, err);
    for (int i = 0; i < UF_DRAFT_VIEWS; i++) {
        d->mm_m[i] = uf_draft_view_rows[i].scale == UF_DRAFT_VIEW_BOARD ? board_mm_m
                                                                        : 1000.0 / details->under;
    }
    return status == UF_OK ? place(fits, d, draft, err) : status;
}

enum uf_status uf_draft_sheet_details(struct uf_draft *draft, struct uf_error *err)
{
    struct details d;
    bool fits = false;
    enum uf_status status = UF_OK;
    const struct uf_draft_scale *details = uf_draft_scales(draft->units);
    for (; status == UF_OK && !fits && details->under > 0.0; details++) {
        const struct uf_draft_scale *boards = details; /* give way first, but not by much */
        for (; status == UF_OK && !fits && boards->under > 0.0 &&
               boards->under <= MOST_APART * details->under;
             boards++) {
            status = find(&fits, &d, draft, details, boards, err);
        }
    }
    if (status == UF_OK && !fits) {
        return uf_fail(err, UF_E_RANGE, "the details do not fit on one sheet at any usual scale");
    }
    for (int i = UF_DRAFT_VIEW_DETAILS; status == UF_OK && i < UF_DRAFT_VIEWS; i++) {
        const struct uf_view view = {d.at[i].x, d.at[i].y, d.mm_m[i]};
        if (uf_draft_view_rows[i].wanted(draft)) {
            uf_draft_view_rows[i].draw(draft, &view);
        }
    }
    if (status == UF_OK) {
        uf_draft_frame(draft, uf_draft_sheet_border(draft->units), 1);
    }
    return status;
}
