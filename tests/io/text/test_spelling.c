#include "io/text/spelling.h"

#include <criterion/criterion.h>

#include <string.h>

static const char *plain(const char *text, const struct uf_measure *measure)
{
    static char out[UF_SPELLING_SIZE];
    return uf_spelling_plain(out, sizeof out, text, measure);
}

Test(spelling, what_is_plain_is_left_as_it_is)
{
    static const char *const texts[] = {"1.2 m",  "6.1 ft",     "3 inch",     "1e3 ft",
                                        "25 /m3", "5 ft 14 in", "5 1/4/2 in", "",
                                        "'",      "ft",         "-",          "5 ft 6"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        cr_expect_eq(plain(texts[i], &uf_units_length), texts[i], "%s", texts[i]);
    }
    const char *lone = "50 F";
    cr_expect_eq(plain(lone, &uf_units_temperature), lone, "a lone F gets a hint");
}

Test(spelling, the_forms_of_the_trade_are_put_into_one)
{
    cr_expect_str_eq(plain("6.5'", &uf_units_length), "6.5 ft");
    cr_expect_str_eq(plain("95 1/4 in", &uf_units_length), "95.25 in");
    cr_expect_str_eq(plain("5' 6\"", &uf_units_length), "5.5 ft");
    cr_expect_str_eq(plain("R-10", &uf_units_resistance), "10 ft2.hr.degF/BTU");
    cr_expect_str_eq(plain("10 ft2.hr.F/BTU", &uf_units_resistance), "10 ft2.hr.degF/BTU");
    cr_expect_str_eq(plain("1 1/2 W/m2/C", &uf_units_film), "1.5 W/m2/degC");
}

Test(spelling, a_foot_of_inches_after_feet_is_told)
{
    struct uf_units_fault fault = {.bare = false};
    cr_expect(uf_spelling_past_foot(&fault, "5' 14\""));
    cr_expect_str_eq(fault.what, "14 inches after the feet");
    cr_expect_str_eq(fault.allowed, "inches from 0 to under 12: 6 ft 2 in, if that is meant");
    cr_expect(uf_spelling_past_foot(&fault, "2 ft 12 1/2 in"));
    cr_expect_str_eq(fault.allowed, "inches from 0 to under 12: 3 ft 0.5 in, if that is meant");
    cr_expect(!uf_spelling_past_foot(&fault, "5' 6\""));
    cr_expect(!uf_spelling_past_foot(&fault, "1.2 m 14 in"));
}

Test(spelling, whole_inches_are_counted)
{
    cr_expect_eq(uf_spelling_inches("2 in"), 2);
    cr_expect_eq(uf_spelling_inches("4\""), 4);
    cr_expect_eq(uf_spelling_inches("1 1/2 in"), 0);
    cr_expect_eq(uf_spelling_inches("50 mm"), 0);
    cr_expect_eq(uf_spelling_inches("2 ft"), 0);
    cr_expect_eq(uf_spelling_inches("0 in"), 0);
}

/* However long or broken, nothing beyond the room is written. */
Test(spelling, long_texts_are_left_alone)
{
    char text[400];
    memset(text, 'F', sizeof text);
    text[sizeof text - 1] = '\0';
    cr_expect_eq(plain(text, &uf_units_film), text);
    for (size_t n = 1; n < 80; n++) {
        char mixed[100], out[UF_SPELLING_SIZE];
        for (size_t i = 0; i < n; i++) {
            mixed[i] = i % 2 == 0 ? 'F' : '/';
        }
        mixed[n] = '\0';
        cr_expect(strlen(uf_spelling_plain(out, sizeof out, mixed, &uf_units_film)) < sizeof out);
    }
}
