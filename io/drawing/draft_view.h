#ifndef UF_DRAFT_VIEW_H
#define UF_DRAFT_VIEW_H

#include "draft_private.h"

/* The views of a drawing, each a row: which sheet it is on, and what it is drawn at. */

enum uf_draft_view_scale { UF_DRAFT_VIEW_GENERAL, UF_DRAFT_VIEW_BOARD, UF_DRAFT_VIEW_DETAIL };

struct uf_draft_view_row {
    const char *caption; /* on a page */
    int sheet;           /* 0: plan and sections; 1: details */
    enum uf_draft_view_scale scale;
    bool page; /* shown on a page too; tables stand there as text */
    bool (*wanted)(const struct uf_draft *draft);
    void (*draw)(struct uf_draft *draft, const struct uf_view *view);
};

enum {
    UF_DRAFT_VIEW_ALONG,
    UF_DRAFT_VIEW_ACROSS,
    UF_DRAFT_VIEW_PLAN,
    UF_DRAFT_VIEW_LEGEND,
    UF_DRAFT_VIEW_DETAILS, /* the first of sheet 2 */
    UF_DRAFT_VIEW_BOARDS = UF_DRAFT_VIEW_DETAILS + 3,
    UF_DRAFT_VIEW_TABLES = UF_DRAFT_VIEW_BOARDS + 2,
    UF_DRAFT_VIEWS = UF_DRAFT_VIEW_TABLES + 2
};
extern const struct uf_draft_view_row uf_draft_view_rows[UF_DRAFT_VIEWS];

/* What a view takes around its origin at so many millimetres to a metre; nothing where it is not wanted.
   Errors: UF_E_MEMORY. */
enum uf_status uf_draft_view_measure(struct uf_box *box, const struct uf_draft *draft, int row,
                                     double mm_m, struct uf_error *err);

#endif
