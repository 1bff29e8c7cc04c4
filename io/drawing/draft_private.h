#ifndef UF_DRAFT_PRIVATE_H
#define UF_DRAFT_PRIVATE_H

#include "dimension.h"
#include "draft.h"
#include "draft_station.h"
#include "solver/design/anchor.h"
#include "solver/works/quantities.h"

#include <stdint.h>

/* What the draft*.c files share. */

#define UF_DRAFT_FILLS  (UF_MAX_LAYERS + 6)
#define UF_DRAFT_POINTS 160

/* What a hatch stands for. */
struct uf_draft_fill {
    const struct uf_ground_spec *spec; /* NULL: no soil */
    enum uf_hatch hatch;
    unsigned variant;
    char text[120];
};

struct uf_draft {
    struct uf_paper *paper; /* being drawn on */
    struct uf_paper *sheets[UF_DRAFT_SHEETS];
    const struct uf_site *site;
    const struct uf_case *design;
    enum uf_units units;
    const struct uf_draft_scale *scale;
    const char *computed;
    struct uf_dig dig;
    bool pit; /* burial.pit is given */
    struct uf_quantities quantities;
    struct uf_draft_fill fills[UF_DRAFT_FILLS];
    size_t n_fills;
    size_t layers[UF_MAX_LAYERS];       /* fill of each layer */
    size_t bedding, backfill, returned; /* fills */
    size_t concrete, foam, sleeve;
    bool unscaled;                      /* for a page on a screen: names of views tell no scale */
    double half_width_m, half_length_m; /* of the tank in plan */
    double crown_m, invert_m;
};

/* No fill: white. */
#define UF_DRAFT_WHITE SIZE_MAX

/* draft_fill.c: the hatch of each soil and body that the design has; the legend. */
void uf_draft_fill(struct uf_draft *draft);
void uf_draft_fill_area(struct uf_draft *draft, size_t fill, const struct uf_point *points,
                        size_t n);
void uf_draft_fill_legend(struct uf_draft *draft, double left_mm, double top_mm);

/* draft_tank.c: outlines. points: room for UF_DRAFT_POINTS; returns how many. */
size_t uf_draft_tank_across(struct uf_point *points, const struct uf_draft *draft,
                            const struct uf_view *view, double wall_m);
size_t uf_draft_tank_along(struct uf_point *points, const struct uf_draft *draft,
                           const struct uf_view *view, double wall_m);
size_t uf_draft_tank_plan(struct uf_point *points, const struct uf_draft *draft,
                          const struct uf_view *view);

/* A circle about a place in plan. */
#define UF_DRAFT_RING 48
void uf_draft_tank_ring(struct uf_point points[UF_DRAFT_RING], const struct uf_view *view,
                        double at_m, double across_m, double radius_m);

/* The views, each about its origin: the tank's axis at grade, the tank's middle in plan. */
void uf_draft_section(struct uf_draft *draft, const struct uf_view *view, bool along);
void uf_draft_plan(struct uf_draft *draft, const struct uf_view *view);

/* draft_board.c: a layer of the board about its middle, and the one over it. */
void uf_draft_board(struct uf_draft *draft, const struct uf_view *view);
void uf_draft_board_second(struct uf_draft *draft, const struct uf_view *view);

/* draft_detail.c: about the section's origin, and no more of it than they show. The first needs a
   riser, the second a board, the third an anchor. */
void uf_draft_detail_riser(struct uf_draft *draft, const struct uf_view *view);
void uf_draft_detail_edge(struct uf_draft *draft, const struct uf_view *view);
void uf_draft_detail_anchor(struct uf_draft *draft, const struct uf_view *view);

/* draft_setting.c: tables, from their upper left corner. */
void uf_draft_setting_levels(struct uf_draft *draft, const struct uf_view *view);
void uf_draft_setting_places(struct uf_draft *draft, const struct uf_view *view);

/* A view's name and scale, underlined, centred at x, its top at y. */
void uf_draft_frame_name(struct uf_draft *draft, const struct uf_view *view, const char *name,
                         double x_mm, double y_mm);

/* draft_frame.c: border, title block (its width and height as given), north arrow, scale bar. */
#define UF_DRAFT_TITLE_W_MM 180.0
#define UF_DRAFT_TITLE_H_MM 47.5
void uf_draft_frame(struct uf_draft *draft, struct uf_box border, size_t sheet);
void uf_draft_frame_bar(struct uf_draft *draft, double left_mm, double y_mm);
void uf_draft_frame_north(struct uf_draft *draft, double x_mm, double y_mm);

/* draft_notes.c: the notes below top_mm; returns where they end. */
double uf_draft_notes(struct uf_draft *draft, double left_mm, double top_mm, double width_mm);

/* draft_sheet.c: takes the scales, opens the sheets and draws all of them. Errors: UF_E_RANGE,
   UF_E_MEMORY. */
enum uf_status uf_draft_sheet(struct uf_draft *draft, struct uf_error *err);

/* As uf_draft_places_text. */
char *uf_draft_level(char *text, size_t size, const struct uf_draft *draft, double depth_m);

/* A rectangle of the view as a closed line or an area. */
void uf_draft_box(struct uf_draft *draft, const struct uf_view *view, enum uf_pen pen,
                  double left_m, double top_m, double right_m, double bottom_m);
void uf_draft_box_area(struct uf_draft *draft, const struct uf_view *view, size_t fill,
                       double left_m, double top_m, double right_m, double bottom_m);

#endif
