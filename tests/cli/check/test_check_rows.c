#include "cli/check/check_rows.h"

#include <criterion/criterion.h>
#include <criterion/redirect.h>

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void work(char *text, size_t size, const struct uf_check *check, size_t i)
{
    (void)check;
    (void)snprintf(text, size, "heron %zu", i);
}

static size_t two(const struct uf_check *check)
{
    (void)check;
    return 2;
}

static size_t none(const struct uf_check *check)
{
    (void)check;
    return 0;
}

static const struct uf_check_list pairs = {.count = two, .table = true}, nothing = {.count = none};

static const struct uf_check_row rows[] = {
    {"block.plover_kN", "plover", UF_QUANTITY_FORCE, UF_CHECK_FOUND(lifting.load_N), .scale = 1e-3,
     .worked = work},
    {"hidden_m", UF_CHECK_FOUND(lifting.reach_m)},
    {"pairs[].frozen_m", "curlew", UF_QUANTITY_LENGTH, UF_CHECK_EACH(fittings.risers, frozen_m),
     .list = &pairs},
    {"empty[].ok", "dunlin", .type = UF_CHECK_YES, UF_CHECK_EACH(fittings.pipes, ok),
     .list = &nothing},
    {.key = NULL}};
static const char *const cautions[] = {"Mind the tide.", NULL};
static const struct uf_check_topic topic = {.doc = "Waders", .rows = rows, .cautions = cautions};

static struct uf_check made(void)
{
    struct uf_check check = {.units = UF_UNITS_SI};
    check.lifting.load_N = 12345.0;
    check.lifting.reach_m = 4.5;
    check.fittings.risers[0].frozen_m = 1.25;
    check.fittings.risers[1].frozen_m = 2.75;
    return check;
}

Test(check_rows, a_row_is_told_in_json)
{
    const struct uf_check check = made();
    cJSON *json = cJSON_CreateObject();
    uf_check_rows_answer(json, rows, &check);
    char *text = cJSON_PrintUnformatted(json);
    cr_expect_str_eq(text, "{\"block\":{\"plover_kN\":12.345},\"hidden_m\":4.5,"
                           "\"pairs\":[{\"frozen_m\":1.25},{\"frozen_m\":2.75}],\"empty\":[]}");
    cJSON_free(text);
    cJSON_Delete(json);
}

Test(check_rows, and_in_text, .init = cr_redirect_stdout)
{
    const struct uf_check check = made();
    uf_check_rows_tell(NULL, &topic, &check);
    (void)fflush(stdout);
    cr_assert_stdout_eq_str("  plover                  12.3 kN, heron 0\n"
                            "\ncurlew\n     m\n  1.25\n  2.75\n\n"
                            "\nSources and cautions\n--------------------\nMind the tide.\n");
}

Test(check_rows, and_in_the_report)
{
    const struct uf_check check = made();
    char path[] = "/tmp/uf_rows_XXXXXX", text[60000];
    const int file = mkstemp(path);
    struct uf_report *report = NULL;
    cr_assert(file >= 0 && uf_report_create(&report, "Rows", "", NULL) == UF_OK);
    uf_check_rows_tell(report, &topic, &check);
    cr_assert_eq(uf_report_write(path, report, NULL), UF_OK);
    uf_report_free(report);
    FILE *in = fopen(path, "r");
    cr_assert_not_null(in);
    text[fread(text, 1, sizeof text - 1, in)] = '\0';
    (void)fclose(in);
    (void)close(file);
    (void)unlink(path);
    static const char *const said[] = {"Waders",    "plover", "12.3 kN", "heron 0",
                                       "curlew, m", "1.25",   "2.75",    "Mind the tide."};
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        cr_expect(strstr(text, said[i]) != NULL, "%s", said[i]);
    }
    cr_expect(strstr(text, "dunlin") == NULL && strstr(text, "hidden") == NULL);
}
