#include "io/text/message_text.h"
#include "recommend.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

__attribute__((format(printf, 2, 3))) static void say(struct uf_recommend *r, const char *format,
                                                      ...)
{
    if (r->n_why < UF_RECOMMEND_SENTENCES) {
        va_list args;
        va_start(args, format);
        (void)vsnprintf(r->why[r->n_why++], sizeof r->why[0], format, args);
        va_end(args);
    }
}

static void say_money(struct uf_recommend *r, const struct uf_choice *row, enum uf_units units)
{
    if (isfinite(row->cost.total)) {
        say(r, "Cost: %.0f %s at the prices given%s.", row->cost.total,
            r->run.site->design.costs.currency,
            row->cost.complete ? "" : "; what has no price is not in it");
    } else {
        say(r, "It needs %s of excavation and %s of board; no prices were given.",
            UF_TEXT(VOLUME, units, row->pit.excavation_m3),
            UF_TEXT(VOLUME, units, row->pit.board_m3));
    }
}

/* Each item that costs something. */
static void say_items(struct uf_recommend *r, const struct uf_choice *row)
{
    char parts[400] = "";
    for (size_t i = 0; i < UF_COST_ITEMS; i++) {
        if (row->cost.part[i] > 0.0) {
            uf_recommend_add(parts, sizeof parts, "%s%s %.0f", parts[0] != '\0' ? ", " : "",
                             uf_cost_rows[i].name, row->cost.part[i]);
        }
    }
    if (parts[0] != '\0') {
        say(r, "The cost is made of: %s.", parts);
    }
}

/* The case that brings a limit nearest; of limit uf_limit_count, that brings any nearest for its
   scale. */
static const struct uf_robust_case *nearest_case(const struct uf_recommend *r, size_t limit)
{
    const struct uf_robust_case *near = NULL;
    double least = INFINITY;
    for (size_t i = 0; i < r->n_variants; i++) {
        const struct uf_verdict *v = &r->variants[i].verdict;
        const size_t k = limit < uf_limit_count ? limit : v->governs;
        if (k < uf_limit_count && v->margin[k] / uf_limits[k].scale < least) {
            least = v->margin[k] / uf_limits[k].scale;
            near = &r->variants[i];
        }
    }
    return near;
}

/* How many of the sensitivity cases of the row shown fail, which comes nearest, what to measure. */
static void say_cases(struct uf_recommend *r, enum uf_units units)
{
    char names[300] = "", margin[64], words[160], ends[400];
    size_t broken = 0;
    if (r->shown < 0) {
        return;
    }
    const struct uf_verdict *own = &r->choices->rows[r->shown].verdict;
    for (size_t i = 0; i < r->n_variants; i++) {
        if (!r->variants[i].verdict.ok) {
            uf_recommend_add(names, sizeof names, "%s%s", broken++ > 0 ? ", " : "",
                             r->variants[i].row->name);
        }
    }
    const size_t g =
        broken > 0 ? uf_limit_count : uf_robust_decisive(own, r->variants, r->n_variants);
    const struct uf_robust_case *near = nearest_case(r, g);
    if (near == NULL) {
        return;
    }
    if (broken > 0) {
        say(r, "%zu of %zu sensitivity cases fail: %s.", broken, r->n_variants, names);
    } else {
        say(r,
            "Every limit is met in all of %zu sensitivity cases too. What would break it first: "
            "that %s; margin then %s on %s.",
            r->n_variants, uf_recommend_variant_words(words, sizeof words, r, near->row),
            uf_recommend_margin(margin, sizeof margin, g, near->verdict.margin[g], units),
            uf_limits[g].label);
    }
    say(r, "Measure on site before relying on it: %s.", near->row->measure);
    if (uf_recommend_ends(ends, sizeof ends, r, units)[0] != '\0') {
        say(r, "%s", ends);
    }
}

