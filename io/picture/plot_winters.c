#include "plot_private.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Freezing index of every winter on file, with the return levels and the design winter. */

#define MOST_LINES 12
#define LABEL_GAP  0.055 /* of the axis, between the middles of two labels */

struct line {
    double index, label; /* degC day; where the label stands */
    char text[60];
};

bool uf_plot_has_winters(const struct uf_result *result)
{
    for (size_t i = 0; i < result->n_winters; i++) {
        if (isfinite(result->winters[i].freezing_index_degC_day)) {
            return true;
        }
    }
    return false;
}

static int lower_first(const void *a, const void *b)
{
    const struct line *first = a, *second = b;
    return first->index > second->index ? 1 : first->index < second->index ? -1 : 0;
}

/* Lines in rising order, their labels pushed apart. */
static size_t find_lines(struct line *lines, const struct uf_result *result, double top,
                         double three_degC_day)
{
    size_t n = 0;
    if (isfinite(three_degC_day)) {
        lines[n++] = (struct line){three_degC_day, NAN, "coldest three"};
    }
    for (size_t i = 0; i < result->n_returns && n < MOST_LINES - 1; i++) {
        if (isfinite(result->returns[i].freezing_index_degC_day)) {
            lines[n].index = result->returns[i].freezing_index_degC_day;
            (void)snprintf(lines[n].text, sizeof lines[n].text, "1 in %g",
                           result->returns[i].years);
            n++;
        }
    }
    size_t same = 0; /* the design winter is one of these */
    while (same < n && fabs(lines[same].index - result->design_index_degC_day) >= 0.5) {
        same++;
    }
    if (same < n) {
        const size_t used = strlen(lines[same].text);
        (void)snprintf(lines[same].text + used, sizeof lines[same].text - used, " (design)");
    } else if (isfinite(result->design_index_degC_day)) {
        lines[n].index = result->design_index_degC_day;
        (void)snprintf(lines[n].text, sizeof lines[n].text, "design winter");
        n++;
    }
    qsort(lines, n, sizeof lines[0], lower_first);
    for (size_t i = 0; i < n; i++) {
        const double least = i > 0 ? lines[i - 1].label + LABEL_GAP * top : 0.0;
        lines[i].label = fmax(lines[i].index, least);
    }
    return n;
}

/* The third coldest of the latest thirty winters on file: as cold or colder are three of
   them. NAN under ten winters, where there is no such design index. *from_year: where the
   thirty begin. *mean: of the three. */
static double third_coldest(const struct uf_result *result, long *from_year, double *mean)
{
    double coldest[3] = {-1.0, -1.0, -1.0};
    size_t n = 0;
    for (size_t i = result->n_winters; i-- > 0 && n < 30;) {
        const double index = result->winters[i].freezing_index_degC_day;
        if (!isfinite(index)) {
            continue;
        }
        n++;
        *from_year = result->winters[i].year;
        for (size_t k = 0; k < 3; k++) {
            if (index > coldest[k]) {
                memmove(coldest + k + 1, coldest + k, (2 - k) * sizeof *coldest);
                coldest[k] = index;
                break;
            }
        }
    }
    *mean = (coldest[0] + coldest[1] + coldest[2]) / 3.0;
    return n >= 10 ? coldest[2] : (double)NAN;
}

static double highest(const struct uf_result *result)
{
    double top = isfinite(result->design_index_degC_day) ? result->design_index_degC_day : 0.0;
    for (size_t i = 0; i < result->n_winters; i++) {
        top = fmax(top, result->winters[i].freezing_index_degC_day);
    }
    for (size_t i = 0; i < result->n_returns; i++) {
        top = fmax(top, result->returns[i].freezing_index_degC_day);
    }
    return top;
}

enum uf_status uf_plot_feed_winters(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err)
{
    struct line lines[MOST_LINES];
    const double top = highest(result);
    long from_year = LONG_MAX;
    double mean = NAN;
    const double third = third_coldest(result, &from_year, &mean);
    const size_t n = find_lines(lines, result, top, isfinite(third) ? mean : (double)NAN);
    (void)err;
    uf_gnuplot_number(plot, "has_coldest", isfinite(third));
    uf_gnuplot_data(plot, "winters");
    for (size_t i = 0; i < result->n_winters; i++) {
        uf_gnuplot_cell(plot, (double)result->winters[i].year);
        uf_gnuplot_cell(plot, uf_plot_index(look, result->winters[i].freezing_index_degC_day));
        uf_gnuplot_cell(plot, result->winters[i].year >= from_year &&
                                  result->winters[i].freezing_index_degC_day >= third);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_data(plot, "levels");
    for (size_t i = 0; i < n; i++) {
        uf_gnuplot_cell(plot, uf_plot_index(look, lines[i].index));
        uf_gnuplot_cell(plot, uf_plot_index(look, lines[i].label));
        uf_gnuplot_word(plot, lines[i].text);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_number(plot, "n_levels", (double)n);
    uf_gnuplot_number(plot, "first_winter", (double)result->winters[0].year);
    uf_gnuplot_number(plot, "last_winter", (double)result->winters[result->n_winters - 1].year);
    uf_gnuplot_number(plot, "top", uf_plot_index(look, top));
    uf_gnuplot_text(plot, "station", result->station != NULL ? result->station : "");
    return UF_OK;
}
