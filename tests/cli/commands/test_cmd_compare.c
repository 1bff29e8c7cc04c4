#include "cli/command.h"
#include "io/result/result_file.h"
#include "tests/program.h"

static const char site[] =
    "climate: {cycle: {mean: 5 degC, amplitude: 17 K}}\n"
    "surface: {film: 15 W/m2/K, snow: none}\n"
    "ground: [{to: 10 m, soil: silt}]\n"
    "tank: {shape: box, width: 2 m, height: 1.6 m, length: 4 m, ends: plane, empty_mass: 9000 kg,\n"
    "  wall: {thickness: 150 mm, conductivity: 1.7 W/m/K},\n"
    "  contents: {level: 1.3 m, start: 7 degC, water: mixed}}\n"
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

/* A board cannot make the water colder here, and the ground far away does not know of it. */
Test(cmd_compare, board_keeps_the_water_warmer_and_leaves_the_rest)
{
    struct program_answer answer = program_run("compare --json", site);
    cr_assert_eq(answer.code, UF_EXIT_DONE, "%s", answer.text);
    cr_assert_not_null(answer.json, "%s", answer.text);
    const cJSON *with = cJSON_GetObjectItem(answer.json, "with_board");
    const cJSON *without = cJSON_GetObjectItem(answer.json, "without_board");
    cr_expect(number(with, "water", "min_degC") > number(without, "water", "min_degC") + 0.2);
    const cJSON *near_with = cJSON_GetObjectItem(with, "frost_depth");
    const cJSON *near_without = cJSON_GetObjectItem(without, "frost_depth");
    cr_expect_float_eq(number(near_with, "undisturbed", "max_m"),
                       number(near_without, "undisturbed", "max_m"), 0.06);
    cr_expect(number(near_with, "above_tank", "max_m") <= 0.9 + 1e-9, "never below the crown");
    program_forget(&answer);
}

/* A name for a result file that is not there yet. */
static void name_result(char *path, size_t size)
{
    char made[] = "/tmp/uf_compare_XXXXXX";
    const int file = mkstemp(made);
    cr_assert(file >= 0);
    (void)close(file);
    (void)unlink(made);
    (void)snprintf(path, size, "%s.h5", made);
}

Test(cmd_compare, the_file_holds_both)
{
    char path[64], arguments[128];
    struct uf_result *result = NULL;
    struct uf_error err = {0};
    name_result(path, sizeof path);
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
    struct program_answer answer = program_run("compare --set 'board.thickness=0 mm'", site);
    cr_expect_eq(answer.code, UF_EXIT_INPUT, "%s", answer.text);
    cr_expect_not_null(strstr(answer.text, "board"), "%s", answer.text);
    program_forget(&answer);
}

/* Two result files, a folder's worth of names. */
static char first[64], second[64];

static void simulate_into(char *path, size_t size, const char *more)
{
    char arguments[256];
    name_result(path, size);
    (void)snprintf(arguments, sizeof arguments, "simulate --quiet -o %s %s", path, more);
    struct program_answer answer = program_run(arguments, site);
    cr_assert(answer.code == UF_EXIT_DONE || answer.code == UF_EXIT_LIMIT, "%s", answer.text);
    program_forget(&answer);
}

static void make_two(void)
{
    simulate_into(first, sizeof first, "");
    simulate_into(second, sizeof second, "--set burial.cover=1.5m");
}

static void drop_two(void)
{
    (void)unlink(first);
    (void)unlink(second);
}

static struct program_answer compare_two(const char *a, const char *b, const char *more)
{
    char arguments[256];
    (void)snprintf(arguments, sizeof arguments, "compare %s %s %s", more, a, b);
    return program_run_alone(arguments);
}

