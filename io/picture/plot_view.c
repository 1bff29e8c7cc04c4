#include "isoline.h"
#include "plot_private.h"

#include <math.h>
#include <stdlib.h>

/* A temperature field as a picture's tones, its 0 degC line and the hatch of what is frozen. */

#define HATCH_LINES 46 /* across the picture's width */

static double largest(double a, double b)
{
    return b > a ? b : a;
}

/* Place of at among the cell centres: index of the lower one and the share towards the
   next. Beyond the ends the end's value, but a straight line on up to the surface. */
static size_t place(const double *centre, size_t n, double at, bool extend, double *share)
{
    size_t i = 0;
    while (i + 2 < n && at > centre[i + 1]) {
        i++;
    }
    *share = n > 1 ? (at - centre[i]) / (centre[i + 1] - centre[i]) : 0.0;
    *share = *share > 1.0 ? 1.0 : *share < 0.0 && !extend ? 0.0 : *share;
    return i;
}

static double sample(const struct uf_plot_view *view, double x_m, double z_m)
{
    const struct uf_record *r = view->record;
    double sx = 0.0, sz = 0.0;
    const size_t i = place(r->x_m, r->nx, fabs(x_m), false, &sx);
    const size_t j = place(r->z_m, r->nz, z_m, true, &sz);
    const size_t i2 = r->nx > 1 ? i + 1 : i, j2 = r->nz > 1 ? j + 1 : j;
    const double upper =
        (1.0 - sx) * (double)view->degC[j * r->nx + i] + sx * (double)view->degC[j * r->nx + i2];
    const double lower =
        (1.0 - sx) * (double)view->degC[j2 * r->nx + i] + sx * (double)view->degC[j2 * r->nx + i2];
    return (1.0 - sz) * upper + sz * lower;
}

/* The cell centres inside the window, with the window's own ends. Returns how many. */
static size_t nodes_x(const struct uf_plot_view *view, double *x)
{
    const struct uf_record *r = view->record;
    size_t n = 0;
    x[n++] = -view->half_m;
    for (size_t i = r->nx; i-- > 0;) {
        if (r->x_m[i] < view->half_m && r->x_m[i] > 0.0) {
            x[n++] = -r->x_m[i];
        }
    }
    for (size_t i = 0; i < r->nx; i++) {
        if (r->x_m[i] < view->half_m && r->x_m[i] >= 0.0) {
            x[n++] = r->x_m[i];
        }
    }
    x[n++] = view->half_m;
    return n;
}

static size_t nodes_z(const struct uf_plot_view *view, double *z)
{
    const struct uf_record *r = view->record;
    size_t n = 0;
    z[n++] = 0.0;
    for (size_t j = 0; j < r->nz && r->z_m[j] < view->depth_m; j++) {
        z[n++] = r->z_m[j];
    }
    z[n++] = view->depth_m;
    return n;
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
static void send_hatch_line(const struct uf_plot_view *view, double sum_m, double step_m)
{
    const double top_m = largest(0.0, sum_m - view->half_m);
    const double bottom_m = fmin(view->depth_m, sum_m + view->half_m);
    double before = NAN;
    bool open = false;
    const long steps = (long)floor((bottom_m - top_m) / step_m);
    for (long k = 0; k <= steps; k++) {
        const double z = top_m + (double)k * step_m;
        const double degC = sample(view, sum_m - z, z);
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

static void send_hatch(const struct uf_plot_view *view)
{
    const double apart_m = 2.0 * view->half_m / HATCH_LINES;
    const long lines = (long)ceil((2.0 * view->half_m + view->depth_m) / apart_m);
    for (long k = 0; k < lines; k++) {
        send_hatch_line(view, (double)k * apart_m - view->half_m, apart_m / 6.0);
    }
}

static void send_field(const struct uf_plot_view *view, const struct uf_isoline_list *list,
                       int zero, const char *suffix)
{
    send_tones(view, list, suffix);
    open_block(view, "zero", suffix);
    send_level(view, list, zero);
    uf_gnuplot_data_end(view->plot);
    open_block(view, "hatch", suffix);
    send_hatch(view);
    uf_gnuplot_data_end(view->plot);
}

/* The field at the nodes of the mirrored grid. */
struct nodes {
    double *x, *z, *values;
    struct uf_isoline_field field;
};

static void nodes_clear(struct nodes *nodes)
{
    free(nodes->values);
    free(nodes->z);
    free(nodes->x);
}

/* Errors: UF_E_MEMORY; nodes_clear in either case. */
static enum uf_status nodes_fill(struct nodes *out, const struct uf_plot_view *view,
                                 struct uf_error *err)
{
    const size_t most_x = 2 * view->record->nx + 2, most_z = view->record->nz + 2;
    out->x = malloc(most_x * sizeof *out->x);
    out->z = malloc(most_z * sizeof *out->z);
    out->values = malloc(most_x * most_z * sizeof *out->values);
    if (out->x == NULL || out->z == NULL || out->values == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the section");
    }
    const size_t nx = nodes_x(view, out->x), nz = nodes_z(view, out->z);
    for (size_t k = 0; k < nx * nz; k++) {
        out->values[k] = sample(view, out->x[k % nx], out->z[k / nx]);
    }
    out->field = (struct uf_isoline_field){out->values, out->x, out->z, nx, nz};
    return UF_OK;
}

enum uf_status uf_plot_view_field(const struct uf_plot_view *view,
                                  const struct uf_plot_tones *tones, const char *suffix,
                                  struct uf_error *err)
{
    struct nodes nodes = {NULL, NULL, NULL, {NULL, NULL, NULL, 0, 0}};
    struct uf_isoline_list list = {0};
    enum uf_status status = nodes_fill(&nodes, view, err);
    if (status == UF_OK) {
        status = uf_isoline_trace(&list, &nodes.field, tones->level_degC, tones->n, err);
    }
    if (status == UF_OK) {
        send_field(view, &list, tones->zero, suffix);
    }
    uf_isoline_clear(&list);
    nodes_clear(&nodes);
    return status;
}

#define ISOTHERMS 40

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

/* One label a line, where it passes nearest to a place left of the tank. */
static void send_isotherm_labels(const struct uf_plot_view *view,
                                 const struct uf_isoline_list *list, const double *level_degC)
{
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
        if (best != NULL && loop->n > 8) {
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
    struct nodes nodes = {NULL, NULL, NULL, {NULL, NULL, NULL, 0, 0}};
    struct uf_isoline_list list = {0};
    double level_degC[ISOTHERMS];
    enum uf_status status = nodes_fill(&nodes, view, err);
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
    nodes_clear(&nodes);
    return status;
}
