#include "choice.h"

#include "solver/run/facts.h"

#include <math.h>
#include <stdlib.h>

struct uf_case uf_choice_design(const struct uf_case *design, double cover_m, double thickness_m,
                                double beyond_m)
{
    struct uf_case changed = *design;
    changed.burial.cover_m = cover_m;
    changed.board.thickness_m = thickness_m;
    changed.board.present = design->board.present && thickness_m > 0.0;
    changed.board.beyond_tank_m = beyond_m;
    for (size_t i = 0; i < changed.n_probes; i++) {
        struct uf_probe *probe = &changed.probes[i];
        if (!isnan(probe->below_crown_m)) {
            probe->depth_m = uf_case_crown_m(&changed) + probe->below_crown_m;
        } else if (!isnan(probe->above_invert_m)) {
            probe->depth_m = uf_case_invert_m(&changed) - probe->above_invert_m;
        }
    }
    return changed;
}

/* The values one knob may take: those listed, or the design's own. */
static size_t values_of(const double *list, size_t n, const double *own, const double **values)
{
    *values = n > 0 ? list : own;
    return n > 0 ? n : 1;
}

/* Adds a row unless one like it, to a hair, is there: 2 ft and 0.6096 m are one choice. */
static void add_row(struct uf_choices_result *c, const struct uf_choice *row)
{
    const double hair_m = 1e-6;
    for (size_t i = 0; i < c->n; i++) {
        const struct uf_choice *other = &c->rows[i];
        if (fabs(other->cover_m - row->cover_m) < hair_m &&
            fabs(other->thickness_m - row->thickness_m) < hair_m &&
            (!(row->thickness_m > 0.0) || fabs(other->beyond_m - row->beyond_m) < hair_m)) {
            return;
        }
    }
    c->rows[c->n++] = *row;
}

static void fill_rows(struct uf_choices_result *c, const struct uf_case *design)
{
    const struct uf_choices *knobs = &design->choices;
    const double own_thickness_m = design->board.present ? design->board.thickness_m : 0.0;
    const double *cover = NULL;
    const double *thickness = NULL;
    const double *beyond = NULL;
    const size_t n_cover =
        values_of(knobs->cover_m, knobs->n_cover, &design->burial.cover_m, &cover);
    const size_t n_thick =
        values_of(knobs->thickness_m, knobs->n_thickness, &own_thickness_m, &thickness);
    const size_t n_beyond =
        values_of(knobs->beyond_m, knobs->n_beyond, &design->board.beyond_tank_m, &beyond);
    for (size_t i = 0; i < n_cover; i++) {
        for (size_t k = 0; k < n_thick; k++) {
            for (size_t m = 0; m < (thickness[k] > 0.0 ? n_beyond : 1); m++) {
                const struct uf_choice row = {
                    .cover_m = cover[i], .thickness_m = thickness[k], .beyond_m = beyond[m]};
                add_row(c, &row);
            }
        }
    }
}

/* What the limits say with no winter run: those that need one do not apply. */
static struct uf_verdict verdict_without_winter(const struct uf_choice *row,
                                                const struct uf_case *design)
{
    struct uf_verdict nothing = {.ok = false, .governs = uf_limit_count};
    struct uf_summary none;
    uf_facts_clear(&none);
    for (size_t k = 0; k < uf_limit_count; k++) {
        nothing.margin[k] = NAN;
    }
    if (!row->buildable) {
        return nothing;
    }
    const struct uf_limit_facts facts = {design, &none, &row->uplift, &row->load};
    return uf_limit_verdict(&facts);
}

static enum uf_status prepare_row(struct uf_choice *row, struct uf_job *job, struct uf_error *err)
{
    const struct uf_case *design = &job->design;
    row->buildable = uf_case_check(design, &row->fault, 1) == 0;
    const enum uf_status status = uf_choice_static(row, design, err);
    if (!row->buildable) { /* what cannot be has no factor */
        row->uplift.highest.factor_submerged = row->uplift.highest.factor_total = NAN;
        row->uplift.needed_ballast_m3 = NAN;
    }
    row->verdict = verdict_without_winter(row, design);
    row->ran = row->verdict.ok;
    return status;
}

/* Decides which rows go through the winter. */
static void choose_runs(struct uf_choices_result *c, bool every)
{
    bool some = false;
    for (size_t i = 0; i < c->n; i++) {
        some = some || c->rows[i].ran;
    }
    for (size_t i = 0; i < c->n; i++) {
        c->rows[i].ran = c->rows[i].buildable && (c->rows[i].ran || every || !some);
        c->jobs[i].skip = !c->rows[i].ran;
    }
}

static bool allocate(struct uf_choices_result **out, const struct uf_case *design)
{
    const size_t most = (design->choices.n_cover + 1) * (design->choices.n_thickness + 1) *
                        (design->choices.n_beyond + 1);
    struct uf_choices_result *c = calloc(1, sizeof *c);
    if (c != NULL) {
        c->rows = calloc(most, sizeof *c->rows);
        c->jobs = calloc(most, sizeof *c->jobs);
        c->pick = c->next_best = c->nearest = -1;
    }
    *out = c;
    return c != NULL && c->rows != NULL && c->jobs != NULL;
}

