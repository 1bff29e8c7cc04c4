#include "cli/command.h"
#include "cli/recommend/recommend.h"
#include "solver/choice/option.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Whole sites built by hand, through the search alone: what is recommended must follow from the prices
   and the place, not from the order in which options are listed or the threads that run them. */

#define SITE                                                                                       \
    "site: {name: Otter Bend cistern, latitude: 50 degrees_north}\n"                               \
    "climate: {cycle: {mean: 5 degC, amplitude: 16 K, coldest: 20 day}}\n"                         \
    "surface: {film: 15 W/m2/K, snow: none}\n"                                                     \
    "ground: [{to: 8 m, soil: silt}]\n"                                                            \
    "groundwater: {winter: 3 m, highest: 0 m}\n"                                                   \
    "tank: {shape: horizontal_cylinder, diameter: 1.6 m, length: 4 m, ends: plane, "               \
    "empty_mass: 600 kg, contents: {level: 1.4 m, start: 6 degC, water: mixed}}\n"                 \
    "burial: {cover: 0.8 m, bedding: 0.2 m, pit: {clearance: 0.6 m, slope: 1}, "                   \
    "backfill: {soil: pea_gravel}}\n"                                                              \
    "board: {type: XPS_IV, thickness: 80 mm, beyond_tank: 0.6 m, above_crown: 0.15 m}\n"           \
    "grid: {finest: 300 mm, width: 6 m, depth: 8 m}\n"                                             \
    "limits: {water: 0 degC, uplift_factor: 1.3}\n"                                                \
    "sensitivity: {temperature: 0.1 K, leave_out: [unmixed water, layered water, ends, second "    \
    "method, third method, drier soil, lowest level]}\n"

static struct uf_arguments args;

/* The search on the site with more blocks and what is set over them. */
static struct uf_recommend *searched(const char *more, bool nominal, size_t jobs)
{
    struct uf_recommend *r = calloc(1, sizeof *r);
    struct uf_error err = {0};
    char path[] = "/tmp/uf_options_XXXXXX";
    const int file = mkstemp(path);
    cr_assert(file >= 0 && r != NULL);
    cr_assert_eq(write(file, SITE, strlen(SITE)), (ssize_t)strlen(SITE));
    cr_assert_eq(write(file, more, strlen(more)), (ssize_t)strlen(more));
    (void)close(file);
    args = (struct uf_arguments){.command = uf_command_find("recommend"),
                                 .operands = {path},
                                 .n_operands = 1,
                                 .quiet = true,
                                 .nominal = nominal,
                                 .jobs = jobs};
    r->shown = -1;
    cr_assert_eq(uf_site_run_open(&r->run, &args), UF_EXIT_DONE);
    cr_assert(uf_recommend_search(r, &args, &err) == UF_OK, "%s", err.text);
    (void)unlink(path);
    return r;
}

static const struct uf_choice *picked(const struct uf_recommend *r)
{
    cr_assert_geq(r->choices->pick, 0);
    return &r->choices->rows[r->choices->pick];
}

static void forget(struct uf_recommend *r)
{
    uf_recommend_free(r);
    free(r);
}

#define PRICES(board, concrete)                                                                    \
    "costs: {currency: CAD, excavation: 40 /m3, backfill: 35 /m3, board: " board                   \
    " /m3, concrete: " concrete " /m3}\n"

/* Without anchors the tank must lie at 1.6 m; a fifth of a cubic metre of concrete holds it at 0.8 m.
   Which is cheaper is for the price of concrete to say. */
