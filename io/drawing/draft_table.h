#ifndef UF_DRAFT_TABLE_H
#define UF_DRAFT_TABLE_H

#include "draft_private.h"

/* A table on paper, row by row from the top. */

struct uf_draft_table_column {
    const char *heading;
    double width_mm;
    bool right; /* figures */
};

struct uf_draft_table {
    struct uf_draft *draft;
    const struct uf_draft_table_column *columns;
    size_t n;
    double left_mm, y_mm; /* y: upper edge of the next row */
};

/* Title, lines below it (ended by NULL), and the row of headings. */
void uf_draft_table_begin(struct uf_draft_table *table, const char *title,
                          const char *const *lines);
void uf_draft_table_row(struct uf_draft_table *table, const char *const *cells);

#endif
