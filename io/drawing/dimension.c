#include "dimension.h"

#include "solver/base/constants.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define MOST_PLACES 24
#define MOST_ROWS   6
#define ROW_MM      3.7 /* from row to row of texts */
#define TICK_MM     1.0 /* half an oblique stroke, across and up */
#define SAME_M      1e-3
#define LEAST_ALIKE 3 /* stretches that share a text */

char *uf_dimension_text(char *text, size_t size, enum uf_units units, double m)
{
    if (units == UF_UNITS_SI) {
        (void)snprintf(text, size, "%.0f", fabs(m) * 1000.0);
        return text;
    }
    const long eighths = lround(fabs(m) / UF_INCH_M * 8.0);
    const long feet = eighths / 96;
    long inches = eighths % 96 / 8, over = eighths % 8, under = 8;
    while (over > 0 && over % 2 == 0) {
        over /= 2;
        under /= 2;
    }
    int n = 0;
    if (feet > 0) {
        n = snprintf(text, size, "%ld\u2032-", feet);
    }
    if (over > 0) {
        (void)snprintf(text + n, size - (size_t)n, "%ld %ld/%ld\u2033", inches, over, under);
    } else {
        (void)snprintf(text + n, size - (size_t)n, "%ld\u2033", inches);
    }
    return text;
}

static int rising(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y ? 1 : 0;
}

/* A text of a chain: the stretch it is of, on paper, and its row. */
struct label {
    double from, to;
    char text[64];
    int row;
};

/* A chain being drawn: places along it, in metres and on paper, and its texts. */
struct chain {
    size_t n, n_labels;
    double m[MOST_PLACES], at[MOST_PLACES];
    struct label labels[MOST_PLACES];
    int rows;
};

static void take_places(struct chain *c, const struct uf_dimension *d, bool upright,
                        const double *places_m, size_t n)
{
    double sorted[MOST_PLACES];
    size_t known = 0;
    for (size_t i = 0; i < n && known < MOST_PLACES; i++) {
        if (isfinite(places_m[i])) {
            sorted[known++] = places_m[i];
        }
    }
    qsort(sorted, known, sizeof sorted[0], rising);
    c->n = 0;
    for (size_t i = 0; i < known; i++) {
        if (c->n == 0 || sorted[i] - c->m[c->n - 1] > SAME_M) {
            c->m[c->n] = sorted[i];
            c->at[c->n++] = upright ? d->view->y_mm - sorted[i] * d->view->mm_m
                                    : d->view->x_mm + sorted[i] * d->view->mm_m;
        }
    }
}

static bool same(double a_m, double b_m)
{
    return fabs(a_m - b_m) < SAME_M;
}

static double width_mm(const char *text)
{
    return uf_paper_width_mm(UF_LETTER_SMALL, text) + 1.2;
}

/* A text for each stretch, or "3 x 1500" over equal ones that have no room for their own. */
static void set_labels(struct chain *c, enum uf_units units)
{
    c->n_labels = 0;
    for (size_t i = 0, k; i + 1 < c->n; i = k) {
        struct label *label = &c->labels[c->n_labels++];
        char one[32];
        const double m = c->m[i + 1] - c->m[i];
        (void)uf_dimension_text(one, sizeof one, units, m);
        k = i + 1;
        while (fabs(c->at[i + 1] - c->at[i]) < width_mm(one) && k + 1 < c->n &&
               same(c->m[k + 1] - c->m[k], m)) {
            k++;
        }
        k = k - i < LEAST_ALIKE ? i + 1 : k;
        *label = (struct label){.from = c->at[i], .to = c->at[k]};
        if (k > i + 1) {
            (void)snprintf(label->text, sizeof label->text, "%zu x %s", k - i, one);
        } else {
            (void)snprintf(label->text, sizeof label->text, "%s", one);
        }
    }
}

/* The lowest row in which a text lies free of those before it. */
static void set_rows(struct chain *c)
{
    double taken[MOST_ROWS];
    for (int row = 0; row < MOST_ROWS; row++) {
        taken[row] = -INFINITY;
    }
    c->rows = 1;
    for (size_t i = 0; i < c->n_labels; i++) {
        struct label *label = &c->labels[i];
        const double wide = width_mm(label->text);
        const double place = fabs(0.5 * (label->from + label->to) - c->at[0]);
        const bool narrow = fabs(label->to - label->from) < wide;
        int row = narrow && i > 0 && i + 1 < c->n_labels ? 1 : 0; /* the next one keeps its room */
        while (row + 1 < MOST_ROWS && place - 0.5 * wide < taken[row]) {
            row++;
        }
        label->row = row;
        taken[row] = place + 0.5 * wide;
        c->rows = row + 1 > c->rows ? row + 1 : c->rows;
    }
}

/* A point along the chain, that far from its line on the side of the texts. */
static struct uf_point beside(bool upright, double at, double line, double away)
{
    return upright ? (struct uf_point){line - away, at} : (struct uf_point){at, line + away};
}

static void stroke(const struct uf_dimension *d, enum uf_pen pen, struct uf_point a,
                   struct uf_point b)
{
    uf_paper_line(d->paper, pen, a.x, a.y, b.x, b.y);
}

