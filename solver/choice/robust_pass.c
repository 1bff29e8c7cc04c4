#include "robust_private.h"
#include "solver/heat/slice.h"

#include <string.h>

void uf_robust_order(struct uf_robust *r)
{
    r->n_first = 0;
    for (size_t harsh = 1, n = 0; n < UF_VARIANTS; harsh--) {
        for (size_t v = 0; v < UF_VARIANTS; v++) {
            if (uf_variants[v].harsh == (harsh == 1)) {
                r->turn[n++] = v;
            }
        }
        r->n_first = harsh == 1 ? n : r->n_first;
    }
}

void uf_robust_broke(struct uf_robust *r, const struct uf_variant *by)
{
    const size_t v = (size_t)(by - uf_variants);
    size_t at = 0;
    while (r->turn[at] != v) {
        at++;
    }
    memmove(&r->turn[1], &r->turn[0], at * sizeof r->turn[0]);
    r->turn[0] = v;
    r->n_first += at >= r->n_first ? 1 : 0;
}

/* Asks for a case's run, unless nothing changes there or statics fail already (*holds false). */
static enum uf_status ask(struct uf_robust *r, const struct uf_robust_trial *t, size_t v,
                          bool *holds, struct uf_error *err)
{
    struct uf_case trial;
    struct uf_verdict verdict = {.ok = true};
    if (!uf_robust_change(&trial, r, t->design, v)) {
        t->cells[v] = UF_ROBUST_IDLE;
        return UF_OK;
    }
    const enum uf_status status = uf_robust_judge(&verdict, &trial, NULL, err);
    *holds = verdict.ok;
    return status == UF_OK && verdict.ok ? uf_robust_ask(r, &trial, v, &t->cells[v], err) : status;
}

/* Judges what was run of a case. */
static enum uf_status hold(struct uf_robust *r, const struct uf_robust_trial *t, size_t v,
                           bool *holds, struct uf_error *err)
{
    struct uf_case trial;
    struct uf_verdict verdict = {.ok = true};
    const struct uf_job *job = &r->choices->bank.jobs[t->cells[v]];
    if (job->status != UF_OK) {
        if (err != NULL) {
            *err = job->err;
        }
        return job->status;
    }
    (void)uf_robust_change(&trial, r, t->design, v);
    const enum uf_status status = uf_robust_judge(&verdict, &trial, &job->summary, err);
    const struct uf_verdict best = uf_ends_warmest(&verdict, &trial, &job->summary);
    *holds = uf_robust_screened(r, t->design) ? best.ok : verdict.ok;
    return status;
}

enum uf_status uf_robust_pass(struct uf_robust *r, struct uf_robust_trial *t,
                              const struct uf_robust_stretch *stretch, bool *waits,
                              struct uf_error *err)
{
    enum uf_status status = UF_OK;
    size_t running = 0;
    bool known = true;
    for (size_t k = stretch->from; k < stretch->to && status == UF_OK; k++) {
        const size_t v = r->turn[k];
        const size_t *cell = &t->cells[v];
        bool holds = true;
        if (*cell == UF_ROBUST_UNASKED && running < stretch->at_once) {
            status = ask(r, t, v, &holds, err);
        }
        const bool done = *cell < UF_ROBUST_IDLE && r->choices->bank.jobs[*cell].done;
        running += *cell < UF_ROBUST_IDLE && !done;
        known = known && (done || *cell == UF_ROBUST_IDLE || !holds);
        if (status == UF_OK && known && done) {
            status = hold(r, t, v, &holds, err);
        }
        if (status == UF_OK && known && !holds) {
            t->state = UF_CHOICE_FRAGILE;
            t->broken = &uf_variants[v];
            return UF_OK;
        }
    }
    *waits = !known;
    return status;
}

/* What a run costs, beside a plane section by the fast integrator. */
static size_t cost_of(const struct uf_job *job)
{
    return uf_slice_wanted(&job->design) || job->options.season.integrator == UF_BDF ? 8 : 1;
}

/* Would one more run make the batch longer, the longest being handed out first? */
static bool full(const struct uf_robust *r)
{
    const struct uf_bank *bank = &r->choices->bank;
    size_t most = 1;
    size_t all = 0;
    for (size_t i = bank->begun; i < bank->n; i++) {
        const size_t cost = cost_of(&bank->jobs[i]);
        most = cost > most ? cost : most;
        all += cost;
    }
    return all >= r->input.at_once * most;
}

static bool is_done(const struct uf_robust *r, size_t cell)
{
    return cell < UF_ROBUST_IDLE && r->choices->bank.jobs[cell].done;
}

/* A trial that is neither judged nor fails in a case that was run before its turn. */
static bool is_open(struct uf_robust *r, const struct uf_robust_trial *t, size_t row)
{
    bool holds = r->choices->rows[row].trial == UF_CHOICE_UNTRIED;
    for (size_t v = 0; v < UF_VARIANTS && holds; v++) {
        if (is_done(r, t->cells[v])) {
            holds = hold(r, t, v, &holds, NULL) == UF_OK && holds;
        }
    }
    return holds;
}

/* The others of the options whose own run in three dimensions has been asked for: the first ones hold. */
static enum uf_status ask_others(struct uf_robust *r, struct uf_error *err)
{
    const struct uf_robust_stretch stretch = {r->n_first, UF_VARIANTS, UF_VARIANTS};
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < r->n_order && status == UF_OK && !full(r); k++) {
        struct uf_robust_trial t = uf_robust_trial_of(r, r->order[k]);
        bool waits = false;
        if (is_open(r, &t, r->order[k]) && t.cells[UF_ROBUST_SOLID] != UF_ROBUST_UNASKED) {
            status = uf_robust_pass(r, &t, &stretch, &waits, err);
        }
    }
    return status;
}

/* First cases of every option, the best one's first; where cases are not asked for, its own run. */
static enum uf_status ask_firsts(struct uf_robust *r, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t at_once = 1; at_once <= UF_VARIANTS; at_once++) {
        const struct uf_robust_stretch stretch = {0, r->n_first, at_once};
        for (size_t k = 0; k < r->n_order && status == UF_OK && !full(r); k++) {
            struct uf_robust_trial t = uf_robust_trial_of(r, r->order[k]);
            bool waits = false;
            if (is_open(r, &t, r->order[k])) {
                status = r->input.nominal ? uf_robust_ask_own(r, &t, err)
                                          : uf_robust_pass(r, &t, &stretch, &waits, err);
            }
        }
    }
    return status;
}

enum uf_status uf_robust_fill(struct uf_robust *r, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    if (!full(r) && !r->input.nominal && r->choices->pick >= 0) {
        status = uf_robust_ask_halved(r, (size_t)r->choices->pick, err);
    }
    if (!full(r) && !r->input.nominal && status == UF_OK) {
        status = ask_others(r, err);
    }
    return status == UF_OK ? ask_firsts(r, err) : status;
}
