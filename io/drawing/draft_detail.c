#include "draft_section.h"
#include "solver/design/foam.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

/* Details, cut out of the section across at a larger scale: a riser with sleeve and lid through the
   board, the board's edge, and what a strap is tied to. */

#define MOST_ROWS 12

/* A detail being drawn: what of the section shows, and its words. */
struct detail {
    struct uf_draft_section section;
    double left_m, right_m, top_m, bottom_m;
    struct uf_dimension_level rows[MOST_ROWS];
    size_t n;
};

static struct detail detail_of(struct uf_draft *draft, const struct uf_view *view)
{
    return (struct detail){.section = uf_draft_section_of(draft, view, false)};
}

/* Words beside a level. */
__attribute__((format(printf, 3, 4))) static void say(struct detail *d, double depth_m,
                                                      const char *format, ...)
{
    if (d->n < MOST_ROWS) {
        va_list args;
        struct uf_dimension_level *row = &d->rows[d->n++];
        row->depth_m = fmin(fmax(depth_m, d->top_m), d->bottom_m);
        va_start(args, format);
        (void)vsnprintf(row->text, sizeof row->text, format, args);
        va_end(args);
    }
}

static const char *length(char *text, const struct detail *d, double m)
{
    return uf_dimension_text(text, 32, d->section.draft->units, m);
}

/* The section through its window; returns chains that start at its edges. */
static struct uf_dimension draw(const struct detail *d)
{
    const struct uf_view *view = d->section.view;
    struct uf_paper *paper = d->section.draft->paper;
    const struct uf_point a = uf_view_at(view, d->left_m, d->bottom_m);
    const struct uf_point b = uf_view_at(view, d->right_m, d->top_m);
    const struct uf_box window = {a.x, a.y, b.x, b.y};
    uf_paper_window(paper, &window);
    uf_draft_section_bodies(&d->section, false);
    uf_paper_window(paper, NULL);
    uf_paper_box(paper, UF_PEN_THIN, window);
    return (struct uf_dimension){paper, view, d->section.draft->units, {a.y, b.y, a.x}};
}

static void finish(struct detail *d, struct uf_dimension *chains, const char *name)
{
    const struct uf_view *view = d->section.view;
    const double right_mm = view->x_mm + d->right_m * view->mm_m;
    const double middle_mm = view->x_mm + 0.5 * (d->left_m + d->right_m) * view->mm_m;
    uf_dimension_levels(chains, d->rows, d->n, right_mm);
    uf_draft_frame_name(d->section.draft, view, name, middle_mm,
                        chains->out_mm[UF_DIMENSION_BELOW] - 3.0);
}

/* "XPS_VI, 2 x 50" */
static const char *board_text(char *text, size_t size, const struct detail *d)
{
    char thick[32];
    const struct uf_draft *draft = d->section.draft;
    const struct uf_board *board = &draft->design->board;
    const size_t n = draft->quantities.board_layers;
    const char *name = board->row != NULL ? board->row->name : "foam";
    if (n > 1) {
        (void)snprintf(text, size, "board %s, %zu x %s", name, n,
                       length(thick, d, board->thickness_m / (double)n));
    } else {
        (void)snprintf(text, size, "board %s, %s", name, length(thick, d, board->thickness_m));
    }
    return text;
}

