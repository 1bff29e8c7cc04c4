#include "solver/choice/option.h"
#include "tests/runs.h"

#include <string.h>

static struct uf_case design(void)
{
    struct uf_case d = runs_tank();
    d.anchors.deadmen = 2;
    d.anchors.deadman_width_m = d.anchors.deadman_height_m = 0.5;
    d.anchors.deadman_length_m = 4.0;
    d.choices.n_cover = 3;
    d.choices.n_thickness = 3;
    d.choices.n_beyond = 2;
    d.choices.cover_m[0] = 0.3;
    d.choices.cover_m[1] = 1.0;
    d.choices.cover_m[2] = 1.4;
    d.choices.thickness_m[1] = 0.05;
    d.choices.thickness_m[2] = 0.1;
    d.choices.beyond_m[0] = 0.3;
    d.choices.beyond_m[1] = 0.6;
    d.burial.has_backfill = d.burial.has_bedding_soil = false;
    return d;
}

struct search {
    struct uf_case design;
    struct runs_weather *weather;
    struct uf_forcing *forcing;
    struct uf_choices_result *choices;
};

static void open_search(struct search *s, bool every)
{
    struct uf_error err = {0};
    s->weather = runs_weather_create(3.0, 14.0);
    s->forcing = runs_forcing(&s->design, s->weather);
    const struct uf_choice_input input = {
        .design = &s->design, .forcing = s->forcing, .options = uf_run_defaults(), .every = every};
    cr_assert(uf_choice_create(&s->choices, &input, &err) == UF_OK, "%s", err.text);
}

/* Stands in for the runs: deeper and thicker is warmer. */
static void pretend(struct search *s, double at_surface_degC)
{
    for (size_t i = 0; i < s->choices->n; i++) {
        const struct uf_choice *row = &s->choices->rows[i];
        if (!row->ran) {
            continue;
        }
        struct uf_summary *out = &s->choices->bank.jobs[row->run].summary;
        memset(out, 0, sizeof *out);
        out->water.degC = out->wall.degC =
            at_surface_degC + 2.0 * row->cover_m + 10.0 * row->thickness_m + 0.1 * row->beyond_m;
    }
}

static void close_search(struct search *s)
{
    uf_choice_free(s->choices);
    uf_forcing_free(s->forcing);
    free(s->weather);
}

Test(choice, lists_each_once)
{
    struct search s = {.design = design()};
    open_search(&s, false);
    cr_expect_eq(s.choices->n, 3u * (1u + 2u * 2u));
    for (size_t i = 0; i < s.choices->n; i++) {
        const struct uf_choice *row = &s.choices->rows[i];
        /* 0.3 m of cover cannot take 0.2 m over the crown and 0.1 m of board. */
        cr_expect_eq(row->buildable, !(row->cover_m < 0.31 && row->thickness_m > 0.09));
        cr_expect(row->buildable || !row->ran);
    }
    close_search(&s);
}

Test(choice, the_same_in_other_units_is_one_choice)
{
    struct search s = {.design = design()};
    s.design.choices.cover_m[0] = 3.0 * 0.3048;
    s.design.choices.cover_m[1] = 0.9144;
    s.design.choices.n_cover = 2;
    open_search(&s, false);
    cr_expect_eq(s.choices->n, 1u + 2u * 2u);
    close_search(&s);
}

/* A fixed deadman under a tank that goes deeper with each cover ends up over the widest
   level, where the soil on it counts already; and a board may outgrow the domain. */
Test(choice, what_cannot_be_built_is_told_and_never_run)
{
    struct search s = {.design = design()};
    s.design.anchors.deadman_top_m = uf_case_invert_m(&s.design);
    s.design.burial.bedding_m = s.design.anchors.deadman_height_m;
    s.design.choices.n_cover = 2;
    s.design.choices.cover_m[0] = s.design.burial.cover_m;
    s.design.choices.cover_m[1] = s.design.burial.cover_m + uf_case_tank_height_m(&s.design);
    s.design.choices.beyond_m[1] = s.design.grid.width_m;
    open_search(&s, true);
    for (size_t i = 0; i < s.choices->n; i++) {
        const struct uf_choice *row = &s.choices->rows[i];
        const bool sunk = row->cover_m > s.design.burial.cover_m;
        const bool wide = row->thickness_m > 0.0 && row->beyond_m >= s.design.grid.width_m;
        cr_expect_eq(row->buildable, !sunk && !wide);
        cr_expect_eq(row->ran, row->buildable);
        cr_expect_eq(isnan(row->uplift.highest.factor_submerged), !row->buildable);
        if (!row->buildable) {
            cr_expect_str_eq(row->fault.key, wide ? "board.beyond_tank" : "anchors.deadmen.top");
        }
    }
    close_search(&s);
}

