#include "draft_route.h"

#include "draft_places.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LEAST_TUBE_MM 0.7 /* thinner ones are one line */
#define ROW_MM        3.7
#define MOST          (UF_MAX_PIPES + UF_MAX_STANDPIPES)

/* A pipe on its way: in plan, or projected on a section. */
struct tube {
    const char *name;
    double diameter_m, depth_m;
    const struct uf_standpipe *standpipe; /* NULL: a pipe */
    const struct uf_site_route *route;    /* NULL: not given */
    struct uf_point at[UF_SITE_BENDS];    /* on paper */
    size_t n;
};

static size_t tubes_of(struct tube *tubes, const struct uf_draft *draft)
{
    const struct uf_case *d = draft->design;
    size_t n = 0;
    for (size_t i = 0; i < d->n_pipes; i++) {
        tubes[n++] = (struct tube){.name = d->pipes[i].name,
                                   .diameter_m = d->pipes[i].diameter_m,
                                   .depth_m = d->pipes[i].depth_m};
    }
    for (size_t i = 0; i < d->n_standpipes; i++) {
        tubes[n++] = (struct tube){.name = d->standpipes[i].name,
                                   .diameter_m = d->standpipes[i].diameter_m,
                                   .depth_m = d->standpipes[i].bottom_m,
                                   .standpipe = &d->standpipes[i]};
    }
    for (size_t i = 0; i < n; i++) {
        tubes[i].route = uf_site_drawing_route(&draft->site->drawing, tubes[i].name);
        if (tubes[i].route != NULL && tubes[i].route->n_along < 2) {
            tubes[i].route = NULL;
        }
    }
    return n;
}

bool uf_draft_route_all(const struct uf_draft *draft)
{
    struct tube tubes[MOST];
    bool all = true;
    const size_t n = tubes_of(tubes, draft);
    for (size_t i = 0; i < n; i++) {
        all = all && tubes[i].route != NULL;
    }
    return all;
}

static void add_point(struct tube *tube, struct uf_point p)
{
    const struct uf_point *last = tube->n > 0 ? &tube->at[tube->n - 1] : NULL;
    if (last == NULL || hypot(p.x - last->x, p.y - last->y) > 0.01) {
        tube->at[tube->n++] = p;
    }
}

/* A stroke less what of it lies in a box that hides it; NULL: nothing does. */
static void stroke(struct uf_draft *draft, enum uf_pen pen, struct uf_point a, struct uf_point b,
                   const struct uf_box *hidden)
{
    struct uf_point in = a, out = b;
    if (hidden == NULL || !uf_paper_window_stroke(hidden, &in, &out)) {
        uf_paper_line(draft->paper, pen, a.x, a.y, b.x, b.y);
        return;
    }
    if (hypot(in.x - a.x, in.y - a.y) > 0.05) {
        uf_paper_line(draft->paper, pen, a.x, a.y, in.x, in.y);
    }
    if (hypot(b.x - out.x, b.y - out.y) > 0.05) {
        uf_paper_line(draft->paper, pen, out.x, out.y, b.x, b.y);
    }
}

/* Unit normal of a stretch, to its left. */
static struct uf_point normal(const struct tube *t, size_t i)
{
    const double dx = t->at[i + 1].x - t->at[i].x, dy = t->at[i + 1].y - t->at[i].y;
    const double long_mm = hypot(dx, dy);
    return (struct uf_point){-dy / long_mm, dx / long_mm};
}

/* A place half the tube's width off its axis; at a bend on the line that halves it. */
static struct uf_point beside(const struct tube *t, size_t i, double off_mm)
{
    const struct uf_point a = normal(t, i > 0 ? i - 1 : 0);
    const struct uf_point b = normal(t, i + 1 < t->n ? i : t->n - 2);
    const double with = 1.0 + a.x * b.x + a.y * b.y;
    const struct uf_point m =
        with > 0.2 ? (struct uf_point){(a.x + b.x) / with, (a.y + b.y) / with} : a;
    return (struct uf_point){t->at[i].x + off_mm * m.x, t->at[i].y + off_mm * m.y};
}

static void draw_tube(struct uf_draft *draft, const struct tube *t, double mm_m,
                      const struct uf_box *hidden)
{
    const double half_mm = 0.5 * t->diameter_m * mm_m;
    for (size_t i = 0; i + 1 < t->n; i++) {
        const struct uf_point side[] = {beside(t, i, half_mm), beside(t, i + 1, half_mm),
                                        beside(t, i + 1, -half_mm), beside(t, i, -half_mm)};
        if (2.0 * half_mm > LEAST_TUBE_MM) {
            uf_paper_area(draft->paper, UF_HATCH_NONE, 0, side, 4);
            stroke(draft, UF_PEN_EDGE, side[0], side[1], hidden);
            stroke(draft, UF_PEN_EDGE, side[2], side[3], hidden);
        }
        stroke(draft, 2.0 * half_mm > LEAST_TUBE_MM ? UF_PEN_CENTRE : UF_PEN_EDGE, t->at[i],
               t->at[i + 1], hidden);
    }
}

