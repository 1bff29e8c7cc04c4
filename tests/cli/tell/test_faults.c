#include "cli/command.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"

#include <criterion/criterion.h>
#include <criterion/redirect.h>

#include <unistd.h>

static void redirect(void)
{
    cr_redirect_stdout();
    cr_redirect_stderr();
}

static struct uf_fault rows[] = {
    {.key = "burial.cover",
     .line = 7,
     .what = {.text = "no unit"},
     .allowed = {.text = "such as 1.2 m"}},
    {.key = "", .line = 0, .what = {.text = "no site"}},
};
static const struct uf_site_faults faults = {.rows = rows, .n = 2};

Test(faults, a_line_for_each, .init = redirect)
{
    const struct uf_arguments args = {0};

    cr_expect_eq(uf_faults_site(&args, "a.yaml", &faults), UF_EXIT_INPUT);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str("a.yaml:7: burial.cover: no unit: such as 1.2 m\na.yaml: no site\n");
}

/* A fault of a line of the file may be the doing of a value that has none. */
Test(faults, what_lies_over_the_file_is_named, .init = redirect)
{
    const struct uf_arguments args = {.sets = {{"tank.diameter=20 m"}}, .n_sets = 1};

    cr_expect_eq(uf_faults_site(&args, "a.yaml", &faults), UF_EXIT_INPUT);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str(
        "a.yaml:7: burial.cover: no unit: such as 1.2 m\na.yaml: no site\n"
        "--set: tank.diameter=20 m overrides the file: the faults above may follow from it\n");
}

Test(faults, json_is_one_object_on_standard_output, .init = redirect)
{
    const struct uf_arguments args = {.json = true};

    cr_expect_eq(uf_faults_site(&args, "a.yaml", &faults), UF_EXIT_INPUT);
    (void)fflush(stdout);
    cr_assert_stdout_eq_str("{\n\t\"errors\":\t[{\n"
                            "\t\t\t\"file\":\t\"a.yaml\",\n"
                            "\t\t\t\"line\":\t7,\n"
                            "\t\t\t\"key\":\t\"burial.cover\",\n"
                            "\t\t\t\"what\":\t\"no unit\",\n"
                            "\t\t\t\"allowed\":\t\"such as 1.2 m\"\n\t\t}, {\n"
                            "\t\t\t\"file\":\t\"a.yaml\",\n"
                            "\t\t\t\"line\":\tnull,\n"
                            "\t\t\t\"key\":\tnull,\n"
                            "\t\t\t\"what\":\t\"no site\",\n"
                            "\t\t\t\"allowed\":\tnull\n\t\t}]\n}\n");
}

Test(faults, one_error_keeps_its_code, .init = redirect)
{
    const struct uf_arguments args = {0};
    const struct uf_error file = {.code = UF_E_FILE, .fault.what = {.text = "not there"}};
    const struct uf_error bare = {.code = UF_E_STOPPED};

    cr_expect_eq(uf_faults_error(&args, "x.csv", &file), UF_EXIT_FILE);
    cr_expect_eq(uf_faults_error(&args, NULL, &bare), UF_EXIT_INTERRUPTED);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str("x.csv: not there\nunderfrost: interrupted\n");
}

Test(faults, a_reader_tells_file_and_line_itself, .init = redirect)
{
    const struct uf_arguments args = {0};
    struct uf_error err;
    (void)uf_fail_line(&err, "a: b/x.csv", 12, "date: %s", "twice");

    cr_expect_eq(uf_faults_error(&args, NULL, &err), UF_EXIT_INPUT);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str("a: b/x.csv:12: date: twice\n");
}

Test(faults, place_of_a_reader_in_json, .init = redirect)
{
    const struct uf_arguments args = {.json = true};
    struct uf_error err;
    (void)uf_fail_line(&err, "x.csv", 12, "date: %s", "twice");

    cr_expect_eq(uf_faults_error(&args, NULL, &err), UF_EXIT_INPUT);
    (void)fflush(stdout);
    cr_assert_stdout_eq_str("{\n\t\"errors\":\t[{\n"
                            "\t\t\t\"file\":\t\"x.csv\",\n"
                            "\t\t\t\"line\":\t12,\n"
                            "\t\t\t\"key\":\tnull,\n"
                            "\t\t\t\"what\":\t\"date: twice\",\n"
                            "\t\t\t\"allowed\":\tnull\n\t\t}]\n}\n");
}

