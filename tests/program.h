#ifndef UF_TESTS_PROGRAM_H
#define UF_TESTS_PROGRAM_H

/* Running the program itself on a site file written by the test. */

#include <cjson/cJSON.h>
#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* A cistern in plain soil, submerged 10 kN/m3; extra: more blocks. */
#define PROGRAM_SITE(extra)                                                                        \
    "site: {name: Larch Hollow cistern}\n"                                                         \
    "climate: {cycle: {mean: 3 degC, amplitude: 16 K, coldest: 20 day, "                           \
    "period: 365.2425 day}}\n"                                                                     \
    "surface: {film: 15 W/m2/K, snow: none}\n"                                                     \
    "ground:\n"                                                                                    \
    "  - {to: 15 m, soil: silt, unit_weight_moist: 17.5 kN/m3, "                                   \
    "unit_weight_saturated: 19.81 kN/m3}\n"                                                        \
    "tank: {shape: horizontal_cylinder, diameter: 2.4 m, length: 6.0 m, heads: flat, "             \
    "ends: plane, empty_mass: 900 kg, contents: {level: 2.2 m, start: 4 degC}}\n" extra

#define PROGRAM_BURIED "burial: {cover: 1.2 m, bedding: 0.3 m}\n"

struct program_answer {
    int code;
    char *text; /* standard output and error; free with program_forget */
    cJSON *json;
};

/* From here on a stand-in draws, for tests that look at no picture (tests/stand_in). */
static inline void program_draw_nothing(void)
{
    char path[4096];
    (void)snprintf(path, sizeof path, "%s/tests/stand_in:%s", UF_SOURCE_DIR, getenv("PATH"));
    cr_assert_eq(setenv("PATH", path, 1), 0);
}

/* Runs "underfrost arguments SITE more" with site as the file's text. */
static inline struct program_answer program_run_on(const char *arguments, const char *site,
                                                   const char *more)
{
    struct program_answer answer = {.code = -1, .text = calloc(1, 1 << 18)};
    char path[] = "/tmp/uf_site_XXXXXX", command[2048];
    const int file = mkstemp(path);
    cr_assert(file >= 0 && answer.text != NULL);
    cr_assert_eq(write(file, site, strlen(site)), (ssize_t)strlen(site));
    (void)close(file);
    (void)snprintf(command, sizeof command, "'%s' %s '%s' %s 2>&1", UF_PROGRAM, arguments, path,
                   more);
    FILE *pipe = popen(command, "r");
    cr_assert_not_null(pipe);
    const size_t size = fread(answer.text, 1, (1 << 18) - 1, pipe);
    answer.text[size] = '\0';
    const int status = pclose(pipe);
    (void)unlink(path);
    answer.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    answer.json = cJSON_Parse(answer.text);
    return answer;
}

/* Runs "underfrost arguments SITE". */
static inline struct program_answer program_run(const char *arguments, const char *site)
{
    return program_run_on(arguments, site, "");
}

/* Runs "underfrost check arguments SITE topic"; the JSON is the topic's own object. */
static inline struct program_answer program_check(const char *topic, const char *arguments,
                                                  const char *site)
{
    char text[1024];
    (void)snprintf(text, sizeof text, "check %s", arguments);
    struct program_answer answer = program_run_on(text, site, topic);
    cJSON *whole = answer.json;
    answer.json = cJSON_DetachItemFromObject(whole, topic);
    cJSON_Delete(whole);
    return answer;
}

/* Runs "underfrost arguments". */
static inline struct program_answer program_run_alone(const char *arguments)
{
    struct program_answer answer = {.code = -1, .text = calloc(1, 1 << 18)};
    char command[2048];
    (void)snprintf(command, sizeof command, "'%s' %s 2>&1", UF_PROGRAM, arguments);
    FILE *pipe = popen(command, "r");
    cr_assert(pipe != NULL && answer.text != NULL);
    answer.text[fread(answer.text, 1, (1 << 18) - 1, pipe)] = '\0';
    const int status = pclose(pipe);
    answer.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    answer.json = cJSON_Parse(answer.text);
    return answer;
}

static inline void program_forget(struct program_answer *answer)
{
    cJSON_Delete(answer->json);
    free(answer->text);
    *answer = (struct program_answer){0};
}

/* A number of the answer; NAN for null. The key must be there. */
static inline double program_number(const cJSON *object, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    cr_assert_not_null(item, "no key %s", key);
    return cJSON_IsNumber(item) ? item->valuedouble : (double)NAN;
}

/* Every line of the text fits 80 columns (bytes; the texts are plain ASCII). */
static inline void program_expect_fits(const char *text)
{
    for (const char *line = text; *line != '\0';) {
        const size_t length = strcspn(line, "\n");
        cr_expect(length <= 80, "%zu columns: %.*s", length, (int)length, line);
        line += length + (line[length] == '\n' ? 1 : 0);
    }
}

#endif
