#include "plot_private.h"
#include "solver/design/case.h"
#include "solver/design/shape.h"

#include <math.h>
#include <stdio.h>

/* The works to scale with their dimensions, for the installation sheet. */

bool uf_plot_has_layout(const struct uf_result *result)
{
    return isfinite(result->design.crown_m) && isfinite(result->design.dig.floor_m);
}

static void send_length(struct uf_gnuplot *plot, const struct uf_plot_look *look, const char *name,
                        double m)
{
    uf_gnuplot_number(plot, name, uf_plot_length(look, m));
}

/* name = "prefix 1.20 m" */
static void send_words(struct uf_gnuplot *plot, const struct uf_plot_look *look, const char *name,
                       const char *prefix, double m)
{
    char length[40];
    char text[120];
    (void)snprintf(text, sizeof text, "%s%s", prefix,
                   uf_plot_length_text(length, sizeof length, look, m));
    uf_gnuplot_text(plot, name, text);
}

void uf_plot_send_pit(struct uf_gnuplot *plot, const struct uf_plot_look *look,
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

static void send_pit(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                     const struct uf_result_design *d)
{
    char text[80];
    const struct uf_dig *dig = &d->dig;
    double foot_m = dig->floor_m;
    for (size_t i = 0; i < d->n_anchors; i++) {
        foot_m = d->anchors[i].under_bedding ? fmin(foot_m, d->anchors[i].body.top_m) : foot_m;
    }
    const double bedding_m = foot_m - d->invert_m;
    uf_plot_send_pit(plot, look, dig);
    send_length(plot, look, "bedding_top", bedding_m > 0.0 ? d->invert_m : (double)NAN);
    send_words(plot, look, "bedding_text", "bedding ", bedding_m);
    send_words(plot, look, "depth_text", "to the floor ", dig->floor_m);
    send_words(plot, look, "floor_text", "floor ", 2.0 * dig->across_m);
    send_words(plot, look, "top_text", "at grade ", 2.0 * uf_dig_half_width_m(dig, 0.0));
    (void)snprintf(text, sizeof text, "side %.2g : 1", dig->slope);
    uf_gnuplot_text(plot, "slope_text", text);
    send_length(plot, look, "water_table", d->water_winter_m);
    send_words(plot, look, "water_text", "winter water table ", d->water_winter_m);
}

enum uf_status uf_plot_feed_layout(struct uf_gnuplot *plot, const struct uf_result *result,
                                   const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_result_design *d = &result->design;
    const bool board = d->board_half_width_m > 0.0 && d->board_bottom_m > d->board_top_m;
    char thickness[40];
    char text[200];
    (void)err;
    const struct uf_shape_row *shape = uf_shape_at(d->shape);
    uf_gnuplot_number(plot, "scale_m", 1.0);
    send_length(plot, look, "crown", d->crown_m);
    send_length(plot, look, "invert", d->invert_m);
    send_length(plot, look, "half", d->half_width_m);
    uf_gnuplot_number(plot, "round", shape != NULL && shape->round_section ? 1.0 : 0.0);
    send_words(plot, look, "cover_text", "cover ", d->crown_m);
    send_words(plot, look, "width_text", shape != NULL ? shape->across : "", 2.0 * d->half_width_m);
    send_words(plot, look, "shell_text", shape != NULL ? shape->along : "",
               shape != NULL && shape->radial ? d->invert_m - d->crown_m : d->length_m);
    send_pit(plot, look, d);
    uf_plot_send_anchors(plot, look, d);
    send_length(plot, look, "board_half", board ? d->board_half_width_m : (double)NAN);
    send_length(plot, look, "board_top", d->board_top_m);
    send_length(plot, look, "board_bottom", d->board_bottom_m);
    send_length(plot, look, "skirt", d->skirt_m);
    send_words(plot, look, "skirt_text", "skirt ", d->skirt_m);
    (void)snprintf(text, sizeof text, "board %s %s",
                   uf_plot_thickness_text(thickness, sizeof thickness, look,
                                          d->board_bottom_m - d->board_top_m),
                   d->board_name);
    uf_gnuplot_text(plot, "board_text", text);
    send_words(plot, look, "beyond_text", "", d->board_half_width_m - d->half_width_m);
    return UF_OK;
}
