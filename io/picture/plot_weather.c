#include "plot_private.h"

#include <math.h>

/* Air and snow of the design winter, day by day, with the mean year behind them. */

#define LONGEST_DAYS 1200 /* beyond, days are too narrow to be told apart */

/* The days of the result; those of its record where it kept none of their own. */
static struct uf_result_day day_of(const struct uf_result *result, size_t i)
{
    const struct uf_record *r = result->record;
    return result->n_days > 0 ? result->days[i]
                              : (struct uf_result_day){r->time_day[i] - 0.5, r->air_degC[i],
                                                       r->snow_m[i], NAN, NAN};
}

static size_t count_days(const struct uf_result *result)
{
    return result->n_days > 0 ? result->n_days : (result->record != NULL ? result->record->nt : 0);
}

bool uf_plot_has_weather(const struct uf_result *result)
{
    const size_t n = count_days(result);
    bool any = false;
    for (size_t i = 0; i < n && !any; i++) {
        any = isfinite(day_of(result, i).air_degC);
    }
    return any && n > 1 &&
           day_of(result, n - 1).time_day - day_of(result, 0).time_day < LONGEST_DAYS;
}

/* $days: day, air, snow, and both of the mean year. Returns the deepest snow. */
static double send_days(struct uf_gnuplot *plot, const struct uf_result *result,
                        const struct uf_plot_look *look)
{
    double most_m = 0.0;
    uf_gnuplot_data(plot, "days");
    for (size_t i = 0; i < count_days(result); i++) {
        const struct uf_result_day day = day_of(result, i);
        uf_gnuplot_cell(plot, day.time_day);
        uf_gnuplot_cell(plot, uf_plot_temperature(look, day.air_degC));
        uf_gnuplot_cell(plot, uf_plot_length(look, day.snow_m));
        uf_gnuplot_cell(plot, uf_plot_temperature(look, day.mean_air_degC));
        uf_gnuplot_cell(plot, uf_plot_length(look, day.mean_snow_m));
        uf_gnuplot_row(plot);
        most_m = fmax(most_m, fmax(day.snow_m, day.mean_snow_m));
    }
    uf_gnuplot_data_end(plot);
    return most_m;
}

/* Which winter the days are: one of the return periods, the coldest on file, or just the
   one designed for. */
static char *name_winter(char *text, size_t size, const struct uf_result *result)
{
    double most = 0.0;
    for (size_t i = 0; i < result->n_returns; i++) {
        if (fabs(result->returns[i].freezing_index_degC_day - result->design_index_degC_day) <
            0.5) {
            (void)snprintf(text, size, "The 1 in %g winter", result->returns[i].years);
            return text;
        }
    }
    for (size_t i = 0; i < result->n_winters; i++) {
        most = fmax(most, result->winters[i].freezing_index_degC_day);
    }
    (void)snprintf(text, size, "%s",
                   fabs(most - result->design_index_degC_day) < 0.5 ? "The coldest winter on file"
                                                                    : "The design winter");
    return text;
}

enum uf_status uf_plot_feed_weather(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err)
{
    const size_t n = count_days(result);
    const double index = result->design_index_degC_day;
    char text[120] = "Air and snow on record", name[60];
    (void)err;
    uf_plot_send_months(plot, day_of(result, 0).time_day, day_of(result, n - 1).time_day);
    uf_gnuplot_number(plot, "most_snow", uf_plot_length(look, send_days(plot, result, look)));
    uf_gnuplot_number(plot, "has_mean", n > 0 && isfinite(day_of(result, 0).mean_air_degC));
    if (isfinite(index)) {
        (void)snprintf(text, sizeof text, "%s: air freezing index %.0f \xc2\xb0%c day",
                       name_winter(name, sizeof name, result), uf_plot_index(look, index),
                       look->us ? 'F' : 'C');
    }
    uf_gnuplot_text(plot, "heading", text);
    return UF_OK;
}
