#include "tests/program.h"

#define BURIED PROGRAM_SITE(PROGRAM_BURIED)
#define HELD                                                                                       \
    PROGRAM_SITE(PROGRAM_BURIED                                                                    \
                 "anchors: {deadmen: {count: 2, width: 0.6 m, height: 0.6 m, length: 6 m}, "       \
                 "straps: 4}\n")

static bool is_unchecked(const cJSON *answer, const char *topic)
{
    const cJSON *row = NULL;
    cJSON_ArrayForEach(row, cJSON_GetObjectItem(answer, "unchecked"))
    {
        if (strcmp(cJSON_GetObjectItem(row, "topic")->valuestring, topic) == 0) {
            return cJSON_IsNull(cJSON_GetObjectItem(answer, topic));
        }
    }
    return false;
}

/* All by default; what has no data is told as such and fails nothing. */
Test(cmd_check, all_topics_that_have_data)
{
    static const char *const without[] = {"load", "lifting", "suction", "fittings", "roundness"};
    struct program_answer got = program_run("check --json", HELD);
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 0, "%s", got.text);
    cr_expect(cJSON_IsTrue(cJSON_GetObjectItem(got.json, "ok")));
    cr_expect(cJSON_IsObject(cJSON_GetObjectItem(got.json, "flotation")));
    cr_expect(cJSON_IsObject(cJSON_GetObjectItem(got.json, "pit")));
    for (size_t i = 0; i < sizeof without / sizeof without[0]; i++) {
        cr_expect(is_unchecked(got.json, without[i]), "%s", without[i]);
    }
    program_forget(&got);
    got = program_run("check", HELD);
    program_expect_fits(got.text);
    cr_expect(strstr(got.text, "no data: give lifting") != NULL, "%s", got.text);
    program_forget(&got);
}

Test(cmd_check, one_topic_that_fails_exits_1)
{
    struct program_answer got = program_run("check --json", BURIED);
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 1, "%s", got.text);
    cr_expect(cJSON_IsFalse(cJSON_GetObjectItem(got.json, "ok")));
    cr_expect(cJSON_IsTrue(cJSON_GetObjectItem(cJSON_GetObjectItem(got.json, "pit"), "ok")));
    program_forget(&got);
    got = program_run_on("check --json", BURIED, "pit");
    cr_expect_eq(got.code, 0, "flotation was not asked for: %s", got.text);
    cr_expect_null(cJSON_GetObjectItem(got.json, "flotation"));
    program_forget(&got);
}

Test(cmd_check, what_is_asked_for_by_name_must_be_there)
{
    struct program_answer got = program_run_on("check --json", BURIED, "flotation load");
    cr_expect_eq(got.code, 2);
    cr_expect(cJSON_IsArray(cJSON_GetObjectItem(got.json, "errors")), "%s", got.text);
    cr_expect(strstr(got.text, "give board") != NULL, "%s", got.text);
    program_forget(&got);
    got = program_run_on("check", BURIED, "flotaton");
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "did you mean 'flotation'") != NULL, "%s", got.text);
    program_forget(&got);
}

/* What is given but wrong in one topic does not silence the others, and is not passed over. */
Test(cmd_check, a_fault_in_one_topic_leaves_the_others)
{
    const char *site =
        PROGRAM_SITE(PROGRAM_BURIED "lifting: {picks: 2, spacing: 4 m, sling: 1.5 m}\n");
    struct program_answer got = program_run("check --json", site);
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 2);
    cr_expect(is_unchecked(got.json, "lifting"));
    cr_expect(cJSON_IsObject(cJSON_GetObjectItem(got.json, "flotation")));
    program_forget(&got);
    got = program_run("check", site);
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "NOT CHECKED") != NULL && strstr(got.text, "lifting.sling") != NULL,
              "%s", got.text);
    program_forget(&got);
}

Test(cmd_check, an_option_of_one_topic_goes_with_it)
{
    struct program_answer got = program_run_on("check --readings x.csv", BURIED, "flotation");
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "--readings belongs to the topic roundness") != NULL, "%s",
              got.text);
    program_forget(&got);
    got = program_run("simulate --readings x.csv", BURIED);
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "no option of simulate: it belongs to check") != NULL, "%s",
              got.text);
    program_forget(&got);
}

Test(cmd_check, a_site_without_a_tank)
{
    struct program_answer got =
        program_run("check", "climate: {cycle: {mean: 3 degC, amplitude: 16 K, coldest: 20 day, "
                             "period: 365.2425 day}}\n"
                             "surface: {film: 15 W/m2/K, snow: none}\n"
                             "ground:\n  - {to: 15 m, soil: silt}\n");
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "give a tank") != NULL, "%s", got.text);
    program_forget(&got);
}

/* The grade that stands for a level, and what `least` came to, are told first, and the check stands on
   them: what fails without anchors holds with the least of them. */
Test(cmd_check, least_is_settled_and_told)
{
    struct program_answer got =
        program_run_on("check --json --set anchors=least", BURIED, "flotation");
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 0, "%s", got.text);
    const cJSON *assumed = cJSON_GetObjectItem(got.json, "assumed");
    cr_assert_eq(cJSON_GetArraySize(assumed), 2, "%s", got.text);
    cr_expect(strstr(cJSON_GetArrayItem(assumed, 0)->valuestring, "at grade") != NULL);
    cr_expect(strstr(cJSON_GetArrayItem(assumed, 1)->valuestring, "deadmen") != NULL ||
              strstr(cJSON_GetArrayItem(assumed, 1)->valuestring, "pad") != NULL);
    program_forget(&got);
    got = program_run("sheet", BURIED);
    const char *said = strstr(got.text, "with the water at grade");
    cr_expect(said != NULL && said - got.text < 300, "in the first lines: %s", got.text);
    program_forget(&got);
}
