#include "io/text/quantity.h"
#include "io/text/spelling.h"
#include "sheet.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"
#include "solver/ground/soil.h"
#include "solver/statics/backfill.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The backfill and ballast table: one row a lift, from the pit's floor up. */

static const char *const steps[] = {[UF_BACKFILL_SET] = "set the tank",
                                    [UF_BACKFILL_STRAPPED] = "tie the tank down",
                                    [UF_BACKFILL_BOARD] = "lay the board"};

/* NULL where memory or a value is missing; err says which. The caller frees it. */
static struct uf_backfill *find(const struct uf_site *site, struct uf_error *err)
{
    struct uf_column_soils soils;
    struct uf_backfill *table = malloc(sizeof *table);
    if (table == NULL) {
        (void)uf_fail(err, UF_E_MEMORY, "out of memory");
        return NULL;
    }
    if (uf_column_soils(&soils, &site->design, err) != UF_OK ||
        uf_backfill(table, &site->design, &soils, &site->works.backfill, err) != UF_OK) {
        free(table);
        return NULL;
    }
    return table;
}

static const char *spec_name(const struct uf_ground_spec *spec)
{
    return spec->soil != NULL ? spec->soil->name : "soil as measured";
}

/* "pea gravel"; "" for a step that is no lift. Returns text. */
static const char *fill_name(char *text, size_t size, const struct uf_site *site,
                             const struct uf_backfill_row *row)
{
    const struct uf_burial *burial = &site->design.burial;
    const char *name = row->kind != UF_BACKFILL_LIFT ? ""
                       : row->soil == UF_DIG_BEDDING ? spec_name(&burial->bedding_soil)
                       : row->soil == UF_DIG_FILL    ? spec_name(&burial->backfill)
                                                     : "excavated ground";
    return uf_spelling_words(text, size, name);
}

/* Asked for beside the tank alone, where E' rests on it; elsewhere whoever designs the works fills it
   in. */
static const char *compaction_name(const struct uf_site *site, const struct uf_backfill_row *row)
{
    const int class = site->works.roundness.compaction;
    if (row->kind != UF_BACKFILL_LIFT) {
        return "";
    }
    return row->beside && class >= 0 ? uf_roundness_compactions[class].name : "________";
}

static const char *strap_state(const struct uf_case *design, const struct uf_backfill_row *row)
{
    const bool straps = design->anchors.straps > 0;
    if (!row->has_tank) {
        return "";
    }
    if (row->kind == UF_BACKFILL_SET) {
        return "slings on";
    }
    if (row->kind == UF_BACKFILL_STRAPPED) {
        return straps ? "end straps, then slings off" : "fasten, then slings off";
    }
    return !row->held ? "" : straps ? "tight" : "fastened";
}

static void write_heads(struct uf_report *report, const struct uf_backfill_row *row,
                        enum uf_units units)
{
    const struct uf_wet_pit_stage *stage = &row->stage;
    if (!row->has_tank) {
        for (int i = 0; i < 3; i++) {
            uf_report_cell(report, "%s", "");
        }
        return;
    }
    uf_report_cell(report, "%s",
                   isnan(stage->floats_at_m) ? "never"
                                             : UF_TEXT(LENGTH, units, stage->floats_at_m));
    uf_report_cell(report, "%s",
                   isnan(stage->inside_m)  ? "full is too little"
                   : stage->inside_m > 0.0 ? UF_TEXT(LENGTH, units, stage->inside_m)
                                           : "none");
    uf_report_cell(report, "%s / %s",
                   isnan(stage->inside_m) ? "full" : UF_NUMBER(LENGTH, units, stage->inside_m),
                   UF_NUMBER(LENGTH, units, row->outside_m));
}

/* Where the inside diameter must stay, as the tape reads it; a blank to fill in before a first
   reading. Nothing for a tank that has walls. */
static void write_diameter(struct uf_report *report, const struct uf_site *site,
                           const struct uf_backfill_row *row, enum uf_units units)
{
    const struct uf_roundness_input *r = &site->works.roundness;
    const struct uf_roundness_band band =
        uf_roundness_band(r->n > 0 ? r->readings[0].diameter_m : (double)NAN, r->limit);
    if (!row->has_tank) {
        uf_report_cell(report, "%s", "");
    } else if (isnan(band.low_m)) {
        uf_report_cell(report, "____ to ____");
    } else {
        const char *low = UF_TAPE(units, band.low_m, true);
        uf_report_cell(report, "%.*s to %s", (int)(strrchr(low, ' ') - low), low,
                       UF_TAPE(units, band.high_m, false));
    }
}

static bool has_diameter(const struct uf_site *site)
{
    return uf_shape_is_round(&site->design.tank) || uf_shape_is_radial(&site->design.tank);
}

/* The table's head: columns that the design has no use for are left out. */
static void write_head(struct uf_report *report, const struct uf_site *site,
                       const struct uf_backfill *table, enum uf_units units)
{
    struct uf_show_column columns[11] = {{"step", 'l'},
                                         {"fill", 'l'},
                                         {"thick", 'r'},
                                         {"top below grade", 'r'},
                                         {"compaction", 'l'},
                                         {"flotation starts at water above invert", 'r'},
                                         {"water inside, at least", 'r'},
                                         {"head inside / outside", 'r'}};
    size_t n = 8;
    char caption[300];
    if (has_diameter(site)) {
        columns[n++] = (struct uf_show_column){"inside diameter within", 'l'};
    }
    if (uf_anchor_any(&site->design)) {
        columns[n++] = (struct uf_show_column){"tie-down", 'l'};
    }
    columns[n++] = (struct uf_show_column){"initials", 'l'};
    (void)snprintf(caption, sizeof caption,
                   "Backfill and ballast, from the floor up. Water in the open pit %s; factor of "
                   "safety %.2f with the water inside; heads above the invert",
                   UF_LEVEL(units, table->water_m), uf_case_flotation_asked(&site->design));
    uf_report_table(report, caption, columns, n);
}

