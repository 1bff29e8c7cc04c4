#include "plot_private.h"
#include "solver/ground/published_depth.h"

#include <math.h>
#include <string.h>

/* Frost depth against freezing index, a point a winter, beside two published relations.
   Winters of several stations follow each other, station by station. */

enum { CURVE_POINTS = 60, MOST_STATIONS = 8 };

bool uf_plot_has_index(const struct uf_result *result)
{
    for (size_t i = 0; i < result->n_winters; i++) {
        if (isfinite(result->winters[i].frost_m)) {
            return true;
        }
    }
    return false;
}

/* $winters: one block of rows a station, parted by two empty lines. Returns how many. */
static size_t send_winters(struct uf_gnuplot *plot, const struct uf_result *result,
                           const struct uf_plot_look *look)
{
    size_t stations = 1;
    uf_gnuplot_data(plot, "winters");
    for (size_t i = 0; i < result->n_winters; i++) {
        const struct uf_result_winter *w = &result->winters[i];
        if (i > 0 && w->station != result->winters[i - 1].station) {
            uf_gnuplot_row(plot);
            uf_gnuplot_row(plot);
            stations++;
        }
        if (isfinite(w->frost_m)) {
            uf_gnuplot_cell(plot, uf_plot_index(look, w->freezing_index_degC_day));
            uf_gnuplot_cell(plot, uf_plot_length(look, w->frost_m));
            uf_gnuplot_row(plot);
        }
    }
    uf_gnuplot_data_end(plot);
    return stations;
}

/* $relations: index, Chisholm & Phang, Fair et al. */
static void send_relations(struct uf_gnuplot *plot, double most_degC_day,
                           const struct uf_plot_look *look)
{
    uf_gnuplot_data(plot, "relations");
    for (int k = 0; k <= CURVE_POINTS; k++) {
        const double index = most_degC_day * k / CURVE_POINTS;
        uf_gnuplot_cell(plot, uf_plot_index(look, index));
        uf_gnuplot_cell(plot, uf_plot_length(look, uf_published_depth_chisholm_phang_m(index)));
        uf_gnuplot_cell(plot, uf_plot_length(look, uf_published_depth_fair_m(index)));
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
}

/* name1, name2 ... of the stations. */
static void send_names(struct uf_gnuplot *plot, const struct uf_result *result, size_t stations)
{
    for (size_t k = 0; k < stations && k < MOST_STATIONS; k++) {
        const char *name = result->stations != NULL ? result->stations[k] : result->station;
        char variable[16];
        (void)snprintf(variable, sizeof variable, "name%zu", k + 1);
        uf_gnuplot_text(plot, variable, name != NULL ? name : "");
    }
}

enum uf_status uf_plot_feed_index(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err)
{
    double most_degC_day = 0.0;
    double deepest_m = 0.0;
    (void)err;
    for (size_t i = 0; i < result->n_winters; i++) {
        if (isfinite(result->winters[i].frost_m)) {
            most_degC_day = fmax(most_degC_day, result->winters[i].freezing_index_degC_day);
            deepest_m = fmax(deepest_m, result->winters[i].frost_m);
        }
    }
    most_degC_day = fmax(100.0, 1.05 * most_degC_day);
    deepest_m = fmax(deepest_m, fmax(uf_published_depth_chisholm_phang_m(most_degC_day),
                                     uf_published_depth_fair_m(most_degC_day)));
    send_relations(plot, most_degC_day, look);
    const size_t stations = send_winters(plot, result, look);
    send_names(plot, result, stations);
    uf_gnuplot_number(plot, "stations",
                      (double)(stations < MOST_STATIONS ? stations : MOST_STATIONS));
    uf_gnuplot_number(plot, "right", uf_plot_index(look, most_degC_day));
    uf_gnuplot_number(plot, "deepest", uf_plot_length(look, deepest_m));
    return UF_OK;
}
