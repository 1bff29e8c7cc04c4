#include "draft_private.h"
#include "io/text/spelling.h"
#include "solver/design/foam.h"
#include "solver/ground/soil.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Hatches of soils by their row of the soil table, and the legend. */

static enum uf_hatch hatch_of(const struct uf_ground_spec *spec)
{
    static const enum uf_hatch by_mark[UF_SOIL_MARKS] = {
        [UF_SOIL_UNMARKED] = UF_HATCH_GROUND, [UF_SOIL_FINE] = UF_HATCH_FINE,
        [UF_SOIL_SAND] = UF_HATCH_SAND,       [UF_SOIL_GRAVEL] = UF_HATCH_GRAVEL,
        [UF_SOIL_CRUSHED] = UF_HATCH_CRUSHED, [UF_SOIL_ORGANIC] = UF_HATCH_ORGANIC};
    return by_mark[uf_soil_mark(spec->soil)];
}

static size_t add(struct uf_draft *draft, const struct uf_ground_spec *spec, enum uf_hatch hatch)
{
    struct uf_draft_fill *fill = &draft->fills[draft->n_fills];
    *fill = (struct uf_draft_fill){.spec = spec, .hatch = hatch};
    for (size_t i = 0; i < draft->n_fills; i++) {
        fill->variant += draft->fills[i].hatch == hatch ? 1 : 0;
    }
    return draft->n_fills++;
}

/* The fill of a soil, a new one where it is not there yet, with its place added in words. */
static size_t add_soil(struct uf_draft *draft, const struct uf_ground_spec *spec, const char *where)
{
    char word[UF_NAME_SIZE];
    size_t i = 0;
    while (i < draft->n_fills &&
           (draft->fills[i].spec == NULL || !uf_case_same_soil(draft->fills[i].spec, spec))) {
        i++;
    }
    if (i == draft->n_fills) {
        i = add(draft, spec, hatch_of(spec));
        (void)snprintf(
            draft->fills[i].text, sizeof draft->fills[i].text, "%s:",
            uf_spelling_words(word, sizeof word,
                              spec->soil != NULL ? spec->soil->name : "soil as measured"));
    }
    const size_t used = strlen(draft->fills[i].text);
    const bool first = draft->fills[i].text[used - 1] == ':';
    if (where[0] != '\0') {
        (void)snprintf(draft->fills[i].text + used, sizeof draft->fills[i].text - used, "%s %s",
                       first ? "" : ";", where);
    }
    return i;
}

static size_t add_words(struct uf_draft *draft, enum uf_hatch hatch, const char *words)
{
    const size_t i = add(draft, NULL, hatch);
    (void)snprintf(draft->fills[i].text, sizeof draft->fills[i].text, "%s", words);
    return i;
}

static void add_layers(struct uf_draft *draft)
{
    const struct uf_ground_input *ground = &draft->design->ground;
    char to[32], where[64];
    for (size_t i = 0; i < ground->n_layers; i++) {
        const bool goes_on =
            i + 1 < ground->n_layers &&
            uf_case_same_soil(&ground->layers[i].spec, &ground->layers[i + 1].spec);
        (void)snprintf(where, sizeof where,
                       i + 1 < ground->n_layers ? "ground to %s" : "ground below",
                       uf_dimension_text(to, sizeof to, draft->units, ground->layers[i].to_m));
        draft->layers[i] = add_soil(draft, &ground->layers[i].spec, goes_on ? "" : where);
    }
}

static void add_board(struct uf_draft *draft)
{
    const struct uf_board *board = &draft->design->board;
    char text[120], thick[32];
    (void)snprintf(text, sizeof text, "%s board, %s",
                   board->row != NULL ? board->row->name : "foam",
                   uf_dimension_text(thick, sizeof thick, draft->units, board->thickness_m));
    draft->foam = add_words(draft, UF_HATCH_FOAM, text);
}

static bool has_sleeve(const struct uf_case *d)
{
    bool any = false;
    for (size_t i = 0; i < d->tank.n_risers; i++) {
        any = any || d->tank.risers[i].shell.sleeve_m > 0.0;
    }
    for (size_t i = 0; i < d->n_standpipes; i++) {
        any = any || d->standpipes[i].shell.sleeve_m > 0.0;
    }
    return any;
}

