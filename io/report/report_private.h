#ifndef UF_REPORT_PRIVATE_H
#define UF_REPORT_PRIVATE_H

#include "report.h"

#include <stdio.h>

/* What the report_*.c files share. */

/* Text with everything escaped that HTML reads; broken UTF-8 and control characters other
   than newline and tab replaced. */
void uf_report_escape(FILE *out, const char *text);

/* The same of a text of ours, with its degrees as they are printed: "5.0 degC", "1834 degC day" become
   5.0 °C, 1834 °C·days. */
void uf_report_text(FILE *out, const char *text);

/* gnuplot's SVG made fit to stand inside a page: no prolog, no tooltips, no scripts,
   every name in it made the page's own by its number. */
void uf_report_svg(FILE *out, const char *svg, int number, const char *caption);

/* report_title.c: the block as HTML; the rules for the printed page as CSS. */
void uf_report_title_html(FILE *out, const struct uf_report_title *title);
void uf_report_title_paper(FILE *out, const struct uf_report_title *title);

/* Head of the page with its style, up to the title's text. */
extern const char uf_report_style[], uf_report_style_paper[];

#endif
