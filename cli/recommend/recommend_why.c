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

/* "cover 1.50 m with 100 mm of board reaching 1.20 m past the tank" */
const char *uf_recommend_describe(char *text, size_t size, const struct uf_choice *row,
                                  enum uf_units units)
{
    if (row->thickness_m > 0.0) {
        (void)snprintf(text, size, "cover %s with %s of board reaching %s past the tank",
                       UF_TEXT(LENGTH, units, row->cover_m),
                       UF_TEXT(THICKNESS, units, row->thickness_m),
                       UF_TEXT(LENGTH, units, row->beyond_m));
    } else {
        (void)snprintf(text, size, "cover %s without board", UF_TEXT(LENGTH, units, row->cover_m));
    }
    return text;
}

const char *uf_recommend_margin(char *text, size_t size, size_t limit, double margin,
                                enum uf_units units)
{
    return uf_quantity_small(text, size, uf_quantity_kind_difference(uf_limits[limit].quantity),
                             units, margin);
}

static void say_money(struct uf_recommend *r, const struct uf_choice *row, enum uf_units units)
{
    const struct uf_costs *costs = &r->run.site->design.costs;
    if (isfinite(row->cost.total)) {
        say(r,
            "It comes to %.0f %s for digging, backfill, board and concrete at the prices given%s.",
            row->cost.total, costs->currency,
            row->cost.complete ? "" : " (what has no price is not in it)");
    } else {
        say(r, "It needs %s of digging and %s of board.",
            UF_TEXT(VOLUME, units, row->pit.excavation_m3),
            UF_TEXT(VOLUME, units, row->pit.board_m3));
    }
}

/* The best choice that holds with all of the changes, where it was asked for. */
static void say_sturdy(struct uf_recommend *r, enum uf_units units)
{
    const struct uf_recommend_sturdy *sturdy = &r->sturdy;
    char text[160];
    if (!sturdy->sought) {
        say(r, "`recommend --sturdy` looks for a choice that holds with each of these changes.");
        return;
    }
    if (sturdy->row < 0) {
        say(r, "None of the %zu other choices holds with all of these either%s%s.", sturdy->tried,
            sturdy->worst != NULL ? "; most fail against " : "",
            sturdy->worst != NULL ? sturdy->worst->name : "");
        return;
    }
    const struct uf_choice *pick = &r->choices->rows[r->choices->pick];
    const struct uf_choice *row = &r->choices->rows[sturdy->row];
    uf_recommend_describe(text, sizeof text, row, units);
    if (r->choices->priced && isfinite(row->cost.total)) {
        say(r, "To hold with all of them take %s, %.0f %s more.", text,
            row->cost.total - pick->cost.total, r->run.site->design.costs.currency);
    } else {
        say(r, "To hold with all of them take %s.", text);
    }
}

/* In one sentence, how many of the changes tried break a limit. */
static void say_fragile(struct uf_recommend *r, enum uf_units units)
{
    char names[240] = "";
    size_t broken = 0;
    for (size_t i = 0; i < r->n_variants; i++) {
        if (!r->variants[i].verdict.ok) {
            const size_t used = strlen(names);
            (void)snprintf(names + used, sizeof names - used, "%s%s", used > 0 ? ", " : "",
                           r->variants[i].row->name);
            broken++;
        }
    }
    if (r->n_variants > 0 && broken == 0) {
        say(r, "It also holds with each of %zu things changed in turn (see how sure).",
            r->n_variants);
    } else if (broken > 0) {
        say(r, "But of %zu things changed in turn %zu break a limit: %s (see how sure).",
            r->n_variants, broken, names);
        say_sturdy(r, units);
    }
}

static void say_pick(struct uf_recommend *r, enum uf_units units)
{
    const struct uf_choice *row = &r->choices->rows[r->choices->pick];
    const bool priced = r->choices->priced && isfinite(row->cost.total);
    char text[160];
    char margin[64];
    size_t met = 0;
    for (size_t i = 0; i < r->choices->n; i++) {
        met += r->choices->rows[i].ok;
    }
    say(r, "The pick is %s: of %zu choices %zu meet every limit, and it %s.",
        uf_recommend_describe(text, sizeof text, row, units), r->choices->n, met,
        priced ? "costs least" : "takes the least digging, then the least board");
    if (row->verdict.governs < uf_limit_count) {
        const size_t g = row->verdict.governs;
        say(r, "What governs is %s (%s), met with %s to spare.", uf_limits[g].label,
            uf_limits[g].key,
            uf_recommend_margin(margin, sizeof margin, g, row->verdict.margin[g], units));
    }
    say_fragile(r, units);
    say_money(r, row, units);
    if (r->choices->next_best >= 0) {
        const struct uf_choice *next = &r->choices->rows[r->choices->next_best];
        uf_recommend_describe(text, sizeof text, next, units);
        if (priced && isfinite(next->cost.total)) {
            say(r, "Next best is %s, %.0f %s more.", text, next->cost.total - row->cost.total,
                r->run.site->design.costs.currency);
        } else {
            say(r, "Next best is %s.", text);
        }
    } else {
        say(r, "No other choice meets every limit.");
    }
}

/* Where water or ice is what misses, and the nearest row is the last of what is offered:
   what could be offered beyond. */
