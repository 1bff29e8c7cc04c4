#include "io/result/result_file.h"
#include "tests/program.h"
#include "tests/synthetic.h"

/* export through the program, on a synthetic result. */

static char folder[1000], file[1100];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(file, sizeof file, "%s/alder.h5", folder);
    struct uf_result *r = synthetic_result();
    (void)snprintf(r->design.name, sizeof r->design.name, "a\nb \"c\"");
    cr_assert_eq(uf_result_file_write(file, r, NULL), UF_OK);
    uf_result_free(r);
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(cmd_export, .init = open_folder, .fini = close_folder);

static struct program_answer export(const char *rest)
{
    char arguments[1400];
    (void)snprintf(arguments, sizeof arguments, "export '%s' %s", file, rest);
    return program_run_alone(arguments);
}

static size_t lines_of(const char *text)
{
    size_t n = 0;
    for (; *text != '\0'; text++) {
        n += *text == '\n';
    }
    return n;
}

Test(cmd_export, units_stand_in_the_header_and_values_follow)
{
    struct uf_result *r = synthetic_result();
    struct program_answer si = export("--csv fields --depths 0.5m,50cm");
    struct program_answer us = export("--csv fields --depths 0.5m --units us");
    cr_assert_eq(si.code, 0, "%s", si.text);
    const char *rows_si = strstr(si.text, "date,place,depth [m],temperature [degC]");
    const char *rows_us = strstr(us.text, "date,place,depth [ft],temperature [degF]");
    cr_assert(rows_si != NULL && rows_us != NULL, "%s", us.text);
    cr_expect_eq(lines_of(rows_si), 1 + 2 * 2 * r->record->nt);
    cr_expect_eq(lines_of(rows_us), 1 + 2 * r->record->nt);
    double m = 0.0, degC = 0.0, ft = 0.0, degF = 0.0;
    cr_assert_eq(sscanf(strstr(rows_si, ",undisturbed,"), ",undisturbed,%lf,%lf", &m, &degC), 2);
    cr_assert_eq(sscanf(strstr(rows_us, ",undisturbed,"), ",undisturbed,%lf,%lf", &ft, &degF), 2);
    cr_expect_float_eq(ft * 0.3048, m, 1e-6);
    cr_expect_float_eq((degF - 32.0) / 1.8, degC, 1e-6);
    uf_result_free(r);
    program_forget(&si);
    program_forget(&us);
}

/* A name of the site file cannot begin a line of its own. */
Test(cmd_export, a_name_stays_in_its_line)
{
    struct program_answer a = export("--csv series");
    cr_assert_eq(a.code, 0, "%s", a.text);
    cr_expect(strstr(a.text, "\nb \"c\"") == NULL && strstr(a.text, "a b \"c\"") != NULL, "%s",
              a.text);
    program_forget(&a);
}

Test(cmd_export, what_cannot_be_is_refused_with_a_remedy)
{
    static const struct {
        const char *rest, *word;
    } wrong[] = {{"", "--csv"},
                 {"--csv", "-o"},
                 {"--csv sums", "series, fields or facts"},
                 {"--csv fields --depths 1", "m"},
                 {"--csv fields --depths 1kg", "length"},
                 {"--csv fields --depths -1m", "0 m to"},
                 {"--csv fields --depths 1m,500m", "500 m lies outside the section"}};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct program_answer a = export(wrong[i].rest);
        cr_expect_eq(a.code, 2, "%s", a.text);
        cr_expect(strstr(a.text, wrong[i].word) != NULL, "%zu: %s", i, a.text);
        program_forget(&a);
    }
}
