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

/* screens: of a design itself its verdict alone is asked for, as of every case. */
static enum uf_status ask(struct uf_robust *r, const struct uf_case *design, size_t v, bool screens,
                          size_t *cell, struct uf_error *err)
{
    const struct uf_forcing *forcing = NULL;
    struct uf_run_options options = r->input.options;
    const enum uf_status status = forcing_of(&forcing, r, design, v, err);
    options.brief = screens || v < UF_VARIANTS;
    return status == UF_OK ? uf_bank_ask(cell, &r->choices->bank, design, forcing, &options, err)
                           : status;
}

enum uf_status uf_robust_ask(struct uf_robust *r, const struct uf_case *design, size_t v,
                             size_t *cell, struct uf_error *err)
{
    const struct uf_case plane = uf_ends_plane(design);
    const bool screened = uf_robust_screened(r, design);
    return ask(r, screened ? &plane : design, v, screened, cell, err);
}

/* A run in three dimensions begins with what the plane run of the same design found. */
static void begin_with(struct uf_robust *r, size_t solid, size_t plane)
{
    struct uf_bank *bank = &r->choices->bank;
    if (solid >= bank->begun && solid < UF_ROBUST_IDLE &&
        plane < UF_ROBUST_IDLE) { /* not handed out yet */
        bank->jobs[solid].options.plane_K = bank->jobs[plane].found_K;
        bank->jobs[solid].options.n_plane = bank->jobs[plane].n_found;
    }
}

enum uf_status uf_robust_ask_own(struct uf_robust *r, struct uf_robust_trial *t,
                                 struct uf_error *err)
{
    size_t *own = &t->cells[UF_ROBUST_SOLID];
    if (*own != UF_ROBUST_UNASKED || !uf_robust_screened(r, t->design)) {
        return UF_OK;
    }
    const enum uf_status status = ask(r, t->design, UF_ROBUST_SOLID, false, own, err);
    if (status == UF_OK && *own >= r->choices->bank.begun) { /* not handed out yet */
        r->choices->bank.jobs[*own].keep_every = r->input.keep_every;
        r->choices->bank.jobs[*own].keep_whole = r->input.keep_whole;
        begin_with(r, *own, t->screen);
    }
    return status;
}

