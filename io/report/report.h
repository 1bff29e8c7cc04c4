#ifndef UF_REPORT_H
#define UF_REPORT_H

#include "io/text/show.h"

#include <stdbool.h>
#include <stddef.h>

/* A report that can be handed over: one HTML file that needs no network, no script and no
   other file, for a screen from 360 px on and for A4 and Letter paper. It is put together
   piece by piece, in order; every text is escaped on its way in, so names of users can
   stand anywhere. A piece that found no memory makes uf_report_write fail, so the calls
   between need no check. */
struct uf_report;

/* title stands on top and in the browser's tab; subtitle below it, "" for none. Errors:
   UF_E_MEMORY. */
enum uf_status uf_report_create(struct uf_report **out, const char *title, const char *subtitle,
                                struct uf_error *err);
void uf_report_free(struct uf_report *report); /* NULL is fine */

/* What must be seen before anything else: stands between title and contents, in a frame.
   caution stands below it, smaller; "" for none. Asked once. */
void uf_report_lead(struct uf_report *report, const char *verdict, const char *caution);

/* The block on top of the first page: entries as label and value, beside them a box for the seal, below
   them the table of revisions, the first row filled and two left to write in. running stands at the
   foot of every printed page beside its number. letter: paper is Letter, else A4. Asked once; without
   it pages are numbered all the same. */
struct uf_report_entry {
    const char *label, *value; /* value "": not given */
};
struct uf_report_title {
    const struct uf_report_entry *entries;
    size_t n;
    const char *revision, *date, *prepared_by, *checked_by, *running;
    bool letter;
};
void uf_report_title_block(struct uf_report *report, const struct uf_report_title *title);

/* From here on sections are appendices: A, B ... */
void uf_report_appendices(struct uf_report *report);

/* A section with its place in the list of contents; ends the one before. */
void uf_report_section(struct uf_report *report, const char *heading);

void uf_report_subheading(struct uf_report *report, const char *heading);

void uf_report_paragraph(struct uf_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* A paragraph in a frame: the answer, or what to be careful of. */
void uf_report_frame(struct uf_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* A point of a list; points that follow each other make one list. */
void uf_report_point(struct uf_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* A table: its columns, then cells row by row. Cells missing in the last row stay empty. A column may
   also be 'm': several lines in the middle, cells of a matrix; or 'w': words, left, that on a narrow
   screen take a line of their own over the whole row. */
void uf_report_table(struct uf_report *report, const char *caption,
                     const struct uf_show_column *columns, size_t n_columns);
void uf_report_cell(struct uf_report *report, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* The same for the cell that comes next: the chosen one of a matrix. */
void uf_report_strong_cell(struct uf_report *report);

/* Makes the row that begins next stand out (the pick). */
void uf_report_strong_row(struct uf_report *report);

/* A picture: SVG as gnuplot writes it. caption also says to those who cannot see it what
   it shows. A NULL svg becomes a line that says that the picture is missing. */
void uf_report_picture(struct uf_report *report, const char *svg, const char *caption);

/* The same at half the width, two beside each other where there is room. */
void uf_report_half_picture(struct uf_report *report, const char *svg, const char *caption);

/* Text line for line, such as the site file. */
void uf_report_verbatim(struct uf_report *report, const char *text);

/* Sections that every report has, word for word: cautions before anyone digs, lifts or
   enters; what the program does not compute; where each formula comes from. */
void uf_report_cautions(struct uf_report *report);
void uf_report_not_computed(struct uf_report *report);
void uf_report_sources(struct uf_report *report);

/* Writes the whole; the file appears complete or not at all. Errors: UF_E_MEMORY when a
   piece found none, UF_E_FILE. */
enum uf_status uf_report_write(const char *path, struct uf_report *report, struct uf_error *err);

#endif
