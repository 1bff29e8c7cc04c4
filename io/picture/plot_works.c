#include "io/text/quantity.h"
#include "plot_private.h"
#include "solver/base/constants.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"
#include "solver/heat/outline.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The works in a section, across the tank or along it: window, tank, pit, anchors, risers, pipes. */

#define WINDOW_LEAST_M  3.0 /* half the width shown */
#define WINDOW_BESIDE_M 1.5 /* shown beside board or tank */
#define WINDOW_BELOW_M  0.6
#define WINDOW_ABOVE_M  0.55 /* over grade, for its labels */
#define NOTE_SIZE       160  /* of a line of names under the picture */
#define OUTLINE_STEPS   48   /* from crown to invert */

static double largest(double a, double b)
{
    return b > a ? b : a; /* a NAN b leaves a */
}

static bool has_tank(const struct uf_result_design *d)
{
    return uf_shape_at(d->shape) != NULL;
}

static double head_m(const struct uf_result_design *d)
{
    return isfinite(d->head_m) ? d->head_m : 0.0;
}

double uf_plot_view_tank_m(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    return !has_tank(d)  ? (double)NAN
           : view->along ? 0.5 * d->length_m + head_m(d)
                         : d->half_width_m;
}

static double board_m(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    return has_tank(d) ? uf_plot_view_tank_m(view) + d->board_half_width_m - d->half_width_m
                       : d->board_half_width_m;
}

static struct uf_dig dig_of(const struct uf_plot_view *view)
{
    struct uf_dig dig = view->design->dig;
    if (view->along) {
        dig.across_m = dig.along_m;
        dig.shelf_across_m = dig.shelf_along_m;
    }
    return dig;
}

double uf_plot_view_chord_m(const struct uf_plot_view *view, double z_m)
{
    const struct uf_result_design *d = view->design;
    if (!has_tank(d) || z_m < d->crown_m || z_m > d->invert_m) {
        return 0.0;
    }
    const struct uf_outline outline = {.circle = uf_shape_at(d->shape)->round_section,
                                       .half_m = d->half_width_m,
                                       .top_m = d->crown_m,
                                       .bottom_m = d->invert_m};
    const double off_m = fabs(z_m - 0.5 * (d->crown_m + d->invert_m));
    return view->along ? uf_tank_half_length_m(d->length_m, head_m(d), d->half_width_m, off_m)
                       : uf_outline_chord_m(&outline, z_m, false);
}

static double water_level_m(const struct uf_result_design *d)
{
    return d->invert_m - (isfinite(d->wall_thickness_m) ? d->wall_thickness_m : 0.0) - d->level_m;
}

void uf_plot_view_window(struct uf_plot_view *view, double frost_m)
{
    const struct uf_result_design *d = view->design;
    const struct uf_plot_plane *p = &view->plane;
    double half = largest(WINDOW_LEAST_M, uf_plot_view_tank_m(view) + WINDOW_BESIDE_M);
    double depth = largest(1.5, d->invert_m + WINDOW_BELOW_M);
    half = largest(half, board_m(view) + WINDOW_BESIDE_M);
    depth = largest(depth, frost_m + WINDOW_BELOW_M);
    depth = largest(depth, d->dig.floor_m + 0.3);
    for (size_t i = 0; i < d->n_anchors; i++) {
        const struct uf_anchor_body *body = &d->anchors[i].body;
        depth = largest(depth, body->top_m + body->height_m + 0.3);
    }
    if (d->water_winter_m < depth + 1.0) {
        depth = largest(depth, d->water_winter_m + 0.4);
    }
    view->half_m = p->n > 1 ? fmin(half, p->at_edge_m[p->n]) : half;
    view->depth_m = fmin(depth, p->z_edge_m[p->nz]);
    view->top_m = -WINDOW_ABOVE_M;
    for (size_t i = 0; i < d->n_risers; i++) {
        view->top_m = fmin(view->top_m, d->crown_m - d->risers[i].height_m - 0.2);
    }
}

