#include "cli/recommend/recommend.h"
#include "solver/design/foam.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Words and numbers that the answer, the report and the table share. */

static size_t limit_of(const char *key)
{
    for (size_t i = 0; i < uf_limit_count; i++) {
        if (strcmp(uf_limits[i].key, key) == 0) {
            return i;
        }
    }
    cr_assert_fail("no limit %s", key);
    return uf_limit_count;
}

static void expect_margin(const char *key, double margin, enum uf_units units, const char *expected)
{
    char text[64];
    cr_expect_str_eq(uf_recommend_margin(text, sizeof text, limit_of(key), margin, units), expected,
                     "%s", text);
}

Test(recommend_why, a_margin_has_its_unit)
{
    expect_margin("limits.water", 0.52, UF_UNITS_SI, "0.5 K");
    expect_margin("limits.water", 0.5, UF_UNITS_US, "0.9 degF");
    expect_margin("limits.greatest_cover", 0.3048, UF_UNITS_US, "1.00 ft");
    expect_margin("limits.ice", -0.012, UF_UNITS_SI, "-1.2 percent");
    expect_margin("limits.uplift_factor", 0.17, UF_UNITS_SI, "0.17");
}

/* "Misses by 0.0 K" would contradict itself. */
Test(recommend_why, what_is_missed_by_little_does_not_read_as_nothing)
{
    expect_margin("limits.water", -0.04, UF_UNITS_SI, "-0.04 K");
    expect_margin("limits.water", -0.004, UF_UNITS_SI, "-0.004 K");
    expect_margin("limits.ice", -0.0001, UF_UNITS_SI, "-0.01 percent");
    expect_margin("limits.uplift_factor", -0.003, UF_UNITS_SI, "-0.003");
    expect_margin("limits.greatest_cover", -0.001, UF_UNITS_SI, "-0.001 m");
    expect_margin("limits.water", 0.0, UF_UNITS_SI, "0.0 K");
    expect_margin("limits.water", 1e-9, UF_UNITS_SI, "0.0 K");
}

Test(recommend_why, an_option_in_words)
{
    static struct uf_site site;
    char text[240];
    const struct uf_recommend r = {.run = {.site = &site}};
    const struct uf_choice bare = {.cover_m = 1.2};
    const struct uf_choice board = {.cover_m = 1.524,
                                    .thickness_m = 0.0508,
                                    .beyond_m = 0.6096,
                                    .type = uf_foam_find("XPS_IV")};
    struct uf_case design;
    uf_case_init(&design);
    uf_case_init(&site.design);
    cr_expect_str_eq(uf_recommend_describe(text, sizeof text, &r, &bare, &design, UF_UNITS_SI),
                     "cover 1.20 m, no board");
    cr_expect_str_eq(uf_recommend_describe(text, sizeof text, &r, &board, &design, UF_UNITS_US),
                     "cover 5.00 ft, 2.0 in XPS_IV board extending 2.00 ft beyond the tank");
    site.design.choices.n_anchors = 1;
    design.anchors.has_pad = true;
    design.anchors.pad_length_m = 7.0;
    design.anchors.pad_width_m = 3.0;
    design.anchors.pad_thickness_m = 0.2;
    cr_expect_str_eq(
        uf_recommend_describe(text, sizeof text, &r, &bare, &design, UF_UNITS_SI),
        "cover 1.20 m, no board, anchors pad (pad 7.00 m long, 3.00 m wide and 0.20 m thick)");
}

Test(recommend_why, a_case_names_its_method)
{
    static struct uf_site site;
    const struct uf_recommend r = {.run = {.site = &site}};
    char text[120];
    uf_case_init(&site.design);
    for (size_t i = 0; i < UF_VARIANTS; i++) {
        const bool method = strstr(uf_variants[i].name, "method") != NULL;
        (void)uf_recommend_variant_words(text, sizeof text, &r, &uf_variants[i]);
        cr_expect_eq(strstr(text, "instead of Cote and Konrad") != NULL, method, "%s", text);
        cr_expect(method || strcmp(text, uf_variants[i].doc) == 0);
    }
}

/* The reasons as a whole, from numbers made by hand: each sentence must hold the right
   limit and the right number, and none may be cut. */

enum { ROWS = 4 };

