#include "cli/recommend/recommend.h"

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

Test(recommend_why, a_choice_in_words)
{
    char text[160];
    const struct uf_choice bare = {.cover_m = 1.2};
    const struct uf_choice board = {.cover_m = 1.524, .thickness_m = 0.0508, .beyond_m = 0.6096};
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
    const struct uf_variant row = {.doc = "no snow lies"};
    struct uf_recommend_variant v = {.row = &row, .job = &job};
    char text[120];
    site.design.ground.method = UF_COTE_KONRAD;
    job.design.ground.method = UF_COTE_KONRAD;
    cr_expect_str_eq(uf_recommend_variant_words(text, sizeof text, &r, &v), "no snow lies");
    job.design.ground.method = UF_KERSTEN;
    cr_expect_str_eq(uf_recommend_variant_words(text, sizeof text, &r, &v),
                     "conductivity is taken by Kersten instead of Cote and Konrad");
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
        s->rows[i].pit.excavation_m3 = 40.0 + (double)i;
        s->rows[i].pit.board_m3 = 0.5 * (double)i;
        s->rows[i].verdict.ok = true;
        s->rows[i].verdict.governs = 0;
        for (size_t k = 0; k < uf_limit_count; k++) {
            s->rows[i].verdict.margin[k] = 0.7;
        }
    }
    s->choices = (struct uf_choices_result){
        .rows = s->rows, .n = ROWS, .priced = true, .pick = 1, .next_best = 2, .nearest = -1};
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
    uf_recommend_reasons(s->r, &s->args);
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

/* Variants that all hold; job only says which method of conductivity is used. */
static void add_variants(struct story *s)
{
    for (size_t i = 0; i < UF_VARIANTS; i++) {
        s->r->variants[i] = (struct uf_recommend_variant){.row = &uf_variants[i],
                                                          .job = &s->r->jobs[i],
                                                          .verdict = {.ok = true},
                                                          .water_degC = 2.3};
        s->r->jobs[i].design.ground.method = s->site->design.ground.method;
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
    expect_told(&s, "The pick is cover 1.20 m with 50 mm of board reaching 1.20 m past the "
                    "tank: of 4 choices 3 meet every limit, and it costs least.");
    expect_told(&s, "limits.water), met with 0.4 K to spare.");
    expect_told(&s, "It comes to 1250 CAD ");
    expect_told(&s, "Next best is cover 1.50 m with 100 mm of board reaching 1.20 m past "
                    "the tank, 250 CAD more.");
    s.args.units = UF_UNITS_US;
    expect_told(&s, "cover 3.94 ft with 2.0 in of board reaching 3.94 ft");
    expect_told(&s, "met with 0.7 degF to spare");
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
    expect_told(&s, "The pick is cover 0.90 m without board: ");
    expect_told(&s, "takes the least digging, then the least board.");
    expect_told(&s, "It needs 40.00 m3 of digging and 0.00 m3 of board.");
    expect_told(&s, "No other choice meets every limit.");
    s.choices.pick = 1;
    expect_told(&s, "takes the least digging, then the least board.");
    expect_told(&s, "(what has no price is not in it)");
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
    expect_told(&s, "None of the 4 choices meets every limit.");
    expect_told(&s, "in the way of all 4 of them is factor of safety against flotation, tank empty "
                    "(limits.uplift_factor).");
    expect_told(&s, "Nearest is cover 1.80 m with 150 mm of board");
    expect_told(&s, "(limits.uplift_factor) misses by 0.25");
    expect_told(&s, "(limits.greatest_cover) misses by 0.12 m");
    expect_told(&s, "Against uplift 1.75 m3 more concrete would do.");
    cr_expect(strstr(told(&s), "limits.water") == NULL, "the nearest meets that");
    close_story(&s);
}

Test(recommend_why, how_sure)
{
    struct story s;
    open_story(&s);
    add_variants(&s);
    expect_told(&s, "It also holds with each of 9 things changed in turn");
    expect_told(&s, "If the water does not mix, every limit still holds (coldest water or "
                    "wall 2.3 degC).");
    cr_expect_eq(s.r->sure_to - s.r->sure_from, (size_t)UF_VARIANTS);
    /* One breaks two limits, and one uses another method. */
    struct uf_recommend_variant *v = &s.r->variants[3];
    v->verdict.ok = false;
    v->verdict.margin[limit_of("limits.water")] = -0.6;
    v->verdict.margin[limit_of("pipes.depth")] = -1.1;
    v->water_degC = 0.4;
    s.r->jobs[4].design.ground.method = UF_KERSTEN;
    expect_told(&s, "But of 9 things changed in turn 1 break a limit: drier soil (see");
    expect_told(&s, "If the soil holds a quarter less water, it no longer holds: "
                    "limits.water by 0.6 K, pipes.depth by 1.1 K (coldest water or wall "
                    "0.4 degC).");
    expect_told(&s, "If conductivity is taken by Kersten instead of Cote and Konrad, ");
    s.r->variants[0].water_degC = NAN;
    expect_told(&s, "If the water does not mix, every limit still holds.");
    close_story(&s);
}

Test(recommend_why, what_was_not_run_and_what_is_unchecked)
{
    struct story s;
    open_story(&s);
    cr_expect(strstr(told(&s), "not run") == NULL && strstr(told(&s), "shell") == NULL);
    s.rows[0].ran = s.rows[2].ran = false;
    s.site->design.limits.greatest_cover_m = NAN;
    expect_told(&s, "2 choices were not run through the winter");
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
            s.r->jobs[i].design.ground.method = UF_JOHANSEN;
        }
    }
    const char *all = told(&s);
    cr_expect_eq(s.r->n_why, (size_t)UF_RECOMMEND_SENTENCES, "the list is just full");
    cr_expect(strstr(s.r->why[s.r->n_why - 1], "On the weather: xxx") != NULL,
              "the last one is there:\n%s", all);
    cr_expect(strstr(s.r->why[s.r->sure_from], "pipes.depth by") != NULL,
              "the last limit of the list is named: %s", s.r->why[s.r->sure_from]);
    /* All variants in the one sentence of a pick. */
    s.choices.pick = 1;
    expect_told(&s, "rarer winter, high water table (see how sure).");
    close_story(&s);
}

