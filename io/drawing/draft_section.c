#include "draft_section.h"

#include "draft_route.h"
#include "io/text/quantity.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A section of the works: across the tank, or along its axis. */

#define STRIP_MM 6.0 /* of native ground shown around the pit */

double uf_draft_section_pit_m(const struct uf_draft_section *s, double depth_m)
{
    const struct uf_dig *dig = &s->draft->dig;
    return s->along ? uf_dig_half_length_m(dig, depth_m) : uf_dig_half_width_m(dig, depth_m);
}

static double shelf_half_m(const struct uf_draft_section *s)
{
    return s->along ? s->draft->dig.shelf_along_m : s->draft->dig.shelf_across_m;
}

/* The pit between two depths as a closed line; the shelf's step is in it. */
static size_t pit_outline(struct uf_point *points, const struct uf_draft_section *s, double top_m,
                          double bottom_m)
{
    const double shelf_m = s->draft->dig.shelf_m;
    const bool stepped = top_m < shelf_m && shelf_m < bottom_m;
    double half[4], depth[4];
    size_t n = 0, count = 0;
    half[n] = uf_draft_section_pit_m(s, bottom_m);
    depth[n++] = bottom_m;
    if (stepped) {
        half[n] = uf_draft_section_pit_m(s, shelf_m);
        depth[n++] = shelf_m;
        half[n] = shelf_half_m(s);
        depth[n++] = shelf_m;
    }
    half[n] = uf_draft_section_pit_m(s, top_m);
    depth[n++] = top_m;
    for (size_t i = 0; i < n; i++) {
        points[count++] = uf_view_at(s->view, half[i], depth[i]);
    }
    for (size_t i = n; i-- > 0;) {
        points[count++] = uf_view_at(s->view, -half[i], depth[i]);
    }
    return count;
}

static void draw_ground(const struct uf_draft_section *s)
{
    const struct uf_ground_input *ground = &s->draft->design->ground;
    double top_m = 0.0;
    for (size_t i = 0; i < ground->n_layers && top_m < s->depth_m; i++) {
        const double to_m =
            i + 1 < ground->n_layers ? fmin(ground->layers[i].to_m, s->depth_m) : s->depth_m;
        uf_draft_box_area(s->draft, s->view, s->draft->layers[i], -s->edge_m, top_m, s->edge_m,
                          to_m);
        for (int side = -1; side <= 1 && to_m < s->depth_m; side += 2) {
            const bool beside = to_m > s->draft->crown_m && to_m < s->draft->invert_m;
            const double near_m = s->draft->pit && to_m < s->draft->dig.floor_m
                                      ? uf_draft_section_pit_m(s, to_m)
                                  : beside ? s->half_m
                                           : 0.0;
            const struct uf_point a = uf_view_at(s->view, side * s->edge_m, to_m);
            const struct uf_point b = uf_view_at(s->view, side * near_m, to_m);
            uf_paper_line(s->draft->paper, UF_PEN_THIN, a.x, a.y, b.x, b.y);
        }
        top_m = to_m;
    }
}

static void fill_pit(const struct uf_draft_section *s, size_t fill, double top_m, double bottom_m)
{
    struct uf_point points[UF_DRAFT_POINTS];
    if (bottom_m > top_m) {
        uf_draft_fill_area(s->draft, fill, points, pit_outline(points, s, top_m, bottom_m));
    }
}

size_t uf_draft_section_spans(double spans_m[][2], const struct uf_draft_section *s, double half_m,
                              double depth_m)
{
    const struct uf_tank *tank = &s->draft->design->tank;
    const struct uf_riser *highest = uf_draft_section_highest(tank);
    double from_m = -half_m;
    size_t n = 0;
    for (size_t round = 0; round < tank->n_risers; round++) {
        double best_m = INFINITY, hole_m = 0.0;
        for (size_t i = 0; i < tank->n_risers; i++) { /* the next one to the right */
            const struct uf_riser *riser = s->along ? &tank->risers[i] : highest;
            const double at_m = s->along ? uf_draft_station_riser_m(s->draft->site, i) : 0.0;
            const double out_m = 0.5 * riser->diameter_m + riser->shell.sleeve_m;
            if (at_m - out_m > from_m && at_m < best_m &&
                uf_case_riser_top_m(s->draft->design, riser) < depth_m &&
                depth_m < s->draft->crown_m) {
                best_m = at_m;
                hole_m = out_m;
            }
        }
        if (isfinite(best_m) && best_m + hole_m < half_m) {
            spans_m[n][0] = from_m;
            spans_m[n++][1] = best_m - hole_m;
            from_m = best_m + hole_m;
        }
    }
    spans_m[n][0] = from_m;
    spans_m[n++][1] = half_m;
    return n;
}