static void say_riser(struct detail *d, const struct uf_riser *riser)
{
    char a[32], b[32], text[64];
    const struct uf_draft *draft = d->section.draft;
    const struct uf_shell *shell = &riser->shell;
    const double top_m = uf_case_riser_top_m(draft->design, riser), crown_m = draft->crown_m;
    const double height_m = crown_m - top_m;
    say(d, top_m, "lid, watertight: R %s", UF_TEXT(RESISTANCE, draft->units, riser->lid_m2K_W));
    say(d, top_m + 0.2 * height_m, "riser, %s outside, %s from crown to top",
        length(a, d, riser->diameter_m), length(b, d, height_m));
    if (shell->sleeve_m > 0.0 && shell->sleeve_length_m < crown_m - fmax(0.0, top_m)) {
        say(d, top_m + 0.35 * height_m, "foam sleeve %s, %s down from grade",
            length(a, d, shell->sleeve_m), length(b, d, shell->sleeve_length_m));
    } else if (shell->sleeve_m > 0.0) {
        say(d, top_m + 0.35 * height_m, "foam sleeve %s, down to the crown",
            length(a, d, shell->sleeve_m));
    } else {
        say(d, top_m + 0.35 * height_m, "no sleeve");
    }
    if (uf_case_has_board(draft->design)) {
        const double board_m = uf_case_board_top_m(draft->design);
        say(d, 0.7 * board_m, "warning tape over the board");
        say(d, uf_case_board_top_m(draft->design) + 0.5 * draft->design->board.thickness_m,
            "%s, cut close to it", board_text(text, sizeof text, d));
    }
    say(d, crown_m, "crown: gasket, flange, bolts by the manufacturer");
}

void uf_draft_detail_riser(struct uf_draft *draft, const struct uf_view *view)
{
    struct detail d = detail_of(draft, view);
    const struct uf_riser *riser = uf_draft_section_highest(&draft->design->tank);
    const bool board = uf_case_has_board(draft->design);
    const double half_m = 0.5 * riser->diameter_m, out_m = half_m + riser->shell.sleeve_m;
    const double top_m = uf_case_riser_top_m(draft->design, riser);
    const double board_top_m = board ? uf_case_board_top_m(draft->design) : (double)NAN;
    const double layer_m =
        draft->design->board.thickness_m / fmax(1.0, (double)draft->quantities.board_layers);
    const double across[] = {-out_m, -half_m, half_m, out_m};
    double places[8] = {top_m,
                        0.0,
                        draft->crown_m,
                        board_top_m,
                        board_top_m + layer_m,
                        board ? uf_case_board_bottom_m(draft->design) : (double)NAN};
    d.left_m = -out_m - 0.3;
    d.right_m = out_m + 0.3;
    d.top_m = fmin(top_m, 0.0) - 0.12;
    d.bottom_m = draft->crown_m + 0.15;
    say_riser(&d, riser);
    struct uf_dimension chains = draw(&d);
    uf_dimension_chain(&chains, UF_DIMENSION_BELOW, across, 4, d.bottom_m);
    uf_dimension_chain(&chains, UF_DIMENSION_LEFT, places, 6, d.left_m);
    finish(&d, &chains, "RISER, SLEEVE, LID");
}

void uf_draft_detail_edge(struct uf_draft *draft, const struct uf_view *view)
{
    struct detail d = detail_of(draft, view);
    char text[64];
    const struct uf_board *board = &draft->design->board;
    const double edge_m = d.section.board_m, half_m = draft->half_width_m;
    const double top_m = uf_case_board_top_m(draft->design);
    const double bottom_m = uf_case_board_bottom_m(draft->design);
    const double n = fmax(1.0, (double)draft->quantities.board_layers);
    const double across[] = {half_m, edge_m};
    double depths[MOST_ROWS];
    size_t n_depths = 0;
    d.left_m = fmax(half_m - 0.15, edge_m - 1.3);
    d.right_m = edge_m + 0.3;
    d.top_m = fmax(top_m - 0.25, -0.1);
    d.bottom_m = bottom_m + fmax(0.2 + board->above_crown_m, board->skirt_m + 0.15);
    say(&d, top_m + 0.5 * board->thickness_m, "%s", board_text(text, sizeof text, &d));
    if (n > 1.0) {
        say(&d, bottom_m, "joints of a layer half a sheet");
        say(&d, bottom_m, "aside of those below, both ways");
    } else {
        say(&d, bottom_m, "joints tight, on a level bed");
    }
    if (board->skirt_m > 0.0) {
        say(&d, bottom_m + 0.6 * board->skirt_m, "skirt all round");
    }
    for (size_t i = 0; i < (size_t)n + 1 && n_depths + 3 < MOST_ROWS; i++) {
        depths[n_depths++] = top_m + board->thickness_m * (double)i / n;
    }
    depths[n_depths++] = board->skirt_m > 0.0 ? bottom_m + board->skirt_m : (double)NAN;
    depths[n_depths++] = draft->crown_m < d.bottom_m ? draft->crown_m : (double)NAN;
    struct uf_dimension chains = draw(&d);
    if (half_m > d.left_m) {
        uf_dimension_chain(&chains, UF_DIMENSION_BELOW, across, 2, d.bottom_m);
    }
    uf_dimension_chain(&chains, UF_DIMENSION_LEFT, depths, n_depths, d.left_m);
    finish(&d, &chains, "EDGE OF THE BOARD");
}

