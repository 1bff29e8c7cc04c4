#include "cli/recommend.h"

#include <criterion/criterion.h>

#include <string.h>

/* Words and numbers that the answer, the report and the table share. */

static size_t limit_of(const char *key)
{
    for (size_t i = 0; i < UF_LIMITS; i++) {
        if (strcmp(uf_limits[i].key, key) == 0) {
            return i;
        }
    }
    cr_assert_fail("no limit %s", key);
    return UF_LIMITS;
}

static void expect_margin(const char *key, double margin, enum uf_units units,
                          const char *expected)
{
    char text[64];
    cr_expect_str_eq(uf_recommend_margin(text, sizeof text, limit_of(key), margin, units),
                     expected, "%s", text);
}

Test(recommend_why, a_margin_has_its_unit)
{
    expect_margin("limits.water", 0.52, UF_UNITS_SI, "0.5 K");
    expect_margin("limits.water", 0.5, UF_UNITS_US, "0.9 degF");
    expect_margin("limits.greatest_cover", 0.3048, UF_UNITS_US, "1.00 ft");
    expect_margin("limits.ice", -0.012, UF_UNITS_SI, "-1.2 percent");
    expect_margin("limits.uplift_factor", 0.17, UF_UNITS_SI, "0.17 in the factor");
}

/* "Misses by 0.0 K" would contradict itself. */
Test(recommend_why, what_is_missed_by_little_does_not_read_as_nothing)
{
    expect_margin("limits.water", -0.04, UF_UNITS_SI, "-0.04 K");
    expect_margin("limits.water", -0.004, UF_UNITS_SI, "-0.004 K");
    expect_margin("limits.ice", -0.0001, UF_UNITS_SI, "-0.01 percent");
    expect_margin("limits.water", 0.0, UF_UNITS_SI, "0.0 K");
    expect_margin("limits.water", 1e-9, UF_UNITS_SI, "0.0 K");
}

Test(recommend_why, a_choice_in_words)
{
    char text[160];
    const struct uf_choice bare = {.cover_m = 1.2};
    const struct uf_choice board = {
        .cover_m = 1.524, .thickness_m = 0.0508, .beyond_m = 0.6096};
    cr_expect_str_eq(uf_recommend_describe(text, sizeof text, &bare, UF_UNITS_SI),
                     "cover 1.20 m without board");
    cr_expect_str_eq(uf_recommend_describe(text, sizeof text, &board, UF_UNITS_US),
                     "cover 5.00 ft with 2.0 in of board reaching 2.00 ft past the tank");
}

Test(recommend_why, a_variant_names_its_method)
{
    static struct uf_site site;
    static struct uf_job job;
    const struct uf_recommend r = {.run = {.site = &site}};
    struct uf_recommend_variant v = {.doc = "no snow lies", .job = &job};
    char text[120];
    site.design.ground.method = UF_COTE_KONRAD;
    job.design.ground.method = UF_COTE_KONRAD;
    cr_expect_str_eq(uf_recommend_variant_words(text, sizeof text, &r, &v),
                     "no snow lies");
    job.design.ground.method = UF_KERSTEN;
    cr_expect_str_eq(uf_recommend_variant_words(text, sizeof text, &r, &v),
                     "conductivity is taken by Kersten instead of Cote and Konrad");
}