static void level_line(const struct uf_draft_section *s, enum uf_pen pen, double half_m,
                       double depth_m)
{
    double spans_m[UF_MAX_RISERS + 1][2];
    const size_t n = uf_draft_section_spans(spans_m, s, half_m, depth_m);
    for (size_t i = 0; i < n; i++) {
        const struct uf_point a = uf_view_at(s->view, spans_m[i][0], depth_m);
        const struct uf_point b = uf_view_at(s->view, spans_m[i][1], depth_m);
        uf_paper_line(s->draft->paper, pen, a.x, a.y, b.x, b.y);
    }
}

static void draw_pit(const struct uf_draft_section *s)
{
    struct uf_point points[UF_DRAFT_POINTS];
    const struct uf_dig *dig = &s->draft->dig;
    if (!s->draft->pit) {
        uf_draft_box(s->draft, s->view, UF_PEN_HIDDEN, -s->half_m, dig->invert_m, s->half_m,
                     dig->floor_m);
        return;
    }
    fill_pit(s, s->draft->returned, 0.0, dig->fill_top_m);
    fill_pit(s, s->draft->backfill, dig->fill_top_m, dig->invert_m);
    fill_pit(s, s->draft->bedding, dig->invert_m, dig->floor_m);
    level_line(s, UF_PEN_THIN, uf_draft_section_pit_m(s, dig->invert_m), dig->invert_m);
    if (dig->fill_top_m > 0.0 && s->draft->design->burial.has_backfill) {
        level_line(s, UF_PEN_THIN, uf_draft_section_pit_m(s, dig->fill_top_m), dig->fill_top_m);
    }
    uf_paper_path(s->draft->paper, UF_PEN_EDGE, points, pit_outline(points, s, 0.0, dig->floor_m),
                  true);
}

static size_t outline(struct uf_point *points, const struct uf_draft_section *s, double wall_m)
{
    return s->along ? uf_draft_tank_along(points, s->draft, s->view, wall_m)
                    : uf_draft_tank_across(points, s->draft, s->view, wall_m);
}

/* The water at its usual level, where the section is as wide as its body. */
static void draw_level(const struct uf_draft_section *s, double wall_m)
{
    const struct uf_tank *tank = &s->draft->design->tank;
    const double depth_m = s->draft->invert_m - wall_m - tank->level_m;
    const double up_m = tank->level_m + wall_m - 0.5 * (s->draft->invert_m - s->draft->crown_m);
    double half_m = s->half_m - wall_m;
    if (!(tank->level_m > 0.0)) {
        return;
    }
    if (!s->along && uf_shape_is_round(tank)) {
        half_m = sqrt(fmax(0.0, half_m * half_m - up_m * up_m));
    } else if (s->along) {
        const double head_m = uf_tank_head_depth_m(tank);
        const double radius_m = 0.5 * (s->draft->invert_m - s->draft->crown_m);
        half_m -= head_m * (1.0 - sqrt(fmax(0.0, 1.0 - up_m * up_m / (radius_m * radius_m))));
    }
    const struct uf_point a = uf_view_at(s->view, -half_m, depth_m);
    uf_paper_line(s->draft->paper, UF_PEN_THIN, a.x, a.y, 2.0 * s->view->x_mm - a.x, a.y);
    const double x = s->view->x_mm + 0.55 * (s->view->x_mm - a.x);
    const struct uf_point mark[] = {{x, a.y}, {x - 1.2, a.y + 2.0}, {x + 1.2, a.y + 2.0}};
    uf_paper_path(s->draft->paper, UF_PEN_THIN, mark, 3, true);
}

static void draw_tank(const struct uf_draft_section *s)
{
    struct uf_point points[UF_DRAFT_POINTS];
    const struct uf_tank *tank = &s->draft->design->tank;
    const double wall_m = isnan(tank->wall_thickness_m) ? 0.0 : tank->wall_thickness_m;
    size_t n = outline(points, s, 0.0);
    uf_paper_area(s->draft->paper, UF_HATCH_NONE, 0, points, n);
    uf_paper_path(s->draft->paper, UF_PEN_CUT, points, n, true);
    if (wall_m * s->view->mm_m > 0.5) {
        n = outline(points, s, wall_m);
        uf_paper_path(s->draft->paper, UF_PEN_EDGE, points, n, true);
    }
    draw_level(s, wall_m);
}

void uf_draft_section_pair_at(const struct uf_draft_section *s, size_t fill, double at_m,
                              double near_m, double far_m, double top_m, double bottom_m)
{
    for (int side = -1; side <= 1 && bottom_m > top_m; side += 2) {
        const double left_m = at_m + (side < 0 ? -far_m : near_m);
        uf_draft_box_area(s->draft, s->view, fill, left_m, top_m, left_m + far_m - near_m,
                          bottom_m);
        uf_draft_box(s->draft, s->view, UF_PEN_EDGE, left_m, top_m, left_m + far_m - near_m,
                     bottom_m);
    }
}

