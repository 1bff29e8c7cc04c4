#include "isoline.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The grid with one more node on every side, and what is being traced through it. Node
   (i, j) of it is node (i - 1, j - 1) of the caller's. */
struct field {
    const double *values, *x, *z;
    size_t nx, nz; /* of the caller */
    size_t mx, mz; /* with the surrounding */
    double level;
    long *next;          /* for each edge, the edge where the line goes on; -1: none */
    size_t n_horizontal; /* edges along x come first, then those along z */
};

static bool outside(const struct field *f, size_t i, size_t j)
{
    return i == 0 || j == 0 || i > f->nx || j > f->nz;
}

static double value_at(const struct field *f, size_t i, size_t j)
{
    return outside(f, i, j) ? (double)INFINITY : f->values[(j - 1) * f->nx + (i - 1)];
}

/* The surrounding lies right on the outermost nodes. */
static size_t clamp(size_t i, size_t n)
{
    return i < 1 ? 0 : i > n ? n - 1 : i - 1;
}

enum side { TOP, RIGHT, BOTTOM, LEFT, NONE };

/* Where a line enters and leaves a cell, low values on its left, by which corners are low
   (top left 1, top right 2, bottom right 4, bottom left 8). The two saddles 5 and 10 are
   given for a low centre; with a high centre they are those of their complement, turned
   round. */
static const enum side crossings[16][4] = {
    [0] = {NONE, NONE, NONE, NONE},    [1] = {LEFT, TOP, NONE, NONE},
    [2] = {TOP, RIGHT, NONE, NONE},    [3] = {LEFT, RIGHT, NONE, NONE},
    [4] = {RIGHT, BOTTOM, NONE, NONE}, [5] = {RIGHT, TOP, LEFT, BOTTOM},
    [6] = {TOP, BOTTOM, NONE, NONE},   [7] = {LEFT, BOTTOM, NONE, NONE},
    [8] = {BOTTOM, LEFT, NONE, NONE},  [9] = {BOTTOM, TOP, NONE, NONE},
    [10] = {TOP, LEFT, BOTTOM, RIGHT}, [11] = {BOTTOM, RIGHT, NONE, NONE},
    [12] = {RIGHT, LEFT, NONE, NONE},  [13] = {RIGHT, TOP, NONE, NONE},
    [14] = {TOP, LEFT, NONE, NONE},    [15] = {NONE, NONE, NONE, NONE}};
static const enum side high_saddles[2][4] = {{LEFT, TOP, RIGHT, BOTTOM},
                                             {TOP, RIGHT, BOTTOM, LEFT}};

static long edge_of(const struct field *f, size_t i, size_t j, enum side side)
{
    switch (side) {
    case TOP:
        return (long)(j * (f->mx - 1) + i);
    case BOTTOM:
        return (long)((j + 1) * (f->mx - 1) + i);
    case LEFT:
        return (long)(f->n_horizontal + j * f->mx + i);
    case RIGHT:
        return (long)(f->n_horizontal + j * f->mx + i + 1);
    case NONE:
        break;
    }
    return -1;
}

static void link_cell(struct field *f, size_t i, size_t j)
{
    const double corner[4] = {value_at(f, i, j), value_at(f, i + 1, j), value_at(f, i + 1, j + 1),
                              value_at(f, i, j + 1)};
    unsigned low = 0;
    double sum = 0.0;
    for (unsigned k = 0; k < 4; k++) {
        low |= corner[k] < f->level ? 1U << k : 0U;
        sum += corner[k];
    }
    const enum side *pair = crossings[low];
    if ((low == 5 || low == 10) && !(sum / 4.0 < f->level)) {
        pair = high_saddles[low == 5 ? 0 : 1];
    }
    for (int k = 0; k < 4 && pair[k] != NONE; k += 2) {
        f->next[edge_of(f, i, j, pair[k])] = edge_of(f, i, j, pair[k + 1]);
    }
}

