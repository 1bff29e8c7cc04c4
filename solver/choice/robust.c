#include "robust.h"

#include "measure.h"
#include "robust_private.h"
#include "solver/heat/slice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool uf_robust_spare(const struct uf_case *design, const struct uf_summary *summary,
                     const struct uf_verdict *verdict)
{
    struct uf_robust_against why;
    return verdict->ok && uf_robust_against_spare(&why, design, summary, verdict);
}

bool uf_robust_may_spare(const struct uf_robust *r, const struct uf_case *design,
                         const struct uf_summary *summary, const struct uf_verdict *verdict)
{
    const struct uf_verdict best = uf_ends_warmest(verdict, design, summary);
    return uf_robust_spare(design, summary, uf_robust_screened(r, design) ? &best : verdict);
}

bool uf_robust_change(struct uf_case *trial, const struct uf_robust *r,
                      const struct uf_case *design, size_t v)
{
    *trial = *design;
    return (design->sensitivity.left_out >> v & 1UL) == 0 && uf_variants[v].apply(trial) &&
           !(uf_variants[v].weather == UF_VARIANT_RARER && r->input.rarer == NULL) &&
           !(uf_variants[v].weather == UF_VARIANT_SURFACE && r->input.weather == NULL);
}

enum uf_status uf_robust_judge(struct uf_verdict *out, const struct uf_case *trial,
                               const struct uf_summary *summary, struct uf_error *err)
{
    struct uf_choice row = {.buildable = true};
    const enum uf_status status = uf_choice_weigh(&row, trial, err);
    if (status == UF_OK) {
        *out = uf_choice_verdict(&row, trial, summary);
    }
    return status;
}

/* Asks for a case's run, unless nothing changes. */
static enum uf_status ask_run(struct uf_robust *r, const struct uf_case *design, size_t *cell,
                              size_t v, struct uf_error *err)
{
    struct uf_case trial;
    *cell = UF_ROBUST_IDLE;
    return uf_robust_change(&trial, r, design, v) ? uf_robust_ask(r, &trial, v, cell, err) : UF_OK;
}

/* The cases that are tried first, then the others. */
static enum uf_status first(struct uf_robust *r, struct uf_robust_trial *t, bool *waits,
                            struct uf_error *err)
{
    const struct uf_robust_stretch stretch = {0, r->n_first, 1};
    return uf_robust_pass(r, t, &stretch, waits, err);
}

static enum uf_status others(struct uf_robust *r, struct uf_robust_trial *t, bool *waits,
                             struct uf_error *err)
{
    const struct uf_robust_stretch stretch = {r->n_first, UF_VARIANTS, UF_VARIANTS};
    return uf_robust_pass(r, t, &stretch, waits, err);
}

enum uf_status uf_robust_try(struct uf_robust *r, struct uf_robust_trial *t, struct uf_error *err)
{
    static const struct {
        enum uf_status (*take)(struct uf_robust *, struct uf_robust_trial *, bool *,
                               struct uf_error *);
        bool of_cases;
    } steps[] = {{first, true},
                 {uf_robust_close, true},
                 {uf_robust_design, false},
                 {others, true},
                 {uf_robust_cases_near, true}};
    bool waits = false;
    enum uf_status status = UF_OK;
    t->state = UF_CHOICE_UNTRIED;
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        const bool due = !steps[i].of_cases || !r->input.nominal;
        if (due && status == UF_OK && !waits && t->state == UF_CHOICE_UNTRIED) {
            status = steps[i].take(r, t, &waits, err);
        }
    }
    if (status == UF_OK && !waits && t->state == UF_CHOICE_UNTRIED) {
        t->state = UF_CHOICE_ROBUST;
    }
    if (t->state == UF_CHOICE_FRAGILE && t->broken != NULL) {
        uf_robust_broke(r, t->broken);
    }
    return status;
}

