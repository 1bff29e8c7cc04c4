#include "cli/command.h"
#include "io/result/result_file.h"
#include "tests/program.h"

/* The whole way: a site file in, every choice run, an answer, a folder with result,
   report and pictures; and the folder read back. */

/* A name that would break a report or a script of gnuplot, were it not escaped. */
#define NASTY "<b>Crane</b> & \\\"Co\\\" '`id`'"

static const char site[] =
    "site: {name: \"" NASTY "\", latitude: 51 degrees_north}\n"
    "climate: {file: winnipeg.csv, column: calgary, winter: 1 in 20}\n"
    "surface: {film: 15 W/m2/K, snow: none}\n"
    "ground: [{to: 12 m, soil: clayey_silt}]\n"
    "groundwater: {winter: 3 m, highest: 0 m}\n"
    "tank: {shape: horizontal_cylinder, diameter: 2 m, length: 5 m, ends: plane, empty_mass: 800 "
    "kg,\n"
    "  wall: {thickness: 10 mm, conductivity: 0.25 W/m/K},\n"
    "  contents: {level: 1.8 m, start: 6 degC, water: mixed}}\n"
    "sensitivity: {leave_out: [ends]}\n"
    "burial: {cover: 1.3 m, bedding: 0.3 m, pit: {clearance: 0.6 m, slope: 1},\n"
    "  backfill: {soil: pea_gravel}}\n"
    "board: {type: XPS_IV, thickness: 80 mm, beyond_tank: 0.8 m, above_crown: 0.15 m}\n"
    "anchors: {deadmen: {count: 2, width: 0.4 m, height: 0.4 m, length: 5 m}, straps: 4}\n"
    "grid: {finest: 300 mm, width: 10 m, depth: 10 m}\n"
    "limits: {water: 0.5 degC, uplift_factor: 1.2}\n"
    "choices: {cover: [0.8 m, 1.3 m, 1.7 m], thickness: [0 mm, 80 mm], beyond_tank: [0.8 m]}\n"
    "costs: {currency: CAD, excavation: 25 /m3, board: 240 /m3, concrete: 450 /m3}\n";

static char folder[64];

static void make_folder(void)
{
    (void)snprintf(folder, sizeof folder, "/tmp/uf_recommend_XXXXXX");
    cr_assert_not_null(mkdtemp(folder));
}

static void drop_folder(void)
{
    char line[128];
    (void)snprintf(line, sizeof line, "rm -rf '%s'", folder);
    cr_expect_eq(system(line), 0);
}

TestSuite(cmd_recommend, .init = make_folder, .fini = drop_folder);

static struct program_answer recommend(const char *more)
{
    char arguments[256];
    (void)snprintf(arguments, sizeof arguments, "recommend --nominal --force -o %s %s", folder,
                   more);
    return program_run(arguments, site);
}

/* The file's bytes with a zero after them; NULL when it is not there. */
static char *file_text(const char *name)
{
    char path[128];
    char *text = calloc(1, 1 << 22);
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        free(text);
        return NULL;
    }
    cr_expect(fread(text, 1, (1 << 22) - 1, file) > 100, "%s is empty", name);
    (void)fclose(file);
    return text;
}

static double member(const cJSON *row, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(row, key);
    cr_assert_not_null(item, "%s", key);
    return cJSON_IsNumber(item) ? item->valuedouble : (double)NAN;
}

static bool is_ok(const cJSON *row)
{
    return cJSON_IsTrue(cJSON_GetObjectItem(row, "ok"));
}

/* The pick meets every limit and no choice that does is cheaper. */
static void expect_cheapest(const cJSON *choices, const cJSON *pick)
{
    const cJSON *row = NULL;
    cr_expect(is_ok(pick));
    cJSON_ArrayForEach(row, choices)
    {
        if (is_ok(row)) {
            cr_expect(member(pick, "cost") <= member(row, "cost"));
        }
    }
}

static void expect_same_choices(const cJSON *choices, const struct uf_result *result)
{
    cr_assert_eq(result->n_choices, (size_t)cJSON_GetArraySize(choices));
    for (size_t i = 0; i < result->n_choices; i++) {
        const struct uf_result_choice *kept = &result->choices[i];
        const cJSON *row = cJSON_GetArrayItem(choices, (int)i);
        const double water = member(row, "water_min_degC");
        cr_expect_float_eq(kept->cover_m, member(row, "cover_m"), 1e-12);
        cr_expect_float_eq(kept->thickness_m, member(row, "thickness_m"), 1e-12);
        cr_expect_float_eq(kept->uplift_factor, member(row, "uplift_factor"), 1e-9);
        cr_expect(isnan(water) ? isnan(kept->water_min_degC)
                               : fabs(kept->water_min_degC - water) < 1e-9);
        cr_expect_eq(kept->ok, is_ok(row));
        cr_expect_str_eq(kept->governs, cJSON_GetStringValue(cJSON_GetObjectItem(row, "governs")));
    }
}

