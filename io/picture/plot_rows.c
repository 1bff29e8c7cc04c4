#include "io/text/quantity.h"
#include "plot_private.h"

#include <math.h>
#include <string.h>

/* Rows of the design, which pictures draw by a loop: anchors, and limits beside their curves. */

/* One row for the section's right side and, of what does not lie on the axis, one for its left. */
static void send_sides(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                       const double corners_m[2][2], bool mirrored)
{
    for (int side = mirrored ? -1 : 1; side <= 1; side += 2) {
        for (size_t k = 0; k < 2; k++) {
            uf_gnuplot_cell(plot, uf_plot_length(look, (double)side * corners_m[k][0]));
            uf_gnuplot_cell(plot, uf_plot_length(look, corners_m[k][1]));
        }
        uf_gnuplot_row(plot);
    }
}

void uf_plot_send_anchors(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                          const struct uf_result_design *d)
{
    uf_gnuplot_data(plot, "anchors");
    for (size_t i = 0; i < d->n_anchors; i++) {
        const struct uf_anchor_body *body = &d->anchors[i].body;
        const double corners_m[2][2] = {
            {body->axis_m - 0.5 * body->width_m, body->top_m},
            {body->axis_m + 0.5 * body->width_m, body->top_m + body->height_m}};
        send_sides(plot, look, corners_m, body->axis_m > 0.0);
    }
    uf_gnuplot_data_end(plot);
}

double uf_plot_send_limits(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                           const struct uf_result_design *d, const char *curve, const char *name,
                           const char *prefix)
{
    const enum uf_units units = look->us ? UF_UNITS_US : UF_UNITS_SI;
    double largest = NAN;
    uf_gnuplot_data(plot, name);
    for (size_t i = 0; i < d->n_limits; i++) {
        const struct uf_limit *row = uf_limit_find(d->limits[i].key);
        char text[100], asked[40];
        if (row == NULL || row->curve == NULL || strcmp(row->curve, curve) != 0) {
            continue;
        }
        const double value = uf_quantity_value(row->quantity, units, d->limits[i].asked);
        (void)(row->quantity == UF_QUANTITY_TEMPERATURE
                   ? uf_plot_temperature_text(asked, sizeof asked, look, d->limits[i].asked)
                   : uf_quantity_text(asked, sizeof asked, row->quantity, units,
                                      d->limits[i].asked));
        (void)snprintf(text, sizeof text, "%s %s", prefix, asked);
        uf_gnuplot_cell(plot, value);
        uf_gnuplot_word(plot, text);
        uf_gnuplot_row(plot);
        largest = fmax(largest, value);
    }
    uf_gnuplot_data_end(plot);
    return largest;
}
