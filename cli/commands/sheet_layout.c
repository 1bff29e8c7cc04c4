#include "io/drawing/dimension.h"
#include "io/drawing/draft.h"
#include "io/drawing/draft_places.h"
#include "sheet.h"

#include <math.h>
#include <stdlib.h>

/* Where everything goes: views of the drawing, levels, places in plan. */

struct layout {
    struct uf_report *report;
    const struct uf_site *site;
    enum uf_units units;
    bool alone;
};

/* What is set out with a level, from the bottom up. */
static void write_levels(const struct layout *s)
{
    static const struct uf_show_column columns[] = {{"level of", 'l'},
                                                    {"below grade", 'r'},
                                                    {"level", 'r'},
                                                    {"staff: instrument less level", 'l'},
                                                    {"as built", 'l'}};
    struct uf_draft_places_level rows[UF_DRAFT_PLACES];
    const struct uf_site_drawing *given = &s->site->drawing;
    const size_t n = uf_draft_places_levels(rows, s->site);
    uf_report_paragraph(s->report,
                        "Benchmark: %s. Height of instrument, benchmark and staff on it: "
                        "____________. %s",
                        given->benchmark[0] != '\0' ? given->benchmark : "____________",
                        isfinite(given->grade_level_m)
                            ? ""
                            : "Levels count from grade, up positive: its own is ____________.");
    uf_report_table(s->report, "Levels to set out, from the bottom up", columns, 5);
    for (size_t i = 0; i < n; i++) {
        char text[32];
        uf_report_cell(s->report, "%s", rows[i].what);
        uf_report_cell(s->report, "%s", UF_TEXT(LENGTH, s->units, rows[i].depth_m));
        uf_report_cell(s->report, "%s",
                       uf_draft_places_text(text, sizeof text, s->site, s->units, rows[i].depth_m));
        uf_report_cell(s->report, "____________");
        uf_report_cell(s->report, "____________");
    }
}

static void place_cell(const struct layout *s, double m)
{
    char text[32];
    uf_report_cell(s->report, "%s%s", m < -5e-4 ? "-" : "",
                   isnan(m) ? "" : uf_dimension_text(text, sizeof text, s->units, m));
}

/* What is set out in plan. */
static void write_places(const struct layout *s)
{
    static const struct uf_show_column columns[] = {
        {"place", 'l'}, {"along", 'r'},    {"to", 'r'},   {"across", 'r'},
        {"to", 'r'},    {"diagonal", 'r'}, {"level", 'r'}};
    struct uf_draft_place rows[UF_DRAFT_PLACES];
    const char *origin = s->site->drawing.origin;
    const size_t n = uf_draft_places(rows, s->site);
    uf_report_paragraph(s->report,
                        "Along from the tank's left end in plan, across from its axis, up in plan "
                        "positive; %s. The left end and the axis are set out from: %s.",
                        s->units == UF_UNITS_US ? "feet and inches" : "mm",
                        origin[0] != '\0' ? origin : "________________________");
    uf_report_table(s->report, "Setting out in plan", columns, sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < n; i++) {
        char text[32];
        uf_report_cell(s->report, "%s", rows[i].what);
        place_cell(s, rows[i].from_m);
        place_cell(s, rows[i].to_m);
        place_cell(s, rows[i].low_m);
        place_cell(s, rows[i].high_m);
        place_cell(s, hypot(rows[i].to_m - rows[i].from_m, rows[i].high_m - rows[i].low_m));
        uf_report_cell(s->report, "%s",
                       isnan(rows[i].depth_m) ? ""
                                              : uf_draft_places_text(text, sizeof text, s->site,
                                                                     s->units, rows[i].depth_m));
    }
}

/* The views of the drawing, all of them on a sheet of its own; within a report the section across. What
   gnuplot did not draw is a line that says so. */
static enum uf_status write_views(const struct layout *s, struct uf_draft *draft,
                                  struct uf_error *err)
{
    enum uf_status status = UF_OK;
    size_t i = s->alone ? 0 : UF_DRAFT_SVG_ACROSS;
    for (bool more = true; more && status == UF_OK;) {
        char *svg = NULL;
        const char *caption = NULL;
        status = uf_draft_svg(&svg, &caption, &i, draft, err);
        more = caption != NULL && s->alone;
        if (caption != NULL && (status == UF_OK || status == UF_E_FILE)) {
            uf_report_picture(s->report, svg, caption);
            status = UF_OK;
        }
        free(svg);
    }
    return status;
}

enum uf_status uf_sheet_layout(struct uf_report *report, const struct uf_site *site,
                               enum uf_units units, bool alone, struct uf_error *err)
{
    const struct layout layout = {report, site, units, alone}, *s = &layout;
    struct uf_draft *draft = NULL;
    enum uf_status status = uf_draft_open(&draft, s->site, s->units, "", err);
    if (status == UF_OK) {
        uf_report_paragraph(
            s->report,
            "Views of the drawing; figures before scaled lengths. To scale on paper: %s.",
            s->alone ? "`underfrost sheet SITE.yaml --drawing -o FILE.pdf`"
                     : "sheet.pdf beside this report");
        status = write_views(s, draft, err);
    } else if (!s->alone) {
        uf_report_paragraph(s->report, "No drawing to scale: %s.", err->text);
        status = UF_OK;
    }
    uf_draft_free(draft);
    if (isnan(s->site->design.burial.pit_clearance_m)) {
        uf_report_frame(
            s->report,
            "No pit is given (burial.pit) and none is drawn. Before digging, whoever designs it "
            "writes here: room beside the tank ____________, slope ____________, soil class "
            "________. Volumes below count no room and sides of %.2g across to 1 down: not "
            "what is dug.",
            s->site->design.burial.pit_slope);
    }
    write_levels(s);
    write_places(s);
    return status;
}
