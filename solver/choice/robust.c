#include "robust.h"

#include "measure.h"
#include "robust_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define AHEAD 8 /* options whose decisive cases are run in one batch */

bool uf_robust_spare(const struct uf_case *design, const struct uf_summary *summary,
                     const struct uf_verdict *verdict)
{
    struct uf_robust_against why;
    return verdict->ok && uf_robust_against_spare(&why, design, summary, verdict);
}

/* The design with the case's change; false: it changes nothing, or is switched off. */
static bool change(struct uf_case *trial, const struct uf_robust *r, const struct uf_case *design,
                   size_t v)
{
    *trial = *design;
    return (design->sensitivity.left_out >> v & 1UL) == 0 && uf_variants[v].apply(trial) &&
           !(uf_variants[v].weather == UF_VARIANT_RARER && r->input.rarer == NULL) &&
           !(uf_variants[v].weather == UF_VARIANT_SURFACE && r->input.weather == NULL);
}

/* What drives a case. A surface is the same in every option: made once. */
static enum uf_status forcing_of(const struct uf_forcing **out, struct uf_robust *r,
                                 const struct uf_case *trial, size_t v, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    if (uf_variants[v].weather == UF_VARIANT_SURFACE && r->surfaces[v] == NULL) {
        status = uf_forcing_create(&r->surfaces[v], &trial->surface, r->input.weather, err);
    }
    const struct uf_forcing *const rows[] = {r->input.forcing, r->input.rarer, r->surfaces[v]};
    *out = rows[uf_variants[v].weather];
    return status;
}

/* Verdict of a case: with its run's summary, or by statics alone. */
static enum uf_status judge(struct uf_verdict *out, const struct uf_case *trial,
                            const struct uf_summary *summary, struct uf_error *err)
{
    struct uf_choice row = {.buildable = true};
    const enum uf_status status = uf_choice_static(&row, trial, err);
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
    const struct uf_forcing *forcing = NULL;
    *cell = UF_ROBUST_IDLE;
    if (!change(&trial, r, design, v)) {
        return UF_OK;
    }
    const enum uf_status status = forcing_of(&forcing, r, &trial, v, err);
    return status == UF_OK
               ? uf_bank_ask(cell, &r->choices->bank, &trial, forcing, &r->input.options, err)
               : status;
}

/* The same, unless statics fail already (*holds false). */
static enum uf_status ask(struct uf_robust *r, const struct uf_case *design, size_t *cell, size_t v,
                          bool *holds, struct uf_error *err)
{
    struct uf_case trial;
    struct uf_verdict verdict = {.ok = true};
    if (!change(&trial, r, design, v)) {
        *cell = UF_ROBUST_IDLE;
        return UF_OK;
    }
    enum uf_status status = judge(&verdict, &trial, NULL, err);
    *holds = verdict.ok;
    if (status == UF_OK && verdict.ok) {
        status = ask_run(r, design, cell, v, err);
    }
    return status;
}

/* Judges what was run of a case. */
static enum uf_status hold(struct uf_robust *r, const struct uf_case *design, size_t cell, size_t v,
                           bool *holds, struct uf_error *err)
{
    struct uf_case trial;
    struct uf_verdict verdict = {.ok = true};
    const struct uf_job *job = &r->choices->bank.jobs[cell];
    if (job->status != UF_OK) {
        if (err != NULL) {
            *err = job->err;
        }
        return job->status;
    }
    (void)change(&trial, r, design, v);
    const enum uf_status status = judge(&verdict, &trial, &job->summary, err);
    *holds = verdict.ok;
    return status;
}

/* One pass over the cases that broke an option before, or over the others. */
static enum uf_status pass(struct uf_robust *r, struct uf_robust_trial *t, bool breakers,
                           bool *waits, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    *waits = false;
    for (size_t v = 0; v < UF_VARIANTS && status == UF_OK; v++) {
        bool holds = true;
        if (r->breaker[v] != breakers && t->cells[v] == UF_ROBUST_UNASKED) {
            continue;
        }
        if (t->cells[v] == UF_ROBUST_UNASKED) {
            status = ask(r, t->design, &t->cells[v], v, &holds, err);
        }
        const bool runs = t->cells[v] < UF_ROBUST_IDLE;
        const bool done = runs && r->choices->bank.jobs[t->cells[v]].done;
        *waits = *waits || (runs && !done);
        if (status == UF_OK && done) {
            status = hold(r, t->design, t->cells[v], v, &holds, err);
        }
        if (status == UF_OK && !holds) {
            t->state = UF_CHOICE_FRAGILE;
            t->broken = &uf_variants[v];
            r->breaker[v] = true;
            return UF_OK;
        }
    }
    return status;
}

