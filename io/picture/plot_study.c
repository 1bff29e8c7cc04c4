#include "plot_private.h"

#include <math.h>
#include <stdio.h>

/* Pictures of a study: the share of cases below each value, option by option; its stations. */

static bool has_curves(const struct uf_result *result)
{
    return result->n_curves > 0;
}

static enum uf_status feed_curves(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err)
{
    size_t n[2] = {0, 0};
    (void)err;
    for (size_t kind = 0; kind < 2; kind++) {
        uf_gnuplot_data(plot, kind == 0 ? "water" : "frost");
        for (size_t i = 0; i < result->n_curves; i++) {
            const struct uf_result_curve *c = &result->curves[i];
            if (c->length != (kind == 1) || c->n == 0) {
                continue;
            }
            for (size_t k = 0; k < c->n; k++) {
                uf_gnuplot_cell(plot, kind == 1 ? uf_plot_length(look, c->sorted[k])
                                                : uf_plot_temperature(look, c->sorted[k]));
                uf_gnuplot_cell(plot, 100.0 * ((double)k + 0.5) / (double)c->n);
                uf_gnuplot_row(plot);
            }
            uf_gnuplot_row(plot);
            uf_gnuplot_row(plot);
            n[kind]++;
        }
        uf_gnuplot_data_end(plot);
    }
    for (size_t kind = 0; kind < 2; kind++) {
        size_t at = 0;
        for (size_t i = 0; i < result->n_curves; i++) {
            const struct uf_result_curve *c = &result->curves[i];
            char name[40];
            if (c->length == (kind == 1) && c->n > 0) {
                (void)snprintf(name, sizeof name, "%s_%zu", kind == 0 ? "water" : "frost", ++at);
                uf_gnuplot_text(plot, name, c->name);
            }
        }
    }
    uf_gnuplot_number(plot, "waters", (double)n[0]);
    uf_gnuplot_number(plot, "frosts", (double)n[1]);
    (void)uf_plot_send_limits(plot, look, &result->design, UF_LIMIT_ON_WATER, "limits", "limit");
    return UF_OK;
}

static bool has_places(const struct uf_result *result)
{
    return result->n_places > 0;
}

static enum uf_status feed_places(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err)
{
    double latitude_deg = 0.0;
    (void)err;
    uf_gnuplot_data(plot, "places");
    for (size_t i = 0; i < result->n_places; i++) {
        const struct uf_result_place *p = &result->places[i];
        char text[40] = "none will do";
        uf_gnuplot_cell(plot, p->longitude_deg);
        uf_gnuplot_cell(plot, p->latitude_deg);
        uf_gnuplot_cell(plot, uf_plot_index(look, p->index_degC_day));
        uf_gnuplot_word(plot, p->name);
        if (isfinite(p->thickness_m)) {
            (void)uf_plot_thickness_text(text, sizeof text, look, p->thickness_m);
        }
        uf_gnuplot_word(plot, text);
        uf_gnuplot_row(plot);
        latitude_deg += p->latitude_deg / (double)result->n_places;
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_number(plot, "middle", latitude_deg);
    return UF_OK;
}

const struct uf_plot uf_plot_study = {"study",
                                      "how many cases come out below each value, option by option",
                                      NULL, has_curves, feed_curves};
const struct uf_plot uf_plot_study_map = {"map", "the stations of a study and what each needs",
                                          NULL, has_places, feed_places};
