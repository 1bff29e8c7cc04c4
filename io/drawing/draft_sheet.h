#ifndef UF_DRAFT_SHEET_H
#define UF_DRAFT_SHEET_H

#include "draft_private.h"

/* What the sheets of a drawing share: margins, and the field within them. */

#define UF_DRAFT_SHEET_BINDING_MM 20.0 /* left margin, to be punched */
#define UF_DRAFT_SHEET_MARGIN_MM  10.0
#define UF_DRAFT_SHEET_PAD_MM     4.0
#define UF_DRAFT_SHEET_GAP_MM     6.0
#define UF_DRAFT_SHEET_CORNER_MM  26.0 /* north arrow and scale bar, lower left */

struct uf_box uf_draft_sheet_border(enum uf_units units);

/* draft_sheet_details.c: details, layers of the board, tables of what is set out. Errors: UF_E_RANGE,
   UF_E_MEMORY. */
enum uf_status uf_draft_sheet_details(struct uf_draft *draft, struct uf_error *err);

#endif