/* The option that costs next less, and why it is not the one. */
static void say_cheaper(struct uf_recommend *r, enum uf_units units)
{
    const struct uf_choices_result *c = r->choices;
    char text[240], why[500];
    long near = -1;
    for (size_t i = 0; i < c->n; i++) {
        const struct uf_choice *row = &c->rows[i];
        if (row->buildable && uf_choice_better(row, &c->rows[c->pick], c->priced) &&
            (near < 0 || uf_choice_better(&c->rows[near], row, c->priced))) {
            near = (long)i;
        }
    }
    if (near >= 0) {
        say(r, "Not the next cheaper, %s: %s.", uf_recommend_row(text, sizeof text, r, near, units),
            uf_recommend_against(why, sizeof why, r, (size_t)near, units));
    }
}

static void say_next(struct uf_recommend *r, enum uf_units units)
{
    const struct uf_choices_result *c = r->choices;
    char text[240];
    if (c->next_best < 0) {
        say(r, "No other option meets all of that.");
        return;
    }
    (void)uf_recommend_row(text, sizeof text, r, c->next_best, units);
    const double more = c->rows[c->next_best].cost.total - c->rows[c->pick].cost.total;
    if (c->priced && isfinite(more)) {
        say(r, "Next best: %s, %.0f %s more.", text, more, r->run.site->design.costs.currency);
    } else {
        say(r, "Next best: %s.", text);
    }
}

/* At which price of board and of excavation another option takes over. */
static void say_prices(struct uf_recommend *r, enum uf_units units)
{
    static const enum uf_cost_item items[] = {UF_COST_BOARD, UF_COST_EXCAVATION};
    const struct uf_costs *costs = &r->run.site->design.costs;
    const double volumes = uf_quantity_value(UF_QUANTITY_VOLUME, units, 1.0); /* in a m3 */
    char told[600] = "", text[240];
    for (size_t i = 0; i < 4; i++) {
        const enum uf_cost_item item = items[i / 2];
        const struct uf_price_change change = uf_price_change(r->choices, costs, item, i % 2 == 0);
        if (change.row >= 0) {
            uf_recommend_add(
                told, sizeof told, "%s%s %s %.0f per %s (now %.0f) %s", told[0] != '\0' ? "; " : "",
                uf_cost_rows[item].name, i % 2 == 0 ? "above" : "below", change.price / volumes,
                uf_quantity_unit(UF_QUANTITY_VOLUME, units), uf_cost_price(costs, item) / volumes,
                uf_recommend_row(text, sizeof text, r, change.row, units));
        }
    }
    if (told[0] != '\0') {
        say(r, "At other prices: %s.", told);
    }
}

static size_t count_ok(const struct uf_recommend *r)
{
    size_t met = 0;
    for (size_t i = 0; i < r->choices->n; i++) {
        met += r->choices->rows[i].ok;
    }
    return met;
}

/* What the grid makes of the option shown. */
static void say_grid(struct uf_recommend *r, enum uf_units units)
{
    struct uf_robust_grid grid;
    if (!uf_robust_grid(&grid, r->robust, (size_t)r->choices->pick)) {
        return;
    }
    struct uf_message told;
    uf_message_set(
        &told,
        UF_SAID(
            "On a grid of half the spacing the coldest water or wall is {} {} and undisturbed "
            "frost {} {}; the largest change of a temperature that is judged, {}, is asked of it "
            "besides the model's own error.",
            UF_ABOUT(DIFFERENCE, 2, fabs(grid.water_K)),
            UF_WORD(grid.water_K < 0.0 ? "colder" : "warmer"),
            UF_ABOUT(LENGTH, 1, fabs(grid.frost_m)),
            UF_WORD(grid.frost_m < 0.0 ? "shallower" : "deeper"),
            UF_ABOUT(DIFFERENCE, 2, grid.judged_K)));
    say(r, "%s", UF_MESSAGE(units, &told));
}

