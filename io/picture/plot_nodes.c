#include "plot_private.h"

#include <math.h>
#include <stdlib.h>

/* A field at the nodes of a rectangular grid that a picture traces its lines through: the centres
   of cells, mirrored about the middle, with nodes between them. */

enum { PARTS = 3 };               /* of the way from one column to the next */
static const double BENT_M = 0.4; /* so far over the 0 degC line it decides what is drawn */
static const double ON_M = 1e-3;  /* so near is on the tank */

struct uf_plot_plane uf_plot_plane_across(const struct uf_record *r, size_t time)
{
    return (struct uf_plot_plane){.n = r->nx,
                                  .nz = r->nz,
                                  .at_m = r->x_m,
                                  .at_edge_m = r->x_edge_m,
                                  .z_m = r->z_m,
                                  .z_edge_m = r->z_edge_m,
                                  .degC = r->temperature_degC + time * r->nz * r->nx,
                                  .line_m = r->line_m == NULL ? NULL : r->line_m + time * r->nx,
                                  .material = r->material};
}

struct uf_plot_plane uf_plot_plane_along(const struct uf_record *r, size_t time)
{
    return (struct uf_plot_plane){.n = r->ny,
                                  .nz = r->nz,
                                  .at_m = r->y_m,
                                  .at_edge_m = r->y_edge_m,
                                  .z_m = r->z_m,
                                  .z_edge_m = r->z_edge_m,
                                  .degC = r->long_degC + time * r->nz * r->ny,
                                  .line_m =
                                      r->long_line_m == NULL ? NULL : r->long_line_m + time * r->ny,
                                  .material = r->long_material};
}

/* Place of at among centres: index of the lower one and the share towards the next. Beyond the
   ends the end's value, but a straight line on up to the surface. */
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

static double mix(double share, double a, double b)
{
    return (1.0 - share) * a + share * b;
}

static double sample(const struct uf_plot_plane *p, double x_m, double z_m)
{
    double sx = 0.0, sz = 0.0;
    const size_t i = place(p->at_m, p->n, fabs(x_m), false, &sx);
    const size_t j = place(p->z_m, p->nz, z_m, true, &sz);
    const size_t i2 = p->n > 1 ? i + 1 : i, j2 = p->nz > 1 ? j + 1 : j;
    const float *upper = p->degC + j * p->n, *lower = p->degC + j2 * p->n;
    return mix(sz, mix(sx, (double)upper[i], (double)upper[i2]),
               mix(sx, (double)lower[i], (double)lower[i2]));
}

static double line_at(const struct uf_plot_plane *p, double x_m)
{
    double share = 0.0;
    const size_t i = place(p->at_m, p->n, fabs(x_m), false, &share);
    return mix(share, (double)p->line_m[i], (double)p->line_m[p->n > 1 ? i + 1 : i]);
}

/* The centres inside the window with their mirror images and the window's own ends. */
static size_t columns(const struct uf_plot_plane *p, double half_m, double *x)
{
    size_t n = 0;
    x[n++] = -half_m;
    for (size_t i = p->n; i-- > 0;) {
        if (p->at_m[i] < half_m && p->at_m[i] > 0.0) {
            x[n++] = -p->at_m[i];
        }
    }
    for (size_t i = 0; i < p->n; i++) {
        if (p->at_m[i] < half_m && p->at_m[i] >= 0.0) {
            x[n++] = p->at_m[i];
        }
    }
    x[n++] = half_m;
    return n;
}

static size_t rows(const struct uf_plot_plane *p, double depth_m, double *z)
{
    size_t n = 0;
    z[n++] = 0.0;
    for (size_t j = 0; j < p->nz && p->z_m[j] < depth_m; j++) {
        z[n++] = p->z_m[j];
    }
    z[n++] = depth_m;
    return n;
}

/* Slope of a curve at k of n given points that leaves no hump between two of them: the weighted
   harmonic mean of the secants on either side, 0 where they part (Fritsch & Butland 1984, SIAM J.
   Sci. Stat. Comput. 5: 300-304, from memory). */
static double slope(const double *x, const double *v, size_t n, size_t k)
{
    const size_t a = k > 0 ? k - 1 : 0, c = k + 1 < n ? k + 1 : n - 1;
    if (k == a || k == c) {
        return (v[c] - v[a]) / (x[c] - x[a]);
    }
    const double left_m = x[k] - x[a], right_m = x[c] - x[k];
    const double left = (v[k] - v[a]) / left_m, right = (v[c] - v[k]) / right_m;
    const double weight = (left_m + 2.0 * right_m) / (3.0 * (left_m + right_m));
    return left * right > 0.0 ? left * right / mix(weight, left, right) : 0.0;
}

/* A cubic between two of n given points, so smooth at each (Hermite). */
static double between(const double *x, const double *v, size_t n, size_t k, double t)
{
    const double step = x[k + 1] - x[k];
    const double s = 1.0 - t;
    return s * s * (1.0 + 2.0 * t) * v[k] + t * t * (1.0 + 2.0 * s) * v[k + 1] +
           step * t * s * (s * slope(x, v, n, k) - t * slope(x, v, n, k + 1));
}