struct uf_robust_trial uf_robust_trial_of(const struct uf_robust *r, size_t row)
{
    return (struct uf_robust_trial){.design = &r->choices->designs[row],
                                    .screen = r->choices->rows[row].screen,
                                    .cells = &r->cells[row * UF_ROBUST_CELLS]};
}

static enum uf_status try_row(struct uf_robust *r, size_t row, struct uf_error *err)
{
    struct uf_robust_trial t = uf_robust_trial_of(r, row);
    const enum uf_status status = uf_robust_try(r, &t, err);
    r->choices->rows[row].trial = t.state;
    r->broken[row] = t.broken;
    uf_robust_take(r, row);
    if (t.state == UF_CHOICE_FRAGILE) {
        uf_robust_drop_record(r, &t);
    }
    return status;
}

void uf_robust_take(struct uf_robust *r, size_t row)
{
    struct uf_choice *own = &r->choices->rows[row];
    const struct uf_robust_trial t = uf_robust_trial_of(r, row);
    const struct uf_job *job = uf_robust_own(r, &t);
    if (own->ran && job->done && job->status == UF_OK) {
        own->run = (size_t)(job - r->choices->bank.jobs);
        own->solid = uf_slice_wanted(&job->design);
        own->verdict = uf_choice_verdict(own, t.design, &job->summary);
        own->ok = own->verdict.ok;
    }
}

/* Does an option hold in the design case, or may it yet in three dimensions? */
static bool may_hold(const struct uf_robust *r, size_t i)
{
    const struct uf_choice *row = &r->choices->rows[i];
    const struct uf_case *design = &r->choices->designs[i];
    return row->ran && uf_robust_screened(r, design)
               ? uf_ends_warmest(&row->verdict, design, uf_choice_summary(r->choices, i)).ok
               : row->ok;
}

/* The options that are ok with the allowance as margin, the best first. */
static void sort_rows(struct uf_robust *r)
{
    struct uf_choices_result *c = r->choices;
    for (size_t i = 0; i < c->n; i++) {
        struct uf_choice *row = &c->rows[i];
        size_t at = r->n_order;
        const struct uf_summary *summary = uf_choice_summary(c, i);
        row->trial = row->ok && r->input.nominal && !uf_robust_screened(r, &c->designs[i])
                         ? UF_CHOICE_ROBUST
                         : UF_CHOICE_UNTRIED;
        if (!may_hold(r, i)) {
            continue;
        }
        if (!r->input.nominal && !uf_robust_may_spare(r, &c->designs[i], summary, &row->verdict)) {
            row->trial = UF_CHOICE_FRAGILE;
            continue;
        }
        for (; at > 0 && uf_choice_better(row, &c->rows[r->order[at - 1]], c->priced); at--) {
            r->order[at] = r->order[at - 1];
        }
        r->order[at] = i;
        r->n_order++;
    }
}

/* The first robust row or untried row of the order after a rank; n_order: none. */
static size_t next_open(const struct uf_robust *r, size_t from)
{
    size_t k = from;
    while (k < r->n_order && r->choices->rows[r->order[k]].trial == UF_CHOICE_FRAGILE) {
        k++;
    }
    return k;
}

/* The row that must be tried next; sets pick and next_best as far as they are known. -1: none. */
static long wanted(struct uf_robust *r)
{
    static const enum uf_cost_item items[] = {UF_COST_BOARD, UF_COST_EXCAVATION};
    struct uf_choices_result *c = r->choices;
    size_t k = 0;
    long *const found[] = {&c->pick, &c->next_best};
    c->pick = c->next_best = -1;
    for (size_t i = 0; i < 2; i++, k++) {
        k = next_open(r, k);
        if (k == r->n_order) {
            break;
        }
        if (c->rows[r->order[k]].trial == UF_CHOICE_UNTRIED) {
            return (long)r->order[k];
        }
        *found[i] = (long)r->order[k];
    }
    for (size_t i = 0; i < 4; i++) {
        const struct uf_price_change change =
            uf_price_change(c, &r->input.design->costs, items[i / 2], i % 2 == 0);
        if (change.row >= 0 && c->rows[change.row].trial == UF_CHOICE_UNTRIED) {
            return change.row;
        }
    }
    return -1;
}

