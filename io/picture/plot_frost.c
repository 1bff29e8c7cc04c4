#include "plot_private.h"
#include "solver/design/shape.h"

#include <math.h>

/* Frost depth through the winter: in undisturbed ground, and over it with and without board. */

bool uf_plot_has_frost(const struct uf_result *result)
{
    return result->record != NULL && result->record->nt > 1;
}

enum uf_status uf_plot_feed_frost(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_record *with = result->record, *without = result->without_board;
    const struct uf_result_design *d = &result->design;
    const struct uf_plot_span span = uf_plot_span_frost(with);
    const struct uf_plot_series shown = {
        {with->frost_depth_m, with->frost_above_m, with->thaw_depth_m, NULL}, uf_plot_length};
    (void)err;
    uf_plot_send_months(plot, with->time_day[span.first], with->time_day[span.last]);
    uf_plot_send_series(plot, "with", with, span, &shown, look);
    const struct uf_plot_series bare = {{without != NULL ? without->frost_above_m : NULL, NULL},
                                        uf_plot_length};
    const struct uf_plot_span all = {0, without != NULL ? without->nt - 1 : 0};
    uf_plot_send_series(plot, "without", without, all, &bare, look);
    const size_t deepest = uf_record_coldest(with);
    uf_gnuplot_number(plot, "has_without", without != NULL);
    uf_gnuplot_number(plot, "has_tank", uf_shape_at(d->shape) != NULL);
    uf_gnuplot_number(plot, "deepest", uf_plot_length(look, with->frost_depth_m[deepest]));
    uf_gnuplot_number(plot, "crown", uf_plot_length(look, d->crown_m));
    uf_gnuplot_number(plot, "board_top", uf_plot_length(look, d->board_top_m));
    uf_gnuplot_number(plot, "board_bottom", uf_plot_length(look, d->board_bottom_m));
    return UF_OK;
}
