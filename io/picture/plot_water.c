#include "plot_private.h"

#include <math.h>

/* Water and wall through the winter, with and without board, and the share of ice. */

static bool any_finite(const double *series, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (isfinite(series[i])) {
            return true;
        }
    }
    return false;
}

static double largest(const double *series, size_t n)
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++) {
        most = series[i] > most ? series[i] : most;
    }
    return most;
}

static double percent(const struct uf_plot_look *look, double share)
{
    (void)look;
    return 100.0 * share;
}

bool uf_plot_has_water(const struct uf_result *result)
{
    return result->record != NULL && result->record->nt > 1 &&
           any_finite(result->record->water_degC, result->record->nt);
}

static void send_run(struct uf_gnuplot *plot, const char *names[2], const struct uf_record *record,
                     struct uf_plot_span span, const struct uf_plot_look *look)
{
    const struct uf_plot_series degrees = {{record != NULL ? record->water_degC : NULL,
                                            record != NULL ? record->wall_degC : NULL, NULL},
                                           uf_plot_temperature};
    const struct uf_plot_series ice = {{record != NULL ? record->ice_share : NULL, NULL}, percent};
    uf_plot_send_series(plot, names[0], record, span, &degrees, look);
    uf_plot_send_series(plot, names[1], record, span, &ice, look);
}

enum uf_status uf_plot_feed_water(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_record *with = result->record, *without = result->without_board;
    const char *names[2] = {"with", "with_ice"}, *bare_names[2] = {"without", "without_ice"};
    const struct uf_plot_span span = uf_plot_span_winter(with);
    double ice = largest(with->ice_share, with->nt);
    (void)err;
    uf_plot_send_months(plot, with->time_day[span.first], with->time_day[span.last]);
    send_run(plot, names, with, span, look);
    const struct uf_plot_span all = {0, without != NULL ? without->nt - 1 : 0};
    send_run(plot, bare_names, without, all, look);
    if (without != NULL) {
        ice = fmax(ice, largest(without->ice_share, without->nt));
    }
    (void)uf_plot_send_limits(plot, look, &result->design, UF_LIMIT_ON_WATER, "limits", "limit");
    (void)uf_plot_send_limits(plot, look, &result->design, UF_LIMIT_ON_ICE, "ice_limits", "limit");
    uf_gnuplot_number(plot, "most_ice", 100.0 * ice);
    uf_gnuplot_number(plot, "has_without", without != NULL);
    uf_gnuplot_number(plot, "has_board", isfinite(result->design.board_top_m));
    return UF_OK;
}
