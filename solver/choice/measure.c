#include "measure.h"

#include "option.h"
#include "robust_private.h"
#include "settle.h"

#include <math.h>

#define STEPS 4 /* of each measure */

static bool thicker(struct uf_choice *row, const struct uf_case *site)
{
    row->thickness_m += 0.05;
    return site->board.present && row->thickness_m <= 0.3;
}

static bool wider(struct uf_choice *row, const struct uf_case *site)
{
    row->beyond_m += 0.3;
    return site->board.present && row->thickness_m > 0.0;
}

static bool better_lid(struct uf_choice *row, const struct uf_case *site)
{
    row->lid_m2K_W += 1.5;
    return site->tank.n_risers > 0 && row->lid_m2K_W <= 6.0;
}

/* Up to 0.2 m of foam; only where the riser's side counts, else it would change nothing. */
static bool sleeved(struct uf_choice *row, const struct uf_case *site)
{
    row->sleeve_m += 0.05;
    return (uf_case_counts_sides(site) || site->choices.n_sleeve > 0) &&
           row->sleeve_m <= 0.2 + 1e-9;
}

static bool deeper(struct uf_choice *row, const struct uf_case *site)
{
    row->cover_m += 0.15;
    return uf_limit_allows_cover(site, row->cover_m);
}

/* Each a step, where it still can. */
static bool together(struct uf_choice *row, const struct uf_case *site)
{
    bool (*const all[])(struct uf_choice *, const struct uf_case *) = {thicker, wider, better_lid,
                                                                       sleeved, deeper};
    bool any = false;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        struct uf_choice trial = *row;
        if (all[i](&trial, site)) {
            *row = trial;
            any = true;
        }
    }
    return any;
}

static const struct {
    const char *name;
    bool (*apply)(struct uf_choice *row, const struct uf_case *site); /* false: no further */
} measures[] = {{"a thicker board", thicker},
                {"a board that extends further", wider},
                {"a better insulated lid", better_lid},
                {"a thicker sleeve on the risers", sleeved},
                {"more cover", deeper},
                {"board, risers and cover together", together}};
enum { MEASURES = sizeof measures / sizeof measures[0] };

void uf_measure_begin(struct uf_measure *search)
{
    *search = (struct uf_measure){.found = {.from = -1}, .step = STEPS - 1, .largest = true};
}

/* Asks for those cases of an option that are tried first; *waits: some have not been run. What look
   ahead ran of others besides is left out, so that nothing hangs on how many runs are made at once. */
static enum uf_status ask_first(struct uf_robust *r, size_t row, bool *waits, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < r->n_first && status == UF_OK; k++) {
        struct uf_robust_trial t = uf_robust_trial_of(r, row);
        const struct uf_robust_stretch one = {k, k + 1, 1};
        bool more = false;
        status = uf_robust_pass(r, &t, &one, &more, err);
        *waits = *waits || more;
    }
    return status;
}

/* Least margin for its scale over them; -INFINITY: none was run. */
static double nearness(const struct uf_robust *r, size_t row)
{
    const struct uf_robust_trial t = uf_robust_trial_of(r, row);
    double least = INFINITY;
    bool any = false;
    for (size_t k = 0; k < r->n_first; k++) {
        struct uf_robust_case found;
        if (uf_robust_carried(&found, r, &t, r->turn[k])) {
            const size_t g = found.verdict.governs;
            any = true;
            least = g < uf_limit_count ? fmin(least, found.verdict.margin[g] / uf_limits[g].scale)
                                       : least;
        }
    }
    return any ? least : -(double)INFINITY;
}

static long nearest(const struct uf_robust *r)
{
    const struct uf_choices_result *c = r->choices;
    double most = -(double)INFINITY;
    long found = uf_choice_best(c, -1, false);
    for (size_t k = 0; k < r->n_order; k++) {
        const double near = nearness(r, r->order[k]);
        if (near > most) {
            most = near;
            found = (long)r->order[k];
        }
    }
    return found >= 0 ? found : c->nearest;
}