/* The first kind of anchor that there is. */
static const struct uf_anchor_row *anchor_of(const struct uf_case *design)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        if (row->body(design).count > 0.0) {
            return row;
        }
    }
    return NULL;
}

static void say_anchor(struct detail *d, const struct uf_anchor_row *row)
{
    char a[32], b[32], c[32];
    const struct uf_draft *draft = d->section.draft;
    const struct uf_anchors *given = &draft->design->anchors;
    const struct uf_anchor_body body = row->body(draft->design);
    const double mid_m = body.top_m + 0.5 * body.height_m,
                 width_m = draft->site->works.strap_width_m;
    if (given->straps > 0) {
        say(d, d->top_m + 0.15, "%zu straps, %s%s", given->straps,
            isfinite(width_m) ? length(a, d, width_m) : "width not given",
            isfinite(width_m) ? " wide" : "");
        say(d, d->top_m + 0.25, "pads, ends, torque by the manufacturer");
    } else {
        say(d, d->top_m + 0.15, "fastened as designed by others");
    }
    say(d, mid_m, "%s %s x %s x %s", row->one, length(a, d, body.width_m),
        length(b, d, body.height_m), length(c, d, body.length_m));
    if (body.axis_m > 0.0) {
        say(d, mid_m, "its axis %s off the tank's", length(a, d, body.axis_m));
    }
    say(d, draft->dig.invert_m, "invert, top of bedding");
    say(d, draft->dig.floor_m, draft->pit ? "floor of the pit" : "underside of bedding");
}

void uf_draft_detail_anchor(struct uf_draft *draft, const struct uf_view *view)
{
    struct detail d = detail_of(draft, view);
    const struct uf_anchor_row *row = anchor_of(draft->design);
    const struct uf_anchor_body body = row->body(draft->design);
    const double out_m = body.axis_m + 0.5 * body.width_m, floor_m = draft->dig.floor_m;
    const double in_m = body.axis_m > 0.0 ? body.axis_m - 0.5 * body.width_m : draft->half_width_m;
    const double pit_m = draft->pit ? draft->dig.across_m : out_m;
    const double across[] = {in_m, body.axis_m > 0.0 ? body.axis_m : (double)NAN, out_m, pit_m};
    const double depths[] = {draft->invert_m, body.top_m, body.top_m + body.height_m, floor_m};
    d.left_m = fmin(in_m, draft->half_width_m) - 0.35;
    d.right_m = fmax(fmax(out_m, pit_m), draft->half_width_m) + 0.3;
    d.bottom_m = floor_m + 0.15;
    d.top_m = fmax(fmin(draft->invert_m, body.top_m) - 0.6, draft->crown_m - 0.1);
    say_anchor(&d, row);
    struct uf_dimension chains = draw(&d);
    uf_dimension_chain(&chains, UF_DIMENSION_BELOW, across, 4, d.bottom_m);
    uf_dimension_chain(&chains, UF_DIMENSION_LEFT, depths, 4, d.left_m);
    finish(&d, &chains, draft->design->anchors.straps > 0 ? "STRAP AND ANCHOR" : "ANCHOR");
}
