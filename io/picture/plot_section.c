#include "plot_private.h"
#include "solver/base/calendar.h"

#include <math.h>

/* The section on the day when most of it is frozen, mirrored about the tank's axis, and the long
   section of that day. The deepest frost comes weeks later, when the ground has thawed from the
   top. */

bool uf_plot_has_section(const struct uf_result *result)
{
    return result->record != NULL && result->record->temperature_degC != NULL;
}

/* The time at which the frozen part of the section has the largest area. */
static size_t most_frozen(const struct uf_record *r)
{
    size_t best = uf_record_coldest(r);
    double most_m2 = 0.0;
    for (size_t t = 0; t < r->nt; t++) {
        const float *degC = r->temperature_degC + t * r->nz * r->nx;
        double frozen_m2 = 0.0;
        for (size_t k = 0; k < r->nz * r->nx; k++) {
            const size_t i = k % r->nx, j = k / r->nx;
            if (degC[k] < 0.0F) {
                frozen_m2 +=
                    (r->x_edge_m[i + 1] - r->x_edge_m[i]) * (r->z_edge_m[j + 1] - r->z_edge_m[j]);
            }
        }
        if (frozen_m2 > most_m2) {
            most_m2 = frozen_m2;
            best = t;
        }
    }
    return best;
}

bool uf_plot_has_long(const struct uf_result *result)
{
    return uf_plot_has_section(result) && result->record->ny > 0;
}

static void send_texts(const struct uf_plot_view *view, size_t time)
{
    const struct uf_record *r = view->record;
    char text[200], number[40];
    char date[16];
    (void)snprintf(text, sizeof text, "%s on %s, when most ground is frozen; frost to %s",
                   view->along ? "Long section" : "Section",
                   uf_calendar_text((long)floor(r->time_day[time]), date, sizeof date),
                   uf_plot_length_text(number, sizeof number, view->look, r->frost_depth_m[time]));
    uf_gnuplot_text(view->plot, "heading", text);
    (void)snprintf(
        text, sizeof text, "water %s",
        uf_plot_temperature_text(number, sizeof number, view->look, r->water_degC[time]));
    uf_gnuplot_text(view->plot, "water_text", isfinite(r->water_degC[time]) ? text : "empty");
    (void)snprintf(text, sizeof text, "%.0f %% ice", 100.0 * r->ice_share[time]);
    uf_gnuplot_text(view->plot, "ice_text", r->ice_share[time] > 0.0 ? text : "");
}

static enum uf_status feed(struct uf_plot_view *view, size_t time, struct uf_error *err)
{
    const struct uf_plot_tones tones = {{0.0, UF_PLOT_NEAR_ZERO_K}, 2, 0};
    uf_plot_view_window(view, view->record->frost_depth_m[time]);
    uf_plot_section_works(view);
    uf_plot_section_soils(view);
    uf_plot_section_texts(view);
    send_texts(view, time);
    const enum uf_status status = uf_plot_view_isotherms(view, err);
    return status == UF_OK ? uf_plot_view_field(view, &tones, "", err) : status;
}

enum uf_status uf_plot_feed_section(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err)
{
    const size_t time = most_frozen(result->record);
    struct uf_plot_view view = {.record = result->record,
                                .design = &result->design,
                                .plane = uf_plot_plane_across(result->record, time),
                                .plot = plot,
                                .look = look};
    return feed(&view, time, err);
}

enum uf_status uf_plot_feed_long(struct uf_gnuplot *plot, const struct uf_result *result,
                                 const struct uf_plot_look *look, struct uf_error *err)
{
    const size_t time = most_frozen(result->record);
    struct uf_plot_view view = {.record = result->record,
                                .design = &result->design,
                                .plane = uf_plot_plane_along(result->record, time),
                                .along = true,
                                .plot = plot,
                                .look = look};
    return feed(&view, time, err);
}