enum uf_status uf_robust_try(struct uf_robust *r, struct uf_robust_trial *t, struct uf_error *err)
{
    bool waits = false;
    t->state = UF_CHOICE_UNTRIED;
    enum uf_status status = pass(r, t, true, &waits, err);
    if (status == UF_OK && !waits && t->state == UF_CHOICE_UNTRIED) {
        status = pass(r, t, false, &waits, err);
    }
    if (status == UF_OK && !waits && t->state == UF_CHOICE_UNTRIED) {
        t->state = UF_CHOICE_ROBUST;
    }
    return status;
}

static enum uf_status try_row(struct uf_robust *r, size_t row, struct uf_error *err)
{
    struct uf_robust_trial t = {.design = &r->choices->designs[row],
                                .cells = &r->cells[row * UF_VARIANTS]};
    const enum uf_status status = uf_robust_try(r, &t, err);
    r->choices->rows[row].trial = t.state;
    r->broken[row] = t.broken;
    return status;
}

/* Asks for the decisive cases of the next options too, so that a batch fills the cores. */
static enum uf_status look_ahead(struct uf_robust *r, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    size_t n = 0;
    for (size_t k = 0; k < r->n_order && n < AHEAD && status == UF_OK; k++) {
        const size_t row = r->order[k];
        bool any = false;
        for (size_t v = 0; v < UF_VARIANTS; v++) {
            any = any || r->breaker[v];
        }
        if (any && r->choices->rows[row].trial == UF_CHOICE_UNTRIED) {
            bool waits = false;
            struct uf_robust_trial t = {.design = &r->choices->designs[row],
                                        .cells = &r->cells[row * UF_VARIANTS]};
            status = pass(r, &t, true, &waits, err);
            n++;
        }
    }
    return status;
}

/* The options that are ok with the allowance as margin, the best first. */
static void sort_rows(struct uf_robust *r)
{
    struct uf_choices_result *c = r->choices;
    for (size_t i = 0; i < c->n; i++) {
        struct uf_choice *row = &c->rows[i];
        size_t at = r->n_order;
        const struct uf_summary *summary = uf_choice_summary(c, i);
        row->trial = row->ok && r->input.nominal ? UF_CHOICE_ROBUST : UF_CHOICE_UNTRIED;
        if (!row->ok) {
            continue;
        }
        if (!r->input.nominal && !uf_robust_spare(&c->designs[i], summary, &row->verdict)) {
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
        r->cells = malloc(choices->n * UF_VARIANTS * sizeof *r->cells);
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
    for (size_t i = 0; i < choices->n * UF_VARIANTS; i++) {
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
            status = look_ahead(r, err);
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
    enum uf_status status = UF_OK;
    for (size_t v = 0; v < UF_VARIANTS && status == UF_OK; v++) {
        size_t *cell = &r->cells[row * UF_VARIANTS + v];
        if (*cell == UF_ROBUST_UNASKED) {
            status = ask_run(r, &r->choices->designs[row], cell, v, err);
        }
    }
    return status;
}

bool uf_robust_judge(struct uf_verdict *out, const struct uf_robust *r,
                     const struct uf_case *design, size_t v, const struct uf_summary *summary)
{
    struct uf_case trial;
    return change(&trial, r, design, v) && judge(out, &trial, summary, NULL) == UF_OK;
}

const struct uf_summary *uf_robust_summary(const struct uf_robust *r, size_t cell)
{
    return cell < UF_ROBUST_IDLE && r->choices->bank.jobs[cell].done
               ? &r->choices->bank.jobs[cell].summary
               : NULL;
}

size_t uf_robust_cases(struct uf_robust_case *out, const struct uf_robust *r, size_t row)
{
    size_t n = 0;
    for (size_t v = 0; v < UF_VARIANTS; v++) {
        const struct uf_summary *summary = uf_robust_summary(r, r->cells[row * UF_VARIANTS + v]);
        if (summary != NULL) {
            out[n].row = &uf_variants[v];
            out[n].water_degC = uf_limit_water_degC(summary);
            n += uf_robust_judge(&out[n].verdict, r, &r->choices->designs[row], v, summary);
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
        for (size_t changed = 0; changed <= (high - low > 1e-6 * uf_limits[k].scale); changed++) {
            if (low / uf_limits[k].scale < least[changed]) {
                least[changed] = low / uf_limits[k].scale;
                found[changed] = k;
            }
        }
    }
    return found[found[1] < uf_limit_count ? 1 : 0];
}

const struct uf_robust_measure *uf_robust_measure(const struct uf_robust *r)
{
    return &r->search.found;
}
