#include "plot_private.h"

#include <math.h>
#include <stdlib.h>

/* A temperature field as a picture's tones, its 0 degC line and the hatch of what is frozen. */

#define HATCH_LINES 46 /* across the picture's width */

static double largest(double a, double b)
{
    return b > a ? b : a;
}

void uf_plot_view_point(const struct uf_plot_view *view, double x_m, double z_m)
{
    uf_gnuplot_cell(view->plot, uf_plot_length(view->look, x_m));
    uf_gnuplot_cell(view->plot, uf_plot_length(view->look, z_m));
    uf_gnuplot_row(view->plot);
}

/* Starts the data block of that name with the suffix behind it. */
static void open_block(const struct uf_plot_view *view, const char *name, const char *suffix)
{
    char text[32];
    (void)snprintf(text, sizeof text, "%s%s", name, suffix);
    uf_gnuplot_data(view->plot, text);
}

/* The loops to fill, largest first, each a data index with its tone in the other block. */
static void send_tones(const struct uf_plot_view *view, const struct uf_isoline_list *list,
                       const char *suffix)
{
    char text[32];
    open_block(view, "tones", suffix);
    for (size_t k = 0; k < list->n_loops; k++) {
        const struct uf_isoline_loop *loop = &list->loops[k];
        for (size_t i = 0; i < loop->n; i++) {
            uf_plot_view_point(view, list->points[loop->first + i].x,
                               list->points[loop->first + i].z);
        }
        uf_gnuplot_row(view->plot);
        uf_gnuplot_row(view->plot);
    }
    uf_gnuplot_data_end(view->plot);
    open_block(view, "tone_of", suffix);
    for (size_t k = 0; k < list->n_loops; k++) {
        const struct uf_isoline_loop *loop = &list->loops[k];
        uf_gnuplot_cell(view->plot, loop->low_inside ? loop->level : loop->level + 1.0);
        uf_gnuplot_row(view->plot);
    }
    uf_gnuplot_data_end(view->plot);
    (void)snprintf(text, sizeof text, "n_tones%s", suffix);
    uf_gnuplot_number(view->plot, text, (double)list->n_loops);
}

/* The lines of one level, without the parts that follow the window's side. */
static void send_level(const struct uf_plot_view *view, const struct uf_isoline_list *list,
                       int level)
{
    for (size_t k = 0; k < list->n_loops; k++) {
        const struct uf_isoline_loop *loop = &list->loops[k];
        for (size_t i = 0; loop->level == level && i <= loop->n; i++) {
            const struct uf_isoline_point *p = &list->points[loop->first + i % loop->n];
            if (p->border) {
                uf_gnuplot_row(view->plot);
            } else {
                uf_plot_view_point(view, p->x, p->z);
            }
        }
        uf_gnuplot_row(view->plot);
    }
}

/* Ends of the frozen stretches along one slanting line x + z = sum. */
static void send_hatch_line(const struct uf_plot_view *view, const struct uf_plot_nodes *nodes,
                            double sum_m, double step_m)
{
    const double top_m = largest(0.0, sum_m - view->half_m);
    const double bottom_m = fmin(view->depth_m, sum_m + view->half_m);
    double before = NAN;
    bool open = false;
    const long steps = (long)floor((bottom_m - top_m) / step_m);
    for (long k = 0; k <= steps; k++) {
        const double z = top_m + (double)k * step_m;
        const double degC = uf_plot_nodes_at(nodes, sum_m - z, z);
        if ((degC < 0.0) != open) {
            const double back =
                isnan(before) || open == (before >= 0.0) ? 0.0 : degC / (degC - before) * step_m;
            uf_plot_view_point(view, sum_m - (z - back), z - back);
            open = !open;
            if (!open) {
                uf_gnuplot_row(view->plot);
            }
        }
        before = degC;
    }
    if (open) {
        uf_plot_view_point(view, sum_m - bottom_m, bottom_m);
        uf_gnuplot_row(view->plot);
    }
}

static void send_hatch(const struct uf_plot_view *view, const struct uf_plot_nodes *nodes)
{
    const double apart_m = 2.0 * view->half_m / HATCH_LINES;
    const long lines = (long)ceil((2.0 * view->half_m + view->depth_m) / apart_m);
    for (long k = 0; k < lines; k++) {
        send_hatch_line(view, nodes, (double)k * apart_m - view->half_m, apart_m / 6.0);
    }
}

static void send_field(const struct uf_plot_view *view, const struct uf_plot_nodes *nodes,
                       const struct uf_isoline_list *list, int zero, const char *suffix)
{
    send_tones(view, list, suffix);
    open_block(view, "zero", suffix);
    send_level(view, list, zero);
    uf_gnuplot_data_end(view->plot);
    open_block(view, "hatch", suffix);
    send_hatch(view, nodes);
    uf_gnuplot_data_end(view->plot);
}