static void say_pick(struct uf_recommend *r, const struct uf_arguments *args)
{
    const struct uf_choice *row = &r->choices->rows[r->choices->pick];
    const bool priced = r->choices->priced && isfinite(row->cost.total);
    char text[240];
    char margin[64];
    say(r, "Recommended: %s.",
        uf_recommend_row(text, sizeof text, r, r->choices->pick, args->units));
    say_money(r, row, args->units);
    if (row->verdict.governs < uf_limit_count) {
        const size_t g = row->verdict.governs;
        say(r, "Closest limit: %s (%s), margin %s.", uf_limits[g].label, uf_limits[g].key,
            uf_recommend_margin(margin, sizeof margin, g, row->verdict.margin[g], args->units));
    }
    say_cases(r, args->units);
    r->n_brief = r->n_why;
    say(r, "Of %zu options %zu meet every limit in the design case; %s it %s.", r->choices->n,
        count_ok(r), args->nominal ? "of these" : "of those that are robust",
        priced ? "costs least" : "takes the least excavation, then the least board");
    say_items(r, row);
    say_grid(r, args->units);
    say_cheaper(r, args->units);
    say_next(r, args->units);
    say_prices(r, args->units);
}

/* What makes an option robust, where none is. */
static void say_measure(struct uf_recommend *r, enum uf_units units)
{
    const struct uf_robust_measure *m = uf_robust_measure(r->robust);
    char text[240], why[500];
    if (m->from < 0) {
        return;
    }
    if (m->from != r->choices->nearest) {
        say(r, "Nearest to robust: %s; %s.", uf_recommend_row(text, sizeof text, r, m->from, units),
            uf_recommend_against(why, sizeof why, r, (size_t)m->from, units));
    }
    if (m->name == NULL) {
        say(r,
            "No measure tried makes it robust: thicker or wider board, better lid, riser sleeve, "
            "more cover, "
            "nor all of them together.");
        return;
    }
    (void)uf_recommend_describe(text, sizeof text, r, &m->choice, &m->design, units);
    if (isfinite(m->choice.cost.total)) {
        say(r, "First measure that makes it robust: %s: %s; %.0f %s, %.0f more.", m->name, text,
            m->choice.cost.total, r->run.site->design.costs.currency,
            m->choice.cost.total - r->choices->rows[m->from].cost.total);
    } else {
        say(r, "First measure that makes it robust: %s: %s.", m->name, text);
    }
}

/* Which limit stops how many rows. */
static void say_stops(struct uf_recommend *r)
{
    size_t stops[UF_LIMIT_MOST] = {0};
    size_t worst = 0;
    for (size_t i = 0; i < r->choices->n; i++) {
        for (size_t k = 0; k < uf_limit_count; k++) {
            stops[k] += r->choices->rows[i].verdict.margin[k] < 0.0;
        }
    }
    for (size_t k = 1; k < uf_limit_count; k++) {
        worst = stops[k] > stops[worst] ? k : worst;
    }
    say(r, "None of the %zu options meets every limit.", r->choices->n);
    if (stops[worst] > 0) {
        say(r, "What stands in the way of %s%zu of them is %s (%s).",
            stops[worst] == r->choices->n ? "all " : "", stops[worst], uf_limits[worst].label,
            uf_limits[worst].key);
    }
}

/* What a row misses: the limit that governs, or every other. */
static void say_missed(struct uf_recommend *r, const struct uf_choice *row, enum uf_units units,
                       bool governing)
{
    char margin[64];
    for (size_t k = 0; k < uf_limit_count; k++) {
        if (row->verdict.margin[k] < 0.0 && (k == row->verdict.governs) == governing) {
            say(r, "There, %s (%s) misses by %s.", uf_limits[k].label, uf_limits[k].key,
                uf_recommend_margin(margin, sizeof margin, k, -row->verdict.margin[k], units));
        }
    }
}

