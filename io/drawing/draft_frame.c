#include "draft_places.h"
#include "draft_private.h"
#include "io/result/result_file.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Border, title block, the names of views, north arrow and scale bar. */

/* The scale of a view in words; "" on a page that is shown at any size. */
static const char *scale_text(const struct uf_draft *draft, const struct uf_view *view)
{
    const struct uf_draft_scale *scale = uf_draft_scales(draft->units);
    while (scale->under > 0.0 && fabs(scale->under * view->mm_m - 1000.0) > 0.1) {
        scale++;
    }
    return draft->unscaled || scale->text == NULL ? "" : scale->text;
}

void uf_draft_frame_name(struct uf_draft *draft, const struct uf_view *view, const char *name,
                         double x_mm, double y_mm)
{
    char text[120];
    const char *scale = scale_text(draft, view);
    (void)snprintf(text, sizeof text, "%s%s%s", name, scale[0] != '\0' ? "   " : "", scale);
    const double half = 0.5 * uf_paper_width_mm(UF_LETTER_MIDDLE, text);
    uf_paper_text(draft->paper, UF_LETTER_MIDDLE, UF_ALIGN_CENTRE, x_mm, y_mm - 2.0, false, text);
    uf_paper_line(draft->paper, UF_PEN_EDGE, x_mm - half, y_mm - 5.0, x_mm + half, y_mm - 5.0);
}

char *uf_draft_level(char *text, size_t size, const struct uf_draft *draft, double depth_m)
{
    return uf_draft_places_text(text, size, draft->site, draft->units, depth_m);
}

/* A field of the title block: its label small above, its value below, cut to the width. */
struct field {
    double left, bottom, right, top; /* from the block's lower left corner */
    const char *label, *value;
    enum uf_letter letter;
};

static void put_field(struct uf_draft *draft, double x, double y, const struct field *f)
{
    char text[160];
    const double wide = f->right - f->left - 3.0;
    uf_paper_box(draft->paper, UF_PEN_THIN,
                 (struct uf_box){x + f->left, y + f->bottom, x + f->right, y + f->top});
    uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, x + f->left + 1.5, y + f->top - 2.1,
                  false, uf_paper_fit(text, sizeof text, UF_LETTER_SMALL, f->label, wide));
    uf_paper_text(draft->paper, f->letter, UF_ALIGN_LEFT, x + f->left + 1.5,
                  y + f->bottom + 0.5 * uf_paper_letter_mm(f->letter) + 1.4, false,
                  uf_paper_fit(text, sizeof text, f->letter, f->value, wide));
}

static const char *file_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash != NULL ? slash + 1 : path;
}

static void title_block(struct uf_draft *draft, double x, double y, size_t sheet)
{
    const struct uf_site *site = draft->site;
    const struct uf_site_project *p = &site->project;
    char date[16] = "", source[160], number[32];
    if (p->date != UF_NO_DAY) {
        (void)uf_calendar_text(p->date, date, sizeof date);
    }
    (void)snprintf(source, sizeof source, "underfrost %s, %s, %.80s, CRC-32 %08" PRIx32, UF_VERSION,
                   draft->computed, file_name(site->path), uf_result_file_sum_text(site->text));
    (void)snprintf(number, sizeof number, "%zu of %d", sheet + 1, UF_DRAFT_SHEETS);
    const char *title = p->title[0] != '\0' ? p->title : site->design.name;
    const struct field fields[] = {
        {0.0, 35.5, 180.0, 47.5, "project", title, UF_LETTER_LARGE},
        {0.0, 26.0, 90.0, 35.5, "client", p->client, UF_LETTER_MIDDLE},
        {90.0, 26.0, 180.0, 35.5, "drawing",
         sheet == 0 ? "Buried tank: plan and sections" : "Details, board, setting out",
         UF_LETTER_MIDDLE},
        {0.0, 16.5, 45.0, 26.0, "prepared by", p->prepared_by, UF_LETTER_SMALL},
        {45.0, 16.5, 90.0, 26.0, "checked by", p->checked_by, UF_LETTER_SMALL},
        {90.0, 16.5, 118.0, 26.0, "date", date, UF_LETTER_SMALL},
        {118.0, 16.5, 180.0, 26.0, "scale", sheet == 0 ? draft->scale->text : "as shown",
         UF_LETTER_SMALL},
        {0.0, 7.0, 60.0, 16.5, "project number", p->number, UF_LETTER_MIDDLE},
        {60.0, 7.0, 90.0, 16.5, "revision", p->revision, UF_LETTER_MIDDLE},
        {90.0, 7.0, 118.0, 16.5, "sheet", number, UF_LETTER_SMALL},
        {118.0, 7.0, 180.0, 16.5, "seal, signature", "", UF_LETTER_SMALL},
    };
    for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++) {
        put_field(draft, x, y, &fields[i]);
    }
    char text[160];
    uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, x + 1.5, y + 3.5, false,
                  uf_paper_fit(text, sizeof text, UF_LETTER_SMALL, source, 177.0));
    uf_paper_box(draft->paper, UF_PEN_CUT,
                 (struct uf_box){x, y, x + UF_DRAFT_TITLE_W_MM, y + UF_DRAFT_TITLE_H_MM});
}

