#include "cli/commands/compare.h"
#include "cli/recommend/recommend_report.h"
#include "cli/tell/outcome.h"
#include "io/result/part_file.h"
#include "io/result/result_file.h"
#include "io/text/show.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>
#include <criterion/redirect.h>

/* A fact that no output knows by name is told by each of the six: one row in the table is all it takes
   to add one. */

static const struct uf_fact dummy[] = {
    {.key = "dummy.depth_m",
     .date_key = "dummy.date",
     .label = "a dummy's depth",
     .quantity = UF_QUANTITY_LENGTH,
     .offset = offsetof(struct uf_summary, frost_undisturbed_m),
     .size = sizeof(double),
     .day_offset = offsetof(struct uf_summary, frost_undisturbed_day)},
    {.key = NULL}};

static struct uf_summary summary(double depth_m)
{
    static struct uf_summary s;
    uf_facts_clear(&s);
    s.frost_undisturbed_m = depth_m;
    s.frost_undisturbed_day = 16131;
    return s;
}

static void expect(const char *text, const char *part)
{
    cr_expect(strstr(text, part) != NULL, "no \"%s\" in:\n%s", part, text);
}

static const char *printed(void)
{
    static char text[8192];
    (void)fflush(stdout);
    (void)fclose(stdout);
    text[fread(text, 1, sizeof text - 1, cr_get_redirected_stdout())] = '\0';
    return text;
}

Test(facts_told, in_json)
{
    const struct uf_summary s = summary(1.25);
    cJSON *answer = cJSON_CreateObject();
    uf_answer_facts(answer, dummy, &s, false);
    char *text = cJSON_PrintUnformatted(answer);
    cr_expect_str_eq(text, "{\"dummy\":{\"depth_m\":1.25,\"date\":\"2014-03-02\"}}");
    cJSON_free(text);
    cJSON_Delete(answer);
}

Test(facts_told, in_text, .init = cr_redirect_stdout)
{
    const struct uf_summary s = summary(1.25);
    uf_outcome_show_facts(dummy, &s, UF_UNITS_US, false);
    expect(printed(), "a dummy's depth  4.10 ft  2014-03-02");
}

Test(facts_told, in_csv)
{
    const struct uf_summary s = summary(1.25);
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    cr_assert_not_null(out);
    uf_recommend_summary_facts(out, UF_UNITS_SI, dummy, &s);
    (void)fclose(out);
    cr_expect_str_eq(text, "dummy.depth_m,1.25,m\ndummy.date,2014-03-02,\n");
    free(text);
}

Test(facts_told, in_comparison, .init = cr_redirect_stdout)
{
    static const struct uf_show_column columns[] = {
        {"", 'l'}, {"A", 'r'}, {"B", 'r'}, {"B - A", 'r'}};
    const struct uf_summary a = summary(1.25);
    const struct uf_summary b = summary(1.5);
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    cJSON *answer = cJSON_CreateObject();
    uf_compare_show_facts(table, dummy, &a, &b, UF_UNITS_SI, false);
    uf_show_table_end(stdout, table);
    expect(printed(), "a dummy's depth      1.25 m      1.50 m  0.25 m");
    uf_compare_answer_facts(answer, dummy, &a, &b);
    const cJSON *item = cJSON_GetObjectItem(answer, "dummy_depth_m");
    cr_assert_not_null(item);
    cr_expect_eq(cJSON_GetObjectItem(item, "difference")->valuedouble, 0.25);
    cJSON_Delete(answer);
}

static char folder[1000], path[1100];

static char *whole_file(const char *name, size_t *size)
{
    char *bytes = calloc(1, 1 << 22);
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "rb");
    cr_assert(file != NULL && bytes != NULL);
    *size = fread(bytes, 1, (1 << 22) - 1, file);
    (void)fclose(file);
    return bytes;
}

Test(facts_told, in_report)
{
    const struct uf_summary s = summary(1.25);
    struct uf_report *report = NULL;
    size_t size = 0;
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    cr_assert_eq(uf_report_create(&report, "title", "", NULL), UF_OK);
    uf_report_section(report, "section");
    uf_recommend_report_facts(report, dummy, UF_FACT_ANSWER, &s, NULL, UF_UNITS_SI);
    (void)snprintf(path, sizeof path, "%s/report.html", folder);
    cr_assert_eq(uf_report_write(path, report, NULL), UF_OK);
    uf_report_free(report);
    char *text = whole_file("report.html", &size);
    expect(text, "dummy");
    expect(text, "1.25 m");
    expect(text, "2014-03-02");
    free(text);
    synthetic_remove(folder);
}

static bool holds(const char *bytes, size_t size, const char *word)
{
    const size_t length = strlen(word);
    for (size_t i = 0; i + length <= size; i++) {
        if (memcmp(bytes + i, word, length) == 0) {
            return true;
        }
    }
    return false;
}

/* Names and texts of attributes stand in the file as they are. */
Test(facts_told, in_result_file)
{
    struct uf_result *made = synthetic_result();
    size_t size = 0;
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    made->facts = dummy;
    made->summary = summary(1.25);
    (void)snprintf(path, sizeof path, "%s/result.h5", folder);
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    uf_result_free(made);
    char *bytes = whole_file("result.h5", &size);
    cr_expect(holds(bytes, size, "dummy_depth_m"));
    cr_expect(holds(bytes, size, "dummy_date") && holds(bytes, size, "2014-03-02"));
    free(bytes);
    synthetic_remove(folder);
}