struct story {
    struct uf_recommend *r;
    struct uf_site *site;
    struct uf_site_weather *weather;
    struct uf_choices_result choices;
    struct uf_choice rows[ROWS];
    struct uf_case designs[ROWS];
    struct uf_job job;
    struct uf_arguments args;
};

static void open_story(struct story *s)
{
    memset(s, 0, sizeof *s);
    s->r = calloc(1, sizeof *s->r);
    s->site = calloc(1, sizeof *s->site);
    s->weather = calloc(1, sizeof *s->weather);
    cr_assert(s->r != NULL && s->site != NULL && s->weather != NULL);
    uf_case_init(&s->site->design);
    s->site->design.limits.greatest_cover_m = 2.0;
    (void)snprintf(s->site->design.costs.currency, sizeof s->site->design.costs.currency, "CAD");
    for (size_t i = 0; i < ROWS; i++) {
        s->rows[i] =
            (struct uf_choice){.cover_m = 0.9 + 0.3 * (double)i,
                               .thickness_m = i == 0 ? 0.0 : 0.05 * (double)i,
                               .beyond_m = 1.2,
                               .ran = true,
                               .buildable = true,
                               .ok = true,
                               .cost = {.total = 1000.0 + 250.0 * (double)i, .complete = true}};
        uf_case_init(&s->designs[i]);
        s->rows[i].pit.excavation_m3 = 40.0 + (double)i;
        s->rows[i].pit.board_m3 = 0.5 * (double)i;
        s->rows[i].verdict.ok = true;
        s->rows[i].verdict.governs = 0;
        for (size_t k = 0; k < uf_limit_count; k++) {
            s->rows[i].verdict.margin[k] = 0.7;
        }
    }
    s->choices = (struct uf_choices_result){.rows = s->rows,
                                            .designs = s->designs,
                                            .bank = {.jobs = &s->job, .n = 1},
                                            .n = ROWS,
                                            .priced = true,
                                            .pick = 1,
                                            .next_best = 2,
                                            .nearest = -1};
    s->r->run.site = s->site;
    s->r->run.weather = s->weather;
    s->r->choices = &s->choices;
}

static void close_story(struct story *s)
{
    free(s->r);
    free(s->site);
    free(s->weather);
}

/* The sentences from .. to-1 in one text. */
static const char *told(struct story *s)
{
    static char all[UF_RECOMMEND_SENTENCES * 640];
    all[0] = '\0';
    const struct uf_robust_input input = {.design = &s->site->design, .nominal = true};
    cr_assert_eq(uf_robust_create(&s->r->robust, &s->choices, &input, NULL), UF_OK);
    uf_recommend_reasons(s->r, &s->args);
    uf_robust_free(s->r->robust);
    s->r->robust = NULL;
    for (size_t i = 0; i < s->r->n_why; i++) {
        const size_t length = strlen(s->r->why[i]);
        cr_expect(length > 0 && s->r->why[i][length - 1] == '.', "cut: %s", s->r->why[i]);
        (void)strcat(strcat(all, s->r->why[i]), "\n");
    }
    return all;
}

static void expect_told(struct story *s, const char *part)
{
    const char *all = told(s);
    cr_expect(strstr(all, part) != NULL, "no \"%s\" in:\n%s", part, all);
}

/* Cases that all hold. */
static void add_variants(struct story *s)
{
    for (size_t i = 0; i < UF_VARIANTS; i++) {
        s->r->variants[i] = (struct uf_robust_case){
            .row = &uf_variants[i], .verdict = s->rows[s->r->shown].verdict, .water_degC = 2.3};
        s->r->variants[i].verdict.ok = true;
        s->r->variants[i].verdict.governs = 0;
        s->r->variants[i].verdict.margin[0] = 0.9 - 0.01 * (double)i;
    }
    s->r->n_variants = UF_VARIANTS;
}

Test(recommend_why, a_pick_by_cost)
{
    struct story s;
    open_story(&s);
    s.rows[3].ok = false;
    s.rows[1].verdict.governs = limit_of("limits.water");
    s.rows[1].verdict.margin[s.rows[1].verdict.governs] = 0.4;
    expect_told(&s,
                "Recommended: cover 1.20 m, 50 mm foam board extending 1.20 m beyond the tank.");
    expect_told(&s, "Of 4 options 3 meet every limit in the design case; ");
    expect_told(&s, "it costs least.");
    expect_told(&s, "limits.water), margin 0.4 K.");
    expect_told(&s, "Cost: 1250 CAD ");
    expect_told(&s, "Next best: cover 1.50 m, 100 mm foam board extending 1.20 m beyond the "
                    "tank, 250 CAD more.");
    s.args.units = UF_UNITS_US;
    expect_told(&s, "cover 3.94 ft, 2.0 in foam board extending 3.94 ft");
    expect_told(&s, "margin 0.7 degF");
    close_story(&s);
}

