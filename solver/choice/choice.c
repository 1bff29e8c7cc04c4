#include "choice.h"

#include "ends.h"
#include "option.h"
#include "settle.h"
#include "solver/design/anchor.h"
#include "solver/design/foam.h"
#include "solver/heat/slice.h"
#include "solver/run/facts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct uf_verdict uf_choice_verdict(const struct uf_choice *row, const struct uf_case *design,
                                    const struct uf_summary *summary)
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
    const struct uf_limit_facts facts = {design, summary != NULL ? summary : &none, &row->uplift,
                                         &row->load};
    return uf_limit_verdict(&facts);
}

static enum uf_status prepare_row(struct uf_choice *row, struct uf_case *own,
                                  const struct uf_choice_input *input, struct uf_error *err)
{
    *own = uf_option_design(input->design, row);
    enum uf_status status = uf_settle(own, input->sure, err);
    row->type = uf_case_has_board(own) ? own->board.row : NULL;
    row->buildable = uf_case_check(own, &row->fault, 1) == 0;
    if (status == UF_OK) {
        status = uf_choice_static(row, own, err);
    }
    if (!row->buildable) { /* what cannot be has no factor */
        row->uplift.highest.factor_submerged = row->uplift.highest.factor_total = NAN;
        row->uplift.needed_ballast_m3 = NAN;
    }
    row->verdict = uf_choice_verdict(row, own, NULL);
    row->ran = row->verdict.ok;
    return status;
}

/* Anchors that are solved for may come out as none: then the row is the one without any. */
static bool is_double(const struct uf_case *site, const struct uf_case *own)
{
    bool bare = false;
    for (size_t i = 0; i < site->choices.n_anchors; i++) {
        bare = bare || strcmp(site->choices.anchors[i].name, "none") == 0;
    }
    return bare && own->anchors.least && !uf_anchor_any(own);
}

/* Takes doubles out. */
static void drop_doubles(struct uf_choices_result *c, const struct uf_case *site)
{
    size_t kept = 0;
    for (size_t i = 0; i < c->n; i++) {
        if (!is_double(site, &c->designs[i])) {
            c->rows[kept] = c->rows[i];
            c->designs[kept++] = c->designs[i];
        }
    }
    c->n = kept;
}

/* Decides which rows go through the winter, and asks for their runs. */
static enum uf_status ask_runs(struct uf_choices_result *c, const struct uf_choice_input *input,
                               struct uf_error *err)
{
    bool some = false;
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < c->n; i++) {
        some = some || c->rows[i].ran;
    }
    for (size_t i = 0; i < c->n && status == UF_OK; i++) {
        struct uf_choice *row = &c->rows[i];
        row->ran = row->buildable && (row->ran || input->every || !some);
        if (row->ran) {
            const bool whole = input->whole || !uf_slice_wanted(&c->designs[i]);
            const struct uf_case plane = uf_ends_plane(&c->designs[i]);
            struct uf_run_options options = input->options;
            options.brief = !whole; /* its verdict alone is asked for */
            status = uf_bank_ask(&row->run, &c->bank, whole ? &c->designs[i] : &plane,
                                 input->forcing, &options, err);
            row->screen = row->run;
            row->solid = uf_slice_wanted(&c->designs[i]) && input->whole;
        }
    }
    return status;
}

/* Counts, allocates and lists the rows. */
static enum uf_status list_rows(struct uf_choices_result *c, const struct uf_case *design,
                                struct uf_error *err)
{
    const struct uf_option_lists lists = uf_option_lists(design);
    struct uf_choice row;
    double all = 1.0;
    for (size_t k = 0; k < UF_OPTION_KNOBS; k++) {
        all *= (double)lists.n[k];
    }
    if (all > (double)UF_CHOICE_MOST) {
        return uf_fail(err, UF_E_INPUT, "choices: %.0f combinations, at most %d are tried", all,
                       UF_CHOICE_MOST);
    }
    c->rows = calloc((size_t)all, sizeof *c->rows);
    c->designs = calloc((size_t)all, sizeof *c->designs);
    if (c->rows == NULL || c->designs == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the choices");
    }
    for (size_t i = 0; i < (size_t)all; i++) {
        if (uf_option_row(&row, &lists, design, i)) {
            c->rows[c->n++] = row;
        }
    }
    return UF_OK;
}

