#include "io/text/show.h"
#include "recommend.h"
#include "recommend_report.h"
#include "solver/choice/option.h"

#include <math.h>

/* Why not the cheaper one next to it: each option one step away from the recommended one that costs
   less, and what it fails. */

struct neighbours {
    struct uf_robust_neighbour rows[UF_ROBUST_NEIGHBOURS];
    size_t n;
};

static struct neighbours find(const struct uf_recommend *r)
{
    struct neighbours out = {.n = 0};
    if (r->choices->pick >= 0) {
        out.n = uf_robust_against_neighbours(out.rows, r->choices, (size_t)r->choices->pick);
    }
    return out;
}

static const char *step_words(const struct uf_robust_neighbour *near)
{
    const struct uf_option_words *words = &uf_option_words[near->knob];
    return near->less ? words->less : words->more;
}

/* What is saved by it; NAN without prices. */
static double saved(const struct uf_recommend *r, size_t row)
{
    const struct uf_choice *pick = &r->choices->rows[r->choices->pick];
    return r->choices->priced ? pick->cost.total - r->choices->rows[row].cost.total : (double)NAN;
}

void uf_recommend_neighbours_answer(cJSON *answer, const struct uf_recommend *r)
{
    const struct neighbours found = find(r);
    cJSON *list = uf_answer_array(answer, "neighbours");
    for (size_t i = 0; i < found.n; i++) {
        const struct uf_robust_neighbour *near = &found.rows[i];
        struct uf_robust_against why;
        char text[500];
        cJSON *item = uf_answer_item(list);
        const bool known = uf_robust_against(&why, r->robust, near->row);
        uf_answer_number(item, "choice", (double)near->row);
        uf_answer_text(item, "differs_in", uf_option_words[near->knob].key);
        uf_answer_text(item, "step", step_words(near));
        uf_answer_number(item, "saves", saved(r, near->row));
        uf_answer_text(item, "limit", known ? uf_limits[why.limit].key : NULL);
        uf_answer_text(item, "case", known && why.variant != NULL ? why.variant->name : NULL);
        uf_answer_number(item, "margin", known ? why.margin : (double)NAN);
        uf_answer_number(item, "margin_wanted", known ? why.wanted : (double)NAN);
        uf_answer_text(item, "unit",
                       known ? uf_quantity_kinds[uf_quantity_kind_difference(why.quantity)].held
                             : NULL);
        uf_answer_text(item, "against",
                       uf_recommend_against(text, sizeof text, r, near->row, UF_UNITS_SI)[0] != '\0'
                           ? text
                           : NULL);
    }
}

void uf_recommend_neighbours_show(const struct uf_recommend *r, const struct uf_arguments *args)
{
    const struct neighbours found = find(r);
    if (found.n > 0) {
        uf_show_heading(stdout, "Why not the cheaper one next to it?");
    }
    for (size_t i = 0; i < found.n; i++) {
        char option[240], why[500];
        const double less = saved(r, found.rows[i].row);
        (void)uf_recommend_row(option, sizeof option, r, (long)found.rows[i].row, args->units);
        (void)uf_recommend_against(why, sizeof why, r, found.rows[i].row, args->units);
        if (isfinite(less)) {
            uf_show_line(stdout, step_words(&found.rows[i]), "%s, %.0f %s less: %s", option, less,
                         r->run.site->design.costs.currency, why);
        } else {
            uf_show_line(stdout, step_words(&found.rows[i]), "%s: %s", option, why);
        }
    }
}

void uf_recommend_report_neighbours(const struct uf_recommend_page *page)
{
    static const struct uf_show_column columns[] = {
        {"step", 'l'}, {"option", 'l'}, {"costs less by", 'r'}, {"what it fails", 'l'}};
    const struct uf_recommend *r = page->r;
    const struct neighbours found = find(r);
    if (found.n > 0) {
        uf_report_table(page->report, "Why not the cheaper one next to it?", columns, 4);
    }
    for (size_t i = 0; i < found.n; i++) {
        char text[500];
        const size_t row = found.rows[i].row;
        const double less = saved(r, row);
        uf_report_cell(page->report, "%s", step_words(&found.rows[i]));
        uf_report_cell(page->report, "%s",
                       uf_recommend_row(text, sizeof text, r, (long)row, page->units));
        if (isfinite(less)) {
            uf_report_cell(page->report, "%.0f", less);
        } else {
            uf_report_cell(page->report, "-");
        }
        uf_report_cell(page->report, "%s",
                       uf_recommend_against(text, sizeof text, r, row, page->units));
    }
}
