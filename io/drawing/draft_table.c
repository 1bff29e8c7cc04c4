#include "draft_table.h"

#define ROW_MM  4.0
#define EDGE_MM 1.0

static double width_mm(const struct uf_draft_table *t)
{
    double sum = 0.0;
    for (size_t i = 0; i < t->n; i++) {
        sum += t->columns[i].width_mm;
    }
    return sum;
}

void uf_draft_table_row(struct uf_draft_table *t, const char *const *cells)
{
    double x = t->left_mm;
    for (size_t i = 0; i < t->n; x += t->columns[i].width_mm, i++) {
        char text[160];
        const struct uf_draft_table_column *column = &t->columns[i];
        const struct uf_box box = {x, t->y_mm - ROW_MM, x + column->width_mm, t->y_mm};
        uf_paper_box(t->draft->paper, UF_PEN_THIN, box);
        (void)uf_paper_fit(text, sizeof text, UF_LETTER_SMALL, cells[i],
                           column->width_mm - 2.0 * EDGE_MM);
        uf_paper_text(t->draft->paper, UF_LETTER_SMALL,
                      column->right ? UF_ALIGN_RIGHT : UF_ALIGN_LEFT,
                      column->right ? box.right - EDGE_MM : box.left + EDGE_MM,
                      t->y_mm - 0.5 * ROW_MM, false, text);
    }
    t->y_mm -= ROW_MM;
}

void uf_draft_table_begin(struct uf_draft_table *t, const char *title, const char *const *lines)
{
    const char *headings[16];
    uf_paper_text(t->draft->paper, UF_LETTER_MIDDLE, UF_ALIGN_LEFT, t->left_mm, t->y_mm - 2.0,
                  false, title);
    t->y_mm -= 5.5;
    for (; *lines != NULL; lines++) {
        char text[200];
        (void)uf_paper_fit(text, sizeof text, UF_LETTER_SMALL, *lines, width_mm(t));
        uf_paper_text(t->draft->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, t->left_mm, t->y_mm - 1.5,
                      false, text);
        t->y_mm -= 4.0;
    }
    t->y_mm -= 0.5;
    for (size_t i = 0; i < t->n && i < sizeof headings / sizeof headings[0]; i++) {
        headings[i] = t->columns[i].heading;
    }
    uf_draft_table_row(t, headings);
}
