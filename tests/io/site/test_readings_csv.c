#include "io/site/readings_csv.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct uf_roundness_input input;
static struct uf_site_faults faults;

static enum uf_status read_text(const char *text, struct uf_error *err)
{
    char path[] = "/tmp/uf_readings_XXXXXX";
    const int file = mkstemp(path);
    cr_assert(file >= 0);
    cr_assert_eq(write(file, text, strlen(text)), (ssize_t)strlen(text));
    (void)close(file);
    uf_roundness_init(&input);
    uf_site_faults_clear(&faults);
    const enum uf_status status = uf_readings_csv_read(&input, path, &faults, err);
    (void)unlink(path);
    return status;
}

Test(readings_csv, values_with_their_units)
{
    struct uf_error err = {0};
    cr_assert_eq(read_text("\xEF\xBB\xBF"
                           "at,diameter,level\r\nbefore, 96 inch ,\r\n\r\nafter "
                           "straps,2391 mm,98.5 m\r\n",
                           &err),
                 UF_OK, "%s", err.text);
    cr_expect_eq(input.n, 2u);
    cr_expect_str_eq(input.readings[1].at, "after straps");
    cr_expect_float_eq(input.readings[0].diameter_m, 96 * 0.0254, 1e-12);
    cr_expect(isnan(input.readings[0].level_m));
    cr_expect_float_eq(input.readings[1].level_m, 98.5, 1e-12);
    cr_expect_eq(read_text("at,diameter\nbefore,2.4 m\n", &err), UF_OK);
}

Test(readings_csv, columns_go_by_their_names)
{
    struct uf_error err = {0};
    cr_assert_eq(read_text("at,station,horizontal,diameter,far_level,date,by\n"
                           "\"set, on bedding\",2,93.5 in,94 in,3 m,2026-05-04,RM\n"
                           "covered,2,,93.5 in\n",
                           &err),
                 UF_OK, "%s", err.text);
    cr_expect_eq(input.n, 2u);
    cr_expect_str_eq(input.readings[0].at, "set, on bedding");
    cr_expect_eq(input.readings[0].station, 2u);
    cr_expect_float_eq(input.readings[0].diameter_m, 94 * 0.0254, 1e-12);
    cr_expect_float_eq(input.readings[0].across_m, 93.5 * 0.0254, 1e-12);
    cr_expect_float_eq(input.readings[0].far_level_m, 3.0, 1e-12);
    cr_expect(isnan(input.readings[1].across_m) && isnan(input.readings[1].far_level_m));
}

Test(readings_csv, what_is_wrong_has_its_line)
{
    static const struct {
        const char *text;
        int line;
        const char *key, *what;
    } rows[] = {{"before,2.4 m\n", 1, "", "not a heading"},
                {"at,diameter\nbefore,2.4\n", 2, "diameter", "no unit"},
                {"at,diameter\na,2.4 m\nb,2,4 m,3\n", 3, "", "more fields"},
                {"at,diameter\n,2.4 m\n", 2, "at", "missing"},
                {"at,diameter\nbefore\n", 2, "diameter", ""},
                {"at,diameter,level\nbefore,2.4 m,3 kg\n", 2, "level", "kg"},
                {"at,diameter\nbefore,nan m\n", 2, "diameter", "nan"},
                {"at,level\nbefore,2.4 m\n", 1, "", "not a heading"},
                {"at,diameter,diameter\nbefore,2.4 m\n", 1, "", "not a heading"},
                {"at,diameter,width\nbefore,2.4 m\n", 1, "", "not a heading"},
                {"at,diameter,station\nbefore,2.4 m,1.5\n", 2, "station", "no station"},
                {"at,diameter\nbefore,2.4 km\n", 2, "diameter", "out of range"},
                {"at,diameter\nbefore,-2.4 m\n", 2, "diameter", "out of range"},
                {"at,diameter,level\nbefore,2.4 m,1e9 m\n", 2, "level", "out of range"},
                {"at,diameter\nbe\x1b[31mfore,2.4 m\n", 2, "at", "control"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct uf_error err = {0};
        cr_expect_eq(read_text(rows[i].text, &err), UF_E_INPUT, "%s", rows[i].text);
        cr_assert_eq(faults.n, 1, "%s: %zu", rows[i].text, faults.n);
        cr_expect_eq(faults.rows[0].line, rows[i].line, "%s", rows[i].text);
        cr_expect_str_eq(faults.rows[0].key, rows[i].key);
        cr_expect(strstr(faults.rows[0].what.text, rows[i].what) != NULL, "%s: %s", rows[i].text,
                  faults.rows[0].what.text);
    }
    uf_site_faults_clear(&faults);
}

Test(readings_csv, every_bad_line_is_told_at_once)
{
    struct uf_error err = {0};
    cr_expect_eq(
        read_text("at,diameter,level\na,2.4 m\nb,2.4,1\n,3 m\nc,2.4 m,1 m\nd,3 m,1 m,2\n", &err),
        UF_E_INPUT);
    cr_assert_eq(faults.n, 4);
    cr_expect(faults.rows[0].line == 3 && faults.rows[1].line == 3);
    cr_expect(faults.rows[2].line == 4 && faults.rows[3].line == 6);
    cr_expect_eq(input.n, 2u);
    uf_site_faults_clear(&faults);
}

/* A remark may be long; a line that is no reading is told with its own number. */
Test(readings_csv, a_line_of_any_length_is_one_line)
{
    struct uf_error err = {0};
    char text[4000];
    (void)snprintf(text, sizeof text,
                   "at,diameter,level\nbefore,2.4 m,%1200s\nafter,2.3 m,%900s9\n", "", "");
    cr_expect_eq(read_text(text, &err), UF_E_INPUT);
    cr_assert_eq(faults.n, 1);
    cr_expect_eq(faults.rows[0].line, 3);
    cr_expect_eq(input.n, 1u);
}

Test(readings_csv, too_many_and_missing)
{
    struct uf_error err = {0};
    char text[8000] = "at,diameter\n";
    for (size_t i = 0; i <= UF_ROUNDNESS_READINGS; i++) {
        const size_t used = strlen(text);
        (void)snprintf(text + used, sizeof text - used, "step %zu,2.4 m\n", i);
    }
    cr_expect_eq(read_text(text, &err), UF_E_INPUT);
    cr_assert_eq(faults.n, 1);
    cr_expect_eq(faults.rows[0].line, UF_ROUNDNESS_READINGS + 2);
    uf_site_faults_clear(&faults);
    cr_expect_eq(uf_readings_csv_read(&input, "/nonexistent/readings.csv", &faults, &err),
                 UF_E_FILE);
}