Test(recommend_why, a_pick_by_digging_does_not_boast_of_its_cost)
{
    struct story s;
    open_story(&s);
    s.choices.priced = false;
    s.rows[1].cost.complete = false; /* a part of the price is known */
    s.choices.pick = 0;
    s.choices.next_best = -1;
    s.rows[0].cost.total = NAN;
    expect_told(&s, "Recommended: cover 0.90 m, no board.");
    expect_told(&s, "takes the least excavation, then the least board.");
    expect_told(&s, "It needs 40.0 m3 of excavation and 0.0 m3 of board; ");
    expect_told(&s, "No other option meets all of that.");
    s.choices.pick = 1;
    expect_told(&s, "takes the least excavation, then the least board.");
    expect_told(&s, "what has no price is not in it");
    cr_expect(strstr(told(&s), "costs least") == NULL);
    close_story(&s);
}

Test(recommend_why, none_and_what_stands_in_the_way)
{
    struct story s;
    const size_t uplift = limit_of("limits.uplift_factor");
    const size_t water = limit_of("limits.water");
    open_story(&s);
    s.choices.pick = s.choices.next_best = -1;
    s.choices.nearest = 3;
    for (size_t i = 0; i < ROWS; i++) {
        s.rows[i].ok = s.rows[i].verdict.ok = false;
        s.rows[i].verdict.margin[uplift] = -0.25;
    }
    s.rows[2].verdict.margin[water] = -3.0;
    s.rows[3].verdict.margin[limit_of("limits.greatest_cover")] = -0.12;
    s.rows[3].uplift.needed_ballast_m3 = 1.75;
    expect_told(&s, "None of the 4 options meets every limit.");
    expect_told(&s, "in the way of all 4 of them is factor of safety against flotation, tank empty "
                    "(limits.uplift_factor).");
    expect_told(&s, "Nearest is cover 1.80 m, 150 mm foam board");
    expect_told(&s, "(limits.uplift_factor) misses by 0.25");
    expect_told(&s, "(limits.greatest_cover) misses by 0.12 m");
    expect_told(&s, "1.8 m3 more concrete");
    cr_expect(strstr(told(&s), "limits.water") == NULL, "the nearest meets that");
    close_story(&s);
}

Test(recommend_why, sensitivity)
{
    struct story s;
    open_story(&s);
    add_variants(&s);
    char text[200];
    (void)snprintf(text, sizeof text,
                   "Every limit is met in all of %d sensitivity cases too. What would break it "
                   "first: that the riser's lid is left open; margin then 0.",
                   UF_VARIANTS);
    expect_told(&s, text);
    expect_told(&s, "Measure on site before relying on it: ");
    expect_told(&s, "If the water does not mix (conduction only), every limit still holds "
                    "(coldest water or wall 2.3 degC).");
    cr_expect_eq(s.r->sure_to - s.r->sure_from, (size_t)UF_VARIANTS);
    struct uf_robust_case *v = &s.r->variants[5]; /* one breaks two limits */
    v->verdict.ok = false;
    v->verdict.margin[limit_of("limits.water")] = -0.6;
    v->verdict.margin[limit_of("pipes.depth")] = -1.1;
    v->water_degC = 0.4;
    (void)snprintf(text, sizeof text, "1 of %d sensitivity cases fail: drier soil.", UF_VARIANTS);
    expect_told(&s, text);
    expect_told(&s, "If the soil holds a quarter less water, it no longer holds: "
                    "limits.water by 0.6 K, pipes.depth by 1.1 K (coldest water or wall "
                    "0.4 degC).");
    s.r->variants[2].water_degC = NAN;
    expect_told(&s, "If the water does not mix (conduction only), every limit still holds.");
    close_story(&s);
}

