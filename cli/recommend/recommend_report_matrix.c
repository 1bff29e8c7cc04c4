#include "io/text/quantity.h"
#include "recommend_report.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Cover against thickness of board, a table for each extension: what is asked of a recommendation at a
   glance. Options that differ from the recommended one in anything else stand in the appendix. */

#define MOST 14 /* columns of a table, the first one apart */

static bool same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/* Is it the shown option but for cover, thickness and extension? */
static bool is_beside(const struct uf_choice *row, const struct uf_choice *shown)
{
    const bool board = row->thickness_m > 0.0 && shown->thickness_m > 0.0;
    return same(row->lid_m2K_W, shown->lid_m2K_W) && same(row->sleeve_m, shown->sleeve_m) &&
           same(row->fill_over_m, shown->fill_over_m) && row->anchors_at == shown->anchors_at &&
           (!board || (row->type_at == shown->type_at && same(row->skirt_m, shown->skirt_m)));
}

/* The values of a member, each once, rising. */
static size_t list_values(double out[MOST], const struct uf_choices_result *choices,
                          const struct uf_choice *shown, size_t member)
{
    size_t n = 0;
    for (size_t i = 0; i < choices->n; i++) {
        const struct uf_choice *row = &choices->rows[i];
        const double value = *(const double *)(const void *)((const char *)row + member);
        size_t at = 0;
        while (at < n && out[at] < value) {
            at++;
        }
        const bool counts =
            is_beside(row, shown) &&
            (member != offsetof(struct uf_choice, beyond_m) || row->thickness_m > 0.0);
        if (!counts || n == MOST || (at < n && out[at] == value)) {
            continue;
        }
        for (size_t k = n; k > at; k--) {
            out[k] = out[k - 1];
        }
        out[at] = value;
        n++;
    }
    return n;
}

/* The option of a cell; without board any extension. */
static long find_option(const struct uf_recommend_page *page, double cover_m, double thickness_m,
                        double beyond_m)
{
    const struct uf_choices_result *choices = page->r->choices;
    const struct uf_choice *shown = &choices->rows[page->r->shown];
    for (size_t i = 0; i < choices->n; i++) {
        const struct uf_choice *row = &choices->rows[i];
        if (is_beside(row, shown) && row->cover_m == cover_m && row->thickness_m == thickness_m &&
            (!(thickness_m > 0.0) || row->beyond_m == beyond_m)) {
            return (long)i;
        }
    }
    return -1;
}

static void write_cell(const struct uf_recommend_page *page, long at)
{
    const struct uf_choices_result *choices = page->r->choices;
    const struct uf_choice *row = at >= 0 ? &choices->rows[at] : NULL;
    if (row == NULL) {
        uf_report_cell(page->report, "-");
        return;
    }
    char cost[32] = "";
    if (isfinite(row->cost.total) && page->r->run.site->design.costs.given) {
        (void)snprintf(cost, sizeof cost, "%.0f  \xc2\xb7  ", row->cost.total);
    }
    if (at == choices->pick) {
        uf_report_strong_cell(page->report);
    }
    uf_report_cell(page->report, "%s%s  \xc2\xb7  %s\n%s%s",
                   uf_recommend_is_plane(page->r, (size_t)at) ? "~" : "",
                   row->ran ? UF_TEXT(TEMPERATURE, page->units,
                                      uf_limit_water_degC(uf_choice_summary(choices, (size_t)at)))
                            : "not run",
                   UF_NUMBER(FACTOR, page->units, row->uplift.highest.factor_submerged), cost,
                   at == choices->pick                                      ? "RECOMMENDED"
                   : row->trial == UF_CHOICE_ROBUST && !page->args->nominal ? "robust"
                   : row->ok                                                ? "met"
                                                                            : "not met");
}

static void write_table(const struct uf_recommend_page *page, const double *covers, size_t n_covers,
                        const double *thicknesses, size_t n, double beyond_m)
{
    const struct uf_case *design = &page->r->jobs[UF_RECOMMEND_KEPT].design;
    struct uf_show_column columns[MOST + 1];
    char heads[MOST][96], caption[400];
    columns[0] = (struct uf_show_column){"cover", 'l'};
    for (size_t k = 0; k < n; k++) {
        (void)snprintf(heads[k], sizeof heads[k], "no board");
        if (thicknesses[k] > 0.0) {
            (void)snprintf(heads[k], sizeof heads[k], "%s\nR %s",
                           UF_TEXT(BOARD, page->units, thicknesses[k]),
                           UF_TEXT(RESISTANCE, page->units, thicknesses[k] / design->board.k_W_mK));
        }
        columns[k + 1] = (struct uf_show_column){heads[k], 'm'};
    }
    (void)snprintf(
        caption, sizeof caption,
        "Board extending %s beyond the tank. In each cell: coldest water or wetted wall; "
        "factor of safety against flotation; %s; whether every limit is met.",
        isfinite(beyond_m) ? UF_TEXT(LENGTH, page->units, beyond_m) : "nowhere",
        page->r->run.site->design.costs.given ? "cost" : "no cost, as no prices were given");
    uf_report_table(page->report, caption, columns, n + 1);
    for (size_t i = 0; i < n_covers; i++) {
        uf_report_cell(page->report, "%s", UF_TEXT(LENGTH, page->units, covers[i]));
        for (size_t k = 0; k < n; k++) {
            write_cell(page, find_option(page, covers[i], thicknesses[k], beyond_m));
        }
    }
}

void uf_recommend_report_matrix(const struct uf_recommend_page *page)
{
    const struct uf_choices_result *choices = page->r->choices;
    const struct uf_choice *shown = &choices->rows[page->r->shown];
    double covers[MOST], thicknesses[MOST], beyond[MOST] = {NAN};
    const size_t n_covers =
        list_values(covers, choices, shown, offsetof(struct uf_choice, cover_m));
    const size_t n =
        list_values(thicknesses, choices, shown, offsetof(struct uf_choice, thickness_m));
    size_t n_beyond = list_values(beyond, choices, shown, offsetof(struct uf_choice, beyond_m));
    uf_report_section(page->report, "Options: cover against thickness of board");
    n_beyond = n_beyond > 0 ? n_beyond : 1;
    for (size_t i = 0; i < n_beyond; i++) {
        write_table(page, covers, n_covers, thicknesses, n, beyond[i]);
    }
    uf_report_paragraph(
        page->report,
        "R: thickness over the conductivity in service, %s. \"Not run\": fails on "
        "flotation, board load or cover, which no winter changes. All %zu options with "
        "their closest limits are in the appendix.",
        UF_TEXT(CONDUCTIVITY, page->units, page->r->jobs[UF_RECOMMEND_KEPT].design.board.k_W_mK),
        choices->n);
    for (size_t i = 0; i < choices->n; i++) {
        if (uf_recommend_is_plane(page->r, i)) {
            uf_report_paragraph(page->report, "%s.", uf_recommend_plane_note);
            break;
        }
    }
}