enum uf_status uf_robust_create(struct uf_robust **out, struct uf_choices_result *choices,
                                const struct uf_robust_input *input, struct uf_error *err)
{
    struct uf_robust *r = calloc(1, sizeof *r);
    *out = NULL;
    if (r != NULL) {
        r->choices = choices;
        r->input = *input;
        uf_robust_order(r);
        r->cells = malloc(choices->n * UF_ROBUST_CELLS * sizeof *r->cells);
        r->grids = malloc(2 * choices->n * sizeof *r->grids);
        r->broken = calloc(choices->n, sizeof *r->broken);
        r->order = calloc(choices->n, sizeof *r->order);
        uf_measure_begin(&r->search);
    }
    if (r == NULL || r->cells == NULL || r->grids == NULL || r->broken == NULL ||
        r->order == NULL) {
        uf_robust_free(r);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the sensitivity cases");
    }
    for (size_t i = 0; i < choices->n * UF_ROBUST_CELLS; i++) {
        r->cells[i] = UF_ROBUST_UNASKED;
    }
    for (size_t i = 0; i < 2 * choices->n; i++) {
        r->grids[i] = UF_ROBUST_UNASKED;
    }
    sort_rows(r);
    *out = r;
    return UF_OK;
}

void uf_robust_free(struct uf_robust *r)
{
    if (r != NULL) {
        for (size_t v = 0; v < UF_VARIANTS; v++) {
            uf_forcing_free(r->surfaces[v]);
        }
        free(r->cells);
        free(r->grids);
        free(r->broken);
        free(r->order);
        free(r);
    }
}

enum uf_status uf_robust_next(struct uf_job **jobs, size_t *n, struct uf_robust *r,
                              struct uf_error *err)
{
    enum uf_status status = UF_OK;
    *n = 0;
    while (status == UF_OK) {
        const long row = wanted(r);
        if (row < 0) {
            bool known = true;
            if (!r->input.nominal && r->choices->pick >= 0) {
                status = uf_robust_halve(r, (size_t)r->choices->pick, &known, err);
            }
            if (!known || wanted(r) < 0) {
                break;
            }
            continue;
        }
        status = try_row(r, (size_t)row, err);
        if (status == UF_OK && r->choices->rows[row].trial == UF_CHOICE_UNTRIED) {
            status = uf_robust_fill(r, err);
            break;
        }
    }
    if (status == UF_OK && !r->input.nominal && wanted(r) < 0 && r->choices->pick < 0) {
        status = uf_measure_next(r, err);
    }
    *jobs = uf_bank_pending(&r->choices->bank, n);
    return status;
}

enum uf_status uf_robust_look(struct uf_robust *r, size_t row, struct uf_error *err)
{
    struct uf_robust_trial t = uf_robust_trial_of(r, row);
    enum uf_status status = uf_robust_ask_own(r, &t, err);
    for (size_t v = 0; v < UF_VARIANTS && status == UF_OK; v++) {
        if (t.cells[v] == UF_ROBUST_UNASKED) {
            status = ask_run(r, t.design, &t.cells[v], v, err);
        }
    }
    return status;
}

size_t uf_robust_cases(struct uf_robust_case *out, const struct uf_robust *r, size_t row)
{
    const struct uf_robust_trial t = uf_robust_trial_of(r, row);
    size_t n = 0;
    for (size_t v = 0; v < UF_VARIANTS; v++) {
        n += uf_robust_case_of(&out[n], r, &t, v) ? 1 : 0;
    }
    return n;
}

const struct uf_robust_measure *uf_robust_measure(const struct uf_robust *r)
{
    return &r->search.found;
}