/* Sets up the measure and step that are due; *fits false: it cannot be, or fails by statics. */
static enum uf_status set_up(struct uf_robust *r, bool *fits, struct uf_error *err)
{
    struct uf_measure *m = &r->search;
    const struct uf_case *site = r->input.design;
    struct uf_choice row = r->choices->rows[m->found.from];
    for (size_t i = 0; i < UF_ROBUST_CELLS; i++) {
        m->cells[i] = UF_ROBUST_UNASKED;
    }
    *fits = true;
    for (size_t i = 0; i <= m->step && *fits; i++) {
        *fits = measures[m->at].apply(&row, site);
    }
    if (!*fits) {
        return UF_OK;
    }
    m->design = uf_option_design(site, &row);
    for (size_t i = 0; i < m->design.tank.n_risers; i++) {
        struct uf_riser *riser = &m->design.tank.risers[i];
        riser->lid_m2K_W = fmax(riser->lid_m2K_W, row.lid_m2K_W);
        riser->shell.sleeve_m = fmax(riser->shell.sleeve_m, row.sleeve_m);
    }
    m->choice = row;
    m->choice.buildable = uf_case_check(&m->design, &m->choice.fault, 1) == 0;
    *fits = m->choice.buildable;
    enum uf_status status = *fits ? uf_settle(&m->design, true, err) : UF_OK;
    if (status == UF_OK && *fits) {
        status = uf_choice_static(&m->choice, &m->design, err);
        *fits = status == UF_OK && uf_choice_verdict(&m->choice, &m->design, NULL).ok;
    }
    return status != UF_OK || !*fits ? status
                                     : uf_robust_ask(r, &m->design, UF_ROBUST_SOLID, &m->run, err);
}

/* What is known of the measure on trial. */
static enum uf_status weigh(struct uf_robust *r, enum uf_choice_trial *state, struct uf_error *err)
{
    struct uf_measure *m = &r->search;
    const struct uf_job *job = &r->choices->bank.jobs[m->run];
    *state = UF_CHOICE_UNTRIED;
    if (!job->done) {
        return UF_OK;
    }
    if (job->status != UF_OK) {
        if (err != NULL) {
            *err = job->err;
        }
        return job->status;
    }
    m->choice.verdict = uf_choice_verdict(&m->choice, &m->design, &job->summary);
    if (!uf_robust_may_spare(r, &m->design, &job->summary, &m->choice.verdict)) {
        *state = UF_CHOICE_FRAGILE;
        return UF_OK;
    }
    struct uf_robust_trial trial = {.design = &m->design, .screen = m->run, .cells = m->cells};
    const enum uf_status status = uf_robust_try(r, &trial, err);
    *state = trial.state;
    if (*state == UF_CHOICE_ROBUST) {
        const struct uf_job *own = uf_robust_own(r, &trial);
        m->choice.verdict = uf_choice_verdict(&m->choice, &m->design, &own->summary);
    }
    return status;
}

static void keep(struct uf_measure *m)
{
    m->found.name = measures[m->at].name;
    m->found.choice = m->choice;
    m->found.design = m->design;
}

/* The step after one whose outcome is known: the largest that fits is tried first; where it is
   robust the smallest that is, else the next measure. */
static void move_on(struct uf_measure *m, bool fits, enum uf_choice_trial state)
{
    const bool robust = fits && state == UF_CHOICE_ROBUST;
    m->begun = false;
    if (robust) {
        keep(m);
        m->over = !m->largest || m->step == 0;
        m->most = m->step;
        m->largest = false;
        m->step = 0;
    } else if (!m->largest) {
        m->step++;
        m->over = m->step >= m->most;
    } else if (!fits && m->step > 0) {
        m->step--;
    } else {
        m->step = STEPS - 1;
        m->over = ++m->at == MEASURES;
    }
}

enum uf_status uf_measure_next(struct uf_robust *r, struct uf_error *err)
{
    struct uf_measure *m = &r->search;
    enum uf_status status = UF_OK;
    bool waits = false;
    for (size_t k = 0; m->found.from < 0 && k < r->n_order && status == UF_OK; k++) {
        status = ask_first(r, r->order[k], &waits, err);
    }
    if (waits || status != UF_OK) {
        return status;
    }
    if (m->found.from < 0 && !m->over) {
        m->found.from = nearest(r);
        m->over = m->found.from < 0;
    }
    while (!m->over && status == UF_OK) {
        bool fits = true;
        enum uf_choice_trial state = UF_CHOICE_FRAGILE;
        if (!m->begun) {
            status = set_up(r, &fits, err);
            m->begun = status == UF_OK;
        }
        if (status == UF_OK && fits) {
            status = weigh(r, &state, err);
        }
        if (status != UF_OK || state == UF_CHOICE_UNTRIED) {
            break;
        }
        move_on(m, fits, state);
    }
    return status;
}
