#include "plot_private.h"

#include <math.h>

/* Factor against uplift with the water table at each depth, depth downward as in the section. */

bool uf_plot_has_uplift(const struct uf_result *result)
{
    for (size_t i = 0; i < result->n_levels; i++) {
        if (isfinite(result->levels[i].factor)) {
            return true;
        }
    }
    return false;
}

enum uf_status uf_plot_feed_uplift(struct uf_gnuplot *plot, const struct uf_result *result,
                                   const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_result_design *d = &result->design;
    double deepest = d->invert_m, shallowest = 0.0;
    (void)err;
    uf_gnuplot_data(plot, "levels");
    for (size_t i = 0; i < result->n_levels; i++) {
        const struct uf_result_level *level = &result->levels[i];
        if (isfinite(level->factor)) {
            uf_gnuplot_cell(plot, level->factor);
            uf_gnuplot_cell(plot, uf_plot_length(look, level->depth_m));
            uf_gnuplot_row(plot);
            deepest = level->depth_m > deepest || isnan(deepest) ? level->depth_m : deepest;
            shallowest = fmin(shallowest, level->depth_m);
        }
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_number(
        plot, "limit",
        uf_plot_send_limits(plot, look, d, UF_LIMIT_ON_FLOTATION, "limits", "required"));
    uf_gnuplot_number(plot, "deepest", uf_plot_length(look, deepest));
    uf_gnuplot_number(plot, "shallowest", uf_plot_length(look, shallowest));
    uf_gnuplot_number(plot, "crown", uf_plot_length(look, d->crown_m));
    uf_gnuplot_number(plot, "invert", uf_plot_length(look, d->invert_m));
    uf_gnuplot_number(plot, "highest", uf_plot_length(look, d->water_highest_m));
    return UF_OK;
}