Test(recommend_why, what_governs_a_row)
{
    struct uf_choice row = {.buildable = true, .verdict = {.governs = uf_limit_count}};
    cr_expect_null(uf_recommend_governs(&row));
    cr_expect_str_eq(uf_recommend_governs_words(&row), "");
    row.verdict.governs = limit_of("board.type");
    cr_expect_str_eq(uf_recommend_governs(&row), "board.type");
    row.buildable = false;
    row.fault = (struct uf_fault){.key = "board.thickness"};
    cr_expect_str_eq(uf_recommend_governs(&row), "board.thickness");
    cr_expect(strstr(uf_recommend_governs_words(&row), "surface") != NULL);
    row.fault = (struct uf_fault){.key = "anchors.deadmen.top"};
    cr_expect_str_eq(uf_recommend_governs(&row), "anchors.deadmen.top");
    cr_expect(strstr(uf_recommend_governs_words(&row), "deadmen") != NULL);
}

Test(recommend_why, a_sturdier_choice_is_named_when_it_was_sought)
{
    struct story s;
    open_story(&s);
    add_variants(&s);
    s.r->variants[2].verdict.ok = false;
    expect_told(&s,
                "`recommend --sturdy` looks for a choice that holds with each of these changes.");
    s.r->sturdy = (struct uf_recommend_sturdy){.sought = true, .row = 2, .tried = 2};
    expect_told(&s, "To hold with all of them take cover 1.50 m with 100 mm of board "
                    "reaching 1.20 m past the tank, 250 CAD more.");
    s.choices.priced = false;
    expect_told(&s, "reaching 1.20 m past the tank.");
    s.r->sturdy.row = -1;
    s.r->sturdy.worst = &uf_variants[0];
    expect_told(&s, "None of the 2 other choices holds with all of these either; most "
                    "fail against ");
    expect_told(&s, uf_variants[0].name);
    close_story(&s);
}

/* Nothing is warm enough: what could still be offered, and only that. */
Test(recommend_why, the_last_of_the_list_says_what_to_offer)
{
    struct story s;
    open_story(&s);
    s.choices.pick = -1;
    s.choices.nearest = ROWS - 1;
    for (size_t i = 0; i < ROWS; i++) {
        s.rows[i].ok = s.rows[i].verdict.ok = false;
        s.rows[i].verdict.margin[0] = -0.2; /* limits.water */
    }
    expect_told(&s, "worth trying beyond it: cover up to the 2.00 m that the maker "
                    "allows, thicker board, board reaching further.");
    s.site->design.limits.greatest_cover_m = 1.8;
    expect_told(&s, "worth trying beyond it: thicker board, board reaching further.");
    s.choices.nearest = 1; /* not the last: the limit itself must give */
    s.rows[1].beyond_m = 0.6;
    cr_expect(strstr(told(&s), "worth trying") == NULL);
    close_story(&s);
}
