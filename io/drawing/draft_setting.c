#include "draft_places.h"
#include "draft_table.h"

#include <math.h>
#include <stdio.h>

/* Tables of what is set out: levels with a place for the reading, places in plan. */

/* "-1200", "4'-0": with its side. "" for what is none. */
static const char *signed_text(char *text, size_t size, const struct uf_draft *draft, double m)
{
    char plain[32];
    if (isnan(m)) {
        return "";
    }
    (void)snprintf(text, size, "%s%s", m < -5e-4 ? "-" : "",
                   uf_dimension_text(plain, sizeof plain, draft->units, m));
    return text;
}

void uf_draft_setting_levels(struct uf_draft *draft, const struct uf_view *view)
{
    static const struct uf_draft_table_column columns[] = {{"level of", 58.0, false},
                                                           {"below grade", 28.0, true},
                                                           {"level", 22.0, true},
                                                           {"staff", 28.0, true},
                                                           {"as built", 28.0, true}};
    static const char *const blank = "________________________________";
    char from[160];
    const char *const lines[] = {from,
                                 "Height of instrument, benchmark + staff on it: ____________",
                                 "Staff on a level: height of instrument less the level", NULL};
    struct uf_draft_places_level rows[UF_DRAFT_PLACES];
    struct uf_draft_table t = {draft, columns, sizeof columns / sizeof columns[0], view->x_mm,
                               view->y_mm};
    const size_t n = uf_draft_places_levels(rows, draft->site);
    (void)snprintf(from, sizeof from, "Benchmark: %s",
                   draft->site->drawing.benchmark[0] != '\0' ? draft->site->drawing.benchmark
                                                             : blank);
    uf_draft_table_begin(&t, "LEVELS, FROM THE BOTTOM UP", lines);
    for (size_t i = 0; i < n; i++) {
        char below[32], at[32];
        const char *cells[] = {rows[i].what,
                               signed_text(below, sizeof below, draft, rows[i].depth_m),
                               uf_draft_level(at, sizeof at, draft, rows[i].depth_m), "", ""};
        uf_draft_table_row(&t, cells);
    }
}

void uf_draft_setting_places(struct uf_draft *draft, const struct uf_view *view)
{
    const bool us = draft->units == UF_UNITS_US; /* -21'-10 1/2" takes more room than -6667 */
    const double wide = us ? 24.5 : 18.0;
    const struct uf_draft_table_column columns[] = {{"place", us ? 50.0 : 56.0, false},
                                                    {"along", wide, true},
                                                    {"to", wide, true},
                                                    {"across", wide, true},
                                                    {"to", wide, true},
                                                    {"diagonal", wide, true},
                                                    {"level", 17.5, true}};
    struct uf_draft_place rows[UF_DRAFT_PLACES];
    char from[200];
    const char *const lines[] = {"Along from the tank's left end, across from its axis, up in plan "
                                 "positive. From:",
                                 from, NULL};
    struct uf_draft_table t = {draft, columns, sizeof columns / sizeof columns[0], view->x_mm,
                               view->y_mm};
    const size_t n = uf_draft_places(rows, draft->site);
    (void)snprintf(from, sizeof from, "%s",
                   draft->site->drawing.origin[0] != '\0'
                       ? draft->site->drawing.origin
                       : "________________________________________________");
    uf_draft_table_begin(&t, "SETTING OUT IN PLAN", lines);
    for (size_t i = 0; i < n; i++) {
        char text[5][32], at[32];
        const struct uf_draft_place *p = &rows[i];
        const char *cells[] = {
            p->what,
            signed_text(text[0], 32, draft, p->from_m),
            signed_text(text[1], 32, draft, p->to_m),
            signed_text(text[2], 32, draft, p->low_m),
            signed_text(text[3], 32, draft, p->high_m),
            signed_text(text[4], 32, draft, hypot(p->to_m - p->from_m, p->high_m - p->low_m)),
            isnan(p->depth_m) ? "" : uf_draft_level(at, sizeof at, draft, p->depth_m)};
        uf_draft_table_row(&t, cells);
    }
}
