#include "plot_private.h"

#include <math.h>

/* Cost against cover, a line for each thickness of board: of each pair the cheapest option that is
   robust, else that meets every limit, else that was priced. */

#define MOST_LINES 16

struct chart {
    double thickness_m[MOST_LINES], cover_m[MOST_LINES]; /* rising */
    size_t n_thicknesses, n_covers;
};

bool uf_plot_has_costs(const struct uf_result *result)
{
    for (size_t i = 0; i < result->n_choices; i++) {
        if (isfinite(result->choices[i].cost)) {
            return true;
        }
    }
    return false;
}

/* Enters a value in its order, once. */
static void enter(double *values, size_t *n, double value)
{
    size_t at = 0;
    while (at < *n && values[at] < value - 1e-6) {
        at++;
    }
    if ((at < *n && values[at] < value + 1e-6) || *n == MOST_LINES) {
        return;
    }
    for (size_t k = (*n)++; k > at; k--) {
        values[k] = values[k - 1];
    }
    values[at] = value;
}

/* 2 robust, 1 every limit met in the design case, 0 not. */
static int state_of(const struct uf_result_choice *choice)
{
    return choice->ok ? (choice->robust ? 2 : 1) : 0;
}

/* The option that stands for a pair: the recommended one, else the best; -1: none was priced. */
static long standing_for(const struct uf_result *result, double thickness_m, double cover_m)
{
    long best = -1;
    for (size_t i = 0; i < result->n_choices; i++) {
        const struct uf_result_choice *c = &result->choices[i];
        if (!isfinite(c->cost) || fabs(c->thickness_m - thickness_m) > 1e-6 ||
            fabs(c->cover_m - cover_m) > 1e-6) {
            continue;
        }
        if ((long)i == result->pick) {
            return (long)i;
        }
        const struct uf_result_choice *other = best < 0 ? NULL : &result->choices[best];
        if (other == NULL || state_of(c) > state_of(other) ||
            (state_of(c) == state_of(other) && c->cost < other->cost)) {
            best = (long)i;
        }
    }
    return best;
}

/* One line: cover, cost, state, recommended. */
static void send_line(struct uf_gnuplot *plot, const struct chart *chart, size_t line,
                      const struct uf_result *result, const struct uf_plot_look *look)
{
    char name[32];
    (void)snprintf(name, sizeof name, "line%zu", line + 1);
    uf_gnuplot_data(plot, name);
    for (size_t k = 0; k < chart->n_covers; k++) {
        const long at = standing_for(result, chart->thickness_m[line], chart->cover_m[k]);
        uf_gnuplot_cell(plot, uf_plot_length(look, chart->cover_m[k]));
        uf_gnuplot_cell(plot, at < 0 ? (double)NAN : result->choices[at].cost);
        uf_gnuplot_cell(plot, at < 0 ? (double)NAN : state_of(&result->choices[at]));
        uf_gnuplot_cell(plot, at >= 0 && at == result->pick);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
}

enum uf_status uf_plot_feed_costs(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err)
{
    struct chart chart = {.n_covers = 0};
    char text[40];
    (void)err;
    for (size_t i = 0; i < result->n_choices; i++) {
        if (isfinite(result->choices[i].cost)) {
            enter(chart.thickness_m, &chart.n_thicknesses, result->choices[i].thickness_m);
            enter(chart.cover_m, &chart.n_covers, result->choices[i].cover_m);
        }
    }
    uf_gnuplot_data(plot, "names");
    for (size_t k = 0; k < chart.n_thicknesses; k++) {
        (void)uf_plot_thickness_text(text, sizeof text, look, chart.thickness_m[k]);
        uf_gnuplot_word(plot, chart.thickness_m[k] > 0.0 ? text : "no board");
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    for (size_t k = 0; k < chart.n_thicknesses; k++) {
        send_line(plot, &chart, k, result, look);
    }
    uf_gnuplot_number(plot, "n_lines", (double)chart.n_thicknesses);
    uf_gnuplot_number(plot, "least_cover", uf_plot_length(look, chart.cover_m[0]));
    uf_gnuplot_number(plot, "most_cover", uf_plot_length(look, chart.cover_m[chart.n_covers - 1]));
    uf_gnuplot_text(plot, "currency", result->design.currency);
    return UF_OK;
}
