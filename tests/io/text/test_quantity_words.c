#include "io/text/quantity_words.h"

#include <criterion/criterion.h>

#include <string.h>

/* A foot is 0.3048 m, a pound 0.45359237 kg, by definition; the figures by hand. */
Test(quantity_words, numbers_with_units_are_turned)
{
    static const struct {
        const char *si, *us;
    } rows[] = {
        {"(usual 1100 to 1500 kg/m3, 15 to 35 %)", "(usual 69 to 94 lb/ft3, 15 to 35 %)"},
        {"rounded, 3 to 19 mm, drained", "rounded, 0.12 to 0.75 in, drained"},
        {"soil freezes near 0 degC", "soil freezes near 32 degF"},
        {"at -0.2 degC", "at 31.6 degF"},
        {"about 260 m; 43.1 N", "about 853 ft; 43.1 N"},
        {"still changes by 0.012 m from", "still changes by 0.039 ft from"},
        {"by 0.15 K; deepen", "by 0.27 degF; deepen"},
        {"freezing index 1834 degC day: winter", "freezing index 3301 degF day: winter"},
        {"0.25 W/(m K) from memory", "0.14 Btu/h/ft/degF from memory"},
        {"2 m", "6.6 ft"},
        {"10 m.", "33 ft."},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        cr_expect_str_eq(UF_WORDS(UF_UNITS_US, rows[i].si), rows[i].us, "%s: %s", rows[i].si,
                         UF_WORDS(UF_UNITS_US, rows[i].si));
        cr_expect_str_eq(UF_WORDS(UF_UNITS_SI, rows[i].si), rows[i].si);
    }
}

Test(quantity_words, the_rest_stays)
{
    static const char *const rows[] = {
        "",
        "ASTM C578-10, read in a bulletin",
        "A = 4.8, B = -0.326",
        "2 minutes",
        "type IV, R 4.5 per inch",
        "ends 5 mn",
        "5",
        "10 W/m2/K",
        "-",
        "x3 m",
        "148 m2/g",
        "100 Ks",
        "\xc3\xa9t\xc3\xa9 - 5",
        "12-3 m",
        "1. to",
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        cr_expect_str_eq(UF_WORDS(UF_UNITS_US, rows[i]), rows[i], "%s", rows[i]);
    }
}

Test(quantity_words, a_small_room_is_kept)
{
    static const char source[] = "from 1100 to 1500 kg/m3 and 3 mm";
    for (size_t size = 1; size < 48; size++) {
        char text[64];
        memset(text, '#', sizeof text);
        (void)uf_quantity_words(text, size, UF_UNITS_US, source);
        cr_expect(strlen(text) < size, "%zu", size);
        cr_expect_eq(text[size], '#', "%zu", size);
    }
}