static void say_none(struct uf_recommend *r, enum uf_units units)
{
    char text[500];
    if (count_ok(r) > 0) {
        say(r, "No option is robust: %zu of %zu meet every limit, in the design case alone.",
            count_ok(r), r->choices->n);
        say_measure(r, units);
        say_cases(r, units);
        r->n_brief = r->n_why;
        say(r,
            "Robust is what meets every limit with the model's own error as margin, and in every "
            "sensitivity case too; --nominal asks for the design case alone.");
        return;
    }
    say_stops(r);
    if (r->choices->nearest < 0) {
        const struct uf_choice *first = &r->choices->rows[0];
        say(r, "None of them has a place in the ground; of the first, %s (%s).",
            uf_recommend_governs_words(text, sizeof text, first, units),
            uf_recommend_governs(first));
        r->n_brief = r->n_why;
        return;
    }
    say(r, "Nearest is %s.", uf_recommend_row(text, sizeof text, r, r->choices->nearest, units));
    const struct uf_choice *near = &r->choices->rows[r->choices->nearest];
    say_missed(r, near, units, true);
    say_measure(r, units);
    r->n_brief = r->n_why;
    say_missed(r, near, units, false);
    (void)uf_recommend_mend(text, sizeof text, r, (size_t)r->choices->nearest, units);
    if (text[0] != '\0') {
        say(r, "There, %s.", text);
    }
}

static void say_variants(struct uf_recommend *r, enum uf_units units)
{
    for (size_t i = 0; i < r->n_variants; i++) {
        const struct uf_robust_case *v = &r->variants[i];
        char broken[400] = "";
        char margin[64];
        char changed[120];
        (void)uf_recommend_variant_words(changed, sizeof changed, r, v->row);
        for (size_t k = 0; k < uf_limit_count; k++) {
            if (v->verdict.margin[k] < 0.0) {
                const size_t used = strlen(broken);
                (void)snprintf(
                    broken + used, sizeof broken - used, "%s%s by %s", used > 0 ? ", " : "",
                    uf_limits[k].key,
                    uf_recommend_margin(margin, sizeof margin, k, -v->verdict.margin[k], units));
            }
        }
        char coldest[64] = "";
        if (isfinite(v->water_degC)) {
            (void)snprintf(coldest, sizeof coldest, " (coldest water or wall %s)",
                           UF_TEXT(TEMPERATURE, units, v->water_degC));
        }
        if (broken[0] == '\0') {
            say(r, "If %s, every limit still holds%s.", changed, coldest);
        } else {
            say(r, "If %s, it no longer holds: %s%s.", changed, broken, coldest);
        }
    }
}

/* Choices that were judged without a winter, and by what. */
static void say_not_run(struct uf_recommend *r)
{
    char by[300] = "";
    size_t skipped = 0, unfit = 0, missed[UF_LIMIT_MOST] = {0};
    for (size_t i = 0; i < r->choices->n; i++) {
        const struct uf_choice *row = &r->choices->rows[i];
        skipped += !row->ran;
        unfit += !row->buildable;
        for (size_t k = 0; k < uf_limit_count; k++) {
            missed[k] += !row->ran && row->buildable && row->verdict.margin[k] < 0.0;
        }
    }
    for (size_t k = 0; k < uf_limit_count; k++) {
        if (missed[k] > 0) {
            uf_recommend_add(by, sizeof by, by[0] == '\0' ? "%s fails in %zu" : ", %s in %zu",
                             uf_limits[k].brief, missed[k]);
        }
    }
    if (unfit > 0) {
        uf_recommend_add(by, sizeof by, "%s%zu cannot be built", by[0] != '\0' ? ", " : "", unfit);
    }
    if (skipped > 0) {
        say(r,
            "%zu %s not run through the winter: %s, which no winter changes. --all runs those that "
            "can be built too.",
            skipped, skipped == 1 ? "option was" : "options were", by);
    }
}

void uf_recommend_reasons(struct uf_recommend *r, const struct uf_arguments *args)
{
    const struct uf_case *design = &r->run.site->design;
    r->n_why = 0;
    if (r->choices->pick >= 0) {
        say_pick(r, args);
    } else {
        say_none(r, args->units);
    }
    say_not_run(r);
    r->sure_from = r->n_why;
    say_variants(r, args->units);
    r->sure_to = r->n_why;
    for (size_t k = 0; k < uf_limit_count; k++) {
        const char *unchecked = uf_limit_unchecked(&uf_limits[k], design);
        if (unchecked != NULL) {
            say(r, "%s", unchecked);
        }
    }
    if (r->run.weather->note[0] != '\0') {
        say(r, "On the weather: %s.", r->run.weather->note);
    }
}
