#include "io/quote.h"

#include <criterion/criterion.h>

#include <string.h>

Test(quote, short_text_is_copied)
{
    char out[16];
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "1.2 m"), "1.2 m");
    cr_expect_str_eq(uf_quote_text(out, sizeof out, ""), "");
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "fifteen letters"),
                     "fifteen letters");
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
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "abcdefg\xc3\xa9hijkl"),
                     "abcdefg...");
    cr_expect_str_eq(uf_quote_text(out, sizeof out, "abcdef\xc3\xa9hijklm"),
                     "abcdef\xc3\xa9...");
}
