#include "tests/program.h"

Test(cmd_start, the_file_it_writes_is_read_by_the_other_commands)
{
    char folder[] = "/tmp/uf_start_XXXXXX", text[400];
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(text, sizeof text, "start --shape box --climate madison.csv -o %s/a.yaml",
                   folder);
    struct program_answer answer = program_run_alone(text);
    cr_expect_eq(answer.code, 0, "%s", answer.text);
    program_forget(&answer);
    answer = program_run_alone(text);
    cr_expect_eq(answer.code, 3, "a file that is there is kept");
    cr_expect(strstr(answer.text, "is there already") != NULL, "%s", answer.text);
    program_forget(&answer);
    (void)snprintf(text, sizeof text,
                   "check --json --set grid.finest=300mm --set tank.ends=plane %s/a.yaml", folder);
    answer = program_run_alone(text);
    cr_expect_eq(answer.code, 0, "%s", answer.text);
    cr_expect(program_number(cJSON_GetObjectItem(answer.json, "flotation"), "uplift_kN") > 1.0);
    program_forget(&answer);
    (void)snprintf(text, sizeof text, "%s/a.yaml", folder);
    (void)remove(text);
    (void)rmdir(folder);
}

Test(cmd_start, what_is_missing_is_told)
{
    static const struct {
        const char *arguments, *said;
    } rows[] = {
        {"start", "--climate"},
        {"start --climate nowhere.csv", "nowhere.csv"},
        {"start --climate winnipeg.csv", "calgary"},
        {"start --climate sodankyla.csv", "no whole winter"},
        {"start --shape ball --climate madison.csv", "box"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct program_answer answer = program_run_alone(rows[i].arguments);
        cr_expect(answer.code == 2 || answer.code == 3, "%s: %d", rows[i].arguments, answer.code);
        cr_expect(strstr(answer.text, rows[i].said) != NULL, "%s: %s", rows[i].arguments,
                  answer.text);
        program_forget(&answer);
    }
}

/* From two winters no rare one follows. */
Test(cmd_start, the_winter_is_one_that_the_record_can_give)
{
    char folder[] = "/tmp/uf_start_XXXXXX", path[100], text[200];
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/two.csv", folder);
    FILE *file = fopen(path, "w");
    cr_assert_not_null(file);
    (void)fputs("date,tair_mean\n", file);
    for (int month = 0; month < 26; month++) {
        for (int day = 1; day <= 28; day++) {
            const int of_year = (month + 7) % 12; /* from August on */
            (void)fprintf(file, "%d-%02d-%02d,%d\n", 2001 + (month + 7) / 12, of_year + 1, day,
                          of_year < 2 || of_year > 10 ? -8 : 10);
        }
    }
    (void)fclose(file);
    (void)snprintf(text, sizeof text, "start --climate %s", path);
    struct program_answer answer = program_run_alone(text);
    cr_expect_eq(answer.code, 0, "%s", answer.text);
    cr_expect(strstr(answer.text, "winter: mean ") != NULL, "%s", answer.text);
    program_forget(&answer);
    answer = program_run_alone("start --climate fort_collins.csv");
    cr_expect(strstr(answer.text, "winter: 1 in 30 ") != NULL, "%s", answer.text);
    program_forget(&answer);
    (void)remove(path);
    (void)rmdir(folder);
}

/* The answers of a US file are in US units, --units said nothing; and si overrides. */
Test(cmd_start, a_us_file_is_answered_in_its_units)
{
    char folder[] = "/tmp/uf_start_XXXXXX", text[400];
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(text, sizeof text, "start --units us --climate madison.csv -o %s/a.yaml",
                   folder);
    struct program_answer answer = program_run_alone(text);
    cr_expect_eq(answer.code, 0, "%s", answer.text);
    program_forget(&answer);
    (void)snprintf(text, sizeof text, "check %s/a.yaml flotation", folder);
    answer = program_run_alone(text);
    cr_expect_not_null(strstr(answer.text, "kip"), "%s", answer.text);
    program_forget(&answer);
    (void)snprintf(text, sizeof text, "check %s/a.yaml flotation --units si", folder);
    answer = program_run_alone(text);
    cr_expect_null(strstr(answer.text, "kip"), "%s", answer.text);
    program_forget(&answer);
    (void)snprintf(text, sizeof text, "%s/a.yaml", folder);
    (void)remove(text);
    (void)rmdir(folder);
}