/* How far out the tank reaches at a depth, in the section. */
static double end_m(const struct uf_draft_section *s, double depth_m)
{
    const struct uf_draft *draft = s->draft;
    const double radius_m = 0.5 * (draft->invert_m - draft->crown_m);
    const double up_m = fabs(depth_m - draft->crown_m - radius_m);
    const double turn = 1.0 - sqrt(fmax(0.0, 1.0 - up_m * up_m / (radius_m * radius_m)));
    return s->along ? s->half_m - uf_tank_head_depth_m(&draft->design->tank) * turn : s->half_m;
}

/* Where a route lies in a section: along it, or seen to the right end, left in plan to the left. */
static void project(struct tube *t, const struct uf_draft_section *s)
{
    double depth_m[UF_SITE_BENDS];
    t->n = 0;
    if (t->route == NULL) {
        if (s->along && t->standpipe == NULL) {
            add_point(t, uf_view_at(s->view, end_m(s, t->depth_m), t->depth_m));
            add_point(t, uf_view_at(s->view, s->edge_m, t->depth_m));
        }
        return;
    }
    uf_draft_places_fall(depth_m, t->route, t->depth_m);
    for (size_t i = 0; i < t->route->n_along; i++) {
        double u_m = s->along ? t->route->along_m[i] - s->half_m : -t->route->across_m[i];
        if (i == 0 && s->along && fabs(u_m) <= s->half_m) {
            u_m = copysign(fmin(fabs(u_m), end_m(s, depth_m[i])), u_m);
        }
        add_point(t, uf_view_at(s->view, u_m, depth_m[i]));
    }
}

/* Level and name over the end of a pipe that runs out of the picture to a side; *taken_mm: as high as
   names stand there already. */
static void write_tube(const struct uf_draft_section *s, const struct tube *t, double taken_mm[2])
{
    char text[120], level[32], fitted[120];
    const struct uf_point *last = &t->at[t->n - 1];
    const double edge_mm = s->edge_m * s->view->mm_m, half_mm = s->half_m * s->view->mm_m;
    const bool right = last->x > s->view->x_mm;
    if (t->n < 2 || fabs(last->x - s->view->x_mm) < edge_mm - 0.1 ||
        fabs(t->at[t->n - 2].x - last->x) < 1.0) {
        return;
    }
    double y = last->y + 0.5 * t->diameter_m * s->view->mm_m + 2.2;
    y = fmax(y, taken_mm[right ? 1 : 0] + ROW_MM);
    taken_mm[right ? 1 : 0] = y;
    const bool falls = t->route != NULL && isfinite(t->route->fall) && t->route->fall != 0.0;
    (void)snprintf(text, sizeof text, "%s%s%s",
                   falls ? "" : uf_draft_level(level, sizeof level, s->draft, t->depth_m),
                   falls ? "" : " ", t->name); /* else its levels are in the table */
    (void)uf_paper_fit(fitted, sizeof fitted, UF_LETTER_SMALL, text, edge_mm - half_mm - 3.0);
    uf_paper_text(s->draft->paper, UF_LETTER_SMALL, right ? UF_ALIGN_RIGHT : UF_ALIGN_LEFT,
                  s->view->x_mm + (right ? edge_mm - 1.0 : 1.0 - edge_mm), y, false, fitted);
}

/* A standpipe from its lower end to grade, with sleeve and cap. */
static void draw_upright(const struct uf_draft_section *s, const struct tube *t)
{
    const struct uf_standpipe *pipe = t->standpipe;
    const size_t last = t->route != NULL ? t->route->n_along - 1 : 0;
    const double at_m = t->route == NULL ? (s->along ? (double)NAN : pipe->from_axis_m)
                        : s->along       ? t->route->along_m[last] - s->half_m
                                         : -t->route->across_m[last];
    const double half_m = 0.5 * pipe->diameter_m, sleeve_m = pipe->shell.sleeve_m;
    const double foot_m = fmin(pipe->shell.sleeve_length_m, pipe->bottom_m);
    const bool before = s->along && t->route != NULL && t->route->across_m[last] < -half_m;
    if (before || !(fabs(at_m) + half_m + sleeve_m < s->edge_m)) {
        return; /* in front of what the section shows, or out of it */
    }
    if (sleeve_m > 0.0) {
        uf_draft_section_pair_at(s, s->draft->sleeve, at_m, half_m, half_m + sleeve_m, 0.0, foot_m);
    }
    uf_draft_box_area(s->draft, s->view, UF_DRAFT_WHITE, at_m - half_m, 0.0, at_m + half_m,
                      pipe->bottom_m);
    uf_draft_box(s->draft, s->view, UF_PEN_EDGE, at_m - half_m, 0.0, at_m + half_m, pipe->bottom_m);
}

