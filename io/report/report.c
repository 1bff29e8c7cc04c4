#include "io/result/part_file.h"
#include "report_private.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define MOST_COLUMNS  16
#define LONG_CONTENTS 10 /* sections from which paper needs a list of them */

/* What stands open and must be closed before another piece can begin. */
enum open_piece { OPEN_NONE, OPEN_LIST, OPEN_TABLE };

struct stream {
    char *text;
    size_t size;
    FILE *file;
};

struct uf_report {
    char *title, *subtitle;
    char *verdict, *caution; /* the lead; NULL: none */
    char *paper;             /* the rules for the printed page; NULL: pages are numbered alone */
    struct stream title_block, contents, body;
    int n_sections, n_pictures, n_tables;
    int appendix_from; /* sections before the first appendix; -1: there is none */
    enum open_piece open;
    char aligns[MOST_COLUMNS];
    size_t n_columns, column; /* of the table that is open; next cell */
    bool strong;              /* the row that begins next */
    bool strong_cell;         /* the cell that comes next */
};

static char *copy_text(const char *text)
{
    const size_t size = strlen(text) + 1;
    char *copy = malloc(size);
    if (copy != NULL) {
        memcpy(copy, text, size);
    }
    return copy;
}

enum uf_status uf_report_create(struct uf_report **out, const char *title, const char *subtitle,
                                struct uf_error *err)
{
    struct uf_report *r = calloc(1, sizeof *r);
    *out = NULL;
    if (r != NULL) {
        r->title = copy_text(title);
        r->subtitle = copy_text(subtitle);
        r->appendix_from = -1;
        r->title_block.file = open_memstream(&r->title_block.text, &r->title_block.size);
        r->contents.file = open_memstream(&r->contents.text, &r->contents.size);
        r->body.file = open_memstream(&r->body.text, &r->body.size);
    }
    if (r == NULL || r->title == NULL || r->subtitle == NULL || r->title_block.file == NULL ||
        r->contents.file == NULL || r->body.file == NULL) {
        uf_report_free(r);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a report");
    }
    *out = r;
    return UF_OK;
}

static void close_stream(struct stream *stream)
{
    if (stream->file != NULL) {
        (void)fclose(stream->file);
    }
    free(stream->text);
}

void uf_report_free(struct uf_report *report)
{
    if (report != NULL) {
        close_stream(&report->title_block);
        close_stream(&report->contents);
        close_stream(&report->body);
        free(report->title);
        free(report->subtitle);
        free(report->verdict);
        free(report->caution);
        free(report->paper);
        free(report);
    }
}

void uf_report_lead(struct uf_report *report, const char *verdict, const char *caution)
{
    report->verdict = copy_text(verdict);
    report->caution = copy_text(caution);
}

static void close_piece(struct uf_report *r)
{
    if (r->open == OPEN_LIST) {
        (void)fputs("</ul>\n", r->body.file);
    }
    if (r->open == OPEN_TABLE) {
        for (; r->column > 0 && r->column < r->n_columns; r->column++) {
            (void)fputs("<td></td>", r->body.file);
        }
        (void)fprintf(r->body.file, "%s</tbody></table></div></div>\n",
                      r->column > 0 ? "</tr>\n" : "");
    }
    r->open = OPEN_NONE;
}

/* An element around an escaped text made by a printf format. */
__attribute__((format(printf, 4, 0))) static void put_element(struct uf_report *r,
                                                              const char *before, const char *after,
                                                              const char *format, va_list values)
{
    va_list again;
    va_copy(again, values);
    const int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    char *text = length >= 0 ? malloc((size_t)length + 1) : NULL;
    if (text == NULL) {
        return;
    }
    (void)vsnprintf(text, (size_t)length + 1, format, values);
    (void)fputs(before, r->body.file);
    uf_report_text(r->body.file, text);
    (void)fputs(after, r->body.file);
    free(text);
}

void uf_report_title_block(struct uf_report *report, const struct uf_report_title *title)
{
    size_t size = 0;
    FILE *paper = report->paper == NULL ? open_memstream(&report->paper, &size) : NULL;
    if (paper != NULL) {
        uf_report_title_html(report->title_block.file, title);
        uf_report_title_paper(paper, title);
        (void)fclose(paper);
    }
}

