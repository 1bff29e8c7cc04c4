#include "paper_private.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdlib.h>

/* Hatches, stroke by stroke: parallel lines, whole or broken, and small marks on a shaken lattice.
   Which pattern stands for which soil is common practice, no source. */

#define MOST_CUTS  256
#define MARK_SIDES 10

struct pattern {
    double angle_deg, apart_mm; /* of lines; apart 0: none */
    double on_mm, off_mm;       /* off 0: whole lines */
    bool crossed;               /* a second set at right angles */
    enum uf_pen pen;
    double lattice_mm; /* of marks; 0: none */
    double radius_mm;
    int sides;
};

static const struct pattern patterns[UF_HATCHES] = {
    [UF_HATCH_FINE] = {.angle_deg = 45.0, .apart_mm = 2.2, .on_mm = 1.0, .pen = UF_PEN_HATCH},
    [UF_HATCH_SAND] =
        {.angle_deg = 27.0, .apart_mm = 1.3, .on_mm = 0.02, .off_mm = 1.7, .pen = UF_PEN_EDGE},
    [UF_HATCH_GRAVEL] = {.pen = UF_PEN_HATCH,
                         .lattice_mm = 2.1,
                         .radius_mm = 0.55,
                         .sides = MARK_SIDES},
    [UF_HATCH_CRUSHED] = {.pen = UF_PEN_HATCH, .lattice_mm = 2.1, .radius_mm = 0.7, .sides = 3},
    [UF_HATCH_ORGANIC] =
        {.angle_deg = 0.0, .apart_mm = 1.3, .on_mm = 1.6, .off_mm = 1.4, .pen = UF_PEN_HATCH},
    [UF_HATCH_GROUND] =
        {.angle_deg = 45.0, .apart_mm = 3.4, .on_mm = 3.0, .off_mm = 1.4, .pen = UF_PEN_HATCH},
    [UF_HATCH_RETURNED] =
        {.angle_deg = 60.0, .apart_mm = 2.6, .on_mm = 1.8, .off_mm = 2.6, .pen = UF_PEN_HATCH},
    [UF_HATCH_CONCRETE] = {.angle_deg = 31.0,
                           .apart_mm = 0.9,
                           .on_mm = 0.02,
                           .off_mm = 1.3,
                           .pen = UF_PEN_THIN,
                           .lattice_mm = 2.2,
                           .radius_mm = 0.42,
                           .sides = 3},
    [UF_HATCH_FOAM] =
        {.angle_deg = 45.0, .apart_mm = 0.9, .on_mm = 1.0, .crossed = true, .pen = UF_PEN_HATCH},
    [UF_HATCH_SOLID] = {.angle_deg = 45.0, .apart_mm = 0.25, .on_mm = 1.0, .pen = UF_PEN_EDGE},
};

static bool in_box(const struct uf_box *box, struct uf_point p)
{
    return p.x > box->left && p.x < box->right && p.y > box->bottom && p.y < box->top;
}

static bool in_fill(const struct uf_paper *paper, const struct uf_paper_fill *fill,
                    struct uf_point p)
{
    const struct uf_point *at = paper->points + fill->first;
    bool in = false;
    if (!in_box(&fill->box, p)) {
        return false;
    }
    for (size_t i = 0, k = fill->n - 1; i < fill->n; k = i++) {
        if ((at[i].y > p.y) != (at[k].y > p.y) &&
            p.x < (at[k].x - at[i].x) * (p.y - at[i].y) / (at[k].y - at[i].y) + at[i].x) {
            in = !in;
        }
    }
    return in;
}

/* Does the hatch of that area show there? */
static bool shows(const struct uf_paper *paper, size_t area, struct uf_point p)
{
    bool free = in_fill(paper, &paper->fills[area], p);
    for (size_t i = area + 1; free && i < paper->n_fills; i++) {
        free = !in_fill(paper, &paper->fills[i], p);
    }
    for (size_t i = 0; free && i < paper->n_labels; i++) {
        free = !in_box(&paper->labels[i].box, p);
    }
    return free;
}

