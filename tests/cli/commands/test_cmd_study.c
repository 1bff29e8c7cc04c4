#include "tests/program.h"

#include <stdbool.h>
#include <unistd.h>

/* A value of `set` is none of --set: who wrote it finds it by the plan's own line. */

#define PLAN "site: " UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml\n"

/* "plan:line: key: ..." in the text, the plan wherever it lies; the JSON says the same. */
static void expect_blame(const char *plan, int line, const char *key)
{
    char place[128];
    (void)snprintf(place, sizeof place, ":%d: %s: ", line, key);
    struct program_answer got = program_run_on("study plan", plan, "-o /nowhere/at/all");
    cr_expect_eq(got.code, 2, "%d: %s", got.code, got.text);
    cr_expect(strncmp(got.text, "/tmp/uf_site_", 13) == 0 && strstr(got.text, place) != NULL,
              "%s in: %s", place, got.text);
    cr_expect_null(strstr(got.text, "--set"), "%s", got.text);
    program_forget(&got);
    got = program_run_on("study plan --json", plan, "-o /nowhere/at/all");
    const cJSON *error = cJSON_GetArrayItem(cJSON_GetObjectItem(got.json, "errors"), 0);
    cr_assert_not_null(error, "%s", got.text);
    cr_expect_eq(program_number(error, "line"), line);
    cr_expect_str_eq(cJSON_GetObjectItem(error, "key")->valuestring, key);
    cr_expect(strncmp(cJSON_GetObjectItem(error, "file")->valuestring, "/tmp/uf_site_", 13) == 0);
    program_forget(&got);
}

/* A station whose file is not there: file, line, key and remedy, when the plan is frozen. */
Test(cmd_study, a_station_that_is_not_there_is_told_by_the_line_of_the_plan)
{
    struct program_answer got = program_run_on(
        "study plan", PLAN "stations:\n  - {file: madison.csv}\n  - {file: nowhere.csv}\n",
        "-o /tmp/uf-no-such-study");
    cr_expect_eq(got.code, 3, "%d: %s", got.code, got.text);
    cr_expect_not_null(strstr(got.text, ":4: stations[1].file: "), "%s", got.text);
    cr_expect_not_null(strstr(got.text, "nowhere.csv"), "%s", got.text);
    cr_expect_not_null(strstr(got.text, "a path beside"), "%s", got.text);
    program_forget(&got);
    (void)rmdir("/tmp/uf-no-such-study");
}

Test(cmd_study, a_bad_value_of_a_plan_is_told_by_the_line_of_the_plan)
{
    expect_blame(PLAN "set:\n  tank.ends: plane\n  burial.cover: -3 m\n", 4, "burial.cover");
    expect_blame(PLAN "set: {tank.ends: plane, burial.cover: 5 kg}\n", 2, "burial.cover");
    expect_blame(PLAN "set:\n  tank: {end: plane}\n", 3, "tank.end");
    expect_blame(PLAN "set: {burial.cover: 1 m}\nvary:\n  burial.cover: [1 m, -1 m]\n", 4,
                 "burial.cover");
    expect_blame(PLAN "vary:\n  tank.ends: [plane, plne]\nset: {burial.cover: 1 m}\n", 3,
                 "tank.ends");
}

/* The site file's own faults keep its name and line. */
Test(cmd_study, a_fault_of_the_site_file_keeps_its_line)
{
    char path[] = "/tmp/uf_own_XXXXXX", plan[128], place[128];
    static const char site[] = "site: {name: Small}\ntank: {shape: bag}\n";
    const int file = mkstemp(path);
    cr_assert(file >= 0 && write(file, site, sizeof site - 1) == (ssize_t)sizeof site - 1);
    (void)close(file);
    (void)snprintf(plan, sizeof plan, "site: %s\nset: {tank.ends: plane}\n", path);
    (void)snprintf(place, sizeof place, "%s:2: tank.shape: ", path);
    struct program_answer got = program_run_on("study plan", plan, "-o /nowhere/at/all");
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, place) != NULL, "%s in: %s", place, got.text);
    program_forget(&got);
    (void)unlink(path);
}
