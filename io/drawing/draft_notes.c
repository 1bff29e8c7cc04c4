#include "draft_private.h"
#include "solver/design/shape.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* The notes: how to read the sheet, what the site file did not give, and the cautions. */

#define LINE_MM 3.9

struct notes {
    struct uf_draft *draft;
    double left_mm, y_mm, width_mm;
    int n;
};

/* One line of a paragraph, as many words as there is room for; returns what follows. */
static const char *put_line(struct notes *notes, const char *text, double indent_mm)
{
    char line[160];
    size_t best = 0;
    for (size_t n = 1; n < sizeof line - 1; n++) {
        if (text[n] == ' ' || text[n] == '\0') {
            (void)snprintf(line, sizeof line, "%.*s", (int)n, text);
            if (best > 0 &&
                uf_paper_width_mm(UF_LETTER_SMALL, line) > notes->width_mm - indent_mm) {
                break;
            }
            best = n;
            if (text[n] == '\0') {
                break;
            }
        }
    }
    (void)snprintf(line, sizeof line, "%.*s", (int)(best > 0 ? best : sizeof line - 1), text);
    uf_paper_text(notes->draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, notes->left_mm + indent_mm,
                  notes->y_mm, false, line);
    notes->y_mm -= LINE_MM;
    text += strlen(line);
    return text + strspn(text, " ");
}

static void note(struct notes *notes, const char *format, ...)
{
    char text[600], number[16];
    const char *rest = text;
    va_list args;
    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    (void)snprintf(number, sizeof number, "%d", ++notes->n);
    uf_paper_text(notes->draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, notes->left_mm, notes->y_mm,
                  false, number);
    while (*rest != '\0') {
        rest = put_line(notes, rest, 6.0);
    }
}

/* What lacks, each by its key. */
static void add_key(char *text, size_t size, bool lacks, const char *key)
{
    const size_t used = strlen(text);
    if (lacks) {
        (void)snprintf(text + used, size - used, "%s%s", used > 0 ? ", " : "", key);
    }
}

static void ask(struct notes *notes)
{
    const struct uf_draft *draft = notes->draft;
    const struct uf_site_drawing *d = &draft->site->drawing;
    const struct uf_site_project *p = &draft->site->project;
    const struct uf_case *design = draft->design;
    const bool lies = !uf_shape_is_radial(&design->tank);
    char keys[400] = "";
    add_key(keys, sizeof keys,
            p->title[0] == '\0' || p->client[0] == '\0' || p->number[0] == '\0' ||
                p->prepared_by[0] == '\0' || p->checked_by[0] == '\0' || p->revision[0] == '\0' ||
                p->date == UF_NO_DAY,
            "project (title, number, client, revision, prepared_by, checked_by, date)");
    add_key(keys, sizeof keys, d->benchmark[0] == '\0', "drawing.benchmark");
    add_key(keys, sizeof keys, isnan(d->grade_level_m), "drawing.grade_level");
    add_key(keys, sizeof keys, isnan(d->bearing_degree), "drawing.axis_bearing");
    add_key(keys, sizeof keys, lies && design->tank.n_risers > 0 && d->n_risers == 0,
            "drawing.riser_stations");
    add_key(keys, sizeof keys, design->anchors.straps > 0 && d->n_straps == 0,
            "drawing.strap_stations");
    add_key(keys, sizeof keys, !draft->pit, "burial.pit");
    add_key(keys, sizeof keys, uf_case_has_board(design) && draft->quantities.board_layers == 0,
            "quantities.sheet");
    if (keys[0] != '\0') {
        note(notes, "Not given by the site file, left blank here: %s.", keys);
    }
}

static void write_levels_note(struct notes *notes)
{
    const struct uf_site_drawing *d = &notes->draft->site->drawing;
    const bool us = notes->draft->units == UF_UNITS_US;
    note(notes, "%s Figures before scaled lengths.%s%s%s",
         us ? "Dimensions in feet and inches, levels in feet." : "Dimensions in mm, levels in m.",
         isfinite(d->grade_level_m) ? "" : " Levels from grade, up positive.",
         d->benchmark[0] != '\0' ? " Benchmark: " : "", d->benchmark);
}

static void write_works_notes(struct notes *notes)
{
    const struct uf_draft *draft = notes->draft;
    const struct uf_case *design = draft->design;
    if (!uf_shape_is_radial(&design->tank)) {
        note(notes, "Stations count from the tank's left end in plan%s%s.",
             design->anchors.straps > 0 && draft->site->drawing.n_straps == 0
                 ? "; straps drawn evenly apart, the manufacturer's stations decide"
                 : "",
             draft->design->anchors.straps > 0 && isnan(draft->site->works.strap_width_m)
                 ? "; strap width not to scale"
                 : "");
    }
    if (design->n_pipes > 0) {
        note(notes, "Pipes at their level at the tank's right end; the site file gives no route.");
    }
    if (design->tank.inflow_m3_s > 0.0) {
        note(notes, "The inflow has no level in the site file and is not drawn.");
    }
    if (draft->pit && draft->dig.slope > 0.0) {
        note(notes, "Sides of the pit %.4g horizontal to 1 vertical%s%c%s", draft->dig.slope,
             design->burial.soil_class != 0 ? ", soil class " : ".",
             design->burial.soil_class != 0 ? design->burial.soil_class : ' ',
             design->burial.soil_class != 0 ? "." : "");
    }
}

double uf_draft_notes(struct uf_draft *draft, double left_mm, double top_mm, double width_mm)
{
    struct notes notes = {draft, left_mm, top_mm - 2.0, width_mm, 0};
    uf_paper_text(draft->paper, UF_LETTER_MIDDLE, UF_ALIGN_LEFT, left_mm, notes.y_mm, false,
                  "NOTES");
    notes.y_mm -= 6.0;
    note(&notes,
         "NOT FOR CONSTRUCTION until checked and sealed by a licensed practitioner who knows "
         "the site. Codes, the authorities and the utilities of the place come first.");
    note(&notes,
         "Excavation: buried services marked first; slope, shore or shield every pit that "
         "anyone enters, spoil and machines kept back, a way out within reach. Lifting: the "
         "manufacturer's points and rated gear, nobody beneath. Confined space: tank and "
         "risers only with permit, measured air and an attendant. The tank floats in a wet "
         "pit until it is tied down and covered.");
    write_levels_note(&notes);
    write_works_notes(&notes);
    ask(&notes);
    return notes.y_mm;
}
