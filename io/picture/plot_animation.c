#include "plot_private.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdio.h>

/* The section through the winter as frames of one picture, every so many days, each with
   its date, its air and the frost of its day. */

#define MOST_FRAMES 60

/* Where the tones part: round numbers in the unit that is shown, so that they are the
   same in every frame and in every picture. */
static const struct uf_plot_tones tones_si = {{-10.0, -5.0, -2.0, 0.0, 2.0, 5.0, 10.0}, 7, 3};
static const struct uf_plot_tones tones_us = {
    {-22.0 / 1.8, -12.0 / 1.8, -4.0 / 1.8, 0.0, 4.0 / 1.8, 8.0 / 1.8, 18.0 / 1.8}, 7, 3};

struct frames {
    size_t first, step, n; /* of the record's times */
};

static struct frames choose_frames(const struct uf_record *record)
{
    const struct uf_plot_span span = uf_plot_span_frost(record);
    const size_t times = span.last - span.first + 1;
    const size_t step = (times + MOST_FRAMES - 1) / MOST_FRAMES;
    return (struct frames){span.first, step, (times + step - 1) / step};
}

bool uf_plot_has_animation(const struct uf_result *result)
{
    return uf_plot_has_section(result) && result->record->nt > 1;
}

/* One line a frame. */
static void send_lines(const struct uf_plot_view *view, struct frames frames, const char *name,
                       void (*write)(char *text, size_t size, size_t time,
                                     const struct uf_plot_view *view))
{
    char text[200];
    uf_gnuplot_data(view->plot, name);
    for (size_t f = 0; f < frames.n; f++) {
        write(text, sizeof text, frames.first + f * frames.step, view);
        uf_gnuplot_word(view->plot, text);
        uf_gnuplot_row(view->plot);
    }
    uf_gnuplot_data_end(view->plot);
}

static void write_heading(char *text, size_t size, size_t time, const struct uf_plot_view *view)
{
    const struct uf_record *r = view->record;
    char air[60] = "", frost[40], date[16], snow[60] = "", depth[40];
    if (isfinite(r->air_degC[time])) {
        (void)snprintf(
            air, sizeof air, ", air %s",
            uf_plot_temperature_text(depth, sizeof depth, view->look, r->air_degC[time]));
    }
    if (r->snow_m[time] > 0.0) {
        (void)snprintf(snow, sizeof snow, ", snow %s",
                       uf_plot_length_text(depth, sizeof depth, view->look, r->snow_m[time]));
    }
    (void)snprintf(
        text, size, "%s%s%s, frost to %s",
        uf_calendar_text((long)floor(r->time_day[time]), date, sizeof date), air, snow,
        uf_plot_length_text(frost, sizeof frost, view->look, fmax(0.0, r->frost_depth_m[time])));
}

static void write_water(char *text, size_t size, size_t time, const struct uf_plot_view *view)
{
    char number[40];
    const double degC = view->record->water_degC[time];
    (void)snprintf(text, size, isfinite(degC) ? "water %s" : "empty",
                   uf_plot_temperature_text(number, sizeof number, view->look, degC));
}

static void write_ice(char *text, size_t size, size_t time, const struct uf_plot_view *view)
{
    const double share = view->record->ice_share[time];
    (void)snprintf(text, size, share > 0.0 ? "%.0f %% ice" : " ", 100.0 * share);
}

static void send_air(const struct uf_plot_view *view, struct frames frames)
{
    const struct uf_record *r = view->record;
    const size_t end = frames.first + (frames.n - 1) * frames.step;
    const struct uf_plot_series shown = {{r->air_degC, NULL}, uf_plot_temperature};
    uf_plot_send_months(view->plot, r->time_day[frames.first], r->time_day[end]);
    uf_plot_send_series(view->plot, "air", r, (struct uf_plot_span){frames.first, end}, &shown,
                        view->look);
    uf_gnuplot_data(view->plot, "marks");
    for (size_t t = frames.first; t <= end; t += frames.step) {
        uf_gnuplot_cell(view->plot, r->time_day[t]);
        uf_gnuplot_cell(view->plot, uf_plot_temperature(view->look, r->air_degC[t]));
        uf_gnuplot_row(view->plot);
    }
    uf_gnuplot_data_end(view->plot);
}

static void send_levels(const struct uf_plot_view *view, const struct uf_plot_tones *tones)
{
    uf_gnuplot_data(view->plot, "levels");
    for (int k = 0; k < tones->n; k++) {
        uf_gnuplot_cell(view->plot, uf_plot_temperature(view->look, tones->level_degC[k]));
        uf_gnuplot_row(view->plot);
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_number(view->plot, "n_levels", tones->n);
    uf_gnuplot_number(view->plot, "zero_level", tones->zero + 1.0);
}

enum uf_status uf_plot_feed_animation(struct uf_gnuplot *plot, const struct uf_result *result,
                                      const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_record *r = result->record;
    const struct uf_plot_tones *tones = look->us ? &tones_us : &tones_si;
    const struct frames frames = choose_frames(r);
    struct uf_plot_view view = {.record = r,
                                .design = &result->design,
                                .plane = uf_plot_plane_across(r, frames.first),
                                .plot = plot,
                                .look = look};
    enum uf_status status = UF_OK;
    uf_plot_view_window(&view, r->frost_depth_m[uf_record_coldest(r)]);
    uf_plot_section_works(&view);
    uf_plot_section_texts(&view);
    send_lines(&view, frames, "headings", write_heading);
    send_lines(&view, frames, "waters", write_water);
    send_lines(&view, frames, "ices", write_ice);
    send_air(&view, frames);
    send_levels(&view, tones);
    for (size_t f = 0; status == UF_OK && f < frames.n; f++) {
        char suffix[24];
        (void)snprintf(suffix, sizeof suffix, "%zu", f + 1);
        view.plane = uf_plot_plane_across(r, frames.first + f * frames.step);
        status = uf_plot_view_field(&view, tones, suffix, err);
    }
    uf_gnuplot_number(plot, "n_frames", (double)frames.n);
    return status;
}