Test(recommend_options, concrete_beats_depth_where_it_is_cheap)
{
    static const char lists[] = "choices: {cover: [0.8 m, 1.2 m, 1.6 m], thickness: [80 mm], "
                                "anchors: [none, least]}\n";
    char more[600];
    (void)snprintf(more, sizeof more, "%s%s", lists, PRICES("280", "450"));
    struct uf_recommend *r = searched(more, true, 2);
    cr_expect_float_eq(picked(r)->cover_m, 0.8, 1e-9);
    const struct uf_anchors *anchors = &r->choices->designs[r->choices->pick].anchors;
    cr_expect(anchors->deadmen > 0 || anchors->has_pad);
    forget(r);
    (void)snprintf(more, sizeof more, "%s%s", lists, PRICES("280", "90000"));
    r = searched(more, true, 2);
    cr_expect_float_eq(picked(r)->cover_m, 1.6, 1e-9, "%g m", picked(r)->cover_m);
    cr_expect_eq(r->choices->designs[r->choices->pick].anchors.deadmen, 0);
    forget(r);
}

/* The same ground: 80 mm of board saves 0.8 m of depth, up to a price that is told by the one run: just
   below it another run recommends the board, just above it the depth. */
Test(recommend_options, a_board_pays_up_to_its_price)
{
    static const char lists[] = "choices: {cover: [0.8 m, 1.6 m], thickness: [0 mm, 80 mm], "
                                "anchors: [least]}\n";
    char more[600];
    (void)snprintf(more, sizeof more, "%s%s", lists, PRICES("280", "450"));
    struct uf_recommend *r = searched(more, true, 2);
    cr_expect_gt(picked(r)->thickness_m, 0.0, "it pays");
    const struct uf_price_change change =
        uf_price_change(r->choices, &r->run.site->design.costs, UF_COST_BOARD, true);
    cr_assert_geq(change.row, 0);
    cr_expect_eq(r->choices->rows[change.row].thickness_m, 0.0);
    forget(r);
    for (int dearer = 0; dearer < 2; dearer++) {
        (void)snprintf(more, sizeof more,
                       "%scosts: {currency: CAD, excavation: 40 /m3, backfill: 35 /m3, board: %.6f "
                       "/m3, concrete: 450 /m3}\n",
                       lists, change.price * (dearer ? 1.001 : 0.999));
        r = searched(more, true, 2);
        cr_expect_eq(picked(r)->thickness_m > 0.0, !dearer);
        forget(r);
    }
}

static bool same_option(const struct uf_choice *a, const struct uf_choice *b)
{
    bool same = a->type == b->type && a->cost.total == b->cost.total && a->ok == b->ok &&
                a->trial == b->trial;
    for (size_t k = 0; k < UF_OPTION_NUMBERS; k++) {
        const double x = uf_option_value(a, k), y = uf_option_value(b, k);
        same = same && (x == y || (isnan(x) && isnan(y)));
    }
    return same;
}

/* Every option of one is in the other, judged alike, and the same one is recommended. */
static void expect_same(const struct uf_recommend *a, const struct uf_recommend *b)
{
    cr_assert_eq(a->choices->n, b->choices->n);
    cr_expect(same_option(picked(a), picked(b)));
    for (size_t i = 0; i < a->choices->n; i++) {
        size_t k = 0;
        while (k < b->choices->n && !same_option(&a->choices->rows[i], &b->choices->rows[k])) {
            k++;
        }
        cr_expect_lt(k, b->choices->n, "row %zu", i);
    }
}

Test(recommend_options, neither_order_nor_threads_change_the_answer)
{
    struct uf_recommend *one =
        searched("choices: {cover: [0.8 m, 1.6 m], thickness: [0 mm, 80 mm], "
                 "anchors: [none, least]}\n" PRICES("280", "450"),
                 false, 1);
    struct uf_recommend *other =
        searched("choices: {anchors: [least, none], thickness: [80 mm, 0 mm], "
                 "cover: [1.6 m, 0.8 m]}\n" PRICES("280", "450"),
                 false, 2);
    expect_same(one, other);
    forget(other);
    forget(one);
}

