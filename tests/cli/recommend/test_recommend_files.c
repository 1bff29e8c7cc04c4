#include "cli/command.h"
#include "io/result/result_file.h"
#include "tests/recommended.h"

#include <criterion/hooks.h>

/* What a recommendation leaves in its folder: the result's root is the pick. */

ReportHook(POST_ALL)(struct criterion_global_stats *stats)
{
    (void)stats;
    recommended_drop();
}

static struct uf_result *read_result(void)
{
    char path[300];
    struct uf_result *result = NULL;
    struct uf_error err = {0};
    (void)snprintf(path, sizeof path, "%s/result.h5", recommended_folder);
    cr_assert_eq(uf_result_file_read(&result, path, &err), UF_OK, "%s", err.text);
    return result;
}

static bool is_there(const char *name)
{
    char path[300];
    (void)snprintf(path, sizeof path, "%s/%s", recommended_folder, name);
    return access(path, R_OK) == 0;
}

Test(recommend_files, the_root_is_the_pick)
{
    struct program_answer a = recommended_run("--json --quiet");
    struct uf_result *r = read_result();
    cr_assert_not_null(a.json, "%s", a.text);
    const cJSON *choices = cJSON_GetObjectItem(a.json, "choices");
    cr_assert_eq(r->n_choices, (size_t)cJSON_GetArraySize(choices));
    cr_assert(r->pick >= 0, "%s", a.text);
    cr_expect_eq((double)r->pick, program_number(a.json, "pick"));
    const struct uf_result_choice *pick = &r->choices[r->pick];
    cr_expect(pick->ok);
    cr_expect_float_eq(r->design.crown_m, pick->cover_m, 1e-9);
    cr_expect_float_eq(pick->thickness_m > 0.0 ? r->design.board_bottom_m - r->design.board_top_m
                                               : 0.0,
                       pick->thickness_m, 1e-9);
    cr_expect_float_eq(r->uplift_factor, pick->uplift_factor, 1e-12);
    cr_expect_float_eq(fmin(r->summary.water.degC, r->summary.wall.degC), pick->water_min_degC,
                       1e-9);
    cr_expect_eq(r->n_levels, 21);
    cr_expect_str_eq(r->site_text, RECOMMENDED_SITE);
    for (size_t i = 0; i < r->n_choices; i++) {
        const cJSON *row = cJSON_GetArrayItem(choices, (int)i);
        cr_expect_float_eq(r->choices[i].cover_m, program_number(row, "cover_m"), 1e-12);
        cr_expect_eq(r->choices[i].ok, cJSON_IsTrue(cJSON_GetObjectItem(row, "ok")));
    }
    uf_result_free(r);
    program_forget(&a);
}

Test(recommend_files, a_board_brings_the_run_without_it)
{
    struct program_answer a = recommended_run("--json --quiet");
    struct uf_result *r = read_result();
    cr_assert_not_null(r->without_board, "%s", a.text);
    cr_expect(isfinite(r->design.board_top_m));
    cr_expect(r->summary.crown.degC > r->summary_without_board.crown.degC);
    uf_result_free(r);
    program_forget(&a);
}

Test(recommend_files, without_a_pick_the_nearest_is_kept)
{
    struct program_answer a = recommended_run(RECOMMENDED_NONE);
    struct uf_result *r = read_result();
    cr_assert_not_null(a.json, "%s", a.text);
    cr_expect_eq(r->pick, -1);
    const long nearest = (long)program_number(a.json, "nearest");
    cr_expect_float_eq(r->design.crown_m, r->choices[nearest].cover_m, 1e-9);
    cr_expect_str_eq(r->site_changes, "limits.water=9degC\n");
    uf_result_free(r);
    program_forget(&a);
}

Test(recommend_files, the_folder_is_whole_and_leaves_no_part)
{
    static const char *const names[] = {"result.h5",   "report.html", "summary.csv", "section.png",
                                        "choices.png", "sheet.svg",   "sheet.pdf",   "sheet-2.svg"};
    struct program_answer a = recommended_run("--json --quiet");
    char line[400];
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        cr_expect(is_there(names[i]), "%s: %s", names[i], a.text);
    }
    (void)snprintf(line, sizeof line, "find %s -size 0 -o -name '*.part*' | grep .",
                   recommended_folder);
    cr_expect_neq(system(line), 0, "an empty file or a part of one was left");
    program_forget(&a);
}

Test(recommend_files, without_gnuplot_the_report_has_no_pictures_and_says_so)
{
    char *path = strdup(getenv("PATH"));
    cr_assert_not_null(path);
    struct program_answer a = recommended_run("--json --quiet");
    char line[400];
    program_forget(&a);
    (void)snprintf(line, sizeof line, "cp -r '%s' '%s.copy'", recommended_folder,
                   recommended_folder);
    cr_assert_eq(system(line), 0);
    (void)strcat(recommended_folder, ".copy");
    cr_assert(is_there("section.png"));
    (void)snprintf(line, sizeof line, "recommend --nominal --force -o %s", recommended_folder);
    cr_assert_eq(setenv("PATH", recommended_folder, 1), 0);
    a = program_run(line, RECOMMENDED_SITE);
    cr_assert_eq(setenv("PATH", path, 1), 0);
    cr_expect_eq(a.code, 3);
    cr_expect(strstr(a.text, "gnuplot-nox") != NULL, "%s", a.text);
    cr_expect(is_there("result.h5") && is_there("summary.csv"));
    cr_expect(!is_there("section.png"), "that of the run before would show other numbers");
    cr_expect(!is_there("sheet.svg") && !is_there("sheet-2.svg") && !is_there("sheet.pdf"));
    (void)snprintf(line, sizeof line, "grep -q 'This picture is missing' %s/report.html",
                   recommended_folder);
    cr_expect_eq(system(line), 0, "the report says what it lacks");
    program_forget(&a);
    free(path);
}