/* A line from a point along a direction; where it crosses the edges of what may hide it. */
struct ray {
    struct uf_point from, along;
    double cuts[MOST_CUTS];
    size_t n;
};

static void cut(struct ray *ray, struct uf_point a, struct uf_point b)
{
    const double ex = b.x - a.x, ey = b.y - a.y;
    const double det = ray->along.x * ey - ray->along.y * ex;
    const double dx = a.x - ray->from.x, dy = a.y - ray->from.y;
    const double s = (dx * ray->along.y - dy * ray->along.x) / det;
    if (fabs(det) > 1e-12 && s >= 0.0 && s <= 1.0 && ray->n < MOST_CUTS) {
        ray->cuts[ray->n++] = (dx * ey - dy * ex) / det;
    }
}

static int rising(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y ? 1 : 0;
}

static void cut_all(struct ray *ray, const struct uf_paper *paper, size_t area)
{
    for (size_t i = area; i < paper->n_fills; i++) {
        const struct uf_point *at = paper->points + paper->fills[i].first;
        for (size_t k = 0; k < paper->fills[i].n; k++) {
            cut(ray, at[k], at[(k + 1) % paper->fills[i].n]);
        }
    }
    for (size_t i = 0; i < paper->n_labels; i++) {
        const struct uf_box *b = &paper->labels[i].box;
        const struct uf_point at[] = {
            {b->left, b->bottom}, {b->right, b->bottom}, {b->right, b->top}, {b->left, b->top}};
        for (size_t k = 0; k < 4; k++) {
            cut(ray, at[k], at[(k + 1) % 4]);
        }
    }
    qsort(ray->cuts, ray->n, sizeof ray->cuts[0], rising);
}

static struct uf_point on(const struct ray *ray, double t)
{
    return (struct uf_point){ray->from.x + t * ray->along.x, ray->from.y + t * ray->along.y};
}

/* The strokes of a broken line between two places; the phase goes by the place, so that the pattern
   runs through what lies between. */
static void stroke(struct uf_paper *paper, const struct pattern *p, const struct ray *ray,
                   double from, double to, double phase_mm)
{
    const double period = p->on_mm + p->off_mm;
    if (!(p->off_mm > 0.0)) {
        const struct uf_point a = on(ray, from), b = on(ray, to);
        uf_paper_line(paper, p->pen, a.x, a.y, b.x, b.y);
        return;
    }
    for (double t = floor((from - phase_mm) / period) * period + phase_mm; t < to; t += period) {
        const double t0 = fmax(t, from), t1 = fmin(t + p->on_mm, to);
        if (t1 - t0 > 0.5 * p->on_mm) {
            const struct uf_point a = on(ray, t0), b = on(ray, t1);
            uf_paper_line(paper, p->pen, a.x, a.y, b.x, b.y);
        }
    }
}

static void hatch_ray(struct uf_paper *paper, size_t area, const struct pattern *p, struct ray *ray,
                      double phase_mm)
{
    cut_all(ray, paper, area);
    for (size_t i = 0; i + 1 < ray->n; i++) {
        if (ray->cuts[i + 1] - ray->cuts[i] > 1e-6 &&
            shows(paper, area, on(ray, 0.5 * (ray->cuts[i] + ray->cuts[i + 1])))) {
            stroke(paper, p, ray, ray->cuts[i], ray->cuts[i + 1], phase_mm);
        }
    }
}

/* All lines of one direction: counted from the paper's corner, so that they run on from one area
   to the next of the same hatch. */