static void expect_result_as_told(const cJSON *answer)
{
    const cJSON *choices = cJSON_GetObjectItem(answer, "choices");
    cr_expect_eq(cJSON_GetArraySize(choices), 6, "no board ignores reach");
    const long pick = (long)member(answer, "pick");
    expect_cheapest(choices, cJSON_GetArrayItem(choices, (int)pick));
    cr_expect(cJSON_GetArraySize(cJSON_GetObjectItem(answer, "why")) >= 3);

    struct uf_result *result = NULL;
    struct uf_error err = {0};
    char path[128];
    (void)snprintf(path, sizeof path, "%s/result.h5", folder);
    cr_assert_eq(uf_result_file_read(&result, path, &err), UF_OK, "%s", err.text);
    cr_expect_eq(result->pick, pick);
    expect_same_choices(choices, result);
    cr_expect_str_eq(result->site_text, site);
    const cJSON *shown = cJSON_GetObjectItem(answer, "shown");
    const cJSON *water = cJSON_GetObjectItem(shown, "water");
    cr_expect_float_eq(result->summary.water.degC, member(water, "min_degC"), 1e-9);
    cr_expect(fabs(member(shown, "heat_balance_relative")) < 1e-4);
    uf_result_free(result);
}

static void expect_report_with_user_text_escaped(void)
{
    static const char *const pictures[] = {"section.png", "frost.png", "water.png", "choices.png",
                                           "uplift.png"};
    for (size_t i = 0; i < sizeof pictures / sizeof pictures[0]; i++) {
        char *bytes = file_text(pictures[i]);
        cr_assert_not_null(bytes, "%s", pictures[i]);
        cr_expect_eq(memcmp(bytes, "\x89PNG\r\n", 6), 0, "%s", pictures[i]);
        free(bytes);
    }
    char *report = file_text("report.html");
    cr_assert_not_null(report);
    cr_expect_not_null(strstr(report, "&lt;b&gt;Crane&lt;/b&gt; &amp; "));
    cr_expect_null(strstr(report, "<b>Crane"));
    cr_expect_null(strstr(report, "uid="), "a command in a name was run");
    cr_expect_not_null(strstr(report, "<svg"));
    cr_expect_null(strstr(report, "src=\"http"), "the report needs no network");
    free(report);
}

/* One run for all of it: it is the dear part. That threads change nothing, and that a folder takes a
   second run, is for tests/cli/recommend. */
Test(cmd_recommend, answer_folder_and_report_agree)
{
    struct program_answer one = recommend("--json");
    cr_assert_eq(one.code, UF_EXIT_DONE, "%s", one.text);
    cr_assert_not_null(one.json, "%s", one.text);
    expect_result_as_told(one.json);
    expect_report_with_user_text_escaped();
    program_forget(&one);
}

Test(cmd_recommend, nothing_feasible_is_answered_with_what_stands_in_the_way)
{
    program_draw_nothing();
    struct program_answer answer =
        recommend("--json --set 'limits.water=9 degC' --set 'choices.cover=[1.3 m]'");
    cr_expect_eq(answer.code, UF_EXIT_LIMIT);
    cr_assert_not_null(answer.json, "%s", answer.text);
    cr_expect(cJSON_IsNull(cJSON_GetObjectItem(answer.json, "pick")));
    bool named = false;
    const cJSON *sentence = NULL;
    cJSON_ArrayForEach(sentence, cJSON_GetObjectItem(answer.json, "why"))
    {
        named = named || strstr(sentence->valuestring, "limits.water") != NULL;
    }
    cr_expect(named, "%s", answer.text);
    program_forget(&answer);
}

Test(cmd_recommend, a_folder_of_someone_else_is_left_alone)
{
    char path[128];
    (void)snprintf(path, sizeof path, "%s/letters.txt", folder);
    FILE *file = fopen(path, "w");
    cr_assert_not_null(file);
    (void)fclose(file);
    struct program_answer answer = recommend("");
    cr_expect_eq(answer.code, UF_EXIT_FILE, "%s", answer.text);
    cr_expect_not_null(strstr(answer.text, folder), "%s", answer.text);
    cr_expect_null(file_text("result.h5"));
    program_forget(&answer);
}
