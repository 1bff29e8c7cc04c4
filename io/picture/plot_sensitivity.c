#include "io/text/quantity.h"
#include "plot_private.h"
#include "solver/choice/limit.h"

#include <math.h>
#include <string.h>

/* The decisive margin in every sensitivity case, as a tornado chart: the worst case at the top. */

#define MOST_CASES 40

bool uf_plot_has_sensitivity(const struct uf_result *result)
{
    return result->n_cases > 1 && isfinite(result->cases[0].margin);
}

/* The cases but the first, the least margin first; returns how many. */
static size_t sort_cases(size_t order[MOST_CASES], const struct uf_result *result)
{
    size_t n = 0;
    for (size_t i = 1; i < result->n_cases && n < MOST_CASES; i++) {
        size_t at = n;
        if (isnan(result->cases[i].margin)) {
            continue;
        }
        for (; at > 0 && result->cases[order[at - 1]].margin > result->cases[i].margin; at--) {
            order[at] = order[at - 1];
        }
        order[at] = i;
        n++;
    }
    return n;
}

/* In the limit's own unit. */
static double margin_of(const struct uf_result_case *row)
{
    const struct uf_limit *limit = uf_limit_find(row->limit);
    return row->margin * (limit != NULL ? limit->scale : 1.0);
}

/* What stands beside a bar: the margin, and another limit that the case breaks. */
static const char *bar_text(char *text, size_t size, const struct uf_result_case *row,
                            enum uf_quantity kind, enum uf_units units)
{
    const struct uf_limit *other = uf_limit_find(row->governs);
    char number[40];
    (void)uf_quantity_small(number, sizeof number, kind, units, margin_of(row));
    if (!row->ok && other != NULL && strcmp(row->governs, row->limit) != 0) {
        (void)snprintf(text, size, "%s; fails: %s", number, other->brief);
    } else {
        (void)snprintf(text, size, "%s%s", number, row->ok ? "" : "; fails");
    }
    return text;
}

enum uf_status uf_plot_feed_sensitivity(struct uf_gnuplot *plot, const struct uf_result *result,
                                        const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_result_case *own = &result->cases[0];
    const struct uf_limit *limit = uf_limit_find(own->limit);
    const enum uf_units units = look->us ? UF_UNITS_US : UF_UNITS_SI;
    const enum uf_quantity kind =
        limit != NULL ? uf_quantity_kind_difference(limit->quantity) : UF_QUANTITY_FACTOR;
    size_t order[MOST_CASES];
    const size_t n = sort_cases(order, result);
    char text[160];
    (void)err;
    uf_gnuplot_data(plot,
                    "cases"); /* row from the top, margin, met, name, what is said beside it */
    for (size_t i = 0; i < n; i++) {
        const struct uf_result_case *row = &result->cases[order[i]];
        uf_gnuplot_cell(plot, (double)(i + 1));
        uf_gnuplot_cell(plot, uf_quantity_value(kind, units, margin_of(row)));
        uf_gnuplot_cell(plot, row->ok);
        uf_gnuplot_word(plot, row->name);
        uf_gnuplot_word(plot, bar_text(text, sizeof text, row, kind, units));
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    const char *unit = uf_quantity_unit(kind, units);
    uf_gnuplot_number(plot, "n_cases", (double)n);
    uf_gnuplot_number(plot, "own", uf_quantity_value(kind, units, margin_of(own)));
    (void)snprintf(text, sizeof text, "margin: %s%s%s", limit != NULL ? limit->label : own->limit,
                   unit[0] != '\0' ? ", " : "", unit);
    uf_gnuplot_text(plot, "margin_text", text);
    (void)snprintf(text, sizeof text, "design case %s",
                   uf_quantity_small((char[40]){0}, 40, kind, units, margin_of(own)));
    uf_gnuplot_text(plot, "own_text", text);
    return UF_OK;
}
