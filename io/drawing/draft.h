#ifndef UF_DRAFT_H
#define UF_DRAFT_H

#include "io/site/site_file.h"

/* The works on two sheets, to scale: plan, long section and cross-section with legend and notes on the
   first, details, layers of the board, levels and setting out on the second. A3, or 11 by 17 inches in
   US units. The views show the geometry that the solver runs (uf_dig_of, the rows of shapes and
   anchors) at the largest of the usual scales with which they fit: one for the first sheet, those of
   details and board on the second. What the site file does not give is asked for in the notes. */

#define UF_DRAFT_SHEETS 2

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

const struct uf_draft_scale *
uf_draft_scale_of(const struct uf_draft *draft); /* of plan, sections */
const struct uf_paper *uf_draft_paper(const struct uf_draft *draft, size_t sheet); /* borrowed */

/* The section across, among the views of uf_draft_svg. */
#define UF_DRAFT_SVG_ACROSS 1

/* A view after the other for a page, as SVG without word of a scale: *svg is the caller's to free;
   *i counts on, from 0. caption is borrowed, NULL after the last one. Errors: UF_E_MEMORY, UF_E_FILE,
   UF_E_STOPPED. */
enum uf_status uf_draft_svg(char **svg, const char **caption, size_t *i, struct uf_draft *draft,
                            struct uf_error *err);

/* Draws into files that appear whole or not at all: both sheets in one PDF where the name ends in .pdf;
   in .svg, the second sheet in a file of its own, "-2" before the ending. Errors: UF_E_INPUT for another
   ending; UF_E_MEMORY, UF_E_FILE, UF_E_STOPPED. */
enum uf_status uf_draft_write(const char *path, struct uf_draft *draft, struct uf_error *err);

/* The file of a sheet, by the name asked for. Returns path. */
char *uf_draft_path(char *path, size_t size, const char *name, size_t sheet);

#endif
