#ifndef UF_REPORT_PRIVATE_H
#define UF_REPORT_PRIVATE_H

#include "report.h"

#include <stdio.h>

/* What the report_*.c files share. */

/* Text with everything escaped that HTML reads; broken UTF-8 and control characters other
   than newline and tab replaced. */
void uf_report_escape(FILE *out, const char *text);

/* gnuplot's SVG made fit to stand inside a page: no prolog, no tooltips, no scripts,
   every name in it made the page's own by its number. */
void uf_report_svg(FILE *out, const char *svg, int number, const char *caption);

/* Head of the page with its style, up to the title's text. */
extern const char uf_report_style[];

#endif