static void say_offer_more(struct uf_recommend *r, const struct uf_choice *near,
                           enum uf_units units)
{
    const double greatest_m = r->run.site->design.limits.greatest_cover_m;
    double cover_m = 0.0, thickness_m = 0.0, beyond_m = 0.0;
    char more[200] = "";
    bool cold = false;
    for (size_t k = 0; k < uf_limit_count; k++) {
        cold = cold || (near->verdict.margin[k] < 0.0 && uf_limits[k].cold);
    }
    for (size_t i = 0; i < r->choices->n; i++) {
        cover_m = fmax(cover_m, r->choices->rows[i].cover_m);
        thickness_m = fmax(thickness_m, r->choices->rows[i].thickness_m);
        beyond_m = fmax(beyond_m, r->choices->rows[i].beyond_m);
    }
    if (near->cover_m >= cover_m && greatest_m > cover_m + 0.01) {
        (void)snprintf(more, sizeof more, "cover up to the %s that the maker allows",
                       UF_TEXT(LENGTH, units, greatest_m));
    } else if (near->cover_m >= cover_m && isnan(greatest_m)) {
        (void)snprintf(more, sizeof more, "more cover");
    }
    if (near->thickness_m >= thickness_m) {
        const size_t used = strlen(more);
        (void)snprintf(more + used, sizeof more - used, "%sthicker board", used > 0 ? ", " : "");
    }
    if (near->thickness_m > 0.0 && near->beyond_m >= beyond_m) {
        const size_t used = strlen(more);
        (void)snprintf(more + used, sizeof more - used, "%sboard reaching further",
                       used > 0 ? ", " : "");
    }
    if (cold && more[0] != '\0') {
        say(r, "It is the last of what `choices` offers; worth trying beyond it: %s.", more);
    }
}

/* Which limit stops how many rows, and what would have to give in the nearest one. */
static void say_none(struct uf_recommend *r, enum uf_units units)
{
    size_t stops[UF_LIMIT_MOST] = {0};
    size_t worst = 0;
    char text[160];
    char margin[64];
    for (size_t i = 0; i < r->choices->n; i++) {
        for (size_t k = 0; k < uf_limit_count; k++) {
            stops[k] += r->choices->rows[i].verdict.margin[k] < 0.0;
        }
    }
    for (size_t k = 1; k < uf_limit_count; k++) {
        worst = stops[k] > stops[worst] ? k : worst;
    }
    say(r, "None of the %zu choices meets every limit.", r->choices->n);
    if (stops[worst] > 0) {
        say(r, "What stands in the way of %s%zu of them is %s (%s).",
            stops[worst] == r->choices->n ? "all " : "", stops[worst], uf_limits[worst].label,
            uf_limits[worst].key);
    }
    if (r->choices->nearest < 0) {
        const struct uf_choice *first = &r->choices->rows[0];
        say(r, "None of them has a place in the ground; of the first, %s (%s).",
            uf_recommend_governs_words(first), uf_recommend_governs(first));
        return;
    }
    const struct uf_choice *near = &r->choices->rows[r->choices->nearest];
    say(r, "Nearest is %s.", uf_recommend_describe(text, sizeof text, near, units));
    for (size_t k = 0; k < uf_limit_count; k++) {
        if (near->verdict.margin[k] < 0.0) {
            say(r, "There, %s (%s) misses by %s: that much would have to give.", uf_limits[k].label,
                uf_limits[k].key,
                uf_recommend_margin(margin, sizeof margin, k, -near->verdict.margin[k], units));
        }
    }
    say_offer_more(r, near, units);
    if (near->uplift.needed_ballast_m3 > 0.0) {
        say(r, "Against uplift %s more concrete would do.",
            UF_TEXT(VOLUME, units, near->uplift.needed_ballast_m3));
    }
}

const char *uf_recommend_variant_words(char *text, size_t size, const struct uf_recommend *r,
                                       const struct uf_recommend_variant *variant)
{
    static const char *const methods[] = {
        [UF_COTE_KONRAD] = "Cote and Konrad", [UF_JOHANSEN] = "Johansen", [UF_KERSTEN] = "Kersten"};
    const enum uf_method designed = r->run.site->design.ground.method;
    const enum uf_method method = variant->job->design.ground.method;
    if (method != designed) {
        (void)snprintf(text, size, "conductivity is taken by %s instead of %s", methods[method],
                       methods[designed]);
    } else {
        (void)snprintf(text, size, "%s", variant->row->doc);
    }
    return text;
}

static void say_variants(struct uf_recommend *r, enum uf_units units)
{
    for (size_t i = 0; i < r->n_variants; i++) {
        const struct uf_recommend_variant *v = &r->variants[i];
        char broken[400] = "";
        char margin[64];
        char changed[120];
        (void)uf_recommend_variant_words(changed, sizeof changed, r, v);
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
    size_t skipped = 0;
    for (size_t i = 0; i < r->choices->n; i++) {
        skipped += !r->choices->rows[i].ran;
    }
    if (skipped > 0) {
        say(r,
            "%zu %s against uplift, wheel, cover or their place, which no winter changes. "
            "--all runs those that can be built too.",
            skipped,
            skipped == 1 ? "choice was not run through the winter: it fails"
                         : "choices were not run through the winter: they fail");
    }
}

void uf_recommend_reasons(struct uf_recommend *r, const struct uf_arguments *args)
{
    const struct uf_case *design = &r->run.site->design;
    r->n_why = 0;
    if (r->choices->pick >= 0) {
        say_pick(r, args->units);
    } else {
        say_none(r, args->units);
    }
    say_not_run(r);
    r->sure_from = r->n_why;
    say_variants(r, args->units);
    r->sure_to = r->n_why;
    if (isnan(design->limits.greatest_cover_m)) {
        say(r, "The tank's shell is unchecked: no limits.greatest_cover from its maker was given.");
    }
    if (r->run.weather->note[0] != '\0') {
        say(r, "On the weather: %s.", r->run.weather->note);
    }
}