static void put_text(const struct uf_dimension *d, const struct label *label, bool upright,
                     double line)
{
    const double away = 2.4 + ROW_MM * label->row;
    const double middle = 0.5 * (label->from + label->to);
    const struct uf_point p = beside(upright, middle, line, away);
    if (label->row > 0) {
        stroke(d, UF_PEN_THIN, beside(upright, middle, line, 0.0),
               beside(upright, middle, line, away));
    }
    uf_paper_text(d->paper, UF_LETTER_SMALL, UF_ALIGN_CENTRE, p.x, p.y, upright, label->text);
}

static void put_chain(const struct uf_dimension *d, const struct chain *c,
                      enum uf_dimension_side side, double line, double from)
{
    const bool upright = side == UF_DIMENSION_LEFT;
    const double out = side == UF_DIMENSION_BELOW ? -1.0 : 1.0; /* away from the view */
    stroke(d, UF_PEN_THIN, beside(upright, c->at[0], line, 0.0),
           beside(upright, c->at[c->n - 1], line, 0.0));
    for (size_t i = 0; i < c->n; i++) {
        const struct uf_point p = beside(upright, c->at[i], line, 0.0);
        const double to_view = (upright ? line - from : from - line) + 1.0 * out;
        stroke(d, UF_PEN_TICK, (struct uf_point){p.x - TICK_MM, p.y - TICK_MM},
               (struct uf_point){p.x + TICK_MM, p.y + TICK_MM});
        if (to_view * out < -0.5) {
            stroke(d, UF_PEN_THIN, beside(upright, c->at[i], line, to_view),
                   beside(upright, c->at[i], line, 1.5 * out));
        }
    }
    for (size_t i = 0; i < c->n_labels; i++) {
        put_text(d, &c->labels[i], upright, line);
    }
}

void uf_dimension_chain(struct uf_dimension *dimension, enum uf_dimension_side side,
                        const double *places_m, size_t n, double from_m)
{
    struct chain c;
    const bool upright = side == UF_DIMENSION_LEFT;
    take_places(&c, dimension, upright, places_m, n);
    if (c.n < 2) {
        return;
    }
    set_labels(&c, dimension->units);
    set_rows(&c);
    double *out = &dimension->out_mm[side];
    const double high = 1.6 + ROW_MM * c.rows;
    const double line = side == UF_DIMENSION_BELOW   ? *out - high - 1.0
                        : side == UF_DIMENSION_ABOVE ? *out + 2.0
                                                     : *out - 2.0;
    const struct uf_point from = uf_view_at(dimension->view, from_m, from_m);
    put_chain(dimension, &c, side, line, upright ? from.x : from.y);
    for (size_t i = 0; !upright && i < c.n_labels; i++) { /* a text may reach out at the corner */
        const double left =
            0.5 * (c.labels[i].from + c.labels[i].to) - 0.5 * width_mm(c.labels[i].text);
        dimension->out_mm[UF_DIMENSION_LEFT] = fmin(dimension->out_mm[UF_DIMENSION_LEFT], left);
    }
    *out = side == UF_DIMENSION_BELOW   ? line - 1.5
           : side == UF_DIMENSION_ABOVE ? line + high
                                        : line - high;
}

static int shallower(const void *a, const void *b)
{
    const double x = ((const struct uf_dimension_level *)a)->depth_m;
    const double y = ((const struct uf_dimension_level *)b)->depth_m;
    return x < y ? -1 : x > y ? 1 : 0;
}

/* Texts a row apart: each pushed down by the one above, then all of a crowd moved up by half of
   what it took. */
static void spread(double *y, size_t n)
{
    for (int round = 0; round < 40; round++) {
        for (size_t i = 0; i + 1 < n; i++) {
            const double lack = ROW_MM - (y[i] - y[i + 1]);
            if (lack > 0.0) {
                y[i] += 0.5 * lack;
                y[i + 1] -= 0.5 * lack;
            }
        }
    }
    for (size_t i = 0; i + 1 < n; i++) {
        y[i + 1] = fmin(y[i + 1], y[i] - ROW_MM);
    }
}

void uf_dimension_levels(struct uf_dimension *dimension, struct uf_dimension_level *levels,
                         size_t n, double x_mm)
{
    double y[MOST_PLACES];
    n = n < MOST_PLACES ? n : MOST_PLACES;
    qsort(levels, n, sizeof *levels, shallower);
    for (size_t i = 0; i < n; i++) {
        y[i] = uf_view_at(dimension->view, 0.0, levels[i].depth_m).y;
    }
    spread(y, n);
    for (size_t i = 0; i < n; i++) {
        const double from = uf_view_at(dimension->view, 0.0, levels[i].depth_m).y;
        const struct uf_point path[] = {
            {x_mm, from}, {x_mm + 2.0, from}, {x_mm + 5.0, y[i]}, {x_mm + 7.0, y[i]}};
        uf_paper_path(dimension->paper, UF_PEN_THIN, path, 4, false);
        uf_paper_text(dimension->paper, UF_LETTER_SMALL, UF_ALIGN_LEFT, x_mm + 8.0, y[i], false,
                      levels[i].text);
    }
}
