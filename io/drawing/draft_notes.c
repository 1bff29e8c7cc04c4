#include "draft_route.h"
#include "io/text/message_text.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

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

__attribute__((format(printf, 2, 3))) static void note(struct notes *notes, const char *format, ...)
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

static bool has_pipe(const struct uf_case *design, const char *name)
{
    size_t i = 0;
    while (i < design->n_pipes && strstr(design->pipes[i].name, name) == NULL) {
        i++;
    }
    return i < design->n_pipes;
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
    add_key(keys, sizeof keys,
            isfinite(draft->site->works.suction.flow_m3_s) && !has_pipe(design, "suction"),
            "pipes (one named suction)");
    add_key(keys, sizeof keys, d->origin[0] == '\0', "drawing.origin");
    add_key(keys, sizeof keys, !uf_draft_route_all(draft), "drawing.routes");
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

/* Sides and depth, and what the rules of excavation say of them. */
static void write_pit_note(struct notes *notes)
{
    const struct uf_draft *draft = notes->draft;
    const struct uf_pit *pit = &draft->quantities.pit;
    const char soil_class = draft->design->burial.soil_class;
    char of[32] = "", steep[120] = "";
    if (!draft->pit) {
        return;
    }
    if (soil_class != 0) {
        (void)snprintf(of, sizeof of, ", soil class %c", soil_class);
    }
    if (pit->too_steep) {
        (void)snprintf(steep, sizeof steep,
                       " TOO STEEP: 29 CFR 1926 P, table B-1 allows %.4g to 1; flatten, shore or "
                       "shield.",
                       pit->allowed_slope);
    }
    note(notes, "Sides of the pit %.4g horizontal to 1 vertical%s.%s%s", draft->dig.slope, of,
         steep,
         pit->needs_engineer ? " Deeper than 20 ft (6.1 m): designed by a registered engineer."
                             : "");
}

/* What is lifted in and what holds it down, in words. */
static void write_body_note(struct notes *notes)
{
    const struct uf_draft *draft = notes->draft;
    const struct uf_tank *tank = &draft->design->tank;
    const double mass_kg = tank->empty_mass_kg;
    struct uf_message anchors;
    char straps[48] = "";
    uf_anchor_say(&anchors, draft->design);
    if (draft->design->anchors.straps > 0) {
        (void)snprintf(straps, sizeof straps, "; %zu straps", draft->design->anchors.straps);
    }
    note(notes, "Tank: outside volume %s%s%s.%s%s%s%s",
         UF_TEXT(VOLUME, draft->units, uf_tank_volume_m3(tank)),
         isfinite(mass_kg) ? ", empty " : "",
         isfinite(mass_kg) ? UF_TEXT(MASS, draft->units, mass_kg) : "",
         anchors.text[0] != '\0' ? " Anchors: " : "",
         anchors.text[0] != '\0' ? UF_MESSAGE(draft->units, &anchors) : "",
         anchors.text[0] != '\0' ? straps : "", anchors.text[0] != '\0' ? "." : "");
}

static void write_works_notes(struct notes *notes)
{
    const struct uf_draft *draft = notes->draft;
    const struct uf_case *design = draft->design;
    const bool straps = design->anchors.straps > 0;
    write_body_note(notes);
    if (!uf_shape_is_radial(&design->tank)) {
        note(notes, "Stations count from the tank's left end in plan%s%s%s.",
             straps && draft->site->drawing.n_straps == 0
                 ? "; straps drawn evenly apart, the manufacturer's stations decide"
                 : "",
             straps && isnan(draft->site->works.strap_width_m) ? "; strap width not to scale" : "",
             design->n_pipes > 0 && !uf_draft_route_all(draft)
                 ? "; pipes without a route at their level, as a stub"
                 : "");
    }
    if (design->tank.inflow_m3_s > 0.0 && !has_pipe(design, "inflow")) {
        note(notes,
             "The inflow has no level in the site file and is not drawn; a row of pipes named "
             "inflow gives it.");
    }
    write_pit_note(notes);
}

double uf_draft_notes(struct uf_draft *draft, double left_mm, double top_mm, double width_mm)
{
    struct notes notes = {draft, left_mm, top_mm - 2.0, width_mm, 0};
    uf_paper_text(draft->paper, UF_LETTER_MIDDLE, UF_ALIGN_LEFT, left_mm, notes.y_mm, false,
                  "NOTES");
    notes.y_mm -= 6.0;
    note(&notes, "NOT FOR CONSTRUCTION until checked and sealed by a licensed practitioner. Codes, "
                 "authorities and utilities of the place come first.");
    note(&notes,
         "Excavation: services marked first; slope, shore or shield; spoil and machines kept "
         "back; a way out within reach. Lifting: rated gear at the manufacturer's points, "
         "nobody beneath. Confined space: entry with permit, measured air and attendant "
         "only. In a wet pit the tank floats until it is tied down and covered.");
    write_levels_note(&notes);
    write_works_notes(&notes);
    ask(&notes);
    return notes.y_mm;
}
