#include "cli/commands/compare.h"
#include "io/result/result_file.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* Two result files made here, read as a pair: what is told apart, and what is refused. */

static char paths[2][64];

static void make_names(void)
{
    for (size_t i = 0; i < 2; i++) {
        (void)snprintf(paths[i], sizeof paths[i], "/tmp/uf_pair_XXXXXX");
        const int file = mkstemp(paths[i]);
        cr_assert(file >= 0);
        (void)close(file);
    }
}

static void drop_files(void)
{
    (void)unlink(paths[0]);
    (void)unlink(paths[1]);
}

TestSuite(compare, .init = make_names, .fini = drop_files);

static void swap_text(char **member, const char *text)
{
    free(*member);
    *member = text != NULL ? synthetic_text(text) : NULL;
}

/* One winter, of a simulation. */
static struct uf_result *single(void)
{
    struct uf_result *r = synthetic_result();
    cr_assert_not_null(r);
    for (size_t i = 0; i < r->n_winters; i++) {
        r->winters[i].frost_m = r->winters[i].water_min_degC = NAN;
    }
    r->n_choices = 0;
    r->pick = -1;
    swap_text(&r->site_text, "burial: {cover: 1.2 m}\nlimits: {water: 1 degC}\n");
    return r;
}

/* Writes both, frees them, reads the pair. */
static enum uf_status pair(struct uf_compare *out, struct uf_result *a, struct uf_result *b,
                           struct uf_error *err)
{
    const char *const names[2] = {paths[0], paths[1]};
    cr_assert_eq(uf_result_file_write(paths[0], a, err), UF_OK, "%s", err->text);
    cr_assert_eq(uf_result_file_write(paths[1], b, err), UF_OK, "%s", err->text);
    uf_result_free(a);
    uf_result_free(b);
    return uf_compare_read(out, names, err);
}

static bool noted(const struct uf_compare *c, const char *words)
{
    for (size_t i = 0; i < c->n_notes; i++) {
        if (strstr(c->notes[i], words) != NULL) {
            return true;
        }
    }
    return false;
}

Test(compare, the_same_twice_differs_in_nothing)
{
    struct uf_compare c;
    struct uf_error err = {0};
    cr_assert_eq(pair(&c, single(), single(), &err), UF_OK, "%s", err.text);
    cr_expect_eq(c.n_differences, 0);
    cr_expect(c.same_weather);
    cr_expect(!noted(&c, "NOT the same") && !noted(&c, "by underfrost"));
    for (size_t i = 0; i < UF_COMPARE_NUMBERS; i++) {
        const double a = c.side[0].value[i];
        cr_expect(isnan(a) ? isnan(c.side[1].value[i]) : a == c.side[1].value[i], "%s",
                  uf_compare_rows[i].key);
    }
    cr_expect_float_eq(c.side[0].value[UF_COMPARE_COVER], 1.2, 1e-9);
    cr_expect_float_eq(c.side[0].value[UF_COMPARE_THICKNESS], 0.1, 1e-9);
    cr_expect_float_eq(c.side[0].value[UF_COMPARE_REACH], 1.2, 1e-9);
    uf_compare_free(&c);
}

Test(compare, set_and_units_count_by_what_they_mean)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *b = single();
    swap_text(&b->site_text, "limits: {water: 33.8 degF}\nburial: {cover: 1.2 m}\n");
    swap_text(&b->site_changes, "burial.cover=1.5m\nload.wheel=H20\n");
    cr_assert_eq(pair(&c, single(), b, &err), UF_OK, "%s", err.text);
    cr_assert_eq(c.n_differences, 2, "1 degC is 33.8 degF");
    cr_expect_str_eq(c.differences[0].key, "burial.cover");
    cr_expect_str_eq(c.differences[0].value[0], "1.2 m");
    cr_expect_str_eq(c.differences[0].value[1], "1.5m");
    cr_expect_str_eq(c.differences[1].key, "load.wheel");
    cr_expect_null(c.differences[1].value[0]);
    uf_compare_free(&c);
}

Test(compare, another_winter_is_told)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *b = single();
    swap_text(&b->winter_text, "another winter");
    cr_assert_eq(pair(&c, single(), b, &err), UF_OK, "%s", err.text);
    cr_expect(!c.same_weather && noted(&c, "NOT the same winter"));
    uf_compare_free(&c);
}

/* Station and winter by the same name, one day 0.1 K apart. */
Test(compare, another_day_of_weather_is_told)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *b = single();
    b->record->air_degC[7] += 0.1;
    if (b->n_days > 0) {
        b->days[7].air_degC += 0.1;
    }
    cr_assert_eq(pair(&c, single(), b, &err), UF_OK, "%s", err.text);
    cr_expect(!c.same_weather && noted(&c, "day by day"));
    uf_compare_free(&c);
}

Test(compare, another_version_without_our_texts_is_still_compared)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *b = single();
    swap_text(&b->version, "0.0.1");
    swap_text(&b->site_text, NULL);
    swap_text(&b->summary_json, "{\"probes\": \"damaged\"");
    swap_text(&b->title, NULL);
    cr_assert_eq(pair(&c, single(), b, &err), UF_OK, "%s", err.text);
    cr_expect(noted(&c, "0.0.1") && noted(&c, "B holds no site file"));
    cr_expect_eq(c.n_differences, 0);
    uf_compare_free(&c);
}

