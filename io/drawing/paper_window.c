#include "paper_private.h"

#include <math.h>

/* What a window lets through of lines and areas. */

void uf_paper_window(struct uf_paper *paper, const struct uf_box *box)
{
    paper->windowed = box != NULL;
    paper->window = box != NULL ? *box : (struct uf_box){0.0, 0.0, 0.0, 0.0};
}

/* The part of a stroke within (or, where q is negative, none of it) of one side; Liang and Barsky
   (1984). */
static bool narrow(double p, double q, double *from, double *to)
{
    if (p == 0.0) {
        return q >= 0.0;
    }
    const double r = q / p;
    if (p < 0.0) {
        *from = fmax(*from, r);
    } else {
        *to = fmin(*to, r);
    }
    return *from < *to;
}

bool uf_paper_window_stroke(const struct uf_box *box, struct uf_point *a, struct uf_point *b)
{
    const double dx = b->x - a->x, dy = b->y - a->y;
    const struct uf_point start = *a;
    double from = 0.0, to = 1.0;
    if (!narrow(-dx, start.x - box->left, &from, &to) ||
        !narrow(dx, box->right - start.x, &from, &to) ||
        !narrow(-dy, start.y - box->bottom, &from, &to) ||
        !narrow(dy, box->top - start.y, &from, &to)) {
        return false;
    }
    *a = (struct uf_point){start.x + from * dx, start.y + from * dy};
    *b = (struct uf_point){start.x + to * dx, start.y + to * dy};
    return true;
}

/* How far a point lies within one side: 0 left, 1 right, 2 bottom, 3 top. */
static double within(const struct uf_box *box, int side, struct uf_point p)
{
    return side == 0   ? p.x - box->left
           : side == 1 ? box->right - p.x
           : side == 2 ? p.y - box->bottom
                       : box->top - p.y;
}

static size_t cut_side(struct uf_point *out, const struct uf_box *box, int side,
                       const struct uf_point *in, size_t n)
{
    size_t count = 0;
    for (size_t i = 0; i < n && count + 2 <= UF_PAPER_WINDOW_POINTS; i++) {
        const struct uf_point a = in[i], b = in[(i + 1) % n];
        const double from = within(box, side, a), to = within(box, side, b);
        if (from >= 0.0) {
            out[count++] = a;
        }
        if ((from >= 0.0) != (to >= 0.0)) {
            const double t = from / (from - to);
            out[count++] = (struct uf_point){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
        }
    }
    return count;
}

/* Side by side; Sutherland and Hodgman (1974). */
size_t uf_paper_window_area(struct uf_point out[UF_PAPER_WINDOW_POINTS], const struct uf_box *box,
                            const struct uf_point *points, size_t n)
{
    struct uf_point other[UF_PAPER_WINDOW_POINTS];
    n = cut_side(other, box, 0, points, n);
    n = cut_side(out, box, 1, other, n);
    n = cut_side(other, box, 2, out, n);
    return cut_side(out, box, 3, other, n);
}
