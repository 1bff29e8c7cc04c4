#include "show.h"

#include "quote.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define ENTRY_COLUMN 26
#define GAP          2

/* Bytes of the escape sequence at text, 0 when there is none. */
static size_t escape_size(const char *text)
{
    if (text[0] != '\033') {
        return 0;
    }
    const char *end = strchr(text, 'm');
    return end == NULL ? 0 : (size_t)(end - text) + 1;
}

/* Characters a person sees in the first size bytes. */
static size_t width_of(const char *text, size_t size)
{
    size_t width = 0;

    for (size_t i = 0; i < size && text[i] != '\0';) {
        const size_t escape = escape_size(text + i);
        if (escape > 0) {
            i += escape;
            continue;
        }
        width += !uf_quote_is_inner_byte(text[i]);
        i++;
    }
    return width;
}

/* Bytes from here to where a line may end: a blank, a newline, the end, or behind the point inside a
   key, limits.|greatest_cover. */
static size_t piece_size(const char *text)
{
    size_t size = strcspn(text, " \n.");

    while (text[size] == '.' && !(text[size + 1] >= 'a' && text[size + 1] <= 'z')) {
        size += 1 + strcspn(text + size + 1, " \n.");
    }
    return size + (text[size] == '.');
}

/* Takes the next line of at most width characters off *text. Returns its bytes, *line its
   start; breaks at a newline, else at the last blank that fits, else behind a point inside a key,
   else in the word. */
static size_t next_line(const char **text, size_t width, const char **line)
{
    const char *start = *text + strspn(*text, " ");
    const char *last_blank = NULL, *last_point = NULL, *p = start;

    while (*p != '\0' && *p != '\n' && width_of(start, (size_t)(p - start)) < width) {
        if (*p == ' ') {
            last_blank = p;
        } else if (p > start && p[-1] == '.' && *p >= 'a' && *p <= 'z') {
            last_point = p;
        }
        p += escape_size(p) > 0 ? escape_size(p) : 1;
    }
    while (uf_quote_is_inner_byte(*p) || escape_size(p) > 0) {
        p += escape_size(p) > 0 ? escape_size(p) : 1;
    }
    if (*p != '\0' && *p != '\n' && *p != ' ' && (last_blank != NULL || last_point != NULL)) {
        p = last_blank != NULL ? last_blank : last_point;
    }
    *line = start;
    *text = *p == '\n' || *p == ' ' ? p + 1 : p;
    return (size_t)(p - start);
}

static void pad(FILE *out, size_t blanks)
{
    (void)fprintf(out, "%*s", (int)blanks, "");
}

/* text wrapped between column from and the right edge; the first line goes on where the pen is. */
static void print_block(FILE *out, size_t from, const char *text)
{
    do {
        const char *line = NULL;
        const size_t size = next_line(&text, UF_SHOW_WIDTH - from, &line);
        (void)fprintf(out, "%.*s\n", (int)size, line);
        if (*text != '\0') {
            pad(out, from);
        }
    } while (*text != '\0');
}

void uf_show_text(FILE *out, int indent, const char *text)
{
    pad(out, (size_t)indent);
    print_block(out, (size_t)indent, text);
}

void uf_show_entry(FILE *out, const char *head, const char *help)
{
    const size_t used = 2 + width_of(head, strlen(head));

    (void)fprintf(out, "  %s", head);
    if (used + GAP > ENTRY_COLUMN) {
        (void)fprintf(out, "\n");
        pad(out, ENTRY_COLUMN);
    } else {
        pad(out, ENTRY_COLUMN - used);
    }
    print_block(out, ENTRY_COLUMN, help);
}

void uf_show_line(FILE *out, const char *label, const char *format, ...)
{
    char text[1024];
    va_list list;

    va_start(list, format);
    (void)vsnprintf(text, sizeof text, format, list);
    va_end(list);
    uf_show_entry(out, label, text);
}

void uf_show_heading(FILE *out, const char *text)
{
    const size_t width = width_of(text, strlen(text));

    (void)fputc('\n', out);
    print_block(out, 0, text);
    for (size_t i = 0; i < width && i < UF_SHOW_WIDTH; i++) {
        (void)fputc('-', out);
    }
    (void)fputc('\n', out);
}

char *uf_show_tone_text(char *text, size_t size, bool colour, enum uf_show_tone tone,
                        const char *word)
{
    static const char *const codes[] = {
        [UF_SHOW_GOOD] = "\033[32m",
        [UF_SHOW_BAD] = "\033[1;31m",
        [UF_SHOW_STRONG] = "\033[1m",
    };
    (void)snprintf(text, size, "%s%s%s", colour ? codes[tone] : "", word, colour ? "\033[0m" : "");
    return text;
}

struct uf_show_table {
    const struct uf_show_column *columns;
    size_t n_columns, n_cells, room;
    char **cells;
};

struct uf_show_table *uf_show_table_create(const struct uf_show_column *columns, size_t n_columns)
{
    struct uf_show_table *table = calloc(1, sizeof *table);

    if (table != NULL) {
        table->columns = columns;
        table->n_columns = n_columns;
    }
    return table;
}