/* What a run answered is kept by its facts: what stood in its summary stands in the pair. */
Test(compare, probes_are_set_side_by_side_by_name)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *b = single();
    cJSON *answer = cJSON_CreateObject();
    (void)snprintf(b->summary.probes[1].name, sizeof b->summary.probes[1].name, "new");
    b->summary.probes[0].least.degC = 0.5;
    cr_assert_eq(pair(&c, single(), b, &err), UF_OK, "%s", err.text);
    uf_compare_answer_facts(answer, c.facts, &c.side[0].result->summary,
                            &c.side[1].result->summary);
    const cJSON *probes = cJSON_GetObjectItem(answer, "probes");
    cr_assert_eq(cJSON_GetArraySize(probes), 3, "both, A's other, B's new one");
    const cJSON *both = cJSON_GetObjectItem(cJSON_GetArrayItem(probes, 0), "min_degC");
    cr_expect_eq(cJSON_GetObjectItem(both, "difference")->valuedouble, 1.75);
    cr_expect_str_eq(cJSON_GetObjectItem(both, "first_date")->valuestring, "2014-03-02");
    const cJSON *new = cJSON_GetArrayItem(probes, 2);
    cr_expect_str_eq(cJSON_GetObjectItem(new, "name")->valuestring, "new");
    cr_expect(cJSON_IsNull(cJSON_GetObjectItem(cJSON_GetObjectItem(new, "min_degC"), "first")));
    cJSON_Delete(answer);
    uf_compare_free(&c);
}

Test(compare, a_recommendation_stands_for_its_pick)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *b = synthetic_result();
    cr_assert(b->pick >= 0);
    const double factor = b->choices[b->pick].uplift_factor;
    for (size_t i = 0; i < b->n_winters; i++) {
        b->winters[i].frost_m = NAN;
    }
    b->uplift_factor = factor;
    swap_text(&b->site_text, "burial: {cover: 0.5 m}\nlimits: {water: 1 degC}\n");
    cr_assert_eq(pair(&c, single(), b, &err), UF_OK, "%s", err.text);
    cr_expect(noted(&c, "B is a recommendation: its recommended option"));
    cr_expect_eq(c.side[1].value[UF_COMPARE_UPLIFT], factor);
    for (size_t i = 0; i < c.n_differences; i++) {
        cr_expect_str_neq(c.differences[i].key, "burial.cover",
                          "the pick's cover is 1.2 m as in A, whatever the file offered");
    }
    uf_compare_free(&c);
}

Test(compare, every_winter_beside_one_is_refused)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *every = single();
    every->winters[3].frost_m = 1.0;
    cr_expect_eq(pair(&c, single(), every, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "climate.winter") != NULL, "%s", err.text);
    cr_expect(strncmp(err.text, paths[1], strlen(paths[1])) == 0, "%s", err.text);
    uf_compare_free(&c);
}

Test(compare, bare_ground_has_nothing_of_a_tank)
{
    struct uf_compare c;
    struct uf_error err = {0};
    struct uf_result *b = single();
    struct uf_case ground;
    uf_case_init(&ground);
    ground.tank.shape = UF_NO_TANK;
    uf_result_design_fill(&b->design, &ground);
    uf_facts_clear(&b->summary);
    b->summary.frost_undisturbed_m = 1.6;
    cr_assert_eq(pair(&c, single(), b, &err), UF_OK, "%s", err.text);
    cr_expect(noted(&c, "B has no tank"));
    cr_expect(isnan(c.side[1].value[UF_COMPARE_COVER]));
    cr_expect(isnan(c.side[1].result->summary.frost_above_m));
    cr_expect_eq(c.side[1].result->summary.frost_undisturbed_m, 1.6);
    uf_compare_free(&c);
}

/* Any cut of a file is refused or read; nothing falls over. */
Test(compare, a_damaged_file_is_refused)
{
    struct uf_error err = {0};
    struct uf_compare c;
    const char *const names[2] = {paths[0], paths[1]};
    cr_assert_eq(pair(&c, single(), single(), &err), UF_OK, "%s", err.text);
    uf_compare_free(&c);
    FILE *file = fopen(paths[1], "rb");
    cr_assert_not_null(file);
    static char bytes[1 << 22];
    const size_t size = fread(bytes, 1, sizeof bytes, file);
    (void)fclose(file);
    cr_assert(size > 10000 && size < sizeof bytes);
    for (size_t i = 0; i < 12; i++) {
        file = fopen(paths[1], "wb");
        cr_assert_not_null(file);
        (void)fwrite(bytes, 1, size * i / 12, file);
        (void)fclose(file);
        cr_expect_eq(uf_compare_read(&c, names, &err), UF_E_FILE, "%zu", i);
        cr_expect(strstr(err.text, paths[1]) != NULL, "%s", err.text);
        uf_compare_free(&c);
    }
}
