#include "plot_private.h"

#include <stdio.h>

/* Measured beside computed: one panel a series, the days below all of them. */

static bool has(const struct uf_result *result)
{
    return result->n_overlays > 0 && result->overlays[0].n > 1;
}

static enum uf_status feed(struct uf_gnuplot *plot, const struct uf_result *result,
                           const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_result_overlay *first = &result->overlays[0];
    (void)err;
    uf_plot_send_months(plot, (double)first->first_day,
                        (double)first->first_day + (double)first->n);
    uf_gnuplot_number(plot, "panels", (double)result->n_overlays);
    for (size_t i = 0; i < result->n_overlays; i++) {
        char name[40];
        (void)snprintf(name, sizeof name, "name_%zu", i + 1);
        uf_gnuplot_text(plot, name, result->overlays[i].name);
    }
    uf_gnuplot_data(plot, "depths");
    for (size_t i = 0; i < result->n_overlays; i++) {
        uf_gnuplot_cell(plot, result->overlays[i].length);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_data(plot, "series");
    for (size_t i = 0; i < result->n_overlays; i++) {
        const struct uf_result_overlay *o = &result->overlays[i];
        double (*shown)(const struct uf_plot_look *, double) =
            o->length ? uf_plot_length : uf_plot_temperature;
        for (size_t k = 0; k < o->n; k++) {
            uf_gnuplot_cell(plot, (double)o->first_day + (double)k + 0.5);
            uf_gnuplot_cell(plot, shown(look, o->measured[k]));
            uf_gnuplot_cell(plot, shown(look, o->computed[k]));
            uf_gnuplot_row(plot);
        }
        uf_gnuplot_row(plot);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    return UF_OK;
}

const struct uf_plot uf_plot_score = {"score", "measured beside computed, series by series", NULL,
                                      has, feed};