/* Values at n given points and between them: PARTS for each step. */
static void refine(double *out, const double *x, const double *v, size_t n)
{
    for (size_t k = 0; k + 1 < n; k++) {
        for (size_t part = 0; part < PARTS; part++) {
            out[PARTS * k + part] = between(x, v, n, k, (double)part / PARTS);
        }
    }
    out[PARTS * (n - 1)] = v[n - 1];
}

/* Sets the nodes of one column round the line so that a straight line between them is 0 degC right
   there: as the thawed ground under it goes on upward. Freezing ground stays just under 0 degC for a
   long way up, which would draw a slanting line as steps. */
static void bend(double *values, size_t step, const double *z, size_t nz, double line_m)
{
    size_t j = 0;
    while (j + 1 < nz && z[j + 1] <= line_m) {
        j++;
    }
    if (!(line_m > z[0]) || j + 2 >= nz) {
        return;
    }
    const size_t anchor = z[j + 1] - line_m > 0.5 * (z[j + 1] - z[j]) ? j + 1 : j + 2;
    const double warm = values[anchor * step];
    const double gradient = warm > 0.0 ? warm / (z[anchor] - line_m) : 1.0;
    values[(j + 1) * step] = gradient * (z[j + 1] - line_m);
    values[j * step] = gradient * (z[j] - line_m);
    for (size_t k = j; k-- > 0 && z[k] > line_m - BENT_M && values[k * step] < 0.0;) {
        values[k * step] = fmin(values[k * step], gradient * (z[k] - line_m));
    }
}

/* The first column of n that lies outside the tank, from column k towards its own side. */
static size_t outside(const double *x, size_t n, size_t k, double inside_m)
{
    while (fabs(x[k]) < inside_m && k > 0 && k + 1 < n) {
        k = x[k] < 0.0 ? k - 1 : k + 1;
    }
    return k;
}

/* Depth of the line in column k; where it has come down to the tank, that beside the tank, which
   hides it. */
static double line_beside(const struct uf_plot_view *view, const double *x, size_t n, size_t k)
{
    const double line_m = line_at(&view->plane, x[k]);
    return line_m > view->design->crown_m - ON_M
               ? line_at(&view->plane, x[outside(x, n, k, uf_plot_view_tank_m(view))])
               : line_m;
}

/* Temperatures of every row at the columns. beside: in the tank those of the ground beside it where
   that is frozen or nearly so: the tank hides them, and no line bends towards its water. */
static void sample_all(double *values, const struct uf_plot_view *view, const double *x, size_t n,
                       const double *z, size_t nz, bool beside)
{
    for (size_t j = 0; j < nz; j++) {
        const double inside_m = beside ? uf_plot_view_chord_m(view, z[j]) : 0.0;
        for (size_t k = 0; k < n; k++) {
            const double own = sample(&view->plane, x[k], z[j]);
            const double there = sample(&view->plane, x[outside(x, n, k, inside_m)], z[j]);
            values[j * n + k] = there < UF_PLOT_NEAR_ZERO_K ? there : own;
        }
    }
}

enum uf_status uf_plot_nodes_fill(struct uf_plot_nodes *out, const struct uf_plot_view *view,
                                  bool line, struct uf_error *err)
{
    const struct uf_plot_plane *p = &view->plane;
    const size_t most = 2 * p->n + 2, most_z = p->nz + 2;
    double *x = malloc(most * sizeof *x);
    double *values = malloc(most * most_z * sizeof *values);
    enum uf_status status = UF_OK;
    out->x = malloc(PARTS * most * sizeof *out->x);
    out->z = malloc(most_z * sizeof *out->z);
    out->values = malloc(PARTS * most * most_z * sizeof *out->values);
    if (x == NULL || values == NULL || out->x == NULL || out->z == NULL || out->values == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for the section");
    } else {
        const size_t n = columns(p, view->half_m, x), nz = rows(p, view->depth_m, out->z);
        const size_t nx = PARTS * (n - 1) + 1;
        sample_all(values, view, x, n, out->z, nz, line);
        for (size_t k = 0; line && p->line_m != NULL && k < n; k++) {
            bend(values + k, n, out->z, nz, line_beside(view, x, n, k));
        }
        refine(out->x, x, x, n);
        for (size_t j = 0; j < nz; j++) {
            refine(out->values + j * nx, x, values + j * n, n);
        }
        out->field = (struct uf_isoline_field){out->values, out->x, out->z, nx, nz};
    }
    free(values);
    free(x);
    return status;
}

double uf_plot_nodes_at(const struct uf_plot_nodes *nodes, double x_m, double z_m)
{
    const struct uf_isoline_field *f = &nodes->field;
    double sx = 0.0, sz = 0.0;
    const size_t i = place(f->x, f->nx, x_m, false, &sx), j = place(f->z, f->nz, z_m, false, &sz);
    const double *upper = f->values + j * f->nx + i, *lower = upper + f->nx;
    return mix(sz, mix(sx, upper[0], upper[1]), mix(sx, lower[0], lower[1]));
}

void uf_plot_nodes_clear(struct uf_plot_nodes *nodes)
{
    free(nodes->values);
    free(nodes->z);
    free(nodes->x);
}