void uf_draft_frame(struct uf_draft *draft, struct uf_box border, size_t sheet)
{
    double width_mm, height_mm;
    uf_draft_size(&width_mm, &height_mm, draft->units);
    const double x = 0.5 * width_mm, y = 0.5 * height_mm; /* folded there: A4, or letter */
    uf_paper_box(draft->paper, UF_PEN_CUT, border);
    uf_paper_line(draft->paper, UF_PEN_EDGE, x, border.top, x, border.top + 4.0);
    uf_paper_line(draft->paper, UF_PEN_EDGE, x, border.bottom, x, border.bottom - 4.0);
    uf_paper_line(draft->paper, UF_PEN_EDGE, border.left, y, border.left - 4.0, y);
    uf_paper_line(draft->paper, UF_PEN_EDGE, border.right, y, border.right + 4.0, y);
    title_block(draft, border.right - UF_DRAFT_TITLE_W_MM, border.bottom, sheet);
}

/* Whole metres, or feet in tens where there are many, about 60 mm of paper in all. */
void uf_draft_frame_bar(struct uf_draft *draft, double left_mm, double y_mm)
{
    static const double steps[] = {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0};
    const double unit_mm =
        (draft->units == UF_UNITS_US ? UF_FOOT_M * 1e3 : 1000.0) / draft->scale->under;
    size_t k = 0;
    while (k + 1 < sizeof steps / sizeof steps[0] && steps[k] * unit_mm < 11.0) {
        k++;
    }
    const double step_mm = steps[k] * unit_mm;
    for (int i = 0; i <= 4; i++) {
        char text[24];
        const double x = left_mm + i * step_mm;
        const struct uf_point at[] = {
            {x, y_mm}, {x + step_mm, y_mm}, {x + step_mm, y_mm + 1.5}, {x, y_mm + 1.5}};
        if (i < 4) {
            uf_paper_area(draft->paper, i % 2 == 0 ? UF_HATCH_SOLID : UF_HATCH_NONE, 0, at, 4);
            uf_paper_path(draft->paper, UF_PEN_THIN, at, 4, true);
        }
        (void)snprintf(text, sizeof text, i == 4 ? "%.0f %s" : "%.0f", i * steps[k],
                       draft->units == UF_UNITS_US ? "ft" : "m");
        uf_paper_text(draft->paper, UF_LETTER_SMALL, i == 4 ? UF_ALIGN_LEFT : UF_ALIGN_CENTRE,
                      i == 4 ? x - 1.0 : x, y_mm + 4.2, false, text);
    }
}

void uf_draft_frame_north(struct uf_draft *draft, double x_mm, double y_mm)
{
    const double radius = 7.0;
    const double bearing = draft->site->drawing.bearing_degree;
    struct uf_point ring[48];
    for (size_t k = 0; k < 48; k++) {
        const double angle = (double)k * 2.0 * UF_PI / 48.0;
        ring[k] = (struct uf_point){x_mm + radius * cos(angle), y_mm + radius * sin(angle)};
    }
    uf_paper_path(draft->paper, UF_PEN_THIN, ring, 48, true);
    if (isnan(bearing)) {
        uf_paper_text(draft->paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, x_mm, y_mm, false, "N ?");
        return;
    }
    /* The axis runs to the right at its bearing, so north lies that far to the left of it. */
    const double north = bearing * UF_PI / 180.0;
    const double c = cos(north), s = sin(north);
    const struct uf_point tip = {x_mm + radius * c, y_mm + radius * s};
    const struct uf_point left = {x_mm - 0.8 * radius * c - 2.0 * s,
                                  y_mm - 0.8 * radius * s + 2.0 * c};
    const struct uf_point right = {x_mm - 0.8 * radius * c + 2.0 * s,
                                   y_mm - 0.8 * radius * s - 2.0 * c};
    const struct uf_point tail = {x_mm - 0.5 * radius * c, y_mm - 0.5 * radius * s};
    const struct uf_point half[] = {tip, left, tail}, other[] = {tip, right, tail};
    uf_paper_area(draft->paper, UF_HATCH_SOLID, 0, half, 3);
    uf_paper_path(draft->paper, UF_PEN_THIN, half, 3, true);
    uf_paper_path(draft->paper, UF_PEN_THIN, other, 3, true);
    uf_paper_text(draft->paper, UF_LETTER_MIDDLE, UF_ALIGN_CENTRE, x_mm + (radius + 3.2) * c,
                  y_mm + (radius + 3.2) * s, false, "N");
}