/* Board 2 m3 more costs less today by 100: it takes over where 2 (p - 240) makes up for it. */
Test(recommend_why, what_costs_less_and_at_which_price)
{
    struct story s;
    open_story(&s);
    s.site->design.costs.board_m3 = 240.0;
    s.rows[0].ok = false;
    s.rows[0].verdict.margin[0] = -0.3;
    s.rows[0].cost.amount[UF_COST_BOARD] = 0.0;
    s.rows[1].cost.amount[UF_COST_BOARD] = 2.0;
    s.rows[2].cost.amount[UF_COST_BOARD] = 1.0;
    s.rows[3].cost.amount[UF_COST_BOARD] = 9.0;
    expect_told(&s, "Not the next cheaper, cover 0.90 m, no board: ");
    expect_told(&s, " misses by 0.3 K");
    expect_told(&s, "At other prices: board above 490 per m3 (now 240) cover 1.50 m, ");
    expect_told(&s, "; board below 169 per m3 (now 240) cover 1.80 m, ");
    close_story(&s);
}

Test(recommend_why, what_was_not_run_and_what_is_unchecked)
{
    struct story s;
    open_story(&s);
    cr_expect(strstr(told(&s), "not run") == NULL && strstr(told(&s), "shell") == NULL);
    s.rows[0].ran = s.rows[2].ran = false;
    s.site->design.limits.greatest_cover_m = NAN;
    s.rows[0].buildable = false;
    s.rows[2].verdict.margin[uf_limit_find("board.type") - uf_limits] = -0.5;
    expect_told(&s, "2 options were not run through the winter: board load fails in 1, 1 cannot be "
                    "built, which no winter changes.");
    expect_told(&s, "--all");
    expect_told(&s, "shell is unchecked: no limits.greatest_cover");
    close_story(&s);
}

/* Everything at its longest: every sentence still ends. */
Test(recommend_why, nothing_is_cut_at_its_longest)
{
    struct story s;
    open_story(&s);
    s.choices.pick = s.choices.next_best = -1;
    s.choices.nearest = 3;
    s.args.units = UF_UNITS_US;
    s.site->design.limits.greatest_cover_m = NAN;
    add_variants(&s);
    memset(s.weather->note, 'x', sizeof s.weather->note - 2);
    s.weather->note[sizeof s.weather->note - 2] = '.';
    s.rows[3].uplift.needed_ballast_m3 = 1234.5;
    s.rows[0].ran = false;
    for (size_t k = 0; k < uf_limit_count; k++) {
        s.rows[3].verdict.margin[k] = -1234.56;
        for (size_t i = 0; i < UF_VARIANTS; i++) {
            s.r->variants[i].verdict.margin[k] = -1234.56;
            s.r->variants[i].verdict.ok = false;
            s.r->variants[i].water_degC = -123.4;
        }
    }
    const char *all = told(&s);
    cr_expect_lt(s.r->n_why, (size_t)UF_RECOMMEND_SENTENCES, "the list holds them all");
    cr_expect(strstr(s.r->why[s.r->n_why - 1], "On the weather: xxx") != NULL,
              "the last one is there:\n%s", all);
    cr_expect(strstr(s.r->why[s.r->sure_from], "pipes.depth by") != NULL,
              "the last limit of the list is named: %s", s.r->why[s.r->sure_from]);
    /* All variants in the one sentence of a pick. */
    s.choices.pick = 1;
    expect_told(&s, "high water table, wet board, ends, open lid.");
    close_story(&s);
}

Test(recommend_why, what_governs_a_row)
{
    struct uf_choice row = {.buildable = true, .verdict = {.governs = uf_limit_count}};
    char text[400];
    cr_expect_null(uf_recommend_governs(&row));
    cr_expect_str_eq(uf_recommend_governs_words(text, sizeof text, &row, UF_UNITS_SI), "");
    row.verdict.governs = limit_of("board.type");
    cr_expect_str_eq(uf_recommend_governs(&row), "board.type");
    row.buildable = false;
    row.fault = (struct uf_fault){.key = "board.thickness"};
    uf_message_set(&row.fault.what, UF_SAID("its top lies {} above grade", UF_OF(LENGTH, 0.3048)));
    cr_expect_str_eq(uf_recommend_governs(&row), "board.thickness");
    cr_expect_str_eq(uf_recommend_governs_words(text, sizeof text, &row, UF_UNITS_US),
                     "its top lies 1 ft above grade");
}
