#ifndef UF_DRAFT_PRIVATE_H
#define UF_DRAFT_PRIVATE_H

#include "dimension.h"
#include "draft.h"
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
    struct uf_paper *paper;
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
    size_t concrete, foam;
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

/* A circle about a place on the axis. */
#define UF_DRAFT_RING 48
void uf_draft_tank_ring(struct uf_point points[UF_DRAFT_RING], const struct uf_view *view,
                        double at_m, double radius_m);

/* Stations of risers and straps, along from the tank's middle, m; evenly apart where the site file
   has none, NAN for a riser of which nobody knows. */
double uf_draft_tank_riser_m(const struct uf_draft *draft, size_t i);
double uf_draft_tank_strap_m(const struct uf_draft *draft, size_t i);

/* How far from the tank's middle a strap may lie: on the shell between its heads, and over what it is
   tied to. *key: of the anchor in the site file that ends it, NULL for the shell. */
double uf_draft_tank_tied_m(const struct uf_draft *draft, const char **key);

/* How many bodies of an anchor lie end to end on one side. */
size_t uf_draft_section_in_row(const struct uf_anchor_body *body);

/* The views, each about its origin: the tank's axis at grade, the tank's middle in plan. */
void uf_draft_section(struct uf_draft *draft, const struct uf_view *view, bool along);
void uf_draft_plan(struct uf_draft *draft, const struct uf_view *view);
void uf_draft_cut(struct uf_draft *draft, const struct uf_view *view);

/* A view's name and scale, underlined, centred at x, its top at y. */
void uf_draft_frame_name(struct uf_draft *draft, const char *name, double x_mm, double y_mm);

/* draft_frame.c: border, title block (its width and height as given), north arrow, scale bar. */
#define UF_DRAFT_TITLE_W_MM 180.0
#define UF_DRAFT_TITLE_H_MM 47.5
void uf_draft_frame(struct uf_draft *draft, struct uf_box border);
void uf_draft_frame_bar(struct uf_draft *draft, double left_mm, double y_mm);
void uf_draft_frame_north(struct uf_draft *draft, double x_mm, double y_mm);

/* draft_notes.c: the notes below top_mm; returns where they end. */
double uf_draft_notes(struct uf_draft *draft, double left_mm, double top_mm, double width_mm);

/* draft_sheet.c: takes the scale, opens the paper and draws all of it. Errors: UF_E_RANGE, UF_E_MEMORY. */
enum uf_status uf_draft_sheet(struct uf_draft *draft, struct uf_error *err);

/* "98.800" or "-1.200"; feet and hundredths in US units. Returns text. */
char *uf_draft_level(char *text, size_t size, const struct uf_draft *draft, double depth_m);

/* A rectangle of the view as a closed line or an area. */
void uf_draft_box(struct uf_draft *draft, const struct uf_view *view, enum uf_pen pen,
                  double left_m, double top_m, double right_m, double bottom_m);
void uf_draft_box_area(struct uf_draft *draft, const struct uf_view *view, size_t fill,
                       double left_m, double top_m, double right_m, double bottom_m);

#endif
