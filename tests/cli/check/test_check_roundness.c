#include "tests/program.h"

#define READ                                                                                       \
    "readings: [{at: before, diameter: 96 inch}, {at: covered, diameter: 95.25 inch, "             \
    "level: 98.5 m}]\n"                                                                            \
    "roundness: {limit: 1 percent, soil: clean_coarse, compaction: moderate}\n"

/* 96 to 95.25 in. is 0.781 %. */
Test(check_roundness, json)
{
    struct program_answer got =
        program_check("roundness", "--json", PROGRAM_SITE(PROGRAM_BURIED READ));
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 0);
    const cJSON *list = cJSON_GetObjectItem(got.json, "readings");
    cr_expect_float_eq(program_number(cJSON_GetArrayItem(list, 1), "deflection"), 0.00781, 5e-6);
    cr_expect_str_eq(cJSON_GetObjectItem(got.json, "verdict")->valuestring, "WATCH");
    const cJSON *forecast = cJSON_GetObjectItem(got.json, "forecast");
    cr_expect_float_eq(program_number(forecast, "crown_kPa"), 1.2 * 19.81, 1e-9);
    program_forget(&got);
}

Test(check_roundness, past_the_limit_exits_1)
{
    struct program_answer got = program_check("roundness", "--set 'roundness.limit=0.5 percent'",
                                              PROGRAM_SITE(PROGRAM_BURIED READ));
    cr_expect_eq(got.code, 1, "%s", got.text);
    cr_expect(strstr(got.text, "STOP") != NULL, "%s", got.text);
    program_forget(&got);
}

/* Without a limit there is no verdict: GO would be read as one. */
Test(check_roundness, no_limit_is_no_go)
{
    const char *site = PROGRAM_SITE(PROGRAM_BURIED "readings: [{at: before, diameter: 96 inch}, "
                                                   "{at: covered, diameter: 80 inch}]\n");
    struct program_answer got = program_check("roundness", "--json", site);
    cr_expect_eq(got.code, 0, "%s", got.text);
    cr_expect(cJSON_IsNull(cJSON_GetObjectItem(got.json, "verdict")), "%s", got.text);
    program_forget(&got);
    got = program_check("roundness", "", site);
    cr_expect(strstr(got.text, "GO") == NULL && strstr(got.text, "Not judged") != NULL, "%s",
              got.text);
    program_forget(&got);
}

Test(check_roundness, nothing_to_say_and_text)
{
    struct program_answer got = program_check("roundness", "", PROGRAM_SITE(PROGRAM_BURIED));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "readings") != NULL, "%s", got.text);
    program_forget(&got);
    static const char *const arguments[] = {"", "--units us"};
    for (size_t i = 0; i < 2; i++) {
        got = program_check("roundness", arguments[i], PROGRAM_SITE(PROGRAM_BURIED READ));
        program_expect_fits(got.text);
        cr_expect(strstr(got.text, "Iowa") != NULL && strstr(got.text, "manufacturer") != NULL,
                  "%s", got.text);
        program_forget(&got);
    }
}

Test(check_roundness, a_csv_takes_the_place_of_the_readings)
{
    char csv[] = "/tmp/uf_csv_XXXXXX", site[] = "/tmp/uf_two_XXXXXX", command[600];
    const char *text = "at,diameter\nbefore,2400 mm\nafter,2382 mm\n";
    const char *yaml = PROGRAM_SITE(PROGRAM_BURIED);
    const int a = mkstemp(csv), b = mkstemp(site);
    cr_assert(a >= 0 && b >= 0);
    cr_assert_eq(write(a, text, strlen(text)), (ssize_t)strlen(text));
    cr_assert_eq(write(b, yaml, strlen(yaml)), (ssize_t)strlen(yaml));
    (void)close(a);
    (void)close(b);
    (void)snprintf(command, sizeof command, "'%s' check --json --readings %s %s roundness",
                   UF_PROGRAM, csv, site);
    FILE *pipe = popen(command, "r");
    char out[8000] = "";
    cr_assert_not_null(pipe);
    out[fread(out, 1, sizeof out - 1, pipe)] = '\0';
    cr_expect_eq(pclose(pipe), 0, "%s", out);
    (void)unlink(csv);
    (void)unlink(site);
    cJSON *json = cJSON_Parse(out);
    cr_assert_not_null(json, "%s", out);
    const cJSON *list = cJSON_GetObjectItem(cJSON_GetObjectItem(json, "roundness"), "readings");
    cr_expect_float_eq(program_number(cJSON_GetArrayItem(list, 1), "deflection"), 0.0075, 1e-9);
    cJSON_Delete(json);
}
