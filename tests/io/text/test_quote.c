#include "io/text/quote.h"

#include <criterion/criterion.h>

#include <string.h>

Test(quote, short_text_is_copied)
{
    char out[16];
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "1.2 m"), "1.2 m");
    cr_expect_str_eq(uf_quote_text(out, sizeof out, ""), "");
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "fifteen letters"), "fifteen letters");
}

Test(quote, control_characters_are_not_passed_on)
{
    char out[16];
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "a\nb\x1b[c\x7f"), "a?b?[c?");
}

Test(quote, long_text_is_cut_between_characters)
{
    char out[12];
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "abcdefghijklmn"), "abcdefgh...");
    /* seven letters, then a character of two bytes that would be cut in half */
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "abcdefg\xc3\xa9hijkl"), "abcdefg...");
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "abcdef\xc3\xa9hijklm"), "abcdef\xc3\xa9...");
}

/* Rows of RFC 3629, section 3 and 4: the shortest and longest character of each length,
   then what no character may be. */
Test(quote, length_of_a_character)
{
    static const struct {
        const char *text;
        size_t length;
    } rows[] = {{"a", 1},
                {"\x7f", 1},
                {"\xc2\x80", 2},
                {"\xdf\xbf", 2},
                {"\xe2\x82\xac", 3},
                {"\xf0\x9f\x8c\xb2", 4},
                {"\x80", 0},
                {"\xc0\xaf", 0},
                {"\xc3", 0},
                {"\xe2\x82", 0},
                {"\xf8\x88\x80\x80\x80", 0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        cr_expect_eq(uf_quote_character_length((const unsigned char *)rows[i].text), rows[i].length,
                     "row %zu", i);
    }
}