static struct uf_isoline_point point_on(const struct field *f, size_t edge)
{
    const bool along_x = edge < f->n_horizontal;
    const size_t row = along_x ? f->mx - 1 : f->mx;
    const size_t place = along_x ? edge : edge - f->n_horizontal;
    const size_t i = place % row, j = place / row;
    const size_t i2 = along_x ? i + 1 : i, j2 = along_x ? j : j + 1;
    const double a = value_at(f, i, j), b = value_at(f, i2, j2);
    const bool border = outside(f, i, j) || outside(f, i2, j2);
    const double share = border ? 0.0 : (f->level - a) / (b - a);
    const double x1 = f->x[clamp(i, f->nx)], x2 = f->x[clamp(i2, f->nx)];
    const double z1 = f->z[clamp(j, f->nz)], z2 = f->z[clamp(j2, f->nz)];
    return (struct uf_isoline_point){x1 + share * (x2 - x1), z1 + share * (z2 - z1), border};
}

/* Room for one more member; the array grows by doubling. */
static bool make_room(void **array, size_t n, size_t size)
{
    if (n < 16 ? n > 0 : (n & (n - 1)) != 0) {
        return true;
    }
    void *larger = realloc(*array, (n < 16 ? 16 : 2 * n) * size);
    if (larger == NULL) {
        return false;
    }
    *array = larger;
    return true;
}

/* Follows one line until it closes, taking its links away. */
static bool trace_loop(struct field *f, struct uf_isoline_list *out, size_t start, int level)
{
    void *points = out->points, *loops = out->loops;
    struct uf_isoline_loop loop = {.first = out->n_points, .level = level};
    for (long edge = (long)start; f->next[edge] >= 0;) {
        const bool room = make_room(&points, out->n_points, sizeof *out->points);
        out->points = points;
        if (!room) {
            return false;
        }
        out->points[out->n_points++] = point_on(f, (size_t)edge);
        const long next = f->next[edge];
        f->next[edge] = -1;
        edge = next;
    }
    loop.n = out->n_points - loop.first;
    const struct uf_isoline_point *p = out->points + loop.first;
    double twice = 0.0;
    for (size_t i = 0; i < loop.n; i++) {
        const size_t k = (i + 1) % loop.n;
        twice += p[i].x * p[k].z - p[k].x * p[i].z;
    }
    loop.area = fabs(twice) / 2.0;
    loop.low_inside = twice < 0.0; /* z points down */
    if (!make_room(&loops, out->n_loops, sizeof *out->loops)) {
        return false;
    }
    out->loops = loops;
    out->loops[out->n_loops++] = loop;
    return true;
}

static bool trace_level(struct field *f, struct uf_isoline_list *out, size_t n_edges, int level)
{
    for (size_t e = 0; e < n_edges; e++) {
        f->next[e] = -1;
    }
    for (size_t j = 0; j + 1 < f->mz; j++) {
        for (size_t i = 0; i + 1 < f->mx; i++) {
            link_cell(f, i, j);
        }
    }
    for (size_t e = 0; e < n_edges; e++) {
        if (f->next[e] >= 0 && !trace_loop(f, out, e, level)) {
            return false;
        }
    }
    return true;
}

static int larger_first(const void *a, const void *b)
{
    const struct uf_isoline_loop *first = a, *second = b;
    return first->area < second->area ? 1 : first->area > second->area ? -1 : 0;
}

enum uf_status uf_isoline_trace(struct uf_isoline_list *out, const struct uf_isoline_field *field,
                                const double *levels, int n_levels, struct uf_error *err)
{
    struct field f = {.values = field->values,
                      .x = field->x,
                      .z = field->z,
                      .nx = field->nx,
                      .nz = field->nz,
                      .mx = field->nx + 2,
                      .mz = field->nz + 2};
    f.n_horizontal = (f.mx - 1) * f.mz;
    const size_t n_edges = f.n_horizontal + f.mx * (f.mz - 1);
    memset(out, 0, sizeof *out);
    f.next = malloc(n_edges * sizeof *f.next);
    bool good = f.next != NULL;
    for (int k = 0; good && k < n_levels; k++) {
        f.level = levels[k];
        good = trace_level(&f, out, n_edges, k);
    }
    free(f.next);
    if (!good) {
        uf_isoline_clear(out);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the lines of a picture");
    }
    if (out->n_loops > 1) {
        qsort(out->loops, out->n_loops, sizeof *out->loops, larger_first);
    }
    return UF_OK;
}

void uf_isoline_clear(struct uf_isoline_list *list)
{
    free(list->points);
    free(list->loops);
    memset(list, 0, sizeof *list);
}
