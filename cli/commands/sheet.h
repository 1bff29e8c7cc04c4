#ifndef UF_SHEET_H
#define UF_SHEET_H

#include "cli/options.h"
#include "cli/tell/answer.h"
#include "io/report/report.h"
#include "io/site/site_file.h"
#include "solver/statics/uplift.h"
#include "solver/works/quantities.h"

/* The installation sheet: what a foreman takes to the pit. Layout to scale, order of work
   with a check and a place to sign at each stage, quantities, lifting, anchors, wet pit,
   cautions. Figures of the tank's manufacturer appear only where the user gave them. */

/* Views of the drawing, levels and places that are set out: sheet_layout.c. alone: all the views, else
   the section across. Errors: as uf_draft_open where the sheet is alone, else a line that says why. */
enum uf_status uf_sheet_layout(struct uf_report *report, const struct uf_site *site,
                               enum uf_units units, bool alone, struct uf_error *err);

/* The order of work, each step with its check and a place to sign; then what the pit's
   depth and the groundwater ask for. Only steps that the design has: no straps, no
   geotextile, no word of them. */
void uf_sheet_steps(struct uf_report *report, const struct uf_case *design,
                    const struct uf_quantities *quantities, enum uf_units units);

/* The fill lift by lift, with what water in the pit does to the tank after each: sheet_backfill.c.
   A table that cannot be worked out is one line that says why. */
void uf_sheet_backfill(struct uf_report *report, const struct uf_site *site, enum uf_units units);

/* The same as "backfill" of the answer: null with a reason where it cannot be worked out. */
void uf_sheet_backfill_answer(cJSON *answer, const struct uf_site *site);

/* The field record of the design: sheet_field.c. Errors: UF_E_INPUT for a tank that has no diameter
   and for no station; as uf_field_page_write. */
enum uf_status uf_sheet_field(const char *path, const struct uf_site *site, enum uf_units units,
                              struct uf_error *err);

/* Writes the sheet's sections into a report that is open. alone: the sheet is a file of
   its own, with the cautions that a whole report has already. Errors: UF_E_INPUT for what
   a pit needs and the site file does not give. */
enum uf_status uf_sheet_sections(struct uf_report *report, const struct uf_site *site,
                                 enum uf_units units, bool alone, struct uf_error *err);

#endif
