#include "cli/recommend/recommend.h"
#include "io/result/part_file.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

/* summary.csv: that its numbers are the answer's is checked by check_recommend.sh; here
   what a spreadsheet could stumble over. */

static char *written(const char *name)
{
    static struct uf_site site;
    static struct uf_site_weather weather;
    struct uf_choices_result choices = {.n = 3, .pick = -1, .next_best = -1, .nearest = -1};
    const struct uf_recommend r = {
        .run = {.site = &site, .weather = &weather}, .choices = &choices, .shown = -1};
    char folder[1000];
    char path[1100];
    char *text = NULL;
    struct uf_error err = {0};
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(site.design.name, sizeof site.design.name, "%s", name);
    uf_message_set(&weather.text, UF_PLAIN("mean year"));
    (void)snprintf(path, sizeof path, "%s/summary.csv", folder);
    cr_assert_eq(uf_recommend_summary(&r, UF_UNITS_SI, path, &err), UF_OK, "%s", err.text);
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file);
    cr_assert_eq(uf_part_file_rest(&text, file, path, NULL), UF_OK);
    (void)fclose(file);
    synthetic_remove(folder);
    return text;
}

static void expect(const char *name, const char *line)
{
    char *text = written(name);
    cr_expect_eq(strncmp(text, "key,value,unit\n", 15), 0, "%s", text);
    cr_expect_not_null(strstr(text, line), "no %s in %s", line, text);
    free(text);
}

Test(recommend_summary, text_is_quoted_and_never_a_formula)
{
    expect("Alder \"Lane\", north", "site,\"Alder \"\"Lane\"\", north\",\n");
    expect("two\nlines", "site,\"two lines\",\n");
    expect("=1+1", "site,\" =1+1\",\n");
    expect("@name", "site,\" @name\",\n");
    expect("A=B", "site,\"A=B\",\n");
}

Test(recommend_summary, without_a_choice_there_is_still_an_answer)
{
    expect("Alder Flat", "every limit met,\"no\",\nchoices,3,count\n");
}

Test(recommend_summary, a_folder_that_is_not_there_is_told)
{
    static struct uf_site site;
    static struct uf_site_weather weather;
    struct uf_choices_result choices = {.pick = -1};
    const struct uf_recommend r = {
        .run = {.site = &site, .weather = &weather}, .choices = &choices, .shown = -1};
    struct uf_error err = {0};
    cr_expect_eq(uf_recommend_summary(&r, UF_UNITS_SI, "/nowhere/at/all/summary.csv", &err),
                 UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "/nowhere/at/all"), "%s", err.text);
}

/* In US units the unit of a key is not that of its value: the key goes without. */
Test(recommend_summary, us_units_are_named_and_contradict_no_key)
{
    struct uf_summary s;
    char *text = NULL;
    size_t size = 0;
    uf_facts_clear(&s);
    s.frost_undisturbed_m = 0.3048 * 6.0;
    s.water.degC = 5.0;
    FILE *out = open_memstream(&text, &size);
    cr_assert_not_null(out);
    uf_recommend_summary_facts(out, UF_UNITS_US, uf_facts, &s);
    (void)fclose(out);
    cr_expect_not_null(strstr(text, "frost_depth.undisturbed.max,6,ft\n"), "%s", text);
    cr_expect_not_null(strstr(text, "water.min,41,degF\n"), "%s", text);
    cr_expect_null(strstr(text, "_degC"), "%s", text);
    free(text);
}