static void hatch_lines(struct uf_paper *paper, size_t area, const struct pattern *p,
                        double angle_deg)
{
    const double angle = angle_deg * UF_PI / 180.0;
    const struct uf_point along = {cos(angle), sin(angle)};
    const struct uf_box box = paper->fills[area].box;
    const double corners[] = {
        -along.y * box.left + along.x * box.bottom, -along.y * box.right + along.x * box.bottom,
        -along.y * box.left + along.x * box.top, -along.y * box.right + along.x * box.top};
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < 4; i++) {
        low = fmin(low, corners[i]);
        high = fmax(high, corners[i]);
    }
    for (long k = (long)ceil(low / p->apart_mm); (double)k * p->apart_mm < high; k++) {
        const double off = (double)k * p->apart_mm;
        struct ray ray = {.from = {-along.y * off, along.x * off}, .along = along};
        hatch_ray(paper, area, p, &ray, (double)(k % 7) * 0.37 * (p->on_mm + p->off_mm));
    }
}

/* A number from -0.5 to 0.5 that goes by the place alone. */
static double shaken(long i, long k, unsigned salt)
{
    unsigned h = (unsigned)i * 73856093u ^ (unsigned)k * 19349663u ^ salt * 83492791u;
    h = (h ^ (h >> 13)) * 1274126177u;
    return (double)((h ^ (h >> 16)) & 0xffffu) / 65535.0 - 0.5;
}

static void put_mark(struct uf_paper *paper, size_t area, const struct pattern *p, long i, long k)
{
    struct uf_point at[MARK_SIDES];
    const double size = p->radius_mm * (1.0 + 0.5 * shaken(i, k, 3));
    const double turn = 6.0 * shaken(i, k, 4);
    const double x = ((double)i + 0.5 * (double)(k & 1) + 0.45 * shaken(i, k, 1)) * p->lattice_mm;
    const double y = ((double)k + 0.45 * shaken(i, k, 2)) * 0.87 * p->lattice_mm;
    bool free = true;
    for (int s = 0; s < p->sides; s++) {
        const double angle = turn + 2.0 * UF_PI * s / p->sides;
        at[s] = (struct uf_point){x + size * cos(angle), y + size * sin(angle)};
        free = free && shows(paper, area, at[s]);
    }
    if (free) {
        uf_paper_path(paper, p->pen, at, (size_t)p->sides, true);
    }
}

static void hatch_marks(struct uf_paper *paper, size_t area, const struct pattern *p)
{
    const struct uf_box box = paper->fills[area].box;
    const double rise = 0.87 * p->lattice_mm;
    for (long k = (long)floor(box.bottom / rise); (double)k * rise < box.top; k++) {
        for (long i = (long)floor(box.left / p->lattice_mm) - 1;
             (double)i * p->lattice_mm < box.right; i++) {
            put_mark(paper, area, p, i, k);
        }
    }
}

/* The pattern of a variant: lines turned, broken ones and marks larger or smaller. */
static struct pattern varied(struct pattern p, unsigned variant)
{
    static const double turns_deg[] = {0.0, 90.0, -25.0, 65.0};
    static const double sizes[] = {1.0, 0.62, 1.45, 0.8};
    const size_t i = variant % (sizeof sizes / sizeof sizes[0]);
    p.angle_deg += turns_deg[i];
    p.off_mm *= sizes[i];
    p.apart_mm *= p.off_mm > 0.0 ? sizes[i] : 1.0;
    p.lattice_mm *= sizes[i];
    p.radius_mm *= sizes[i];
    return p;
}

void uf_paper_hatch(struct uf_paper *paper)
{
    for (size_t i = 0; i < paper->n_fills && !paper->out_of_memory; i++) {
        const struct pattern p = varied(patterns[paper->fills[i].hatch], paper->fills[i].variant);
        if (p.apart_mm > 0.0) {
            hatch_lines(paper, i, &p, p.angle_deg);
        }
        if (p.apart_mm > 0.0 && p.crossed) {
            hatch_lines(paper, i, &p, p.angle_deg + 90.0);
        }
        if (p.lattice_mm > 0.0) {
            hatch_marks(paper, i, &p);
        }
    }
}