const struct uf_riser *uf_draft_section_highest(const struct uf_tank *tank)
{
    const struct uf_riser *highest = NULL;
    for (size_t i = 0; i < tank->n_risers; i++) {
        const struct uf_riser *riser = &tank->risers[i];
        highest =
            highest == NULL || riser->above_grade_m > highest->above_grade_m ? riser : highest;
    }
    return highest;
}

static void draw_riser(const struct uf_draft_section *s, const struct uf_riser *riser, double at_m)
{
    const double lid_m = 0.7 / s->view->mm_m, crown_m = s->draft->crown_m;
    const double top_m = uf_case_riser_top_m(s->draft->design, riser);
    const double half_m = 0.5 * riser->diameter_m;
    const double sleeve_m = riser->shell.sleeve_m, from_m = fmax(0.0, top_m);
    if (!isfinite(at_m) || !(top_m < crown_m)) {
        return;
    }
    if (sleeve_m > 0.0) {
        uf_draft_section_pair_at(s, s->draft->sleeve, at_m, half_m, half_m + sleeve_m, from_m,
                                 fmin(crown_m, riser->shell.sleeve_length_m));
    }
    const struct uf_point at[] = {
        uf_view_at(s->view, at_m - half_m, crown_m), uf_view_at(s->view, at_m - half_m, top_m),
        uf_view_at(s->view, at_m + half_m, top_m), uf_view_at(s->view, at_m + half_m, crown_m)};
    uf_paper_area(s->draft->paper, UF_HATCH_NONE, 0, at, 4);
    uf_paper_path(s->draft->paper, UF_PEN_CUT, at, 4, true);
    uf_draft_box(s->draft, s->view, UF_PEN_CUT, at_m - half_m - lid_m, top_m - lid_m,
                 at_m + half_m + lid_m, top_m);
}

/* Risers lie on the tank's axis; those of unknown station are left out of the long section, and the
   section across shows the highest. */
static void draw_risers(const struct uf_draft_section *s)
{
    const struct uf_tank *tank = &s->draft->design->tank;
    const struct uf_riser *highest = uf_draft_section_highest(tank);
    for (size_t i = 0; s->along && i < tank->n_risers; i++) {
        draw_riser(s, &tank->risers[i], uf_draft_station_riser_m(s->draft->site, i));
    }
    if (!s->along && highest != NULL) {
        draw_riser(s, highest, 0.0);
    }
}

/* On paper, with its lid; grade where none stands above it. */
static double riser_top_mm(const struct uf_draft_section *s)
{
    double top_m = 0.0;
    for (size_t i = 0; i < s->draft->design->tank.n_risers; i++) {
        top_m =
            fmin(top_m, uf_case_riser_top_m(s->draft->design, &s->draft->design->tank.risers[i]));
    }
    return uf_view_at(s->view, 0.0, top_m).y + 1.0;
}

static void draw_water_tables(const struct uf_draft_section *s)
{
    for (size_t i = 0; i < 2; i++) {
        if (isnan(s->water_m[i]) || s->water_m[i] < 0.0 || s->water_m[i] > s->depth_m) {
            continue;
        }
        const struct uf_point a = uf_view_at(s->view, -s->edge_m, s->water_m[i]);
        const double x = a.x + 4.0 + 5.0 * (double)i;
        const struct uf_point mark[] = {{x, a.y}, {x - 1.4, a.y + 2.4}, {x + 1.4, a.y + 2.4}};
        const struct uf_point ground[] = {
            {x - 2.2, a.y - 2.0}, {x + 2.2, a.y - 2.0}, {x + 2.2, a.y + 3.2}, {x - 2.2, a.y + 3.2}};
        const bool beside = s->water_m[i] > s->draft->crown_m && s->water_m[i] < s->draft->invert_m;
        const double to_mm = beside ? s->half_m * s->view->mm_m + 0.5 : 0.0;
        uf_paper_line(s->draft->paper, UF_PEN_WATER, a.x, a.y, s->view->x_mm - to_mm, a.y);
        uf_paper_line(s->draft->paper, UF_PEN_WATER, 2.0 * s->view->x_mm - a.x, a.y,
                      s->view->x_mm + to_mm, a.y);
        uf_paper_area(s->draft->paper, UF_HATCH_NONE, 0, ground, 4);
        uf_paper_path(s->draft->paper, UF_PEN_THIN, mark, 3, true);
        uf_paper_line(s->draft->paper, UF_PEN_THIN, x - 1.0, a.y - 0.7, x + 1.0, a.y - 0.7);
        uf_paper_line(s->draft->paper, UF_PEN_THIN, x - 0.5, a.y - 1.3, x + 0.5, a.y - 1.3);
    }
}