/* The key and the numbers are members: JSON has them apart, and text in the units asked for. */
static void too_short(struct uf_error *err)
{
    (void)uf_fail_key(err, UF_E_INPUT, "lifting.sling",
                      UF_SAID("{} does not reach the {} picks", UF_OF(LENGTH, 1.0), UF_COUNT(4)),
                      UF_SAID("at least {}", UF_OF(LENGTH, 2.5)));
}

Test(faults, key_and_numbers_of_an_error_in_json, .init = redirect)
{
    const struct uf_arguments args = {.json = true, .units = UF_UNITS_US};
    struct uf_error err;
    too_short(&err);

    cr_expect_eq(uf_faults_error(&args, "a.yaml", &err), UF_EXIT_INPUT);
    (void)fflush(stdout);
    cr_assert_stdout_eq_str("{\n\t\"errors\":\t[{\n"
                            "\t\t\t\"file\":\t\"a.yaml\",\n"
                            "\t\t\t\"line\":\tnull,\n"
                            "\t\t\t\"key\":\t\"lifting.sling\",\n"
                            "\t\t\t\"what\":\t\"1 m does not reach the 4 picks\",\n"
                            "\t\t\t\"allowed\":\t\"at least 2.5 m\"\n\t\t}]\n}\n");
}

Test(faults, numbers_of_an_error_in_the_units_asked_for, .init = redirect)
{
    const struct uf_arguments si = {.units = UF_UNITS_SI};
    const struct uf_arguments us = {.units = UF_UNITS_US};
    struct uf_error err;
    too_short(&err);

    (void)uf_faults_error(&si, "a.yaml", &err);
    (void)uf_faults_error(&us, "a.yaml", &err);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str(
        "a.yaml: lifting.sling: 1 m does not reach the 4 picks: at least 2.5 m\n"
        "a.yaml: lifting.sling: 3.281 ft does not reach the 4 picks: at least 8.202 ft\n");
}

Test(faults, every_status_has_an_exit_code)
{
    cr_expect_eq(uf_faults_exit(UF_OK), 0);
    cr_expect_eq(uf_faults_exit(UF_E_INPUT), 2);
    cr_expect_eq(uf_faults_exit(UF_E_RANGE), 2);
    cr_expect_eq(uf_faults_exit(UF_E_FILE), 3);
    cr_expect_eq(uf_faults_exit(UF_E_SOLVER), 4);
    cr_expect_eq(uf_faults_exit(UF_E_STOPPED), 130);
    cr_expect_eq(uf_faults_exit((enum uf_status)99), 4);
}

/* Whoever fails over a key need not know where it stands: on a line of the file, or in --set. */
Test(faults, a_key_finds_its_line, .init = redirect)
{
    char path[] = "/tmp/uf_faults_XXXXXX", expected[400];
    const struct uf_arguments plain = {0};
    const struct uf_arguments set = {.sets = {{"lifting={sling: 1 m}"}}, .n_sets = 1};
    struct uf_error err;
    const int file = mkstemp(path);
    const char text[] = "site: {name: A}\nlifting:\n  sling: 1 m\n";
    cr_assert(file >= 0 && write(file, text, sizeof text - 1) == sizeof text - 1);
    cr_assert_eq(close(file), 0);
    too_short(&err);

    (void)uf_faults_error(&plain, path, &err);
    (void)uf_faults_error(&set, path, &err);
    (void)fflush(stderr);
    cr_assert_eq(unlink(path), 0);
    (void)snprintf(expected, sizeof expected,
                   "%s:3: lifting.sling: 1 m does not reach the 4 picks: at least 2.5 m\n"
                   "--set: lifting.sling: 1 m does not reach the 4 picks: at least 2.5 m\n",
                   path);
    cr_assert_stderr_eq_str(expected);
}
