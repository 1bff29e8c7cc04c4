#include "io/text/quote.h"
#include "report_private.h"

#include <stdlib.h>
#include <string.h>

static const char *replacement(unsigned char c)
{
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    case '\n':
        return "\n";
    case '\t':
        return "\t";
    default:
        return c < 0x20 || c == 0x7f ? " " : NULL;
    }
}

void uf_report_escape(FILE *out, const char *text)
{
    const unsigned char *at = (const unsigned char *)text;
    while (*at != '\0') {
        const size_t n = uf_quote_character_length(at);
        const char *other = n == 0 ? "?" : replacement(*at);
        if (other != NULL) {
            (void)fputs(other, out);
        } else {
            (void)fwrite(at, 1, n, out);
        }
        at += n > 0 ? n : 1;
    }
}

void uf_report_text(FILE *out, const char *text)
{
    char *plain = malloc(2 * strlen(text) + 1); /* a word grows by a byte at most */
    size_t used = 0;
    if (*text == '~') { /* before a number easily read as a minus */
        (void)fputs("\u2248", out);
        text++;
    }
    while (plain != NULL && *text != '\0') {
        size_t taken = 0;
        const char *word = uf_quote_degree(text, &taken);
        const size_t n = word != NULL ? strlen(word) : 1;
        memcpy(plain + used, word != NULL ? word : text, n);
        used += n;
        text += word != NULL ? taken : 1;
    }
    if (plain != NULL) {
        plain[used] = '\0';
        uf_report_escape(out, plain);
        free(plain);
    }
}

/* Where a piece of SVG that must not stand in a page ends, or NULL when none begins at. */
static const char *skip_piece(const char *at)
{
    static const char *const pieces[][2] = {
        {"<title>", "</title>"}, {"<desc>", "</desc>"}, {"<script", "</script>"}, {"<!--", "-->"}};
    for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++) {
        if (strncmp(at, pieces[i][0], strlen(pieces[i][0])) == 0) {
            const char *end = strstr(at, pieces[i][1]);
            return end != NULL ? end + strlen(pieces[i][1]) : at + strlen(at);
        }
    }
    return NULL;
}

/* How much of the text at begins a name in the SVG: after it comes the name itself. */
static size_t name_begins(const char *at)
{
    static const char *const before[] = {" id=\"", " id='", "href=\"#", "href='#", "url(#"};
    for (size_t i = 0; i < sizeof before / sizeof before[0]; i++) {
        if (strncmp(at, before[i], strlen(before[i])) == 0) {
            return strlen(before[i]);
        }
    }
    return 0;
}

void uf_report_svg(FILE *out, const char *svg, int number, const char *caption)
{
    const char *at = strstr(svg, "<svg");
    if (at == NULL) {
        return;
    }
    at += strlen("<svg");
    (void)fputs("<svg role=\"img\" aria-label=\"", out);
    uf_report_escape(out, caption);
    (void)fputs("\"", out);
    while (*at != '\0') {
        const char *after = *at == '<' ? skip_piece(at) : NULL;
        const size_t n = name_begins(at);
        if (after != NULL) {
            at = after;
        } else if (n > 0) {
            (void)fwrite(at, 1, n, out);
            (void)fprintf(out, "f%d-", number);
            at += n;
        } else {
            (void)fputc(*at++, out);
        }
    }
}
