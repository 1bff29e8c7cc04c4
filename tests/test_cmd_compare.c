#include "cli/command.h"
#include "io/result_file.h"
#include "program.h"

static const char site[] =
    "climate: {cycle: {mean: 5 degC, amplitude: 17 K}}\n"
    "surface: {film: 15 W/m2/K, snow: none}\n"
    "ground: [{to: 10 m, soil: silt}]\n"
    "tank: {shape: box, width: 2 m, height: 1.6 m, length: 4 m, empty_mass: 9000 kg,\n"
    "  wall: {thickness: 150 mm, conductivity: 1.7 W/m/K},\n"
    "  contents: {level: 1.3 m, start: 7 degC}}\n"
    "burial: {cover: 0.9 m, bedding: 0.2 m}\n"
    "board: {type: XPS_IV, thickness: 100 mm, beyond_tank: 1 m, above_crown: 0.1 m}\n"
    "limits: {water: 0.5 degC}\n"
    "grid: {finest: 150 mm, width: 10 m, depth: 10 m}\n";

static double number(const cJSON *object, const char *group, const char *key)
{
    const cJSON *item = cJSON_GetObjectItem(cJSON_GetObjectItem(object, group), key);
    cr_assert(cJSON_IsNumber(item), "%s.%s", group, key);
    return item->valuedouble;
}

/* A board cannot make the water colder here, and the ground far away does not know of it.
 */
Test(cmd_compare, board_keeps_the_water_warmer_and_leaves_the_rest)
{
    struct program_answer answer = program_run("compare --json", site);
    cr_assert_eq(answer.code, UF_EXIT_DONE, "%s", answer.text);
    cr_assert_not_null(answer.json, "%s", answer.text);
    const cJSON *with = cJSON_GetObjectItem(answer.json, "with_board");
    const cJSON *without = cJSON_GetObjectItem(answer.json, "without_board");
    cr_expect(number(with, "water", "min_degC") >
              number(without, "water", "min_degC") + 0.2);
    const cJSON *near_with = cJSON_GetObjectItem(with, "frost_depth");
    const cJSON *near_without = cJSON_GetObjectItem(without, "frost_depth");
    cr_expect_float_eq(number(near_with, "undisturbed", "max_m"),
                       number(near_without, "undisturbed", "max_m"), 0.06);
    cr_expect(number(near_with, "above_tank", "max_m") <= 0.9 + 1e-9,
              "never below the crown");
    program_forget(&answer);
}

Test(cmd_compare, the_file_holds_both)
{
    char path[] = "/tmp/uf_compare_XXXXXX", arguments[128];
    struct uf_result *result = NULL;
    struct uf_error err = {0};
    const int file = mkstemp(path);
    cr_assert(file >= 0);
    (void)close(file);
    (void)snprintf(arguments, sizeof arguments, "compare --quiet -o %s", path);
    struct program_answer answer = program_run(arguments, site);
    cr_assert_eq(answer.code, UF_EXIT_DONE, "%s", answer.text);
    cr_assert_eq(uf_result_file_read(&result, path, &err), UF_OK, "%s", err.text);
    cr_assert(result->record != NULL && result->without_board != NULL);
    cr_expect_eq(result->record->nt, result->without_board->nt);
    cr_expect(result->summary.water.degC > result->summary_without_board.water.degC);
    uf_result_free(result);
    program_forget(&answer);
    (void)unlink(path);
}

Test(cmd_compare, no_board_is_nothing_to_compare)
{
    struct program_answer answer =
        program_run("compare --set 'board.thickness=0 mm'", site);
    cr_expect_eq(answer.code, UF_EXIT_INPUT, "%s", answer.text);
    cr_expect_not_null(strstr(answer.text, "board"), "%s", answer.text);
    program_forget(&answer);
}