void uf_report_section(struct uf_report *report, const char *heading)
{
    FILE *const body = report->body.file, *const contents = report->contents.file;
    close_piece(report);
    report->n_sections++;
    const bool appendix = report->appendix_from >= 0;
    char number[16];
    (void)snprintf(number, sizeof number, appendix ? "%c" : "%d",
                   appendix ? 'A' + report->n_sections - 1 - report->appendix_from
                            : report->n_sections);
    (void)fprintf(contents, "<li><a href=\"#s%d\">%s. ", report->n_sections, number);
    uf_report_escape(contents, heading);
    (void)fputs("</a></li>\n", contents);
    (void)fprintf(body, "%s<section id=\"s%d\">\n<h2>%s%s. ",
                  report->n_sections > 1 ? "</section>\n" : "", report->n_sections,
                  appendix ? "Appendix " : "", number);
    uf_report_escape(body, heading);
    (void)fputs("</h2>\n", body);
}

void uf_report_appendices(struct uf_report *report)
{
    report->appendix_from = report->n_sections;
}

void uf_report_subheading(struct uf_report *report, const char *heading)
{
    close_piece(report);
    (void)fputs("<h3>", report->body.file);
    uf_report_escape(report->body.file, heading);
    (void)fputs("</h3>\n", report->body.file);
}

void uf_report_paragraph(struct uf_report *report, const char *format, ...)
{
    va_list values;
    close_piece(report);
    va_start(values, format);
    put_element(report, "<p>", "</p>\n", format, values);
    va_end(values);
}

void uf_report_frame(struct uf_report *report, const char *format, ...)
{
    va_list values;
    close_piece(report);
    va_start(values, format);
    put_element(report, "<p class=\"frame\">", "</p>\n", format, values);
    va_end(values);
}

void uf_report_point(struct uf_report *report, const char *format, ...)
{
    va_list values;
    if (report->open != OPEN_LIST) {
        close_piece(report);
        (void)fputs("<ul>\n", report->body.file);
        report->open = OPEN_LIST;
    }
    va_start(values, format);
    put_element(report, "<li>", "</li>\n", format, values);
    va_end(values);
}

/* A heading may break after each stroke of its unit, such as Btu/h/ft/degF: a line of
   units must not make its column wider than its numbers. */
static void put_heading(FILE *body, const char *heading)
{
    while (*heading != '\0') {
        char piece[160];
        size_t n = strcspn(heading, "/") + (strchr(heading, '/') != NULL ? 1 : 0);
        n = n < sizeof piece ? n : sizeof piece - 1;
        (void)snprintf(piece, sizeof piece, "%.*s", (int)n, heading);
        uf_report_text(body, piece);
        heading += n;
        if (*heading != '\0') {
            (void)fputs("&#8203;", body);
        }
    }
}

static const char *class_of(char align)
{
    return align == 'r'   ? " class=\"r\""
           : align == 'm' ? " class=\"m\""
           : align == 'w' ? " class=\"w\""
                          : "";
}

/* Rows that a narrow screen parts: how many columns are left beside each other. */
static void put_table(FILE *body, int number, const struct uf_show_column *columns, size_t n)
{
    size_t beside = 0;
    for (size_t i = 0; i < n; i++) {
        beside += columns[i].align != 'w';
    }
    (void)fprintf(body, "<table aria-labelledby=\"t%d\"", number);
    if (beside < n) {
        (void)fprintf(body, " class=\"stack\" style=\"--k:%zu\"", beside);
    }
    (void)fputs(">\n<thead><tr>", body);
}

void uf_report_table(struct uf_report *report, const char *caption,
                     const struct uf_show_column *columns, size_t n_columns)
{
    FILE *const body = report->body.file;
    close_piece(report);
    report->n_columns = n_columns < MOST_COLUMNS ? n_columns : MOST_COLUMNS;
    report->column = 0;
    report->open = OPEN_TABLE;
    report->n_tables++;
    /* The caption stands before the frame that scrolls, so that it is never cut. */
    (void)fprintf(body, "<div class=\"tab\"><p class=\"cap\" id=\"t%d\">", report->n_tables);
    uf_report_text(body, caption);
    (void)fputs("</p>\n<div class=\"wide\">", body);
    put_table(body, report->n_tables, columns, report->n_columns);
    for (size_t i = 0; i < report->n_columns; i++) {
        report->aligns[i] = columns[i].align;
        (void)fprintf(body, "<th scope=\"col\"%s>", class_of(columns[i].align));
        put_heading(body, columns[i].heading);
        (void)fputs("</th>", body);
    }
    (void)fputs("</tr></thead>\n<tbody>\n", body);
}

