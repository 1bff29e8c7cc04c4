#include "report_private.h"

#include <string.h>

/* The title block, and what stands at the foot of a printed page. */

static void put_cell(FILE *out, const char *tag, const char *text)
{
    (void)fprintf(out, "<%s>", tag);
    uf_report_escape(out, text);
    (void)fprintf(out, "</%s>", tag);
}

/* A row of cells, some of which may be empty. */
static void put_row(FILE *out, const char *tag, const char *const cells[], size_t n)
{
    (void)fputs("<tr>", out);
    for (size_t i = 0; i < n; i++) {
        put_cell(out, tag, cells[i]);
    }
    (void)fputs("</tr>\n", out);
}

void uf_report_title_html(FILE *out, const struct uf_report_title *title)
{
    const char *const heads[] = {"revision", "date", "change", "prepared", "checked"};
    const char *const first[] = {title->revision, title->date, "", title->prepared_by,
                                 title->checked_by};
    const char *const blank[] = {"\xc2\xa0", "", "", "", ""};
    (void)fputs("<div class=\"block\"><dl>\n", out);
    for (size_t i = 0; i < title->n; i++) {
        const char *value = title->entries[i].value;
        (void)fputs("<div>", out);
        put_cell(out, "dt", title->entries[i].label);
        put_cell(out, "dd", value[0] != '\0' ? value : "not given");
        (void)fputs("</div>\n", out);
    }
    (void)fputs("</dl>\n<div class=\"seal\">seal, signature and date</div>\n"
                "<table class=\"revisions\"><thead>",
                out);
    put_row(out, "th", heads, 5);
    (void)fputs("</thead><tbody>\n", out);
    put_row(out, "td", first, 5);
    put_row(out, "td", blank, 5);
    put_row(out, "td", blank, 5);
    (void)fputs("</tbody></table></div>\n", out);
}

/* A text inside the quotes of a style sheet: nothing in it can end the quotes, the line or the
   sheet. */
static void put_quoted(FILE *out, const char *text)
{
    for (const unsigned char *at = (const unsigned char *)text; *at != '\0'; at++) {
        if (*at < 0x80U && strchr("\"\\<>&'", *at) == NULL && *at >= 0x20U && *at != 0x7FU) {
            (void)fputc(*at, out);
        } else if (*at >= 0x80U) {
            (void)fputc(*at, out);
        } else {
            (void)fprintf(out, "\\%x ", *at < 0x20U || *at == 0x7FU ? 0x20U : (unsigned)*at);
        }
    }
}

void uf_report_title_paper(FILE *out, const struct uf_report_title *title)
{
    (void)fprintf(out, "@page{size:%s;@bottom-left{content:\"", title->letter ? "letter" : "A4");
    put_quoted(out, title->running);
    (void)fputs("\"}}\n", out);
}
