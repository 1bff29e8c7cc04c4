#include "cli/command.h"
#include "tests/program.h"

#include <sys/stat.h>

/* score through the program, on a shipped station (readings: US Climate Reference Network). */

#define SITE(observed)                                                                               \
    "site: {name: Goodridge}\n"                                                                      \
    "climate: {surface_temperature: {file: uscrn_goodridge.csv, column: ts_005cm, depth: 0.05 m}}\n" \
    "ground:\n"                                                                                      \
    "  - {to: 15 m, soil: sand, dry_density: 1600 kg/m3, moisture_by_volume: 20 percent}\n"          \
    "grid: {finest: 100 mm}\n"                                                                       \
    "initial:\n"                                                                                     \
    "  profile: [[0.1 m, 10.4 degC], [0.2 m, 11 degC], [0.5 m, 11.4 degC], [1.0 m, 11.8 degC],\n"    \
    "            [5 m, 7.5 degC]]\n"                                                                 \
    "  date: 2020-10-01\n"                                                                           \
    "  end: 2021-01-01\n"                                                                            \
    "observed:\n" observed
#define ROW(column, depth) "  - {file: uscrn_goodridge.csv, column: " column ", depth: " depth "}\n"

Test(cmd_score, a_shipped_station_scores_as_measured)
{
    /* Out of order: they are told by depth. */
    struct program_answer a =
        program_run("score --json", SITE(ROW("ts_050cm", "0.5 m") ROW("ts_010cm", "0.1 m")
                                             ROW("ts_020cm", "0.2 m") ROW("ts_100cm", "1 m")));
    cr_assert_not_null(a.json, "%s", a.text);
    cr_expect_eq(a.code, UF_EXIT_DONE);
    const cJSON *series = cJSON_GetObjectItem(a.json, "series");
    cr_assert_eq(cJSON_GetArraySize(series), 4);
    double last_m = 0.0;
    for (int i = 0; i < 4; i++) {
        const cJSON *row = cJSON_GetArrayItem(series, i);
        cr_expect_gt(program_number(row, "depth_m"), last_m);
        last_m = program_number(row, "depth_m");
        cr_expect_eq(program_number(row, "days"), 92.0);
        cr_expect_lt(program_number(row, "rmse_K"), 1.0);
        cr_expect_leq(program_number(row, "mean_absolute_error_K"), program_number(row, "rmse_K"));
        cr_expect_leq(fabs(program_number(row, "bias_K")),
                      program_number(row, "mean_absolute_error_K"));
        cr_expect_gt(program_number(row, "nash_sutcliffe"), 0.9);
    }
    /* Readings of 30 December: -0.3 degC at 20 cm, 0.3 degC at 50 cm. */
    const cJSON *frost = cJSON_GetObjectItem(a.json, "frost");
    cr_expect_float_eq(program_number(frost, "measured_m"), 0.35, 1e-9);
    cr_expect_float_eq(program_number(frost, "computed_m"), 0.35, 0.12);
    cr_expect(!cJSON_IsTrue(cJSON_GetObjectItem(frost, "past_lowest_sensor")));
    program_forget(&a);
    struct program_answer b =
        program_run("score", SITE(ROW("ts_010cm", "0.1 m") ROW("ts_020cm", "0.2 m")));
    cr_expect(strstr(b.text, "read below freezing") != NULL, "%s", b.text);
    program_expect_fits(b.text);
    program_forget(&b);
}

Test(cmd_score, faults_of_the_readings_are_told)
{
    char folder[] = "/tmp/uf_score_XXXXXX", path[64], row[400], site[2000];
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/own.csv", folder);
    FILE *file = fopen(path, "w");
    cr_assert_not_null(file);
    (void)fprintf(file, "date,t,frost\n");
    for (int day = 1; day <= 30; day++) {
        (void)fprintf(file, "2020-11-%02d,%s,%d\n", day, day == 3 ? "-9999" : "35.6", day);
    }
    for (int day = 1; day <= 31; day++) {
        (void)fprintf(file, "2020-12-%02d,35.6,%d\n", day, day);
    }
    (void)fclose(file);
    (void)snprintf(row, sizeof row,
                   "  - {file: %s, column: t, depth: 0.1 m, unit: degF}\n"
                   "  - {file: %s, column: frost, kind: frost_depth, unit: cm}\n",
                   path, path);
    (void)snprintf(site, sizeof site, SITE("%s"), row);
    struct program_answer a = program_run("score --json", site);
    cr_assert_not_null(a.json, "%s", a.text);
    const cJSON *series = cJSON_GetObjectItem(a.json, "series");
    const cJSON *t = cJSON_GetArrayItem(series, 0), *frost = cJSON_GetArrayItem(series, 1);
    cr_expect_eq(program_number(t, "absurd_days"), 1.0);
    cr_expect_eq(program_number(t, "flat_days"), 58.0, "%s", a.text);
    cr_expect_eq(program_number(t, "missing_days"), 31.0);
    cr_expect_eq(program_number(frost, "days"), 61.0);
    cr_expect_float_eq(program_number(cJSON_GetObjectItem(a.json, "frost"), "measured_m"), 0.31,
                       1e-9);
    program_forget(&a);
    (void)unlink(path);
    (void)rmdir(folder);
}

Test(cmd_score, what_is_missing_is_told_by_its_key)
{
    static const struct {
        const char *rows, *word;
    } wrong[] = {
        {"  - {file: uscrn_goodridge.csv, column: ts_010cm}\n", "needs the depth"},
        {"  - {file: uscrn_goodridge.csv, column: ts_010cm, below_crown: 0 m}\n", "no tank"},
        {"  - {file: uscrn_goodridge.csv, column: ts_010cm, depth: 90 m}\n", "outside the domain"},
        {"  - {file: uscrn_goodridge.csv, column: ts_1, depth: 1 m}\n", "ts_005cm, ts_010cm"},
        {"  - {file: uscrn_goodridge.csv, column: ts_010cm, depth: 1 m, unit: kg}\n", "kg"},
        {"  - {file: uscrn_goodridge.csv, column: x, kind: water_temperature}\n", "no water"},
        {"  - {file: toolik.csv, column: tair_mean, depth: 1 m}\n", "no reading within the run"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        char site[2000];
        (void)snprintf(site, sizeof site, SITE("%s"), wrong[i].rows);
        struct program_answer a = program_run("score", site);
        cr_expect_eq(a.code, UF_EXIT_INPUT, "%s", a.text);
        cr_expect(strstr(a.text, wrong[i].word) != NULL, "%zu: %s", i, a.text);
        program_forget(&a);
    }
}

Test(cmd_score, keeps_days_and_a_picture)
{
    char folder[] = "/tmp/uf_score_XXXXXX", arguments[100], path[100];
    struct stat info;
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(arguments, sizeof arguments, "score -o %s", folder);
    struct program_answer a =
        program_run(arguments, SITE(ROW("ts_010cm", "0.1 m") ROW("ts_020cm", "0.2 m")));
    cr_expect_eq(a.code, UF_EXIT_DONE, "%s", a.text);
    static const char *const names[] = {"score.csv", "score.png"};
    for (size_t i = 0; i < 2; i++) {
        (void)snprintf(path, sizeof path, "%s/%s", folder, names[i]);
        cr_expect(stat(path, &info) == 0 && info.st_size > 1000, "%s", path);
        (void)unlink(path);
    }
    (void)rmdir(folder);
    program_forget(&a);
}
