#include "io/text/show.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

static char *text;
static size_t size;

static FILE *paper(void)
{
    FILE *out = open_memstream(&text, &size);

    cr_assert_not_null(out);
    return out;
}

static void tear(void)
{
    free(text);
}

/* Widest line in characters. */
static size_t widest(const char *p)
{
    size_t most = 0, now = 0;

    for (; *p != '\0'; p++) {
        now = *p == '\n' ? 0 : now + (((unsigned char)*p & 0xC0U) != 0x80U);
        most = now > most ? now : most;
    }
    return most;
}

Test(show, text_wraps_at_blanks, .fini = tear)
{
    FILE *out = paper();

    uf_show_text(out, 4,
                 "A paragraph that is a good deal longer than eighty characters, so that it has "
                 "to be wrapped somewhere, and a second\nparagraph");
    (void)fclose(out);
    cr_expect_str_eq(
        text, "    A paragraph that is a good deal longer than eighty characters, so that it\n"
              "    has to be wrapped somewhere, and a second\n"
              "    paragraph\n");
}

Test(show, a_word_too_long_is_cut, .fini = tear)
{
    char word[201];
    FILE *out = paper();

    memset(word, 'w', 200);
    word[200] = '\0';
    uf_show_text(out, 0, word);
    (void)fclose(out);
    cr_expect_eq(size, 203);
    cr_expect_eq(widest(text), 80);
}

Test(show, empty_text_is_an_empty_line, .fini = tear)
{
    FILE *out = paper();

    uf_show_text(out, 0, "");
    (void)fclose(out);
    cr_expect_str_eq(text, "\n");
}

Test(show, entry_puts_help_in_its_column, .fini = tear)
{
    FILE *out = paper();

    uf_show_entry(out, "--jobs N", "runs");
    uf_show_entry(out, "--a-very-long-option VALUE", "help");
    uf_show_line(out, "frost", "%.2f m", 1.5);
    (void)fclose(out);
    cr_expect_str_eq(text, "  --jobs N                runs\n"
                           "  --a-very-long-option VALUE\n"
                           "                          help\n"
                           "  frost                   1.50 m\n");
}

Test(show, heading_is_ruled_by_characters, .fini = tear)
{
    FILE *out = paper();

    uf_show_heading(out, "caf\xC3\xA9");
    (void)fclose(out);
    cr_expect_str_eq(text, "\ncaf\xC3\xA9\n----\n");
}

Test(show, a_long_heading_is_wrapped, .fini = tear)
{
    FILE *out = paper();

    uf_show_heading(out, "a name of a site that is a good deal longer than what eighty "
                         "columns of a terminal can hold in one line");
    (void)fclose(out);
    cr_expect_eq(widest(text), 80, "%s", text);
    cr_expect(strstr(text, "in one line\n----") != NULL, "%s", text);
}

Test(show, table_aligns_and_stacks_its_heading, .fini = tear)
{
    static const struct uf_show_column columns[] = {{"name", 'l'}, {"cover\nm", 'r'}, {"ok", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    FILE *out = paper();

    uf_show_table_cell(table, "caf\xC3\xA9");
    uf_show_table_cell(table, "%.2f", 1.2);
    uf_show_table_cell(table, "%s", UF_TONE(true, GOOD, "yes"));
    uf_show_table_cell(table, "longer");
    uf_show_table_cell(table, "-");
    uf_show_table_end(out, table);
    (void)fclose(out);
    cr_expect_str_eq(text, "name    cover  ok\n"
                           "            m\n"
                           "caf\xC3\xA9     1.20  \033[32myes\033[0m\n"
                           "longer      -\n");
}

Test(show, table_too_wide_wraps_its_widest_text, .fini = tear)
{
    static const struct uf_show_column columns[] = {{"n", 'r'}, {"what", 'l'}, {"value", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    FILE *out = paper();

    for (int i = 0; i < 40; i++) {
        uf_show_table_cell(table, "%d", i);
        uf_show_table_cell(table,
                           "a cell that holds far more words than fit beside its "
                           "neighbours in eighty columns of text, %d",
                           i);
        uf_show_table_cell(table, "%.3f", 3.25 * i);
    }
    uf_show_table_end(out, table);
    (void)fclose(out);
    cr_expect(widest(text) <= 80, "%zu wide", widest(text));
    cr_expect(strstr(text, "text, 39") != NULL);
}

/* A key breaks behind its point, never inside a word; a column of prose gives way before it. */
Test(show, a_table_breaks_no_word, .fini = tear)
{
    static const struct uf_show_column columns[] = {
        {"number", 'r'}, {"governs", 'l'}, {"what it is", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    FILE *out = paper();

    uf_show_table_cell(table, "%050d", 1);
    uf_show_table_cell(table, "limits.greatest_cover");
    uf_show_table_cell(table, "the most cover");
    uf_show_table_end(out, table);
    (void)fclose(out);
    cr_expect(widest(text) <= 80, "%zu wide", widest(text));
    cr_expect(strstr(text, "limits. ") != NULL, "%s", text);
    cr_expect(strstr(text, "greatest_cover") != NULL, "%s", text);
    cr_expect(strstr(text, " most") != NULL && strstr(text, " cover\n") != NULL, "%s", text);
}

Test(show, no_table_is_no_crash)
{
    uf_show_table_cell(NULL, "x");
    uf_show_table_end(stdout, NULL);
}

Test(show, tone_is_plain_without_colour)
{
    cr_expect_str_eq(UF_TONE(false, BAD, "NOT MET"), "NOT MET");
    cr_expect(strstr(UF_TONE(true, BAD, "NOT MET"), "NOT MET") != NULL);
    cr_expect(strlen(UF_TONE(true, BAD, "NOT MET")) > 7);
}
