#include "cli/jobs.h"
#include "recommend.h"

#include <stdlib.h>

/* How sure: the pick, or another choice, with one thing changed in turn. */

/* The winter after the one designed for, made once; none for a cycle, a sensor or a short
   record. */
static bool rarer_winter(struct uf_recommend *r)
{
    struct uf_winter_choice winter = r->run.site->winter;
    if (r->rarer_forcing != NULL || r->run.weather->season == NULL) {
        return r->rarer_forcing != NULL;
    }
    winter.return_years =
        uf_variant_rarer_years(winter.kind == UF_WINTER_RETURN ? winter.return_years : 1.0);
    winter.kind = UF_WINTER_RETURN;
    return uf_site_run_winter(&r->rarer_weather, &r->rarer_forcing, r->run.site, &winter, NULL) ==
           UF_OK;
}

/* false: it makes no difference to this design. */
static bool fill_job(struct uf_job *job, struct uf_recommend *r, const struct uf_case *design,
                     const struct uf_variant *row)
{
    *job = (struct uf_job){.design = *design, .forcing = r->run.forcing, .options = r->run.options};
    if (!row->apply(&job->design) || (row->rarer_winter && !rarer_winter(r))) {
        return false;
    }
    if (row->rarer_winter) {
        job->forcing = r->rarer_forcing;
    }
    return true;
}

void uf_recommend_add_variant(struct uf_recommend *r, const struct uf_case *design, size_t index)
{
    const struct uf_variant *row = &uf_variants[index];
    struct uf_job *job = &r->jobs[r->n_jobs];
    if (fill_job(job, r, design, row)) {
        r->variants[r->n_variants++] = (struct uf_recommend_variant){.row = row, .job = job};
        r->n_jobs++;
    }
}

/* Drier soil is lighter too: uplift and load are weighed anew. */
enum uf_status uf_recommend_judge_variants(struct uf_recommend_variant *variants, size_t n,
                                           struct uf_error *err)
{
    for (size_t i = 0; i < n; i++) {
        struct uf_recommend_variant *v = &variants[i];
        struct uf_choice row = {.buildable = true};
        if (v->job->skip) { /* changes nothing there */
            v->verdict.ok = true;
            continue;
        }
        const enum uf_status status = uf_choice_static(&row, &v->job->design, err);
        if (status != UF_OK) {
            return status;
        }
        const struct uf_limit_facts facts = {&v->job->design, &v->job->summary, &row.uplift,
                                             &row.load};
        v->verdict = uf_limit_verdict(&facts);
        v->water_degC = uf_limit_water_degC(&v->job->summary);
    }
    return UF_OK;
}

/* A table of runs: each of the rows (choices) with each of some variants of the pick. */
struct sweep {
    struct uf_recommend_variant *cells; /* [n_rows][n_variants] */
    struct uf_job *jobs;                /* the same */
    size_t n_rows, n_variants;
};

static void sweep_free(struct sweep *s)
{
    free(s->cells);
    free(s->jobs);
}

/* Runs and judges rows[] with the variants that broke the pick, or with those that did not. */
static enum uf_status sweep_run(struct sweep *s, struct uf_recommend *r, const size_t *rows,
                                bool broke, const struct uf_arguments *args, struct uf_error *err)
{
    const size_t room = s->n_rows * r->n_variants + 1;
    size_t n = 0;
    s->cells = calloc(room, sizeof *s->cells);
    s->jobs = calloc(room, sizeof *s->jobs);
    if (s->cells == NULL || s->jobs == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the closer looks");
    }
    for (size_t i = 0; i < s->n_rows; i++) {
        for (size_t v = 0; v < r->n_variants; v++) {
            if (r->variants[v].verdict.ok == broke) {
                continue;
            }
            struct uf_job *job = &s->jobs[n];
            job->skip = !fill_job(job, r, &r->choices->jobs[rows[i]].design, r->variants[v].row);
            s->cells[n++] = (struct uf_recommend_variant){.row = r->variants[v].row, .job = job};
        }
    }
    s->n_variants = s->n_rows > 0 ? n / s->n_rows : 0;
    enum uf_status status = uf_jobs_run(s->jobs, n, args, "sturdier choices", err);
    if (status == UF_OK) {
        status = uf_jobs_first_failure(s->jobs, n, err);
    }
    return status == UF_OK ? uf_recommend_judge_variants(s->cells, n, err) : status;
}

/* Does the row of the sweep hold with each of its variants? */
static bool holds(const struct sweep *s, size_t row)
{
    bool ok = true;
    for (size_t v = 0; v < s->n_variants; v++) {
        ok = ok && s->cells[row * s->n_variants + v].verdict.ok;
    }
    return ok;
}

/* The other choices that meet every limit, the best first. */
static size_t rank(size_t *rows, const struct uf_choices_result *c)
{
    size_t n = 0;
    for (size_t i = 0; i < c->n; i++) {
        if (!c->rows[i].ok || (long)i == c->pick) {
            continue;
        }
        size_t at = n++;
        for (; at > 0 && uf_choice_better(&c->rows[i], &c->rows[rows[at - 1]], c->priced); at--) {
            rows[at] = rows[at - 1];
        }
        rows[at] = i;
    }
    return n;
}

/* The variant that most rows break. */
static const struct uf_variant *worst(const struct sweep *s)
{
    const struct uf_variant *found = NULL;
    size_t most = 0;
    for (size_t v = 0; v < s->n_variants; v++) {
        size_t broken = 0;
        for (size_t i = 0; i < s->n_rows; i++) {
            broken += !s->cells[i * s->n_variants + v].verdict.ok;
        }
        if (broken > most) {
            most = broken;
            found = s->cells[v].row;
        }
    }
    return found;
}

/* The first row that holds in both: in the sweep, and in a look at the rest of it. */
static enum uf_status first_that_holds(struct uf_recommend *r, const struct sweep *s,
                                       const size_t *rows, const struct uf_arguments *args,
                                       struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < s->n_rows && r->sturdy.row < 0 && status == UF_OK; i++) {
        struct sweep rest = {.n_rows = 1};
        if (!holds(s, i)) {
            continue;
        }
        status = sweep_run(&rest, r, &rows[i], false, args, err);
        if (status == UF_OK && holds(&rest, 0)) {
            r->sturdy.row = (long)rows[i];
        }
        sweep_free(&rest);
    }
    return status;
}

enum uf_status uf_recommend_sturdy(struct uf_recommend *r, const struct uf_arguments *args,
                                   struct uf_error *err)
{
    size_t broken = 0;
    for (size_t v = 0; v < r->n_variants; v++) {
        broken += !r->variants[v].verdict.ok;
    }
    r->sturdy = (struct uf_recommend_sturdy){.row = -1};
    if (!args->sturdy || r->choices->pick < 0) {
        return UF_OK;
    }
    r->sturdy.sought = true;
    if (broken == 0) {
        r->sturdy.row = r->choices->pick;
        return UF_OK;
    }
    struct sweep s = {0};
    size_t *rows = calloc(r->choices->n, sizeof *rows);
    if (rows == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the closer looks");
    }
    s.n_rows = rank(rows, r->choices);
    enum uf_status status = sweep_run(&s, r, rows, true, args, err);
    if (status == UF_OK) {
        r->sturdy.tried = s.n_rows;
        r->sturdy.worst = worst(&s);
        status = first_that_holds(r, &s, rows, args, err);
    }
    sweep_free(&s);
    free(rows);
    return status;
}
