#include "plot_private.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"
#include "solver/design/shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The section on the day when most of it is frozen, mirrored about the tank's axis. The
   deepest frost comes weeks later, when the ground has thawed from the top. */

#define WINDOW_LEAST_M  3.0 /* half the width shown */
#define WINDOW_BESIDE_M 1.5 /* shown beside board or tank */
#define WINDOW_BELOW_M  0.6
#define WINDOW_ABOVE_M  0.55 /* over grade, for its labels */
#define NOTE_SIZE       160  /* of a line of names under the picture */

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

static double largest(double a, double b)
{
    return b > a ? b : a; /* a NAN b leaves a */
}

void uf_plot_view_window(struct uf_plot_view *view, const struct uf_result_design *design,
                         double frost_m)
{
    const struct uf_record *r = view->record;
    double half = largest(WINDOW_LEAST_M, design->half_width_m + WINDOW_BESIDE_M);
    double depth = largest(1.5, design->invert_m + WINDOW_BELOW_M);
    half = largest(half, design->board_half_width_m + WINDOW_BESIDE_M);
    depth = largest(depth, frost_m + WINDOW_BELOW_M);
    depth = largest(depth, design->dig.floor_m + 0.3);
    for (size_t i = 0; i < design->n_anchors; i++) {
        const struct uf_anchor_body *body = &design->anchors[i].body;
        depth = largest(depth, body->top_m + body->height_m + 0.3);
    }
    if (design->water_winter_m < depth + 1.0) {
        depth = largest(depth, design->water_winter_m + 0.4);
    }
    view->half_m = r->nx > 1 ? fmin(half, r->x_edge_m[r->nx]) : half;
    view->depth_m = fmin(depth, r->z_edge_m[r->nz]);
}

/* Closed outline of the tank and the line of its water. */
static void send_tank(const struct uf_plot_view *view, const struct uf_result_design *d)
{
    const double radius = d->half_width_m, middle = 0.5 * (d->crown_m + d->invert_m);
    const struct uf_shape_row *shape = uf_shape_at(d->shape);
    const bool round = shape != NULL && shape->round_section;
    const double level_m =
        d->invert_m - (isfinite(d->wall_thickness_m) ? d->wall_thickness_m : 0.0) - d->level_m;
    double chord = radius;
    uf_gnuplot_data(view->plot, "tank");
    for (int i = 0; round && i <= 96; i++) {
        const double angle = 2.0 * UF_PI * i / 96.0;
        uf_plot_view_point(view, radius * sin(angle), middle - radius * cos(angle));
    }
    for (int i = 0; !round && i <= 4; i++) {
        uf_plot_view_point(view, i == 1 || i == 2 ? radius : -radius,
                           i == 2 || i == 3 ? d->invert_m : d->crown_m);
    }
    uf_gnuplot_data_end(view->plot);
    if (round) {
        chord = sqrt(fmax(0.0, radius * radius - (level_m - middle) * (level_m - middle)));
    }
    uf_gnuplot_number(view->plot, "level_z", uf_plot_length(view->look, level_m));
    uf_gnuplot_number(view->plot, "level_x",
                      d->level_m > 0.0 ? uf_plot_length(view->look, chord) : (double)NAN);
}

static void send_design(const struct uf_plot_view *view, const struct uf_result_design *d)
{
    const struct {
        const char *name;
        double m;
    } rows[] = {{"window_x", view->half_m},
                {"window_z", view->depth_m},
                {"window_top", -WINDOW_ABOVE_M},
                {"crown", d->crown_m},
                {"invert", d->invert_m},
                {"tank_half", uf_shape_at(d->shape) != NULL ? d->half_width_m : (double)NAN},
                {"board_top", d->board_top_m},
                {"board_bottom", d->board_bottom_m},
                {"board_half", d->board_half_width_m},
                {"skirt", d->skirt_m},
                {"water_table", d->water_winter_m}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        uf_gnuplot_number(view->plot, rows[i].name, uf_plot_length(view->look, rows[i].m));
    }
    uf_plot_send_pit(view->plot, view->look, &d->dig);
    uf_gnuplot_number(view->plot, "near_zero",
                      uf_plot_temperature(view->look, UF_PLOT_NEAR_ZERO_K));
    send_tank(view, d);
    uf_plot_send_anchors(view->plot, view->look, d);
}

/* The probes as numbered marks, their names in lines under the picture. */
static void send_probes(const struct uf_plot_view *view, const struct uf_result_design *d)
{
    const size_t n = view->record->n_probes;
    char line[NOTE_SIZE] = "Probes:";
    size_t notes = 0;
    uf_gnuplot_data(view->plot, "probes");
    for (size_t i = 0; i < n; i++) {
        uf_plot_view_point(view, d->probe_x_m[i], d->probe_depth_m[i]);
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_data(view->plot, "notes");
    for (size_t i = 0; i < n; i++) {
        const size_t used = strlen(line);
        (void)snprintf(line + used, sizeof line - used, "   %zu  %s", i + 1,
                       view->record->probe_names[i]);
        if (strlen(line) > NOTE_SIZE - UF_NAME_SIZE - 12 || i + 1 == n) {
            uf_gnuplot_word(view->plot, line);
            uf_gnuplot_row(view->plot);
            line[0] = '\0';
            notes++;
        }
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_number(view->plot, "n_notes", (double)notes);
}

void uf_plot_section_works(const struct uf_plot_view *view, const struct uf_result_design *d)
{
    send_design(view, d);
    send_probes(view, d);
}

void uf_plot_section_texts(const struct uf_plot_view *view, const struct uf_result_design *d)
{
    char text[200], number[40];
    (void)snprintf(text, sizeof text, "board %s",
                   uf_plot_thickness_text(number, sizeof number, view->look,
                                          d->board_bottom_m - d->board_top_m));
    uf_gnuplot_text(view->plot, "board_text", text);
    (void)snprintf(text, sizeof text, "cover %s",
                   uf_plot_length_text(number, sizeof number, view->look, d->crown_m));
    uf_gnuplot_text(view->plot, "cover_text", text);
    (void)snprintf(text, sizeof text, "water table %s",
                   uf_plot_length_text(number, sizeof number, view->look, d->water_winter_m));
    uf_gnuplot_text(view->plot, "table_text", text);
    uf_gnuplot_text(view->plot, "across_text",
                    view->record->radial ? "radius" : "distance from the axis");
}

static void send_texts(const struct uf_plot_view *view, size_t time)
{
    const struct uf_record *r = view->record;
    char text[200], number[40];
    char date[16];
    (void)snprintf(text, sizeof text, "Section on %s, when most ground is frozen; frost to %s",
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

enum uf_status uf_plot_feed_section(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_record *r = result->record;
    const size_t time = most_frozen(r);
    struct uf_plot_view view = {.record = r,
                                .degC = r->temperature_degC + time * r->nz * r->nx,
                                .plot = plot,
                                .look = look};
    const struct uf_plot_tones tones = {{0.0, UF_PLOT_NEAR_ZERO_K}, 2, 0};
    uf_plot_view_window(&view, &result->design, r->frost_depth_m[time]);
    uf_plot_section_works(&view, &result->design);
    uf_plot_section_texts(&view, &result->design);
    send_texts(&view, time);
    const enum uf_status status = uf_plot_view_isotherms(&view, err);
    return status == UF_OK ? uf_plot_view_field(&view, &tones, "", err) : status;
}