/* Closed outline of the tank and the line of its water. Nearer to each other towards crown and
   invert, where it turns. */
static void send_tank(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    const double level_m = water_level_m(d);
    uf_gnuplot_data(view->plot, "tank");
    for (int i = 0; has_tank(d) && i <= 2 * OUTLINE_STEPS + 1; i++) {
        const int k = i <= OUTLINE_STEPS ? i : 2 * OUTLINE_STEPS + 1 - i;
        const double turn = sin(0.5 * UF_PI * k / OUTLINE_STEPS);
        const double z_m = d->crown_m + (d->invert_m - d->crown_m) * turn * turn;
        uf_plot_view_point(
            view, (i <= OUTLINE_STEPS ? 1.0 : -1.0) * uf_plot_view_chord_m(view, z_m), z_m);
    }
    if (has_tank(d)) {
        uf_plot_view_point(view, uf_plot_view_chord_m(view, d->crown_m), d->crown_m);
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_number(view->plot, "level_z", uf_plot_length(view->look, level_m));
    uf_gnuplot_number(view->plot, "level_x",
                      d->level_m > 0.0
                          ? uf_plot_length(view->look, uf_plot_view_chord_m(view, level_m))
                          : (double)NAN);
}

/* A closed rectangle of a data block. */
static void send_box(const struct uf_plot_view *view, const double x_m[2], const double z_m[2])
{
    for (int i = 0; i <= 4; i++) {
        uf_plot_view_point(view, x_m[i == 1 || i == 2], z_m[i == 2 || i == 3]);
    }
    uf_gnuplot_row(view->plot);
}

/* Where a riser stands along the tank; evenly apart where no place is given. */
static double riser_axis_m(const struct uf_plot_view *view, size_t i)
{
    const struct uf_result_design *d = view->design;
    const double half_m = uf_plot_view_tank_m(view);
    return (isfinite(d->risers[i].station_m)
                ? d->risers[i].station_m
                : 2.0 * half_m / (double)(d->n_risers + 1) * (double)(i + 1)) -
           half_m;
}

/* From the springline up, so that the tank drawn over them meets them on its outline. Across the tank
   they stand one behind the other. */
static void send_risers(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    double left_m = 0.0;
    uf_gnuplot_data(view->plot, "risers");
    for (size_t i = 0; i < d->n_risers; i++) {
        const double axis_m = view->along ? riser_axis_m(view, i) : 0.0;
        const double half_m = 0.5 * d->risers[i].diameter_m;
        const double x_m[2] = {axis_m - half_m, axis_m + half_m};
        const double z_m[2] = {d->crown_m - d->risers[i].height_m,
                               0.5 * (d->crown_m + d->invert_m)};
        send_box(view, x_m, z_m);
        left_m = fmin(left_m, x_m[0] - d->risers[i].shell.sleeve_m);
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_number(view->plot, "risers_left", uf_plot_length(view->look, left_m));
}

/* Foam to both sides of a riser, from its top or grade down to the sleeve's foot; none in files that do
   not know of it. */
static void send_sleeves(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    char text[80] = "", number[40];
    double half_m = NAN, middle_m = NAN;
    uf_gnuplot_data(view->plot, "sleeves");
    for (size_t i = 0; i < d->n_risers; i++) {
        const struct uf_riser *riser = &d->risers[i];
        const double axis_m = view->along ? riser_axis_m(view, i) : 0.0;
        const double in_m = 0.5 * riser->diameter_m, out_m = in_m + riser->shell.sleeve_m;
        const double z_m[2] = {largest(0.0, d->crown_m - riser->height_m),
                               riser->shell.sleeve_length_m};
        if (riser->shell.sleeve_m > 0.0 && z_m[1] > z_m[0]) {
            send_box(view, (const double[2]){axis_m - out_m, axis_m - in_m}, z_m);
            send_box(view, (const double[2]){axis_m + in_m, axis_m + out_m}, z_m);
            half_m = axis_m + out_m;
            middle_m = z_m[0] + 0.25 * (z_m[1] - z_m[0]);
            (void)snprintf(text, sizeof text, "sleeve %s",
                           uf_quantity_text(number, sizeof number, UF_QUANTITY_THICKNESS,
                                            view->look->us ? UF_UNITS_US : UF_UNITS_SI,
                                            riser->shell.sleeve_m));
        }
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_number(view->plot, "sleeve_x", uf_plot_length(view->look, half_m));
    uf_gnuplot_number(view->plot, "sleeve_z", uf_plot_length(view->look, middle_m));
    uf_gnuplot_text(view->plot, "sleeve_text", text);
}

/* Out through the tank's end in the long section; where there is none, through its side. */
static void send_pipes(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    const size_t n = view->along || view->record->ny == 0 ? d->n_pipes : 0;
    uf_gnuplot_data(view->plot, "pipes");
    for (size_t i = 0; i < n; i++) {
        const double depth_m = d->pipes[i].depth_m, half_m = 0.5 * d->pipes[i].diameter_m;
        const bool meets = depth_m > d->crown_m && depth_m < d->invert_m;
        const double x_m[2] = {!has_tank(d) ? -view->half_m
                               : meets      ? 0.0
                                            : uf_plot_view_tank_m(view),
                               view->half_m};
        const double z_m[2] = {depth_m - half_m, depth_m + half_m};
        send_box(view, x_m, z_m);
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_data(view->plot, "pipe_names");
    for (size_t i = 0; i < n; i++) {
        uf_gnuplot_cell(view->plot, uf_plot_length(view->look, d->pipes[i].depth_m -
                                                                   0.5 * d->pipes[i].diameter_m));
        uf_gnuplot_cell(view->plot, uf_plot_length(view->look, d->pipes[i].depth_m +
                                                                   0.5 * d->pipes[i].diameter_m));
        uf_gnuplot_word(view->plot, d->pipes[i].name);
        uf_gnuplot_row(view->plot);
    }
    uf_gnuplot_data_end(view->plot);
}

/* Along the tank only what lies under it is cut. */
static void send_anchors_along(const struct uf_plot_view *view)
{
    uf_gnuplot_data(view->plot, "anchors");
    for (size_t i = 0; i < view->design->n_anchors; i++) {
        const struct uf_anchor_body *body = &view->design->anchors[i].body;
        if (!view->design->anchors[i].under_bedding) {
            continue;
        }
        const double corners_m[4] = {-0.5 * body->length_m, body->top_m, 0.5 * body->length_m,
                                     body->top_m + body->height_m};
        for (size_t k = 0; k < 4; k++) {
            uf_gnuplot_cell(view->plot, uf_plot_length(view->look, corners_m[k]));
        }
        uf_gnuplot_row(view->plot);
    }
    uf_gnuplot_data_end(view->plot);
}

static void send_sizes(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    const struct {
        const char *name;
        double m;
    } rows[] = {{"window_x", view->half_m},        {"window_z", view->depth_m},
                {"window_top", view->top_m},       {"crown", d->crown_m},
                {"invert", d->invert_m},           {"tank_half", uf_plot_view_tank_m(view)},
                {"board_top", d->board_top_m},     {"board_bottom", d->board_bottom_m},
                {"board_half", board_m(view)},     {"skirt", d->skirt_m},
                {"water_table", d->water_winter_m}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        uf_gnuplot_number(view->plot, rows[i].name, uf_plot_length(view->look, rows[i].m));
    }
    uf_gnuplot_number(view->plot, "is_long", view->along);
    uf_gnuplot_number(view->plot, "near_zero",
                      uf_plot_temperature(view->look, UF_PLOT_NEAR_ZERO_K));
}

/* Is the probe in the plane? All are in the section at mid-tank. */
static bool is_shown(const struct uf_plot_view *view, size_t probe)
{
    return !view->along || fabs(view->design->probe_x_m[probe]) < 1e-6;
}

/* One line under the picture. */
static size_t send_note(const struct uf_plot_view *view, const char *line)
{
    uf_gnuplot_word(view->plot, line);
    uf_gnuplot_row(view->plot);
    return 1;
}

static size_t send_names(const struct uf_plot_view *view)
{
    const char *const begin = "Probes:";
    char line[NOTE_SIZE];
    size_t notes = 0;
    (void)snprintf(line, sizeof line, "%s", begin);
    for (size_t i = 0; i < view->record->n_probes; i++) {
        const size_t used = strlen(line);
        if (is_shown(view, i)) {
            (void)snprintf(line + used, sizeof line - used, "   %zu  %s", i + 1,
                           view->record->probe_names[i]);
        }
        if (strlen(line) > NOTE_SIZE - UF_NAME_SIZE - 12) {
            notes += send_note(view, line);
            line[0] = '\0';
        }
    }
    return notes + (line[0] != '\0' && strcmp(line, begin) != 0 ? send_note(view, line) : 0);
}

/* The probes as numbered marks, their names in lines under the picture. */
static void send_probes(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
    uf_gnuplot_data(view->plot, "probes");
    for (size_t i = 0; i < view->record->n_probes; i++) {
        if (is_shown(view, i)) {
            uf_gnuplot_cell(view->plot, uf_plot_length(view->look, d->probe_x_m[i]));
            uf_gnuplot_cell(view->plot, uf_plot_length(view->look, d->probe_depth_m[i]));
            uf_gnuplot_cell(view->plot, (double)(i + 1));
            uf_gnuplot_row(view->plot);
        }
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_data(view->plot, "notes");
    size_t notes = send_names(view);
    bool known = true;
    for (size_t i = 0; i < d->n_risers; i++) {
        known = known && isfinite(d->risers[i].station_m);
    }
    if (view->along && !known) {
        notes +=
            send_note(view, "Risers: drawing.riser_stations is not given; drawn evenly apart.");
    }
    uf_gnuplot_data_end(view->plot);
    uf_gnuplot_number(view->plot, "n_notes", (double)notes);
}

static void send_length(struct uf_gnuplot *plot, const struct uf_plot_look *look, const char *name,
                        double m)
{
    uf_gnuplot_number(plot, name, uf_plot_length(look, m));
}

/* The pit's corners, and where the brought-in fill ends: pit_bottom, pit_half, pit_slope, shelf,
   lower_half and upper_half (below the shelf, on it), reach (at grade), fill_top, fill_half. */
static void send_pit(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                     const struct uf_dig *dig)
{
    const bool filled = dig->fill_top_m > 0.0;
    send_length(plot, look, "pit_bottom", dig->floor_m);
    send_length(plot, look, "pit_half", dig->across_m);
    send_length(plot, look, "shelf", dig->shelf_m);
    send_length(plot, look, "lower_half", uf_dig_half_width_m(dig, dig->shelf_m));
    send_length(plot, look, "upper_half", dig->shelf_across_m);
    send_length(plot, look, "reach", dig->shelf_across_m + dig->slope * dig->shelf_m);
    send_length(plot, look, "fill_top", filled ? dig->fill_top_m : (double)NAN);
    send_length(plot, look, "fill_half",
                filled ? uf_dig_half_width_m(dig, dig->fill_top_m) : (double)NAN);
    uf_gnuplot_number(plot, "pit_slope", dig->slope);
}

void uf_plot_section_works(const struct uf_plot_view *view)
{
    const struct uf_dig dig = dig_of(view);
    send_sizes(view);
    send_pit(view->plot, view->look, &dig);
    send_tank(view);
    if (view->along) {
        send_anchors_along(view);
    } else {
        uf_plot_send_anchors(view->plot, view->look, view->design);
    }
    send_risers(view);
    send_sleeves(view);
    send_pipes(view);
    send_probes(view);
}

void uf_plot_section_texts(const struct uf_plot_view *view)
{
    const struct uf_result_design *d = view->design;
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
                    view->plane.n == 1     ? "one column: the same at every distance"
                    : view->record->radial ? "radius"
                    : view->along          ? "distance from mid-tank"
                                           : "distance from the axis");
}
