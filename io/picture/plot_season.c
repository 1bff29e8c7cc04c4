#include "plot_private.h"
#include "solver/base/calendar.h"

#include <math.h>

#define FROST_MARGIN_DAYS  12
#define WINTER_BEFORE_DAYS 45 /* before the frost comes */
#define WINTER_AFTER_DAYS  75 /* after it is gone: water warms late */

/* The frost season around the deepest frost and some days more; all of it without frost. */
static struct uf_plot_span span_around(const struct uf_record *record, size_t before, size_t after)
{
    const size_t deepest = uf_record_coldest(record);
    struct uf_plot_span span = {deepest, deepest};
    if (!(record->frost_depth_m[deepest] > 0.0)) {
        return (struct uf_plot_span){0, record->nt - 1};
    }
    while (span.first > 0 && record->frost_depth_m[span.first - 1] > 0.0) {
        span.first--;
    }
    while (span.last + 1 < record->nt && record->frost_depth_m[span.last + 1] > 0.0) {
        span.last++;
    }
    span.first = span.first > before ? span.first - before : 0;
    span.last = span.last + after < record->nt ? span.last + after : record->nt - 1;
    return span;
}

struct uf_plot_span uf_plot_span_frost(const struct uf_record *record)
{
    return span_around(record, FROST_MARGIN_DAYS, FROST_MARGIN_DAYS);
}

struct uf_plot_span uf_plot_span_winter(const struct uf_record *record)
{
    return span_around(record, WINTER_BEFORE_DAYS, WINTER_AFTER_DAYS);
}

void uf_plot_send_months(struct uf_gnuplot *plot, double first_day, double last_day)
{
    static const char *const names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    const long first = (long)floor(first_day);
    const long last = (long)ceil(last_day);
    size_t n = 0;
    uf_gnuplot_number(plot, "first_day", first_day);
    uf_gnuplot_number(plot, "last_day", last_day);
    uf_gnuplot_data(plot, "months");
    for (long day = first; day <= last; day++) {
        const struct uf_date date = uf_calendar_date(day);
        if (date.day == 1) {
            uf_gnuplot_cell(plot, (double)day);
            uf_gnuplot_word(plot, names[date.month - 1]);
            if (n == 0 || date.month == 1) {
                uf_gnuplot_cell(plot, date.year);
            }
            uf_gnuplot_row(plot);
            n++;
        }
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_number(plot, "n_months", (double)n);
}

void uf_plot_send_series(struct uf_gnuplot *plot, const char *name, const struct uf_record *record,
                         struct uf_plot_span span, const struct uf_plot_series *shown,
                         const struct uf_plot_look *look)
{
    uf_gnuplot_data(plot, name);
    if (record == NULL) {
        uf_gnuplot_cell(plot, NAN);
        uf_gnuplot_cell(plot, NAN);
        uf_gnuplot_cell(plot, NAN);
        uf_gnuplot_row(plot);
    }
    for (size_t t = span.first; record != NULL && t <= span.last; t++) {
        uf_gnuplot_cell(plot, record->time_day[t]);
        for (size_t k = 0; shown->series[k] != NULL; k++) {
            uf_gnuplot_cell(plot, shown->convert(look, shown->series[k][t]));
        }
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
}
