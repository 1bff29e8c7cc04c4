#include "draft_view.h"

#include "solver/design/shape.h"

/* Which views there are, and how much paper each takes. */

#define WHERE(name, condition)                                                                     \
    static bool name(const struct uf_draft *draft)                                                 \
    {                                                                                              \
        return condition;                                                                          \
    }
WHERE(always, draft != NULL)
WHERE(lies, !uf_shape_is_radial(&draft->design->tank))
WHERE(has_board, uf_case_has_board(draft->design))
WHERE(has_layers, draft->quantities.board_layers > 1)
WHERE(has_riser, draft->design->tank.n_risers > 0)
WHERE(has_anchor, uf_anchor_any(draft->design))

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

const struct uf_draft_view_row uf_draft_view_rows[UF_DRAFT_VIEWS] = {
    {"Long section through the tank's axis.", 0, UF_DRAFT_VIEW_GENERAL, true, lies, draw_along},
    {"Section across the tank.", 0, UF_DRAFT_VIEW_GENERAL, true, always, draw_across},
    {"Plan of the open pit; the board dashed.", 0, UF_DRAFT_VIEW_GENERAL, true, always,
     uf_draft_plan},
    {"What the hatches stand for.", 0, UF_DRAFT_VIEW_GENERAL, true, always, draw_legend},
    {"Riser through the board, with sleeve and lid.", 1, UF_DRAFT_VIEW_DETAIL, true, has_riser,
     uf_draft_detail_riser},
    {"Edge of the board with its layers.", 1, UF_DRAFT_VIEW_DETAIL, true, has_board,
     uf_draft_detail_edge},
    {"What holds the tank down.", 1, UF_DRAFT_VIEW_DETAIL, true, has_anchor,
     uf_draft_detail_anchor},
    {"Board, the lowest layer: how the sheets lie and are cut.", 1, UF_DRAFT_VIEW_BOARD, true,
     has_board, uf_draft_board},
    {"Board, the layer over it, half a sheet aside.", 1, UF_DRAFT_VIEW_BOARD, true, has_layers,
     uf_draft_board_second},
    {"Levels.", 1, UF_DRAFT_VIEW_GENERAL, false, always, uf_draft_setting_levels},
    {"Setting out.", 1, UF_DRAFT_VIEW_GENERAL, false, always, uf_draft_setting_places}};

enum uf_status uf_draft_view_measure(struct uf_box *box, const struct uf_draft *draft, int row,
                                     double mm_m, struct uf_error *err)
{
    struct uf_draft trial = *draft;
    const struct uf_view view = {0.0, 0.0, mm_m};
    *box = (struct uf_box){0.0, 0.0, 0.0, 0.0};
    if (!uf_draft_view_rows[row].wanted(draft)) {
        return UF_OK;
    }
    enum uf_status status = uf_paper_open(&trial.paper, 0.0, 0.0, err);
    if (status == UF_OK) {
        uf_draft_view_rows[row].draw(&trial, &view);
        *box = uf_paper_bounds(trial.paper);
        status = uf_paper_check(trial.paper, err);
    }
    uf_paper_free(trial.paper);
    return status;
}