enum uf_status uf_choice_create(struct uf_choices_result **out, const struct uf_choice_input *input,
                                struct uf_error *err)
{
    struct uf_choices_result *c = calloc(1, sizeof *c);
    *out = NULL;
    if (c == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the choices");
    }
    c->pick = c->next_best = c->nearest = -1;
    enum uf_status status = list_rows(c, input->design, err);
    for (size_t i = 0; status == UF_OK && i < c->n; i++) {
        if (c->rows[i].thickness_m > 0.0 && !input->design->board.present) {
            status = uf_fail_key(err, UF_E_INPUT, "choices.thickness",
                                 UF_PLAIN("asks for board but the site has no board block"),
                                 UF_PLAIN("give board.type and board.above_crown"));
        } else {
            status = prepare_row(&c->rows[i], &c->designs[i], input, err);
        }
    }
    if (status == UF_OK) {
        drop_doubles(c, input->design);
        status = ask_runs(c, input, err);
    }
    if (status != UF_OK) {
        uf_choice_free(c);
        return status;
    }
    *out = c;
    return UF_OK;
}

void uf_choice_free(struct uf_choices_result *choices)
{
    if (choices != NULL) {
        uf_bank_clear(&choices->bank);
        free(choices->rows);
        free(choices->designs);
        free(choices);
    }
}

const struct uf_summary *uf_choice_summary(const struct uf_choices_result *choices, size_t row)
{
    const struct uf_choice *asked = &choices->rows[row];
    return asked->ran ? &choices->bank.jobs[asked->run].summary : NULL;
}

static enum uf_status weigh(struct uf_choice *row, const struct uf_case *design, bool told,
                            struct uf_error *err)
{
    struct uf_column_soils soils;
    enum uf_status status = uf_column_soils(&soils, design, err);
    if (status == UF_OK) {
        status = (told ? uf_uplift : uf_uplift_held)(&row->uplift, design, &soils, err);
    }
    if (status == UF_OK && row->buildable) {
        status = uf_load(&row->load, design, &soils, err);
    }
    if (status == UF_OK) {
        status = uf_pit(&row->pit, design, err);
    }
    if (status == UF_OK) {
        uf_cost(&row->cost, design, &row->pit, row->uplift.needed_ballast_m3);
    }
    return status;
}

enum uf_status uf_choice_static(struct uf_choice *row, const struct uf_case *design,
                                struct uf_error *err)
{
    return weigh(row, design, true, err);
}

enum uf_status uf_choice_weigh(struct uf_choice *row, const struct uf_case *design,
                               struct uf_error *err)
{
    return weigh(row, design, false, err);
}

/* Less is better, in this order. */
static double rank_of(const struct uf_choice *row, size_t at)
{
    const double sizes[] = {row->pit.excavation_m3, row->pit.board_m3, row->pit.concrete_m3,
                            row->type != NULL ? row->type->strength_Pa : 0.0};
    const size_t n = sizeof sizes / sizeof sizes[0];
    return at < n ? sizes[at] : uf_option_value(row, at - n);
}
#define RANKS (4 + UF_OPTION_NUMBERS)

bool uf_choice_better(const struct uf_choice *a, const struct uf_choice *b, bool priced)
{
    if (priced && a->cost.total != b->cost.total) {
        return a->cost.total < b->cost.total;
    }
    for (size_t i = 0; i < RANKS; i++) {
        const double mine = rank_of(a, i), other = rank_of(b, i);
        /* Sums of the same pieces in another order are one size. */
        if (fabs(mine - other) > 1e-9 * fmax(fabs(mine), fabs(other))) {
            return mine < other;
        }
    }
    return false;
}

static bool all_priced(const struct uf_choices_result *c)
{
    bool priced = true;
    for (size_t i = 0; i < c->n; i++) {
        priced = priced && (!c->rows[i].ok || c->rows[i].cost.complete);
    }
    return priced;
}

long uf_choice_best(const struct uf_choices_result *c, long but, bool robust)
{
    long best = -1;
    for (size_t i = 0; i < c->n; i++) {
        if (c->rows[i].ok && (long)i != but && (!robust || c->rows[i].trial == UF_CHOICE_ROBUST) &&
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
        const struct uf_job *job = row->ran ? &choices->bank.jobs[row->run] : NULL;
        if (job != NULL && job->status != UF_OK) {
            if (err != NULL) {
                *err = job->err;
            }
            return job->status;
        }
        if (job != NULL) {
            row->verdict = uf_choice_verdict(row, &choices->designs[i], &job->summary);
        }
        row->ok = row->ran && row->verdict.ok;
    }
    choices->priced = all_priced(choices);
    choices->pick = uf_choice_best(choices, -1, false);
    choices->next_best = choices->pick < 0 ? -1 : uf_choice_best(choices, choices->pick, false);
    choices->nearest = choices->pick < 0 ? nearest_miss(choices) : -1;
    return UF_OK;
}