/* Each cheaper neighbour of the recommended option fails something that is told with its margin. */
Test(recommend_options, each_cheaper_neighbour_fails_something)
{
    struct uf_recommend *r =
        searched("choices: {cover: [0.8 m, 1.2 m], thickness: [0 mm, 80 mm, 160 mm], "
                 "anchors: [none, least]}\n" PRICES("280", "450"),
                 false, 2);
    struct uf_robust_neighbour near[UF_ROBUST_NEIGHBOURS];
    const size_t n = uf_robust_against_neighbours(near, r->choices, (size_t)r->choices->pick);
    cr_expect_gt(n, 0);
    for (size_t i = 0; i < n; i++) {
        const struct uf_choice *row = &r->choices->rows[near[i].row];
        struct uf_robust_against why;
        size_t knob = UF_OPTION_KNOBS;
        cr_expect_lt(row->cost.total, picked(r)->cost.total);
        cr_expect_eq(uf_option_differences(row, picked(r), &knob), 1);
        cr_expect_eq(knob, near[i].knob);
        cr_assert(uf_robust_against(&why, r->robust, near[i].row), "row %zu", near[i].row);
        cr_expect_lt(why.margin, why.wanted > 0.0 ? why.wanted : 0.0);
    }
    struct uf_robust_against why;
    cr_expect_not(uf_robust_against(&why, r->robust, (size_t)r->choices->pick));
    forget(r);
}

/* Options that differ in anchors, in boards of equal conductivity or in price alone share one heat
   run. */
Test(recommend_options, heat_runs_are_shared)
{
    struct uf_recommend *r =
        searched("choices: {cover: [1.2 m, 1.6 m], thickness: [80 mm, 160 mm], board_type: "
                 "[XPS_IV, XPS_V, XPS_VI, XPS_VII], anchors: [{name: small, deadmen: {count: 2, "
                 "width: 0.3 m, height: 0.3 m, length: 4 m}, straps: 2}, {name: large, deadmen: "
                 "{count: 2, width: 0.35 m, height: 0.3 m, length: 4 m}, straps: 2}]}\n" PRICES(
                     "280", "450"),
                 true, 2);
    size_t ran = 0;
    for (size_t i = 0; i < r->choices->n; i++) {
        ran += r->choices->rows[i].ran;
    }
    cr_expect_eq(r->choices->n, 32, "2 covers, 2 thicknesses, 4 boards, 2 anchors");
    cr_expect_eq(ran, 32);
    cr_expect_eq(r->choices->bank.asked, 32);
    cr_expect_eq(r->choices->bank.n, 4, "%zu heat runs", r->choices->bank.n);
    forget(r);
}

/* The site with one thickness of board at one cover. */
static struct uf_recommend *searched_at(double cover_m, double thickness_m)
{
    char more[300];
    (void)snprintf(more, sizeof more,
                   "choices: {cover: [%.4f m], thickness: [%.4f m], anchors: [least]}\n%s", cover_m,
                   thickness_m, PRICES("280", "450"));
    return searched(more, false, 2);
}

/* Where no option is robust a measure is tried and priced: listed as an option it is recommended at that
   price, and a step less of it is not. */
Test(recommend_options, the_first_measure_is_true_and_priced)
{
    struct uf_recommend *r = searched_at(0.8, 0.02);
    const struct uf_robust_measure *found = uf_robust_measure(r->robust);
    cr_assert_eq(r->choices->pick, -1, "a thin board is not enough");
    cr_assert_not_null(found->name, "some measure is");
    cr_expect_str_eq(found->name, "a thicker board", "%s", found->name);
    const struct uf_choice choice = found->choice;
    const double from_m = r->choices->rows[found->from].thickness_m;
    forget(r);
    r = searched_at(choice.cover_m, choice.thickness_m);
    cr_expect_eq(picked(r)->trial, UF_CHOICE_ROBUST);
    cr_expect_float_eq(picked(r)->cost.total, choice.cost.total, 1e-6 * choice.cost.total);
    forget(r);
    cr_expect_geq(choice.thickness_m - 0.05, from_m - 1e-9);
    r = searched_at(choice.cover_m, choice.thickness_m - 0.05);
    cr_expect_eq(r->choices->pick, -1, "the smallest step that will do");
    forget(r);
}