static void write_rows(struct uf_report *report, const struct uf_site *site,
                       const struct uf_backfill *table, enum uf_units units)
{
    char fill[UF_NAME_SIZE];
    int lift = 0;
    write_head(report, site, table, units);
    for (size_t i = 0; i < table->n; i++) {
        const struct uf_backfill_row *row = &table->rows[i];
        const double thick_m = row->bottom_m - row->top_m;
        if (row->kind == UF_BACKFILL_LIFT) {
            uf_report_cell(report, "lift %d", ++lift);
        } else {
            uf_report_cell(report, "%s", steps[row->kind]);
        }
        uf_report_cell(report, "%s", fill_name(fill, sizeof fill, site, row));
        uf_report_cell(report, "%s", thick_m > 0.0 ? UF_TEXT(THICKNESS, units, thick_m) : "");
        uf_report_cell(report, "%s", UF_TEXT(LENGTH, units, row->top_m));
        uf_report_cell(report, "%s", compaction_name(site, row));
        write_heads(report, row, units);
        if (has_diameter(site)) {
            write_diameter(report, site, row, units);
        }
        if (uf_anchor_any(&site->design)) {
            uf_report_cell(report, "%s", strap_state(&site->design, row));
        }
        uf_report_cell(report, "______");
    }
}

/* What the columns rest on, and what the site file left blank. */
static void write_notes(struct uf_report *report, const struct uf_site *site)
{
    const struct uf_roundness_input *r = &site->works.roundness;
    uf_report_point(
        report, "Keep the pit dewatered. Water inside is a temporary measure: it goes in before "
                "the lift, stays until the works are finished, and is kept from freezing. No "
                "higher inside than the manufacturer allows without fill beside it.");
    uf_report_point(
        report, "Where even a full tank is too little, nothing but a dry pit keeps it down: water "
                "over the level in the table before that lift is compacted means everybody out, "
                "pumps on, and the tank's level read again.");
    if (r->compaction >= 0 && site->design.burial.has_backfill) {
        uf_report_point(report, "Blanks for the compaction of bedding and of what lies over the "
                                "crown: whoever designs the works fills them in before work "
                                "starts.");
    }
    if (isnan(site->works.backfill.lift_m)) {
        uf_report_point(report, "Thickness of a lift: not given (works.lift). Take it from the "
                                "manufacturer's sheet and divide the lifts above: ________ .");
    }
    if (r->compaction >= 0) {
        uf_report_point(report,
                        "Compaction beside the tank, bedding to crown: %s (Howard, USBR "
                        "REC-ERC-77-01, from memory).",
                        uf_roundness_compactions[r->compaction].doc);
    } else {
        uf_report_point(report, "Compaction beside the tank: not given (roundness.compaction).");
    }
    if (!has_diameter(site)) {
        return;
    }
    if (isnan(r->limit)) {
        uf_report_point(report, "Limit of the diameter: not given (roundness.limit). First reading "
                                "times (1 - limit) and (1 + limit) go into the blanks.");
    } else if (r->n == 0) {
        uf_report_point(report, "Diameter: first reading times %.4f and %.4f go into the blanks.",
                        1.0 - r->limit, 1.0 + r->limit);
    }
}

void uf_sheet_backfill(struct uf_report *report, const struct uf_site *site, enum uf_units units)
{
    struct uf_error err = {0};
    struct uf_backfill *table = find(site, &err);
    if (table == NULL) {
        uf_report_paragraph(report, "No backfill table: %s.", err.text);
        return;
    }
    write_rows(report, site, table, units);
    write_notes(report, site);
    free(table);
}

void uf_sheet_backfill_answer(cJSON *answer, const struct uf_site *site)
{
    char fill[UF_NAME_SIZE];
    struct uf_error err = {0};
    struct uf_backfill *table = find(site, &err);
    cJSON *object = uf_answer_object(answer, "backfill");
    uf_answer_text(object, "unknown", table == NULL ? err.text : NULL);
    cJSON *list = uf_answer_array(object, "rows");
    for (size_t i = 0; table != NULL && i < table->n; i++) {
        const struct uf_backfill_row *row = &table->rows[i];
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "step", row->kind == UF_BACKFILL_LIFT ? "lift" : steps[row->kind]);
        uf_answer_text(item, "fill", fill_name(fill, sizeof fill, site, row));
        uf_answer_number(item, "bottom_m", row->bottom_m);
        uf_answer_number(item, "top_m", row->top_m);
        uf_answer_bool(item, "tied_down", row->held);
        uf_answer_number(item, "factor", row->has_tank ? row->stage.factor : (double)NAN);
        uf_answer_number(item, "floats_at_m", row->has_tank ? row->stage.floats_at_m : (double)NAN);
        uf_answer_number(item, "inside_m", row->has_tank ? row->stage.inside_m : (double)NAN);
        uf_answer_number(item, "outside_m", row->outside_m);
    }
    free(table);
}
