#include "robust_private.h"
#include "solver/heat/slice.h"

#include <math.h>

bool uf_robust_screened(const struct uf_robust *r, const struct uf_case *design)
{
    return !r->input.whole && uf_slice_wanted(design);
}

/* What drives a case, or a design itself (v: UF_ROBUST_SOLID). A surface is the same in every option: made once. */
static enum uf_status forcing_of(const struct uf_forcing **out, struct uf_robust *r,
                                 const struct uf_case *trial, size_t v, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    *out = r->input.forcing;
    if (v >= UF_VARIANTS) {
        return UF_OK;
    }
    if (uf_variants[v].weather == UF_VARIANT_SURFACE && r->surfaces[v] == NULL) {
        status = uf_forcing_create(&r->surfaces[v], &trial->surface, r->input.weather, err);
    }
    const struct uf_forcing *const rows[] = {r->input.forcing, r->input.rarer, r->surfaces[v]};
    *out = rows[uf_variants[v].weather];
    return status;
}

static enum uf_status ask(struct uf_robust *r, const struct uf_case *design, size_t v, size_t *cell,
                          struct uf_error *err)
{
    const struct uf_forcing *forcing = NULL;
    const enum uf_status status = forcing_of(&forcing, r, design, v, err);
    return status == UF_OK
               ? uf_bank_ask(cell, &r->choices->bank, design, forcing, &r->input.options, err)
               : status;
}

enum uf_status uf_robust_ask(struct uf_robust *r, const struct uf_case *design, size_t v,
                             size_t *cell, struct uf_error *err)
{
    const struct uf_case plane = uf_ends_plane(design);
    return ask(r, uf_robust_screened(r, design) ? &plane : design, v, cell, err);
}

enum uf_status uf_robust_ask_own(struct uf_robust *r, struct uf_robust_trial *t,
                                 struct uf_error *err)
{
    size_t *own = &t->cells[UF_ROBUST_SOLID];
    if (*own != UF_ROBUST_UNASKED || !uf_robust_screened(r, t->design)) {
        return UF_OK;
    }
    return ask(r, t->design, UF_ROBUST_SOLID, own, err);
}

static const struct uf_job *done_job(const struct uf_robust *r, size_t cell)
{
    const struct uf_job *job = cell < UF_ROBUST_IDLE ? &r->choices->bank.jobs[cell] : NULL;
    return job != NULL && job->done ? job : NULL;
}

const struct uf_job *uf_robust_own(const struct uf_robust *r, const struct uf_robust_trial *t)
{
    const struct uf_job *solid = done_job(r, t->cells[UF_ROBUST_SOLID]);
    return solid != NULL ? solid : &r->choices->bank.jobs[t->screen];
}

/* The case as its own run has it. */
static bool case_by(struct uf_robust_case *out, const struct uf_case *trial,
                    const struct uf_job *job)
{
    out->water_degC = uf_limit_water_degC(&job->summary);
    return job->status == UF_OK &&
           uf_robust_judge(&out->verdict, trial, &job->summary, NULL) == UF_OK;
}

/* The same with what the ends change in the design case. */
static bool carry(struct uf_robust_case *out, const struct uf_robust *r,
                  const struct uf_robust_trial *t, const struct uf_job *solid)
{
    const struct uf_job *screen = &r->choices->bank.jobs[t->screen];
    struct uf_verdict before, after;
    if (uf_robust_judge(&before, t->design, &screen->summary, NULL) != UF_OK ||
        uf_robust_judge(&after, t->design, &solid->summary, NULL) != UF_OK) {
        return false;
    }
    out->verdict = uf_ends_carried(&out->verdict, &before, &after);
    out->water_degC += uf_limit_water_degC(&solid->summary) - uf_limit_water_degC(&screen->summary);
    out->carried = true;
    return true;
}

bool uf_robust_case_of(struct uf_robust_case *out, const struct uf_robust *r,
                       const struct uf_robust_trial *t, size_t v)
{
    const struct uf_job *plane = done_job(r, t->cells[v]);
    const struct uf_job *own = done_job(r, t->cells[UF_ROBUST_SOLID]);
    const struct uf_job *solid = done_job(r, t->cells[UF_ROBUST_SOLID + 1 + v]);
    struct uf_case trial;
    *out = (struct uf_robust_case){.row = &uf_variants[v]};
    if (plane == NULL || !uf_robust_change(&trial, r, t->design, v)) {
        return false;
    }
    if (solid != NULL) {
        return case_by(out, &trial, solid);
    }
    return case_by(out, &trial, plane) && (own == NULL || carry(out, r, t, own));
}

/* One case: stands as carried, or asks for a run of its own. */
static enum uf_status try_case(struct uf_robust *r, struct uf_robust_trial *t, size_t v,
                               bool *waits, struct uf_error *err)
{
    size_t *solid = &t->cells[UF_ROBUST_SOLID + 1 + v];
    struct uf_robust_case found;
    struct uf_case trial;
    if (!uf_robust_case_of(&found, r, t, v)) {
        return UF_OK;
    }
    if (found.carried && uf_ends_near(&found.verdict, found.water_degC)) {
        (void)uf_robust_change(&trial, r, t->design, v);
        *waits = true;
        return ask(r, &trial, v, solid, err);
    }
    if (!found.verdict.ok) {
        t->state = UF_CHOICE_FRAGILE;
        t->broken = &uf_variants[v];
        r->breaker[v] = true;
    }
    return UF_OK;
}

static enum uf_status failure(const struct uf_job *job, struct uf_error *err)
{
    if (job->status != UF_OK && err != NULL) {
        *err = job->err;
    }
    return job->status;
}

enum uf_status uf_robust_ends(struct uf_robust *r, struct uf_robust_trial *t, bool *waits,
                              struct uf_error *err)
{
    if (!uf_robust_screened(r, t->design)) {
        return UF_OK;
    }
    enum uf_status status = uf_robust_ask_own(r, t, err);
    const struct uf_job *own = done_job(r, t->cells[UF_ROBUST_SOLID]);
    struct uf_verdict verdict;
    if (status != UF_OK || own == NULL) {
        *waits = true;
        return status;
    }
    status = failure(own, err);
    status = status == UF_OK ? uf_robust_judge(&verdict, t->design, &own->summary, err) : status;
    if (status == UF_OK &&
        !(r->input.nominal ? verdict.ok : uf_robust_spare(t->design, &own->summary, &verdict))) {
        t->state = UF_CHOICE_FRAGILE;
        return UF_OK;
    }
    for (size_t v = 0; v < UF_VARIANTS && status == UF_OK && t->state == UF_CHOICE_UNTRIED; v++) {
        const size_t cell = t->cells[UF_ROBUST_SOLID + 1 + v];
        const bool runs = cell < UF_ROBUST_IDLE && !r->choices->bank.jobs[cell].done;
        const struct uf_job *done = done_job(r, cell);
        *waits = *waits || runs;
        status = done != NULL ? failure(done, err) : UF_OK;
        status = status == UF_OK && !runs ? try_case(r, t, v, waits, err) : status;
    }
    return status;
}
