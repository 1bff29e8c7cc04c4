#include "solver/choice/price.h"
#include "solver/choice/robust.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

/* Options made by hand: costs are straight in each price. */

enum { ROWS = 5 };

struct shelf {
    struct uf_choices_result c;
    struct uf_choice rows[ROWS];
    struct uf_costs costs;
};

/* Recomputes every total at the prices of the shelf, and the cheapest. */
static void reprice(struct shelf *s)
{
    s->c.pick = -1;
    for (size_t i = 0; i < ROWS; i++) {
        struct uf_cost *cost = &s->rows[i].cost;
        cost->total = 0.0;
        for (size_t k = 0; k < UF_COST_ITEMS; k++) {
            const double price = uf_cost_price(&s->costs, (enum uf_cost_item)k);
            cost->total += isnan(price) ? 0.0 : cost->amount[k] * price;
        }
    }
    s->c.pick = uf_choice_best(&s->c, -1, false);
}

static void fill(struct shelf *s)
{
    /* board, excavation, concrete m3: no board and deep; boards; concrete in place of depth */
    static const double amounts[ROWS][3] = {{0.0, 700.0, 2.0},
                                            {1.5, 560.0, 2.0},
                                            {3.0, 520.0, 2.0},
                                            {1.5, 450.0, 9.0},
                                            {6.0, 400.0, 2.0}};
    *s = (struct shelf){.costs = {.given = true, .board_m3 = 280.0, .concrete_m3 = 450.0}};
    s->costs.excavation_m3 = 25.0;
    s->costs.haul_m3 = s->costs.backfill_m3 = s->costs.strap = NAN;
    s->costs.geotextile_m2 = s->costs.shoring_m = s->costs.fixed = NAN;
    for (size_t i = 0; i < ROWS; i++) {
        s->rows[i] = (struct uf_choice){.cover_m = 2.0 - 0.1 * (double)i, .ok = true};
        s->rows[i].cost.amount[UF_COST_BOARD] = amounts[i][0];
        s->rows[i].cost.amount[UF_COST_EXCAVATION] = amounts[i][1];
        s->rows[i].cost.amount[UF_COST_CONCRETE] = amounts[i][2];
    }
    s->c = (struct uf_choices_result){.rows = s->rows, .n = ROWS, .priced = true, .pick = -1};
    reprice(s);
}

/* Halves the bracket between a price at which the recommended option stays and one where not. */
static double by_bisection(const struct shelf *now, enum uf_cost_item item, double far)
{
    double same = uf_cost_price(&now->costs, item), other = far;
    for (int i = 0; i < 200; i++) {
        struct shelf trial = *now;
        trial.c.rows = trial.rows;
        const double middle = 0.5 * (same + other);
        *(item == UF_COST_BOARD ? &trial.costs.board_m3 : &trial.costs.excavation_m3) = middle;
        reprice(&trial);
        *(trial.c.pick == now->c.pick ? &same : &other) = middle;
    }
    return other;
}

Test(price, a_change_found_by_bisection_is_the_one_computed)
{
    static const enum uf_cost_item items[] = {UF_COST_BOARD, UF_COST_EXCAVATION};
    struct shelf s;
    size_t found = 0;
    fill(&s);
    s.c.rows = s.rows;
    for (size_t i = 0; i < 4; i++) {
        const struct uf_price_change change =
            uf_price_change(&s.c, &s.costs, items[i / 2], i % 2 == 0);
        if (change.row < 0) {
            continue;
        }
        found++;
        cr_expect_float_eq(by_bisection(&s, items[i / 2], i % 2 == 0 ? 1e5 : 0.0), change.price,
                           1e-6, "%zu: %g", i, change.price);
    }
    cr_expect_geq(found, 2u);
}

/* A fragile option is none at any price. */
Test(price, a_fragile_option_takes_nothing_over)
{
    struct shelf s;
    fill(&s);
    s.c.rows = s.rows;
    const struct uf_price_change before = uf_price_change(&s.c, &s.costs, UF_COST_BOARD, true);
    cr_assert_geq(before.row, 0);
    s.rows[before.row].trial = UF_CHOICE_FRAGILE;
    const struct uf_price_change after = uf_price_change(&s.c, &s.costs, UF_COST_BOARD, true);
    cr_expect_neq(after.row, before.row);
    cr_expect(after.row < 0 || after.price >= before.price);
    s.c.priced = false;
    cr_expect_eq(uf_price_change(&s.c, &s.costs, UF_COST_BOARD, true).row, -1);
}

/* Dear concrete: depth; cheap concrete: concrete beats depth. Cheap board pays, dear does not. */
Test(price, what_wins_follows_the_prices)
{
    static const struct {
        double board, excavation, concrete;
        long wins;
    } rows[] = {{280.0, 25.0, 450.0, 4},
                {3000.0, 25.0, 100.0, 3},
                {9000.0, 5.0, 450.0, 0},
                {10.0, 25.0, 450.0, 4}};
    struct shelf s;
    fill(&s);
    s.c.rows = s.rows;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        s.costs.board_m3 = rows[i].board;
        s.costs.excavation_m3 = rows[i].excavation;
        s.costs.concrete_m3 = rows[i].concrete;
        reprice(&s);
        cr_expect_eq(s.c.pick, rows[i].wins, "%zu: %ld", i, s.c.pick);
    }
}

/* The pick is the same option whatever the order of the rows. */
Test(price, order_does_not_matter)
{
    struct shelf s;
    fill(&s);
    s.rows[2].cost = s.rows[1].cost; /* a tie */
    s.costs.board_m3 = 3000.0;
    s.c.rows = s.rows;
    reprice(&s);
    const double cover_m = s.rows[s.c.pick].cover_m;
    for (size_t turn = 0; turn < ROWS; turn++) {
        const struct uf_choice first = s.rows[0];
        for (size_t i = 0; i + 1 < ROWS; i++) {
            s.rows[i] = s.rows[i + 1];
        }
        s.rows[ROWS - 1] = first;
        reprice(&s);
        cr_expect_eq(s.rows[s.c.pick].cover_m, cover_m);
    }
}