/* What one simulate answers is what stands in the pair. */
Test(cmd_compare, two_results_hold_what_simulate_said, .init = make_two, .fini = drop_two)
{
    struct program_answer a = program_run("simulate --json", site);
    struct program_answer pair = compare_two(first, second, "--json");
    cr_assert_eq(pair.code, UF_EXIT_DONE, "%s", pair.text);
    cr_assert(a.json != NULL && pair.json != NULL, "%s", pair.text);
    cr_expect_float_eq(number(pair.json, "water_min_degC", "first"),
                       number(a.json, "water", "min_degC"), 1e-12);
    cr_expect_float_eq(number(pair.json, "frost_depth_undisturbed_max_m", "first"),
                       number(cJSON_GetObjectItem(a.json, "frost_depth"), "undisturbed", "max_m"),
                       1e-12);
    cr_expect_float_eq(number(pair.json, "water_min_degC", "difference"),
                       number(pair.json, "water_min_degC", "second") -
                           number(pair.json, "water_min_degC", "first"),
                       1e-12);
    cr_expect(number(pair.json, "water_min_degC", "difference") > 0.0, "deeper");
    const cJSON *keys = cJSON_GetObjectItem(pair.json, "site_differs");
    cr_assert_eq(cJSON_GetArraySize(keys), 1, "%s", pair.text);
    cr_expect_str_eq(cJSON_GetObjectItem(cJSON_GetArrayItem(keys, 0), "key")->valuestring,
                     "burial.cover");
    cr_expect(cJSON_IsTrue(cJSON_GetObjectItem(pair.json, "same_weather")));
    program_forget(&a);
    program_forget(&pair);
}

Test(cmd_compare, two_results_fit_in_text, .init = make_two, .fini = drop_two)
{
    static const char *const units[] = {"", "--units us"};
    for (size_t i = 0; i < 2; i++) {
        struct program_answer pair = compare_two(first, second, units[i]);
        cr_expect_eq(pair.code, UF_EXIT_DONE, "%s", pair.text);
        program_expect_fits(pair.text);
        cr_expect(strstr(pair.text, "burial.cover") != NULL, "%s", pair.text);
        cr_expect((strstr(pair.text, "degF") != NULL) == (i == 1), "%s", pair.text);
        program_forget(&pair);
    }
}

Test(cmd_compare, what_are_not_two_results_is_refused, .init = make_two, .fini = drop_two)
{
    const struct {
        const char *a, *b, *more, *says;
        int code;
    } rows[] = {
        {first, "", "", "second one", UF_EXIT_INPUT},
        {first, "/tmp/no_such_file.h5", "", "no_such_file", UF_EXIT_FILE},
        {first, "/dev/null", "", "no plain file", UF_EXIT_FILE},
        {first, UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml", "", "not an HDF5 file",
         UF_EXIT_FILE},
        {first, second, "--set burial.cover=1m", "--set", UF_EXIT_INPUT},
        {first, second, "-o /tmp/uf_never.h5", "-o", UF_EXIT_INPUT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct program_answer pair = compare_two(rows[i].a, rows[i].b, rows[i].more);
        cr_expect_eq(pair.code, rows[i].code, "%zu: %s", i, pair.text);
        cr_expect(strstr(pair.text, rows[i].says) != NULL, "%zu: %s", i, pair.text);
        program_forget(&pair);
    }
    cr_expect(access("/tmp/uf_never.h5", F_OK) != 0);
}

/* In every winter the same tank with its board breaks a limit at most as often. */
Test(cmd_compare, every_winter_with_and_without)
{
    static const char more[] =
        "--set climate='{file: cssl.csv, winter: every}' --set grid.finest=200mm "
        "--set limits.water='4 degC'";
    char arguments[256];
    (void)snprintf(arguments, sizeof arguments, "compare --json %s", more);
    struct program_answer answer = program_run(arguments, site);
    cr_assert_not_null(answer.json, "%s", answer.text);
    const double with = number(answer.json, "with_board", "winters_that_broke_a_limit");
    const double without = number(answer.json, "without_board", "winters_that_broke_a_limit");
    cr_expect_eq(number(answer.json, "with_board", "winters_run"), 12.0);
    cr_expect(with <= without, "%g %g", with, without);
    cr_expect_eq(answer.code, with > 0.0 ? UF_EXIT_LIMIT : UF_EXIT_DONE);
    program_forget(&answer);
    (void)snprintf(arguments, sizeof arguments, "compare %s", more);
    answer = program_run(arguments, site);
    program_expect_fits(answer.text);
    char words[80];
    (void)snprintf(words, sizeof words, "in %.0f of 12 winters", 12.0 - with);
    cr_expect(strstr(answer.text, words) != NULL, "%s", answer.text);
    program_forget(&answer);
    (void)snprintf(arguments, sizeof arguments, "compare -o /tmp/uf_never.h5 %s", more);
    answer = program_run(arguments, site);
    cr_expect_eq(answer.code, UF_EXIT_INPUT, "%s", answer.text);
    program_forget(&answer);
}
