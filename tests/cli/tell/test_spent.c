#include "cli/tell/spent.h"
#include "tests/program.h"

#include <sys/stat.h>

/* The size told is the one on the disk, and a thinned file is the smaller one. */

static double told_MB(const char *arguments, const char *path)
{
    char line[200];
    struct stat about;
    (void)snprintf(line, sizeof line, "simulate --set grid.finest=200mm %s -o %s", arguments, path);
    struct program_answer a = program_run(line, PROGRAM_SITE(PROGRAM_BURIED));
    cr_assert(a.code == 0 || a.code == 1, "%s", a.text);
    (void)snprintf(line, sizeof line, "%s, ", path);
    const char *at = strstr(a.text, line);
    cr_assert_not_null(at, "%s", a.text);
    const double MB = strtod(at + strlen(line), NULL);
    cr_assert_eq(stat(path, &about), 0);
    cr_expect_float_eq(MB, 1e-6 * (double)about.st_size, 0.0051);
    program_forget(&a);
    (void)remove(path);
    return MB;
}

Test(spent, size_is_told_and_thinning_makes_it_smaller)
{
    char path[64];
    (void)snprintf(path, sizeof path, "/tmp/uf_spent_%ld.h5", (long)getpid());
    const double all_MB = told_MB("", path);
    const double tenth_MB = told_MB("--thin 10", path);
    cr_expect(tenth_MB < 0.7 * all_MB, "%g MB, %g MB", tenth_MB, all_MB);
}

Test(spent, a_slow_run_is_not_0_years_a_second)
{
    char text[32];
    cr_expect_str_eq(uf_spent_rate(text, sizeof text, 365.2425, 4.0), "0.25");
    cr_expect_str_eq(uf_spent_rate(text, sizeof text, 365.2425, 0.04), "25");
}

Test(spent, a_file_that_is_not_there_has_no_size)
{
    char text[32] = "before";
    cr_expect_str_eq(uf_spent_size(text, sizeof text, "/nowhere/run.h5"), "");
}

/* Every command that runs seasons says how fast, with --verbose. */
Test(spent, years_a_second_are_told)
{
    static const struct {
        const char *arguments, *more;
    } rows[] = {
        {"simulate --verbose --set grid.finest=200mm", PROGRAM_BURIED},
        {"compare --verbose --set grid.finest=200mm",
         PROGRAM_BURIED "board: {type: XPS_IV, thickness: 100 mm, beyond_tank: 1.2 m}\n"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char site[2000];
        (void)snprintf(site, sizeof site, "%s%s", PROGRAM_SITE(""), rows[i].more);
        struct program_answer a = program_run(rows[i].arguments, site);
        cr_assert(a.code == 0 || a.code == 1, "%s", a.text);
        const char *at = strstr(a.text, " years");
        cr_assert_not_null(at, "%s", a.text);
        while (at > a.text && at[-1] != '(') {
            at--;
        }
        cr_expect(strtod(at, NULL) > 0.0, "%s", a.text);
        program_expect_fits(a.text);
        program_forget(&a);
    }
}
