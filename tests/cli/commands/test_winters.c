#include "tests/program.h"

/* Every winter on file, from the command line. */

#define SITE(climate)                                                                              \
    "site: {name: Larch Hollow ground}\n"                                                          \
    "climate: {" climate "}\n"                                                                     \
    "surface: {film: 15 W/m2/K, snow: none}\n"                                                     \
    "ground: [{to: 15 m, soil: silt}]\n"                                                           \
    "probes: [{name: pipe, depth: 0.6 m, least: 0 degC}]\n"

Test(winters, each_winter_has_its_depth_and_limits_are_counted)
{
    struct program_answer a = program_run("simulate --json --set grid.finest=100mm",
                                          SITE("file: cssl.csv, winter: every"));
    const cJSON *winters = cJSON_GetObjectItem(a.json, "winters");
    const cJSON *limits = cJSON_GetObjectItem(a.json, "limits_broken");
    cr_assert_eq(cJSON_GetArraySize(winters), 12, "%s", a.text);
    cr_assert_eq(cJSON_GetArraySize(limits), 1);
    long broken = 0;
    const cJSON *winter = NULL;
    cJSON_ArrayForEach(winter, winters)
    {
        const cJSON *depths = cJSON_GetObjectItem(winter, "frost_depth");
        const double frost_m = program_number(cJSON_GetObjectItem(depths, "undisturbed"), "max_m");
        const double index = program_number(winter, "freezing_index_degC_day");
        cr_expect(frost_m > 0.1 && frost_m < 1.2 && index > 10.0);
        cr_expect(cJSON_IsNull(cJSON_GetObjectItem(winter, "wall_min_degC")), "there is no tank");
        broken += frost_m > 0.6;
    }
    cr_expect_str_eq(cJSON_GetObjectItem(cJSON_GetArrayItem(winters, 0), "winter")->valuestring,
                     "2006/07");
    const cJSON *limit = cJSON_GetArrayItem(limits, 0);
    cr_expect_str_eq(cJSON_GetObjectItem(limit, "key")->valuestring, "probes.least");
    cr_expect_float_eq(program_number(limit, "winters"), (double)broken, 1.0,
                       "a winter breaks the limit when its frost passes 0.6 m");
    cr_expect_float_eq(program_number(limit, "share"), program_number(limit, "winters") / 12.0,
                       1e-12);
    cr_expect_eq(a.code, program_number(limit, "winters") > 0.0 ? 1 : 0);
    program_forget(&a);
}

Test(winters, text_fits_and_names_the_winters)
{
    struct program_answer a =
        program_run("simulate --set grid.finest=100mm", SITE("file: cssl.csv, winter: every"));
    program_expect_fits(a.text);
    cr_expect(strstr(a.text, "2006/07") != NULL && strstr(a.text, "of 12") != NULL, "%s", a.text);
    program_forget(&a);
}

Test(winters, it_needs_a_file_and_is_for_simulate)
{
    static const struct {
        const char *arguments, *climate, *says;
    } rows[] = {
        {"recommend", "file: cssl.csv, winter: every", "simulate"},
        {"recommend", "file: cssl.csv, winter: every", "--seasons every"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char site[1200];
        (void)snprintf(site, sizeof site,
                       "climate: {%s}\nsurface: {film: 15 W/m2/K, snow: none}\n"
                       "ground: [{to: 15 m, soil: silt}]\n",
                       rows[i].climate);
        struct program_answer a = program_run(rows[i].arguments, site);
        cr_expect_eq(a.code, 2, "%s: %s", rows[i].arguments, a.text);
        cr_expect(strstr(a.text, rows[i].says) != NULL, "%s", a.text);
        program_forget(&a);
    }
    struct program_answer a =
        program_run("simulate --set initial.date=2006-10-01 --set initial.end=2007-04-01",
                    SITE("file: cssl.csv, winter: every"));
    cr_expect_eq(a.code, 2, "%s", a.text);
    program_forget(&a);
}
