#ifndef UF_DRAFT_H
#define UF_DRAFT_H

#include "io/site/site_file.h"

/* The works on one sheet, to scale: cross-section, long section, plan, cut plan of the board, legend,
   notes and title block. A3, or 11 by 17 inches in US units. The views show the geometry that the
   solver runs (uf_dig_of, the rows of shapes and anchors); one scale for all of them, the largest of
   the usual ones with which they fit. What the site file does not give is asked for in the notes. */

struct uf_paper; /* paper.h */

struct uf_draft_scale {
    double under;     /* 50 of 1:50 */
    const char *text; /* "1:50", "1/4\" = 1'-0\" (1:48)" */
};

/* The usual scales from the largest down, ended by under 0: those of ISO 5455 and of a metre rule;
   those of an architect's and an engineer's rule in feet and inches (common practice, no source). */
const struct uf_draft_scale *uf_draft_scales(enum uf_units units);

/* Size of the sheet, mm. */
void uf_draft_size(double *width_mm, double *height_mm, enum uf_units units);

/* One drawing; the site, borrowed, must outlive it. computed: the day of the run, for the title block;
   borrowed too. Errors: UF_E_INPUT and UF_E_RANGE naming the key of what a drawing needs; UF_E_RANGE
   for works that fit at no scale; UF_E_MEMORY. */
struct uf_draft;
enum uf_status uf_draft_open(struct uf_draft **out, const struct uf_site *site, enum uf_units units,
                             const char *computed, struct uf_error *err);
void uf_draft_free(struct uf_draft *draft); /* NULL is fine */

const struct uf_draft_scale *uf_draft_scale_of(const struct uf_draft *draft);
const struct uf_paper *uf_draft_paper(const struct uf_draft *draft); /* borrowed */

/* Draws into a file that appears whole or not at all: SVG where its name ends in .svg, PDF in .pdf.
   Errors: UF_E_INPUT for another ending; UF_E_MEMORY, UF_E_FILE, UF_E_STOPPED. */
enum uf_status uf_draft_write(const char *path, struct uf_draft *draft, struct uf_error *err);

#endif