void uf_show_table_cell(struct uf_show_table *table, const char *format, ...)
{
    char text[512];
    va_list list;

    if (table == NULL) {
        return;
    }
    if (table->n_cells == table->room) {
        const size_t room = table->room == 0 ? 64 : 2 * table->room;
        char **grown = realloc(table->cells, room * sizeof *grown);
        if (grown == NULL) {
            return;
        }
        table->cells = grown;
        table->room = room;
    }
    va_start(list, format);
    (void)vsnprintf(text, sizeof text, format, list);
    va_end(list);
    table->cells[table->n_cells] = strdup(text);
    table->n_cells += table->cells[table->n_cells] != NULL;
}

/* Widest line of a text that may hold newlines. */
static size_t widest_line(const char *text)
{
    size_t widest = 0;

    while (*text != '\0') {
        const size_t size = strcspn(text, "\n");
        const size_t width = width_of(text, size);
        widest = width > widest ? width : widest;
        text += size + (text[size] == '\n');
    }
    return widest;
}

static size_t column_width(const struct uf_show_table *table, size_t column)
{
    size_t widest = widest_line(table->columns[column].heading);

    for (size_t i = column; i < table->n_cells; i += table->n_columns) {
        const size_t width = widest_line(table->cells[i]);
        widest = width > widest ? width : widest;
    }
    return widest > 0 ? widest : 1;
}

/* The widest piece of a column that a line's end cannot divide. */
static size_t widest_piece(const struct uf_show_table *table, size_t column)
{
    size_t widest = 0;

    for (size_t i = column; i < table->n_cells; i += table->n_columns) {
        const char *text = table->cells[i];
        while (*text != '\0') {
            const size_t size = piece_size(text), width = width_of(text, size);
            widest = width > widest ? width : widest;
            text += size + (text[size] == ' ' || text[size] == '\n');
        }
    }
    return widest;
}

/* Narrows left-aligned columns, the widest first, until all fit or none is wider than its least;
   says whether all fit. */
static bool narrow(const struct uf_show_table *table, size_t *widths, const size_t *least)
{
    for (;;) {
        size_t total = 0, wide = table->n_columns;
        for (size_t c = 0; c < table->n_columns; c++) {
            total += widths[c] + (c > 0 ? GAP : 0);
            if (table->columns[c].align == 'l' && widths[c] > least[c] &&
                (wide == table->n_columns || widths[c] > widths[wide])) {
                wide = c;
            }
        }
        if (total <= UF_SHOW_WIDTH || wide == table->n_columns) {
            return total <= UF_SHOW_WIDTH;
        }
        widths[wide]--;
    }
}

/* Breaks no word where that is enough, else down to the width of a short one. */
static void fit(const struct uf_show_table *table, size_t *widths, size_t *least)
{
    enum { SHORT = 8 };
    for (size_t c = 0; c < table->n_columns; c++) {
        const size_t piece = widest_piece(table, c);
        least[c] = piece > SHORT ? piece : SHORT;
    }
    if (!narrow(table, widths, least)) {
        for (size_t c = 0; c < table->n_columns; c++) {
            least[c] = SHORT;
        }
        (void)narrow(table, widths, least);
    }
}

/* One row of texts as so many lines as its tallest cell needs. texts is used up. */
static void print_row(FILE *out, const struct uf_show_table *table, const size_t *widths,
                      const char **texts)
{
    bool more = true;

    while (more) {
        size_t owed = 0;
        more = false;
        for (size_t c = 0; c < table->n_columns; c++) {
            const char *line = NULL;
            const size_t size = next_line(&texts[c], widths[c], &line);
            const size_t width = width_of(line, size);
            const size_t blanks = widths[c] > width ? widths[c] - width : 0;
            const bool right = table->columns[c].align == 'r';
            if (size > 0) {
                pad(out, owed + (right ? blanks : 0));
                (void)fprintf(out, "%.*s", (int)size, line);
                owed = right ? 0 : blanks;
            } else {
                owed += widths[c];
            }
            owed += GAP;
            more = more || *texts[c] != '\0';
        }
        (void)fputc('\n', out);
    }
}

void uf_show_table_end(FILE *out, struct uf_show_table *table)
{
    if (table == NULL) {
        return;
    }
    const size_t n = table->n_columns;
    size_t *widths = calloc(2 * n, sizeof *widths);
    const char **texts = calloc(n, sizeof *texts);

    if (widths != NULL && texts != NULL) {
        for (size_t c = 0; c < n; c++) {
            widths[c] = column_width(table, c);
            texts[c] = table->columns[c].heading;
        }
        fit(table, widths, widths + n);
        print_row(out, table, widths, texts);
        for (size_t i = 0; i < table->n_cells; i += n) {
            for (size_t c = 0; c < n; c++) {
                texts[c] = i + c < table->n_cells ? table->cells[i + c] : "";
            }
            print_row(out, table, widths, texts);
        }
    }
    for (size_t i = 0; i < table->n_cells; i++) {
        free(table->cells[i]);
    }
    free(table->cells);
    free(table);
    free(widths);
    free(texts);
}
