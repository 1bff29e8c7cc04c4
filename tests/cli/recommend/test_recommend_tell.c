#include "cli/command.h"
#include "tests/recommended.h"

/* How a recommendation is told: the answer first, then the choices, then how sure. */

/* Text with every run of blanks and line ends as one blank. */
static void flatten(char *text)
{
    char *to = text;
    for (const char *c = text; *c != '\0'; c++) {
        const bool blank = *c == ' ' || *c == '\n';
        if (!blank || (to > text && to[-1] != ' ')) {
            *to++ = blank ? ' ' : *c;
        }
    }
    *to = '\0';
}

Test(recommend_tell, every_reason_of_the_json_stands_once_in_the_text)
{
    struct program_answer a = recommended_run("--json --quiet");
    struct program_answer b = recommended_run("--quiet");
    cr_assert_not_null(a.json, "%s", a.text);
    program_expect_fits(b.text);
    flatten(b.text);
    const cJSON *why = cJSON_GetObjectItem(a.json, "why");
    cr_assert(cJSON_GetArraySize(why) >= 3, "%s", a.text);
    const cJSON *sentence = NULL;
    cJSON_ArrayForEach(sentence, why)
    {
        const char *at = strstr(b.text, sentence->valuestring);
        cr_assert_not_null(at, "'%s' is not in: %s", sentence->valuestring, b.text);
        cr_expect_null(strstr(at + 1, sentence->valuestring), "told twice: %s",
                       sentence->valuestring);
    }
    program_forget(&a);
    program_forget(&b);
}

Test(recommend_tell, the_answer_stands_before_the_choices)
{
    struct program_answer a = recommended_run("--quiet");
    const char *answer = strstr(a.text, "Recommended: cover");
    const char *table = strstr(a.text, "> marks");
    const char *sure = strstr(a.text, "\nIf ");
    cr_assert(answer != NULL && table != NULL && sure != NULL, "%s", a.text);
    cr_expect(answer < table && table < sure, "%s", a.text);
    program_forget(&a);
}

Test(recommend_tell, us_units_leave_no_metre)
{
    static const char *const si[] = {"degC", " mm", " m ", " m,", " m.", " kN", " K "};
    struct program_answer a = recommended_run("--quiet --units us");
    program_expect_fits(a.text);
    cr_expect(strstr(a.text, "degF") != NULL && strstr(a.text, " ft") != NULL);
    for (size_t i = 0; i < sizeof si / sizeof si[0]; i++) {
        cr_expect(strstr(a.text, si[i]) == NULL, "'%s' in %s", si[i], a.text);
    }
    program_forget(&a);
}

Test(recommend_tell, without_a_pick_the_nearest_is_told)
{
    struct program_answer a = recommended_run("--quiet --set limits.water=9degC");
    struct program_answer b = recommended_run(RECOMMENDED_NONE);
    cr_expect_eq(a.code, UF_EXIT_LIMIT, "%s", a.text);
    const char *answer = strstr(a.text, "None of the");
    const char *table = strstr(a.text, "> marks");
    cr_expect(answer != NULL && table != NULL && answer < table, "%s", a.text);
    cr_assert_not_null(b.json, "%s", b.text);
    cr_expect(isnan(program_number(b.json, "pick")));
    cr_expect(program_number(b.json, "nearest") >= 0.0);
    program_forget(&a);
    program_forget(&b);
}

/* A terminal's colours never go into a pipe, whatever TERM says: the fixture says xterm. */
Test(recommend_tell, no_colour_into_a_pipe)
{
    struct program_answer a = recommended_run("--quiet");
    cr_expect_null(strchr(a.text, '\033'));
    program_forget(&a);
}

/* Lines from the heading's rule to the first empty one; each must fit. */
static int summary_lines(const char *text)
{
    const char *at = strstr(text, "---\n");
    int lines = 0;
    cr_assert_not_null(at, "%s", text);
    at += 4;
    while (*at != '\0' && *at != '\n') {
        const size_t length = strcspn(at, "\n");
        cr_expect_leq(length, 80, "%.*s", (int)length, at);
        at += length + (at[length] == '\n');
        lines++;
    }
    return lines;
}

/* What one reads aloud: what to build, its cost, the closest limit, what would break it, what to
   measure, in twelve lines, for the three examples, robust or not, with a pick and without. */
Test(recommend_tell, the_summary_has_at_most_twelve_lines)
{
    static const char *const rows[][2] = {
        {"larch_hollow", ""},
        {"alder_lane", "--set limits.uplift_factor=9"},
        {"mill_race", "--units us"},
    };
    recommended_place((long)getppid());
    program_draw_nothing();
    const size_t n = getenv("UF_TEST_LIGHT") != NULL ? 1 : sizeof rows / sizeof rows[0];
    for (size_t i = 0; i < n; i++) {
        struct program_answer a = {.text = calloc(1, 1 << 18)};
        char line[1500];
        (void)snprintf(
            line, sizeof line,
            "'%s' recommend '%s/cli/examples/%s.yaml' --nominal --quiet --force -o %s/example "
            "--set grid.finest=400mm --set tank.contents.water=mixed --set tank.ends=plane "
            "--set 'choices.cover=[1.2 m]' --set 'choices.thickness=[50 mm]' --set 'sensitivity.leave_out=[ends]' %s",
            UF_PROGRAM, UF_SOURCE_DIR, rows[i][0], recommended_root, rows[i][1]);
        FILE *pipe = popen(line, "r");
        cr_assert(pipe != NULL && a.text != NULL);
        (void)fread(a.text, 1, (1 << 18) - 1, pipe);
        (void)pclose(pipe);
        const int lines = summary_lines(a.text);
        cr_expect(lines >= 3 && lines <= 12, "%s %s: %d lines:\n%.1200s", rows[i][0], rows[i][1],
                  lines, a.text);
        program_forget(&a);
    }
}