enum uf_status uf_choice_create(struct uf_choices_result **out, const struct uf_case *design,
                                const struct uf_forcing *forcing,
                                const struct uf_run_options *options, bool every,
                                struct uf_error *err)
{
    struct uf_choices_result *c = NULL;
    enum uf_status status = UF_OK;
    *out = NULL;
    if (!allocate(&c, design)) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for the choices");
    } else {
        fill_rows(c, design);
    }
    for (size_t i = 0; status == UF_OK && i < c->n; i++) {
        struct uf_choice *row = &c->rows[i];
        if (row->thickness_m > 0.0 && !design->board.present) {
            status = uf_fail_key(err, UF_E_INPUT, "choices.thickness",
                                 UF_PLAIN("asks for board but the site has no board block"),
                                 UF_PLAIN("give board.type and board.above_crown"));
            break;
        }
        c->jobs[i] = (struct uf_job){
            .design = uf_choice_design(design, row->cover_m, row->thickness_m, row->beyond_m),
            .forcing = forcing,
            .options = *options};
        status = prepare_row(row, &c->jobs[i], err);
    }
    if (status != UF_OK) {
        uf_choice_free(c);
        return status;
    }
    choose_runs(c, every);
    *out = c;
    return UF_OK;
}

void uf_choice_free(struct uf_choices_result *choices)
{
    if (choices != NULL) {
        for (size_t i = 0; choices->jobs != NULL && i < choices->n; i++) {
            uf_record_free(choices->jobs[i].record);
        }
        free(choices->rows);
        free(choices->jobs);
        free(choices);
    }
}

enum uf_status uf_choice_static(struct uf_choice *row, const struct uf_case *design,
                                struct uf_error *err)
{
    struct uf_column_soils soils;
    enum uf_status status = uf_column_soils(&soils, design, err);
    if (status == UF_OK) {
        status = uf_uplift(&row->uplift, design, &soils, err);
    }
    if (status == UF_OK && row->buildable) {
        status = uf_load(&row->load, design, &soils, err);
    }
    if (status == UF_OK) {
        status = uf_pit(&row->pit, design, err);
    }
    if (status == UF_OK) {
        uf_pit_cost(&row->cost, &row->pit, row->uplift.needed_ballast_m3, &design->costs);
    }
    return status;
}

bool uf_choice_better(const struct uf_choice *a, const struct uf_choice *b, bool priced)
{
    if (priced && a->cost.total != b->cost.total) {
        return a->cost.total < b->cost.total;
    }
    if (a->pit.excavation_m3 != b->pit.excavation_m3) {
        return a->pit.excavation_m3 < b->pit.excavation_m3;
    }
    return a->pit.board_m3 < b->pit.board_m3;
}

static bool all_priced(const struct uf_choices_result *c)
{
    bool priced = true;
    for (size_t i = 0; i < c->n; i++) {
        priced = priced && (!c->rows[i].ok || c->rows[i].cost.complete);
    }
    return priced;
}

static long best_ok(const struct uf_choices_result *c, long but)
{
    long best = -1;
    for (size_t i = 0; i < c->n; i++) {
        if (c->rows[i].ok && (long)i != but &&
            (best < 0 || uf_choice_better(&c->rows[i], &c->rows[best], c->priced))) {
            best = (long)i;
        }
    }
    return best;
}

/* Least margin of a row in units of each limit's scale. */
static double worst_share(const struct uf_choice *row)
{
    const size_t g = row->verdict.governs;
    return !row->buildable || g >= uf_limit_count ? (double)-INFINITY
                                                  : row->verdict.margin[g] / uf_limits[g].scale;
}

static long nearest_miss(const struct uf_choices_result *c)
{
    long best = -1;
    for (size_t i = 0; i < c->n; i++) {
        if (c->rows[i].ran &&
            (best < 0 || worst_share(&c->rows[i]) > worst_share(&c->rows[best]))) {
            best = (long)i;
        }
    }
    return best;
}

enum uf_status uf_choice_judge(struct uf_choices_result *choices, struct uf_error *err)
{
    for (size_t i = 0; i < choices->n; i++) {
        struct uf_choice *row = &choices->rows[i];
        const struct uf_job *job = &choices->jobs[i];
        if (row->ran && job->status != UF_OK) {
            if (err != NULL) {
                *err = job->err;
            }
            return job->status;
        }
        if (row->ran) {
            const struct uf_limit_facts facts = {&job->design, &job->summary, &row->uplift,
                                                 &row->load};
            row->verdict = uf_limit_verdict(&facts);
        }
        row->ok = row->ran && row->verdict.ok;
    }
    choices->priced = all_priced(choices);
    choices->pick = best_ok(choices, -1);
    choices->next_best = choices->pick < 0 ? -1 : best_ok(choices, choices->pick);
    choices->nearest = choices->pick < 0 ? nearest_miss(choices) : -1;
    return UF_OK;
}