void uf_draft_route_section(const struct uf_draft_section *s)
{
    struct tube tubes[MOST];
    double taken_mm[] = {-INFINITY, -INFINITY};
    const struct uf_point top = uf_view_at(s->view, -s->edge_m, 0.0);
    const struct uf_point foot = uf_view_at(s->view, s->edge_m, s->depth_m);
    const struct uf_point crown = uf_view_at(s->view, -s->half_m, s->draft->crown_m);
    const struct uf_point invert = uf_view_at(s->view, s->half_m, s->draft->invert_m);
    const struct uf_box window = {top.x, foot.y, foot.x, top.y};
    const struct uf_box tank = {crown.x, invert.y, invert.x, crown.y};
    const size_t n = tubes_of(tubes, s->draft);
    for (size_t i = 0; i < n; i++) {
        project(&tubes[i], s);
        uf_paper_window(s->draft->paper, &window);
        draw_tube(s->draft, &tubes[i], s->view->mm_m, s->along ? NULL : &tank);
        uf_paper_window(s->draft->paper, NULL);
        if (tubes[i].standpipe != NULL) {
            draw_upright(s, &tubes[i]);
        } else if (tubes[i].n > 1) {
            write_tube(s, &tubes[i], taken_mm);
        }
    }
}

/* Name along the longest stretch that shows. */
static void name_in_plan(struct uf_draft *draft, const struct tube *t, const struct uf_box *window,
                         double mm_m)
{
    double best_mm = 0.0;
    struct uf_point from = {0.0, 0.0}, to = {0.0, 0.0};
    for (size_t i = 0; i + 1 < t->n; i++) {
        struct uf_point a = t->at[i], b = t->at[i + 1];
        if (uf_paper_window_stroke(window, &a, &b) && hypot(b.x - a.x, b.y - a.y) > best_mm) {
            best_mm = hypot(b.x - a.x, b.y - a.y);
            from = a;
            to = b;
        }
    }
    if (!(best_mm > 0.0)) {
        return;
    }
    const bool upright = fabs(to.y - from.y) > fabs(to.x - from.x);
    const bool fits = uf_paper_width_mm(UF_LETTER_SMALL, t->name) < best_mm - 2.0;
    const double off_mm = 0.5 * t->diameter_m * mm_m + (fits || !upright ? 2.2 : 1.5);
    uf_paper_text(draft->paper, UF_LETTER_SMALL,
                  fits || !upright ? UF_ALIGN_CENTRE : UF_ALIGN_RIGHT,
                  0.5 * (from.x + to.x) - (upright ? off_mm : 0.0),
                  0.5 * (from.y + to.y) + (upright ? 0.0 : off_mm), upright && fits, t->name);
}

static void ring_in_plan(struct uf_draft *draft, const struct uf_view *view, const struct tube *t)
{
    struct uf_point ring[UF_DRAFT_RING];
    const size_t last = t->route->n_along - 1;
    const double radius_m = 0.5 * t->standpipe->diameter_m + t->standpipe->shell.sleeve_m;
    uf_draft_tank_ring(ring, view, t->route->along_m[last] - draft->half_length_m,
                       -t->route->across_m[last], radius_m);
    uf_paper_area(draft->paper, UF_HATCH_NONE, 0, ring, UF_DRAFT_RING);
    uf_paper_path(draft->paper, UF_PEN_CUT, ring, UF_DRAFT_RING, true);
}

void uf_draft_route_plan(struct uf_draft *draft, const struct uf_view *view,
                         const struct uf_box *window)
{
    struct tube tubes[MOST];
    const size_t n = tubes_of(tubes, draft);
    uf_paper_window(draft->paper, window);
    for (size_t i = 0; i < n; i++) {
        struct tube *t = &tubes[i];
        for (size_t k = 0; t->route != NULL && k < t->route->n_along; k++) {
            add_point(t, uf_view_at(view, t->route->along_m[k] - draft->half_length_m,
                                    -t->route->across_m[k]));
        }
        draw_tube(draft, t, view->mm_m, NULL);
        if (t->n > 1) {
            name_in_plan(draft, t, window, view->mm_m);
        }
        if (t->route != NULL && t->standpipe != NULL) {
            ring_in_plan(draft, view, t);
        }
    }
    uf_paper_window(draft->paper, NULL);
}