static void draw_grade(const struct uf_draft_section *s)
{
    level_line(s, UF_PEN_CUT, s->edge_m, 0.0);
}

static void draw_axis(const struct uf_draft_section *s)
{
    const double over_mm = 3.0;
    const struct uf_point a = uf_view_at(s->view, 0.0, s->draft->crown_m);
    const struct uf_point b = uf_view_at(s->view, 0.0, s->draft->invert_m);
    uf_paper_line(s->draft->paper, UF_PEN_CENTRE, a.x, a.y + over_mm, b.x, b.y - over_mm);
    const double y = 0.5 * (a.y + b.y), half_mm = s->half_m * s->view->mm_m + over_mm;
    uf_paper_line(s->draft->paper, UF_PEN_CENTRE, a.x - half_mm, y, a.x + half_mm, y);
}

/* How near a depth is to what is written or drawn there: pipes and water tables. */
static double clear_m(const struct uf_draft_section *s, double depth_m)
{
    const struct uf_case *d = s->draft->design;
    double near_m = INFINITY;
    for (size_t i = 0; i < d->n_pipes; i++) {
        near_m = fmin(near_m, fabs(d->pipes[i].depth_m - depth_m));
    }
    for (size_t i = 0; i < 2; i++) {
        near_m = fmin(near_m, fabs(s->water_m[i] - depth_m)); /* NAN: none */
    }
    return near_m;
}

/* The side's slope in words, on the native ground beside it. */
static void draw_slope(const struct uf_draft_section *s)
{
    static const double shares[] = {0.5, 0.3, 0.65, 0.8};
    char text[48];
    const struct uf_dig *dig = &s->draft->dig;
    double at_m = shares[0] * dig->floor_m;
    for (size_t i = 1; i < sizeof shares / sizeof shares[0]; i++) {
        const double other_m = shares[i] * dig->floor_m;
        at_m = clear_m(s, other_m) > clear_m(s, at_m) + 0.05 ? other_m : at_m;
    }
    const double half_m = uf_draft_section_pit_m(s, at_m),
                 room_mm = (s->edge_m - half_m) * s->view->mm_m;
    (void)snprintf(text, sizeof text, "%.4g : 1", dig->slope);
    if (s->draft->pit && dig->slope > 0.0 &&
        uf_paper_width_mm(UF_LETTER_SMALL, text) + 4.0 < room_mm) {
        const struct uf_point p = uf_view_at(s->view, -half_m, at_m);
        uf_paper_text(s->draft->paper, UF_LETTER_SMALL, UF_ALIGN_RIGHT, p.x - 3.0, p.y, false,
                      text);
    }
}

struct uf_draft_section uf_draft_section_of(struct uf_draft *draft, const struct uf_view *view,
                                            bool along)
{
    const double strip_m = STRIP_MM / view->mm_m;
    struct uf_draft_section s = {.draft = draft, .view = view, .along = along};
    s.half_m = along ? draft->half_length_m : draft->half_width_m;
    s.board_m = s.half_m + draft->design->board.beyond_tank_m;
    s.edge_m = (draft->pit ? uf_draft_section_pit_m(&s, 0.0) : fmax(s.half_m, s.board_m)) + strip_m;
    s.depth_m = draft->dig.floor_m + strip_m;
    s.water_m[0] = draft->design->ground.water_winter_m;
    s.water_m[1] = draft->design->ground.water_highest_m;
    return s;
}

void uf_draft_section_bodies(const struct uf_draft_section *s, bool pipes)
{
    draw_ground(s);
    draw_pit(s);
    uf_draft_section_anchors(s, false);
    uf_draft_section_board(s);
    if (pipes) {
        uf_draft_route_section(s);
    }
    draw_tank(s);
    draw_risers(s);
    uf_draft_section_anchors(s, true);
    draw_grade(s);
}

void uf_draft_section(struct uf_draft *draft, const struct uf_view *view, bool along)
{
    const struct uf_draft_section s = uf_draft_section_of(draft, view, along);
    uf_draft_section_bodies(&s, true);
    draw_water_tables(&s);
    draw_axis(&s);
    draw_slope(&s);
    const struct uf_point foot = uf_view_at(view, 0.0, s.depth_m);
    struct uf_dimension d = {draft->paper, view, draft->units, {foot.y, 0.0, 0.0}};
    d.out_mm[UF_DIMENSION_ABOVE] = riser_top_mm(&s);
    d.out_mm[UF_DIMENSION_LEFT] = view->x_mm - s.edge_m * view->mm_m;
    uf_draft_section_sizes(&s, &d);
    uf_draft_frame_name(draft, view, along ? "SECTION B-B" : "SECTION A-A", view->x_mm,
                        d.out_mm[UF_DIMENSION_BELOW] - 3.0);
}