void uf_report_cell(struct uf_report *report, const char *format, ...)
{
    va_list values;
    if (report->open != OPEN_TABLE) {
        return;
    }
    if (report->column == 0) {
        (void)fputs(report->strong ? "<tr class=\"strong\">" : "<tr>", report->body.file);
        report->strong = false;
    }
    char before[32];
    (void)snprintf(before, sizeof before, "<td%s>",
                   report->strong_cell ? " class=\"m pick\""
                                       : class_of(report->aligns[report->column]));
    va_start(values, format);
    put_element(report, before, "</td>", format, values);
    va_end(values);
    report->strong_cell = false;
    report->column++;
    if (report->column == report->n_columns) {
        (void)fputs("</tr>\n", report->body.file);
        report->column = 0;
    }
}

void uf_report_strong_cell(struct uf_report *report)
{
    report->strong_cell = true;
}

void uf_report_strong_row(struct uf_report *report)
{
    report->strong = true;
}

static void put_picture(struct uf_report *report, const char *svg, const char *caption, bool half)
{
    FILE *const body = report->body.file;
    close_piece(report);
    report->n_pictures++;
    (void)fputs(half ? "<figure class=\"half\">\n" : "<figure>\n", body);
    if (svg != NULL) {
        uf_report_svg(body, svg, report->n_pictures, caption);
    } else {
        (void)fputs("<p class=\"frame\">This picture is missing: it could not be drawn.</p>\n",
                    body);
    }
    (void)fprintf(body, "<figcaption>Figure %d. ", report->n_pictures);
    uf_report_text(body, caption);
    (void)fputs("</figcaption>\n</figure>\n", body);
}

void uf_report_picture(struct uf_report *report, const char *svg, const char *caption)
{
    put_picture(report, svg, caption, false);
}

void uf_report_half_picture(struct uf_report *report, const char *svg, const char *caption)
{
    put_picture(report, svg, caption, true);
}

void uf_report_verbatim(struct uf_report *report, const char *text)
{
    close_piece(report);
    (void)fputs("<pre>", report->body.file);
    uf_report_escape(report->body.file, text);
    (void)fputs("</pre>\n", report->body.file);
}

static void write_lead(FILE *out, const struct uf_report *r)
{
    if (r->verdict != NULL && r->caution != NULL) {
        (void)fputs("<div class=\"frame lead\"><p>", out);
        uf_report_text(out, r->verdict);
        (void)fputs("</p>\n<p class=\"sub\">", out);
        uf_report_escape(out, r->caution);
        (void)fputs("</p></div>\n", out);
    }
}

static void write_page(FILE *out, const struct uf_report *r)
{
    (void)fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                "<title>",
                out);
    uf_report_escape(out, r->title);
    (void)fprintf(out,
                  "</title>\n<style>\n%s%s%s</style>\n</head>\n<body>\n<main>\n<header>\n%s<h1>",
                  uf_report_style, uf_report_style_paper, r->paper != NULL ? r->paper : "",
                  r->title_block.text);
    uf_report_escape(out, r->title);
    (void)fputs("</h1>\n<p class=\"sub\">", out);
    uf_report_escape(out, r->subtitle);
    (void)fputs("</p>\n", out);
    write_lead(out, r);
    (void)fprintf(out, "</header>\n<nav aria-label=\"Contents\"%s><ul>\n%s</ul></nav>\n%s%s",
                  r->n_sections < LONG_CONTENTS ? " class=\"few\"" : "", r->contents.text,
                  r->body.text, r->n_sections > 0 ? "</section>\n" : "");
    (void)fputs("</main>\n</body>\n</html>\n", out);
}

enum uf_status uf_report_write(const char *path, struct uf_report *report, struct uf_error *err)
{
    struct uf_part_file part;
    close_piece(report);
    const bool whole = fflush(report->title_block.file) == 0 && fflush(report->body.file) == 0 &&
                       fflush(report->contents.file) == 0 && !ferror(report->body.file) &&
                       !ferror(report->contents.file);
    if (!whole) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the report");
    }
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    write_page(part.file, report);
    return uf_part_file_close(&part, UF_OK, err);
}