enum uf_status uf_plot_view_field(const struct uf_plot_view *view,
                                  const struct uf_plot_tones *tones, const char *suffix,
                                  struct uf_error *err)
{
    struct uf_plot_nodes nodes;
    struct uf_isoline_list list = {0};
    enum uf_status status = uf_plot_nodes_fill(&nodes, view, true, err);
    if (status == UF_OK) {
        status = uf_isoline_trace(&list, &nodes.field, tones->level_degC, tones->n, err);
    }
    if (status == UF_OK) {
        send_field(view, &nodes, &list, tones->zero, suffix);
    }
    uf_isoline_clear(&list);
    uf_plot_nodes_clear(&nodes);
    return status;
}

#define ISOTHERMS  40
#define LABEL_ROOM 0.05 /* a label's height, of half the window's width */

/* The isotherms to draw, in degC: round numbers of the unit that is shown, every 1 or 2 K (2 or 5
   degF), and as many as there is room for; not that of freezing, which has a line of its own. */
static int find_isotherms(double level_degC[ISOTHERMS], const struct uf_plot_view *view,
                          const struct uf_isoline_field *field)
{
    const double slope =
        uf_plot_temperature(view->look, 1.0) - uf_plot_temperature(view->look, 0.0);
    const double zero = uf_plot_temperature(view->look, 0.0);
    double low = INFINITY, high = -INFINITY;
    int n = 0;
    for (size_t k = 0; k < field->nx * field->nz; k++) {
        low = fmin(low, field->values[k]);
        high = fmax(high, field->values[k]);
    }
    const double step = view->look->us     ? (high - low > 8.0 ? 5.0 : 2.0)
                        : high - low > 8.0 ? 2.0
                                           : 1.0;
    for (double shown = step * ceil((zero + slope * low) / step);
         shown < zero + slope * high && n < ISOTHERMS; shown += step) {
        if (fabs(shown - zero) > 1e-6) {
            level_degC[n++] = (shown - zero) / slope;
        }
    }
    return n;
}

/* Is a label's place within the window and clear of those before it? */
static bool is_clear(const struct uf_plot_view *view, const struct uf_isoline_point *p,
                     const double *taken_m, size_t n)
{
    const double room_m = LABEL_ROOM * view->half_m;
    bool clear = p->z > 0.5 * room_m && p->z < view->depth_m - 0.5 * room_m;
    for (size_t i = 0; i < n; i++) {
        clear = clear && fabs(taken_m[i] - p->z) > room_m;
    }
    return clear;
}

/* One label a line, where it passes nearest to a place left of the tank; none where another stands. */
static void send_isotherm_labels(const struct uf_plot_view *view,
                                 const struct uf_isoline_list *list, const double *level_degC)
{
    double taken_m[ISOTHERMS];
    size_t taken = 0;
    uf_gnuplot_data(view->plot, "isotherm_labels");
    for (size_t k = 0; k < list->n_loops; k++) {
        const struct uf_isoline_loop *loop = &list->loops[k];
        const struct uf_isoline_point *best = NULL;
        for (size_t i = 0; i < loop->n; i++) {
            const struct uf_isoline_point *p = &list->points[loop->first + i];
            const double away_m = fabs(p->x + 0.75 * view->half_m);
            if (!p->border && (best == NULL || away_m < fabs(best->x + 0.75 * view->half_m))) {
                best = p;
            }
        }
        if (best != NULL && loop->n > 8 && taken < ISOTHERMS &&
            is_clear(view, best, taken_m, taken)) {
            taken_m[taken++] = best->z;
            uf_gnuplot_cell(view->plot, uf_plot_length(view->look, best->x));
            uf_gnuplot_cell(view->plot, uf_plot_length(view->look, best->z));
            uf_gnuplot_cell(view->plot, uf_plot_temperature(view->look, level_degC[loop->level]));
            uf_gnuplot_row(view->plot);
        }
    }
    uf_gnuplot_data_end(view->plot);
}

enum uf_status uf_plot_view_isotherms(const struct uf_plot_view *view, struct uf_error *err)
{
    struct uf_plot_nodes nodes;
    struct uf_isoline_list list = {0};
    double level_degC[ISOTHERMS];
    enum uf_status status = uf_plot_nodes_fill(&nodes, view, false, err);
    const int n = status == UF_OK ? find_isotherms(level_degC, view, &nodes.field) : 0;
    if (status == UF_OK) {
        status = uf_isoline_trace(&list, &nodes.field, level_degC, n, err);
    }
    if (status == UF_OK) {
        uf_gnuplot_data(view->plot, "isotherms");
        for (int level = 0; level < n; level++) {
            send_level(view, &list, level);
        }
        uf_gnuplot_data_end(view->plot);
        send_isotherm_labels(view, &list, level_degC);
    }
    uf_isoline_clear(&list);
    uf_plot_nodes_clear(&nodes);
    return status;
}
