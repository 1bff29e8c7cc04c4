#include "io/weather/climate_text.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

Test(climate_text, lines)
{
    static const char bytes[] = "\xEF\xBB\xBFone\r\n\ntwo\rthree\r";
    struct uf_climate_text *text = malloc(sizeof *text);
    FILE *file = tmpfile();
    bool more = false;
    cr_assert_eq(fwrite(bytes, 1, sizeof bytes - 1, file), sizeof bytes - 1);
    rewind(file);
    uf_climate_text_init(text, file, "x");
    cr_expect_eq(uf_climate_text_next(text, &more, NULL), UF_OK);
    cr_expect_str_eq(text->text, "one");
    cr_expect_eq(uf_climate_text_next(text, &more, NULL), UF_OK);
    cr_expect_str_eq(text->text, "");
    cr_expect(more);
    cr_expect_eq(uf_climate_text_next(text, &more, NULL), UF_OK);
    cr_expect_str_eq(text->text, "two");
    cr_expect(more && text->line == 3);
    cr_expect_eq(uf_climate_text_next(text, &more, NULL), UF_OK);
    cr_expect_str_eq(text->text, "three", "a carriage return alone ends a line");
    cr_expect(more && text->line == 4);
    cr_expect_eq(uf_climate_text_next(text, &more, NULL), UF_OK);
    cr_expect_not(more);
    (void)fclose(file);
    free(text);
}

Test(climate_text, fields)
{
    char line[] = " a ,\"b, c\" ,, \"  -50\",\"open, to the end";
    char *fields[4] = {NULL};
    cr_expect_eq(uf_climate_text_split(line, fields, 4), 5, "all are counted");
    cr_expect_str_eq(fields[0], "a");
    cr_expect_str_eq(fields[1], "b, c");
    cr_expect_str_eq(fields[2], "");
    cr_expect_str_eq(fields[3], "-50");
    char empty[] = "";
    cr_expect_eq(uf_climate_text_split(empty, fields, 4), 1);
    cr_expect_str_eq(fields[0], "");
}

Test(climate_text, numbers)
{
    static const char *const wrong[] = {"",   " ",   "1,4", "nan",    "inf", "0x1",
                                        "1e", "1 2", "--1", "1e9999", "-",   "1.2.3"};
    double value = 7.5;
    cr_expect(uf_climate_text_number("-12.25", &value) && value == -12.25);
    cr_expect(uf_climate_text_number("1e-2", &value) && value == 0.01);
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        value = 7.5;
        cr_expect_not(uf_climate_text_number(wrong[i], &value), "%s", wrong[i]);
        cr_expect_eq(value, 7.5);
    }
}

Test(climate_text, copies_whole_characters_and_nothing_that_steers_a_terminal)
{
    char to[8];
    uf_climate_text_copy(to, sizeof to, "Sodankyl\xC3\xA4");
    cr_expect_str_eq(to, "Sodanky");
    uf_climate_text_copy(to, sizeof to, "abcdef\xC3\xA4");
    cr_expect_str_eq(to, "abcdef");
    uf_climate_text_copy(to, sizeof to, "\x1b[31m\xE4\x7F");
    cr_expect_str_eq(to, "?[31m??");
    uf_climate_text_copy(to, sizeof to, "\xE2\x82");
    cr_expect_str_eq(to, "??");
}

Test(climate_text, latitudes)
{
    static const struct {
        const char *text;
        double deg;
    } rows[] = {
        {"49.9 N, 97.2 W", 49.9},   {"about 40.6 N, 105.1 W", 40.6}, {"Hill 7, 33.5S.", -33.5},
        {"12 NNW of 45.5 N", 45.5}, {"Hill", (double)NAN},           {"100 N", (double)NAN},
        {"97.2 W", (double)NAN},    {"5 Nights", (double)NAN},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double got = uf_climate_text_latitude_deg(rows[i].text);
        cr_expect(got == rows[i].deg || (isnan(got) && isnan(rows[i].deg)), "%s: %g", rows[i].text,
                  got);
    }
}

Test(climate_text, first_line_for_telling_formats)
{
    char line[16];
    uf_climate_text_first_line(line, sizeof line, "\xEF\xBB\xBF# note\r\n\n\"a\",\"b\"\r\nc");
    cr_expect_str_eq(line, "a,b");
    uf_climate_text_first_line(line, sizeof line, "# note\ra,b\rc");
    cr_expect_str_eq(line, "a,b");
    uf_climate_text_first_line(line, sizeof line, "# only a note");
    cr_expect_str_eq(line, "");
    uf_climate_text_first_line(line, sizeof line, "0123456789abcdefghij");
    cr_expect_str_eq(line, "0123456789abcde");
}

Test(climate_text, counts_join)
{
    char note[40] = "";
    uf_climate_text_count(note, sizeof note, 0, "nothing");
    cr_expect_str_eq(note, "");
    uf_climate_text_count(note, sizeof note, 3, "days");
    uf_climate_text_count(note, sizeof note, 12, "values");
    cr_expect_str_eq(note, "days: 3; values: 12");
    uf_climate_text_count(note, sizeof note, 5, "a text far longer than there is room for");
    cr_expect_eq(strlen(note), sizeof note - 1);
}
