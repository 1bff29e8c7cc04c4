#ifndef UF_SHOW_H
#define UF_SHOW_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stdio.h>

/* Text for people that fits 80 columns: paragraphs, label and value, tables, a word in
   colour. Widths are counted in characters, so that a name in UTF-8 stays in its column. */

#define UF_SHOW_WIDTH 80

/* Paragraphs of text, wrapped; a newline in text starts a new one. */
void uf_show_text(FILE *out, int indent, const char *text);

/* "  head      help", the help wrapped in its own column. */
void uf_show_entry(FILE *out, const char *head, const char *help);

/* " label value", the value made by a printf format and wrapped in its own column. */
void uf_show_line(FILE *out, const char *label, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* A heading with a rule below; wrapped where it is too long for a line. */
void uf_show_heading(FILE *out, const char *text);

enum uf_show_tone { UF_SHOW_GOOD, UF_SHOW_BAD, UF_SHOW_STRONG };

/* word in a colour where colour is wanted, plain elsewhere; the word itself must say all.
   Returns text. */
char *uf_show_tone_text(char *text, size_t size, bool colour, enum uf_show_tone tone,
                        const char *word);
#define UF_TONE(colour, tone, word)                                                                \
    uf_show_tone_text((char[64]){0}, 64, (colour), UF_SHOW_##tone, (word))

/* A table. Cells are given row by row; a heading may hold newlines, its unit on the last line. */
struct uf_show_column {
    const char *heading;
    char align; /* 'l' or 'r' */
};
struct uf_show_table;

/* columns is borrowed until the table is printed. NULL when memory ran out: the calls below
   then do nothing. */
struct uf_show_table *uf_show_table_create(const struct uf_show_column *columns, size_t n_columns);

/* The next cell, from left to right and then the next row. */
void uf_show_table_cell(struct uf_show_table *table, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Prints heading and rows and frees the table. Where the whole is too wide, the widest left-aligned
   column is narrowed and its cells wrapped. Cells missing from the last row stay empty. */
void uf_show_table_end(FILE *out, struct uf_show_table *table);

#endif
