#include "cli/command.h"
#include "tests/program.h"

/* The program as a shell sees it: exit codes, where text goes, what an interrupt leaves. */

/* Exit code of a shell line in which $UF is the program and $SRC the source folder. */
static int shell(const char *line)
{
    (void)setenv("UF", UF_PROGRAM, 1);
    (void)setenv("SRC", UF_SOURCE_DIR, 1);
    const int status = system(line);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

Test(main, wrong_input_is_2_and_names_line_key_and_remedy)
{
    struct program_answer answer =
        program_run("simulate", "surface: {film: 15 W/m2/K}\nburial: {cover: 1.2 s}\n");
    cr_expect_eq(answer.code, UF_EXIT_INPUT);
    cr_expect(strstr(answer.text, ":2: burial.cover: ") != NULL, "%s", answer.text);
    program_forget(&answer);
}

Test(main, wrong_input_as_json_is_one_object)
{
    struct program_answer answer =
        program_run("simulate --json", "surface: {film: 1,4 W/m2/K}\nboard: {thicknes: 1 mm}\n");
    cr_expect_eq(answer.code, UF_EXIT_INPUT);
    cr_assert_not_null(answer.json, "%s", answer.text);
    const cJSON *errors = cJSON_GetObjectItem(answer.json, "errors"), *row = NULL;
    cr_expect(cJSON_GetArraySize(errors) >= 2, "all at once: %s", answer.text);
    cJSON_ArrayForEach(row, errors)
    {
        static const char *const keys[] = {"file", "line", "key", "what", "allowed"};
        for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
            cr_expect(cJSON_HasObjectItem(row, keys[i]), "%s: %s", keys[i], answer.text);
        }
    }
    program_forget(&answer);
}

Test(main, a_file_that_is_not_there_is_3)
{
    cr_expect_eq(shell("\"$UF\" simulate /nowhere/site.yaml 2>/dev/null"), UF_EXIT_FILE);
}

Test(main, a_full_disk_is_3)
{
    cr_expect_eq(shell("\"$UF\" manual >/dev/full 2>/dev/null"), UF_EXIT_FILE);
    cr_expect_eq(shell("\"$UF\" --help >/dev/full 2>/dev/null"), UF_EXIT_FILE);
}

/* The system's limit on the size of a file ends no run by its signal: the file is told and none left. */
Test(main, a_limit_on_the_size_of_files_is_3)
{
    cr_expect_eq(shell("d=$(mktemp -d); (ulimit -f 8; exec \"$UF\" sheet -q -o $d/page.html "
                       "\"$SRC/cli/examples/mill_race.yaml\" 2>$d.said >/dev/null); code=$?; "
                       "grep -q 'page.html: could not be written to its end' $d.said || code=98; "
                       "[ -z \"$(ls $d)\" ] || code=99; rm -rf $d $d.said; exit $code"),
                 UF_EXIT_FILE);
}

/* What is written takes the place of nothing that is read, by whatever name. */
Test(main, the_site_file_is_not_written_over)
{
    static const char *const lines[] = {"sheet site.h5 -o site.h5", "sheet site.h5 -o ./link.h5",
                                        "simulate site.h5 -o site.h5"};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        char line[512];
        (void)snprintf(line, sizeof line,
                       "d=$(mktemp -d); cd $d; cp \"$SRC/cli/examples/mill_race.yaml\" site.h5; "
                       "ln -s site.h5 link.h5; \"$UF\" %s >/dev/null 2>&1; code=$?; "
                       "cmp -s site.h5 \"$SRC/cli/examples/mill_race.yaml\" || code=99; "
                       "rm -rf $d; exit $code",
                       lines[i]);
        cr_expect_eq(shell(line), UF_EXIT_INPUT, "%s", lines[i]);
    }
}

/* The error-controlled integrator needs seconds for this one: it is caught in the middle. */
Test(main, an_interrupt_is_130_and_leaves_no_file)
{
    cr_expect_eq(shell("d=$(mktemp -d); cd $d; timeout --preserve-status -s INT 0.3 \"$UF\" "
                       "simulate --integrator reference -o result.h5 "
                       "\"$SRC/cli/examples/larch_hollow.yaml\" >/dev/null 2>&1; code=$?; "
                       "[ -z \"$(ls -A $d)\" ] || code=99; rm -rf $d; exit $code"),
                 UF_EXIT_INTERRUPTED);
}
