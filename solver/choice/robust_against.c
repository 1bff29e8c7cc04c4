#include "option.h"
#include "robust_private.h"
#include "solver/design/foam.h"

#include <math.h>
#include <string.h>

bool uf_robust_against_spare(struct uf_robust_against *why, const struct uf_case *design,
                             const struct uf_summary *summary, const struct uf_verdict *verdict)
{
    const struct uf_sensitivity *spare = &design->sensitivity;
    const struct uf_limit_facts facts = {.design = design, .summary = summary};
    double least = 0.0; /* margin less what is wanted, for the latter */
    for (size_t k = 0; k < uf_limit_count; k++) {
        const struct uf_limit *limit = &uf_limits[k];
        const double lack_K = verdict->margin[k] - spare->temperature_K;
        const double above_m =
            limit->above_frost_m != NULL ? limit->above_frost_m(&facts) : (double)NAN;
        const double lack_m = above_m - spare->depth_m;
        if (uf_limit_of_temperature(limit) && lack_K / spare->temperature_K < least) {
            least = lack_K / spare->temperature_K;
            *why = (struct uf_robust_against){NULL, k, verdict->margin[k], spare->temperature_K,
                                              limit->quantity};
        }
        if (lack_m / spare->depth_m < least) {
            least = lack_m / spare->depth_m;
            *why = (struct uf_robust_against){NULL, k, above_m, spare->depth_m, UF_QUANTITY_LENGTH};
        }
    }
    return !(least < 0.0);
}

/* What a verdict misses by most for its scale. */
static bool missed(struct uf_robust_against *out, const struct uf_variant *variant,
                   const struct uf_verdict *verdict)
{
    const size_t g = verdict->governs;
    if (verdict->ok || g >= uf_limit_count) {
        return false;
    }
    *out = (struct uf_robust_against){variant, g, verdict->margin[g], 0.0, uf_limits[g].quantity};
    return true;
}

bool uf_robust_against(struct uf_robust_against *out, const struct uf_robust *r, size_t row)
{
    const struct uf_choice *option = &r->choices->rows[row];
    const struct uf_variant *broken = r->broken[row];
    if (!option->buildable || option->trial == UF_CHOICE_ROBUST) {
        return false;
    }
    if (!option->ok) {
        return missed(out, NULL, &option->verdict);
    }
    if (option->trial != UF_CHOICE_FRAGILE) {
        return false;
    }
    if (broken == NULL) {
        const struct uf_case allowing = uf_robust_allowing(r, row);
        return !uf_robust_against_spare(out, &allowing, uf_choice_summary(r->choices, row),
                                        &option->verdict);
    }
    const struct uf_robust_trial trial = uf_robust_trial_of(r, row);
    struct uf_robust_case found;
    return uf_robust_case_of(&found, r, &trial, (size_t)(broken - uf_variants)) &&
           missed(out, broken, &found.verdict);
}

/* A row's value of a knob that has an order. */
static double value_of(const struct uf_choice *row, size_t knob)
{
    return knob < UF_OPTION_NUMBERS ? uf_option_value(row, knob)
           : row->type != NULL      ? row->type->strength_Pa
                                    : 0.0;
}

/* Is row a nearer to a row's value of a knob than row b? Of two as near, the better. */
static bool is_nearer(const struct uf_choices_result *choices, size_t a, size_t b,
                      const struct uf_choice *own, size_t knob)
{
    const double to_a = fabs(value_of(&choices->rows[a], knob) - value_of(own, knob));
    const double to_b = fabs(value_of(&choices->rows[b], knob) - value_of(own, knob));
    return to_a < to_b || (to_a == to_b &&
                           uf_choice_better(&choices->rows[a], &choices->rows[b], choices->priced));
}

size_t uf_robust_against_neighbours(struct uf_robust_neighbour *out,
                                    const struct uf_choices_result *choices, size_t row)
{
    const struct uf_choice *own = &choices->rows[row];
    long nearest[UF_OPTION_KNOBS][2]; /* the next lower, the next higher */
    size_t n = 0;
    memset(nearest, -1, sizeof nearest);
    for (size_t i = 0; i < choices->n; i++) {
        const struct uf_choice *other = &choices->rows[i];
        size_t k = 0;
        if (uf_option_differences(own, other, &k) != 1) {
            continue;
        }
        if (k == UF_OPTION_ANCHORS) {
            if (n < UF_ROBUST_NEIGHBOURS && uf_choice_better(other, own, choices->priced)) {
                out[n++] = (struct uf_robust_neighbour){i, k, true};
            }
            continue;
        }
        long *near = &nearest[k][value_of(other, k) > value_of(own, k)];
        if (*near < 0 || is_nearer(choices, i, (size_t)*near, own, k)) {
            *near = (long)i;
        }
    }
    for (size_t k = 0; k < UF_OPTION_KNOBS; k++) {
        for (size_t up = 0; up < 2; up++) {
            const long i = nearest[k][up];
            if (i >= 0 && n < UF_ROBUST_NEIGHBOURS &&
                uf_choice_better(&choices->rows[i], own, choices->priced)) {
                out[n++] = (struct uf_robust_neighbour){(size_t)i, k, up == 0};
            }
        }
    }
    return n;
}

size_t uf_robust_decisive(const struct uf_verdict *design, const struct uf_robust_case *cases,
                          size_t n)
{
    double least[2] = {INFINITY, INFINITY}; /* over all limits, over those that a case changes */
    size_t found[2] = {uf_limit_count, uf_limit_count};
    for (size_t k = 0; k < uf_limit_count; k++) {
        double low = design->margin[k], high = design->margin[k];
        for (size_t i = 0; i < n; i++) {
            low = fmin(low, cases[i].verdict.margin[k]); /* fmin passes a NAN over */
            high = fmax(high, cases[i].verdict.margin[k]);
        }
        if (uf_limits[k].capped && !(low < 0.0)) {
            continue;
        }
        const size_t both = high - low > 1e-6 * uf_limits[k].scale ? 2 : 1;
        for (size_t changed = 0; changed < both; changed++) {
            if (low / uf_limits[k].scale < least[changed]) {
                least[changed] = low / uf_limits[k].scale;
                found[changed] = k;
            }
        }
    }
    return found[found[1] < uf_limit_count ? 1 : 0];
}