Test(choice, what_no_winter_can_save_is_not_run_unless_asked)
{
    struct search s = {.design = design()};
    s.design.limits.greatest_cover_m = 1.2;
    open_search(&s, false);
    for (size_t i = 0; i < s.choices->n; i++) {
        const struct uf_choice *row = &s.choices->rows[i];
        cr_expect(row->cover_m < 1.2 || !row->ran, "cover %g was run", row->cover_m);
        cr_expect_eq(uf_choice_summary(s.choices, i) == NULL, !row->ran);
    }
    uf_choice_free(s.choices);
    uf_forcing_free(s.forcing);
    free(s.weather);
    open_search(&s, true);
    for (size_t i = 0; i < s.choices->n; i++) {
        cr_expect_eq(s.choices->rows[i].ran, s.choices->rows[i].buildable);
    }
    close_search(&s);
}

Test(choice, pick_is_the_cheapest_that_meets_all)
{
    struct search s = {.design = design()};
    s.design.limits.uplift_factor = 0.5;
    s.design.costs.excavation_m3 = 25.0;
    s.design.costs.board_m3 = 240.0;
    s.design.costs.concrete_m3 = 450.0;
    s.design.costs.backfill_m3 = 35.0;
    open_search(&s, false);
    pretend(&s, -1.0);
    cr_assert(uf_choice_judge(s.choices, NULL) == UF_OK);
    long cheapest = -1;
    for (size_t i = 0; i < s.choices->n; i++) {
        const struct uf_choice *row = &s.choices->rows[i];
        if (row->ok && (cheapest < 0 || row->cost.total < s.choices->rows[cheapest].cost.total)) {
            cheapest = (long)i;
        }
    }
    cr_assert(cheapest >= 0);
    cr_expect_eq(s.choices->pick, cheapest);
    cr_expect(s.choices->next_best != s.choices->pick);
    cr_expect_eq(s.choices->nearest, -1);
    close_search(&s);
}

Test(choice, without_prices_the_least_digging_and_then_the_least_board)
{
    struct search s = {.design = design()};
    s.design.limits.uplift_factor = 0.5;
    open_search(&s, false);
    pretend(&s, -1.0);
    cr_assert(uf_choice_judge(s.choices, NULL) == UF_OK);
    cr_assert(s.choices->pick >= 0);
    const struct uf_choice *pick = &s.choices->rows[s.choices->pick];
    for (size_t i = 0; i < s.choices->n; i++) {
        const struct uf_choice *row = &s.choices->rows[i];
        cr_expect(!row->ok || row->pit.excavation_m3 >= pick->pit.excavation_m3);
        cr_expect(!row->ok || row->pit.excavation_m3 > pick->pit.excavation_m3 ||
                  row->pit.board_m3 >= pick->pit.board_m3);
    }
    close_search(&s);
}

Test(choice, nothing_holds_and_the_nearest_is_named)
{
    struct search s = {.design = design()};
    s.design.limits.uplift_factor = 0.5;
    open_search(&s, false);
    pretend(&s, -9.0);
    cr_assert(uf_choice_judge(s.choices, NULL) == UF_OK);
    cr_expect_eq(s.choices->pick, -1);
    cr_assert(s.choices->nearest >= 0);
    cr_expect_float_eq(s.choices->rows[s.choices->nearest].cover_m, 1.4, 1e-12);
    cr_expect_float_eq(s.choices->rows[s.choices->nearest].thickness_m, 0.1, 1e-12);
    close_search(&s);
}

Test(choice, probes_move_with_the_tank)
{
    struct uf_case d = design();
    struct uf_choice row = uf_option_own(&d);
    row.cover_m = 1.5;
    row.thickness_m = 0.0;
    d.n_probes = 3;
    d.probes[0] = (struct uf_probe){"a", 0.0, 1.1, 0.1, NAN, NAN};
    d.probes[1] = (struct uf_probe){"b", 0.0, 2.4, NAN, 0.2, NAN};
    d.probes[2] = (struct uf_probe){"c", 0.0, 0.7, NAN, NAN, NAN};
    const struct uf_case deeper = uf_option_design(&d, &row);
    cr_expect_float_eq(deeper.probes[0].depth_m, 1.6, 1e-12);
    cr_expect_float_eq(deeper.probes[1].depth_m, 1.5 + 1.6 - 0.2, 1e-12);
    cr_expect_float_eq(deeper.probes[2].depth_m, 0.7, 1e-12);
    cr_expect(!uf_case_has_board(&deeper));
}

Test(choice, thickness_without_a_board_block_is_an_error)
{
    struct search s = {.design = design()};
    const struct uf_run_options options = uf_run_defaults();
    struct uf_error err = {0};
    s.design.board.present = false;
    s.weather = runs_weather_create(3.0, 14.0);
    s.forcing = runs_forcing(&s.design, s.weather);
    const struct uf_choice_input input = {
        .design = &s.design, .forcing = s.forcing, .options = options};
    cr_expect(uf_choice_create(&s.choices, &input, &err) == UF_E_INPUT);
    cr_expect(strstr(err.text, "board.type") != NULL, "%s", err.text);
    close_search(&s);
}