void uf_draft_fill(struct uf_draft *draft)
{
    const struct uf_burial *burial = &draft->design->burial;
    const bool brought = burial->has_backfill;
    draft->n_fills = 0;
    add_layers(draft);
    draft->returned = draft->n_fills;
    if (draft->pit && (!brought || !burial->has_bedding_soil || draft->dig.fill_top_m > 0.0)) {
        draft->returned = add_words(draft, UF_HATCH_RETURNED, "dug ground put back");
    }
    draft->backfill = brought ? add_soil(draft, &burial->backfill, "fill") : draft->returned;
    draft->bedding = burial->has_bedding_soil ? add_soil(draft, &burial->bedding_soil, "bedding")
                     : brought                ? add_soil(draft, &burial->backfill, "bedding")
                                              : draft->returned;
    if (uf_case_has_board(draft->design)) {
        add_board(draft);
    }
    draft->sleeve = UF_DRAFT_WHITE;
    if (has_sleeve(draft->design)) {
        draft->sleeve = add_words(draft, UF_HATCH_FOAM, "foam sleeve");
    }
    if (uf_anchor_any(draft->design)) {
        draft->concrete = add_words(draft, UF_HATCH_CONCRETE, "concrete");
    }
}

void uf_draft_fill_area(struct uf_draft *draft, size_t fill, const struct uf_point *points,
                        size_t n)
{
    const bool known = fill < draft->n_fills;
    uf_paper_area(draft->paper, known ? draft->fills[fill].hatch : UF_HATCH_NONE,
                  known ? draft->fills[fill].variant : 0, points, n);
}

static void corners(struct uf_point points[4], const struct uf_view *view, double left_m,
                    double top_m, double right_m, double bottom_m)
{
    points[0] = uf_view_at(view, left_m, top_m);
    points[1] = uf_view_at(view, right_m, top_m);
    points[2] = uf_view_at(view, right_m, bottom_m);
    points[3] = uf_view_at(view, left_m, bottom_m);
}

void uf_draft_box(struct uf_draft *draft, const struct uf_view *view, enum uf_pen pen,
                  double left_m, double top_m, double right_m, double bottom_m)
{
    struct uf_point points[4];
    corners(points, view, left_m, top_m, right_m, bottom_m);
    uf_paper_path(draft->paper, pen, points, 4, true);
}

void uf_draft_box_area(struct uf_draft *draft, const struct uf_view *view, size_t fill,
                       double left_m, double top_m, double right_m, double bottom_m)
{
    struct uf_point points[4];
    corners(points, view, left_m, top_m, right_m, bottom_m);
    uf_draft_fill_area(draft, fill, points, 4);
}

#define SWATCH_W_MM 12.0
#define USUAL_ROWS  10 /* more stand closer */

static void pen_row(struct uf_draft *draft, double left_mm, double y_mm, enum uf_pen pen,
                    const char *text)
{
    uf_paper_line(draft->paper, pen, left_mm, y_mm, left_mm + SWATCH_W_MM, y_mm);
    uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, left_mm + SWATCH_W_MM + 2.5, y_mm,
                  false, text);
}

void uf_draft_fill_legend(struct uf_draft *draft, double left_mm, double top_mm)
{
    const double row_mm = draft->n_fills > USUAL_ROWS ? 4.4 : 6.4;
    double y = top_mm - 2.0;
    uf_paper_text(draft->paper, UF_LETTER_MIDDLE, UF_ALIGN_LEFT, left_mm, y, false, "LEGEND");
    y -= 7.0;
    for (size_t i = 0; i < draft->n_fills; i++, y -= row_mm) {
        const struct uf_box box = {left_mm, y - 0.39 * row_mm, left_mm + SWATCH_W_MM,
                                   y + 0.39 * row_mm};
        const struct uf_point at[] = {{box.left, box.bottom},
                                      {box.right, box.bottom},
                                      {box.right, box.top},
                                      {box.left, box.top}};
        uf_draft_fill_area(draft, i, at, 4);
        uf_paper_box(draft->paper, UF_PEN_THIN, box);
        uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, box.right + 2.5, y, false,
                      draft->fills[i].text);
    }
    pen_row(draft, left_mm, y, UF_PEN_WATER, "water table");
    pen_row(draft, left_mm, y - row_mm, UF_PEN_HIDDEN, "hidden, or beyond the section");
}