void uf_robust_drop_record(struct uf_robust *r, const struct uf_robust_trial *t)
{
    const size_t own = t->cells[UF_ROBUST_SOLID];
    if (own < UF_ROBUST_IDLE) {
        uf_record_free(r->choices->bank.jobs[own].record);
        r->choices->bank.jobs[own].record = NULL;
    }
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

bool uf_robust_carried(struct uf_robust_case *out, const struct uf_robust *r,
                       const struct uf_robust_trial *t, size_t v)
{
    const struct uf_job *plane = done_job(r, t->cells[v]);
    const struct uf_job *own = done_job(r, t->cells[UF_ROBUST_SOLID]);
    struct uf_case trial;
    *out = (struct uf_robust_case){.row = &uf_variants[v]};
    return plane != NULL && uf_robust_change(&trial, r, t->design, v) &&
           case_by(out, &trial, plane) && (own == NULL || carry(out, r, t, own));
}

bool uf_robust_case_of(struct uf_robust_case *out, const struct uf_robust *r,
                       const struct uf_robust_trial *t, size_t v)
{
    const struct uf_job *solid = done_job(r, t->cells[UF_ROBUST_SOLID + 1 + v]);
    struct uf_case trial;
    if (solid == NULL || t->cells[v] >= UF_ROBUST_IDLE) {
        return uf_robust_carried(out, r, t, v);
    }
    *out = (struct uf_robust_case){.row = &uf_variants[v]};
    return uf_robust_change(&trial, r, t->design, v) && case_by(out, &trial, solid);
}

/* A case by its plane run, and how near to a limit that is. */
struct ranked {
    struct uf_robust_case found;
    size_t variant;
    double least_K;
};

/* Of so many cases in their order those whose plane run is done, the nearest to a limit first; returns
   how many. None where a trial is not screened. */
static size_t rank(struct ranked out[UF_VARIANTS], const struct uf_robust *r,
                   const struct uf_robust_trial *t, size_t tried)
{
    size_t n = 0;
    for (size_t k = 0; k < tried && uf_robust_screened(r, t->design); k++) {
        struct ranked next = {.variant = r->turn[k]};
        if (uf_robust_carried(&next.found, r, t, next.variant)) {
            size_t at = n++;
            next.least_K = uf_ends_least_K(&next.found.verdict);
            for (; at > 0 && next.least_K < out[at - 1].least_K; at--) {
                out[at] = out[at - 1];
            }
            out[at] = next;
        }
    }
    return n;
}

/* Asks for a case in three dimensions. */
static enum uf_status ask_solid(struct uf_robust *r, struct uf_robust_trial *t, size_t v,
                                struct uf_error *err)
{
    struct uf_case trial;
    size_t *solid = &t->cells[UF_ROBUST_SOLID + 1 + v];
    if (*solid != UF_ROBUST_UNASKED || !uf_robust_change(&trial, r, t->design, v)) {
        return UF_OK;
    }
    const enum uf_status status = ask(r, &trial, v, true, solid, err);
    if (status == UF_OK) {
        begin_with(r, *solid, t->cells[v]);
    }
    return status;
}

static enum uf_status failure(const struct uf_job *job, struct uf_error *err)
{
    if (job->status != UF_OK && err != NULL) {
        *err = job->err;
    }
    return job->status;
}

enum uf_status uf_robust_close(struct uf_robust *r, struct uf_robust_trial *t, bool *waits,
                               struct uf_error *err)
{
    struct ranked cases[UF_VARIANTS];
    const size_t n = rank(cases, r, t, r->n_first);
    enum uf_status status = UF_OK;
    if (n == 0 || done_job(r, t->cells[UF_ROBUST_SOLID]) != NULL ||
        !(cases[0].least_K < UF_ENDS_CLOSE_K)) {
        return UF_OK;
    }
    status = ask_solid(r, t, cases[0].variant, err);
    const struct uf_job *job = done_job(r, t->cells[UF_ROBUST_SOLID + 1 + cases[0].variant]);
    *waits = job == NULL;
    if (status == UF_OK && job != NULL) {
        status = failure(job, err);
        (void)uf_robust_case_of(&cases[0].found, r, t, cases[0].variant);
        if (status == UF_OK && !cases[0].found.verdict.ok) {
            t->state = UF_CHOICE_FRAGILE;
            t->broken = &uf_variants[cases[0].variant];
        }
    }
    return status;
}

/* One case: as carried where that stands, else by its own run, asked for where one more may run.
   *known false: it waits. */
static enum uf_status try_case(struct uf_robust *r, struct uf_robust_trial *t,
                               const struct ranked *one, size_t *running, bool *known, bool *ok,
                               struct uf_error *err)
{
    const size_t *solid = &t->cells[UF_ROBUST_SOLID + 1 + one->variant];
    struct uf_robust_case found = one->found;
    enum uf_status status = UF_OK;
    const bool stands = !found.carried || !uf_ends_near(&found.verdict, found.water_degC);
    if (!stands && *running < (r->input.at_once > 0 ? r->input.at_once : 1)) {
        status = ask_solid(r, t, one->variant, err);
    }
    const struct uf_job *job = done_job(r, *solid);
    *known = stands || job != NULL;
    *running += *solid < UF_ROBUST_IDLE && job == NULL;
    if (status == UF_OK && !stands && job != NULL) {
        status = failure(job, err);
        (void)uf_robust_case_of(&found, r, t, one->variant);
    }
    *ok = found.verdict.ok;
    return status;
}

enum uf_status uf_robust_cases_near(struct uf_robust *r, struct uf_robust_trial *t, bool *waits,
                                    struct uf_error *err)
{
    struct ranked cases[UF_VARIANTS];
    const size_t n = rank(cases, r, t, UF_VARIANTS);
    size_t running = 0;
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < n && status == UF_OK; i++) {
        bool known = true;
        bool ok = true;
        status = try_case(r, t, &cases[i], &running, &known, &ok, err);
        *waits = *waits || !known;
        if (status == UF_OK && !*waits && !ok) {
            t->state = UF_CHOICE_FRAGILE;
            t->broken = &uf_variants[cases[i].variant];
            return UF_OK;
        }
    }
    return status;
}

enum uf_status uf_robust_design(struct uf_robust *r, struct uf_robust_trial *t, bool *waits,
                                struct uf_error *err)
{
    if (!uf_robust_screened(r, t->design)) {
        return UF_OK;
    }
    enum uf_status status = uf_robust_ask_own(r, t, err);
    const struct uf_job *own = done_job(r, t->cells[UF_ROBUST_SOLID]);
    struct uf_verdict verdict;
    *waits = own == NULL;
    if (status != UF_OK || own == NULL) {
        return status;
    }
    status = failure(own, err);
    status = status == UF_OK ? uf_robust_judge(&verdict, t->design, &own->summary, err) : status;
    if (status == UF_OK &&
        !(r->input.nominal ? verdict.ok : uf_robust_spare(t->design, &own->summary, &verdict))) {
        t->state = UF_CHOICE_FRAGILE;
    }
    return status;
}
