#include "draft_places.h"

#include "draft_station.h"
#include "solver/design/anchor.h"
#include "solver/design/dig.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

/* Levels and places of the works, each told once. */

char *uf_draft_places_text(char *text, size_t size, const struct uf_site *site, enum uf_units units,
                           double depth_m)
{
    const double grade_m = site->drawing.grade_level_m;
    const bool known = isfinite(grade_m), us = units == UF_UNITS_US;
    double shown = uf_quantity_value(UF_QUANTITY_LENGTH, units, (known ? grade_m : 0.0) - depth_m);
    shown = fabs(shown) < 5e-4 ? 0.0 : shown;
    (void)snprintf(text, size, "%s%.*f%s",
                   known          ? ""
                   : shown == 0.0 ? "\u00b1"
                   : shown > 0.0  ? "+"
                                  : "",
                   us ? 2 : 3, shown, us ? "\u2032" : "");
    return text;
}

struct levels {
    struct uf_draft_places_level *rows;
    size_t n;
};

__attribute__((format(printf, 3, 4))) static void level(struct levels *list, double depth_m,
                                                        const char *format, ...)
{
    if (isfinite(depth_m) && list->n < UF_DRAFT_PLACES) {
        struct uf_draft_places_level *row = &list->rows[list->n++];
        va_list args;
        row->depth_m = depth_m;
        va_start(args, format);
        (void)vsnprintf(row->what, sizeof row->what, format, args);
        va_end(args);
    }
}

static void fittings_levels(struct levels *list, const struct uf_case *d)
{
    for (size_t i = 0; i < d->tank.n_risers; i++) {
        const double top_m = uf_case_riser_top_m(d, &d->tank.risers[i]);
        if (i == 0 || top_m != uf_case_riser_top_m(d, &d->tank.risers[0])) {
            level(list, top_m, d->tank.n_risers > 1 && i > 0 ? "riser %zu, top" : "riser, top",
                  i + 1);
        }
    }
    for (size_t i = 0; i < d->n_pipes; i++) {
        level(list, d->pipes[i].depth_m, "axis of %s at tank", d->pipes[i].name);
    }
    for (size_t i = 0; i < d->n_standpipes; i++) {
        level(list, d->standpipes[i].bottom_m, "lower end of %s", d->standpipes[i].name);
    }
}

static int deeper(const void *a, const void *b)
{
    const double x = ((const struct uf_draft_places_level *)a)->depth_m;
    const double y = ((const struct uf_draft_places_level *)b)->depth_m;
    return x > y ? -1 : x < y ? 1 : 0;
}

size_t uf_draft_places_levels(struct uf_draft_places_level *rows, const struct uf_site *site)
{
    const struct uf_case *d = &site->design;
    const bool pit = isfinite(d->burial.pit_clearance_m);
    const struct uf_dig dig = uf_dig_of(d);
    struct levels list = {rows, 0};
    level(&list, 0.0, "grade");
    if (uf_case_has_board(d)) {
        level(&list, uf_case_board_top_m(d), "board, top");
        level(&list, uf_case_board_bottom_m(d), "board, underside");
    }
    level(&list, uf_case_crown_m(d), "crown, top of the tank");
    level(&list, uf_case_invert_m(d), "invert, top of bedding");
    level(&list, dig.floor_m, pit ? "floor of the pit" : "underside of bedding");
    if (pit && d->burial.has_backfill && dig.fill_top_m > 0.0) {
        level(&list, dig.fill_top_m, "top of the fill brought in");
    }
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        if (row->body(d).count > 0.0) {
            level(&list, row->body(d).top_m, "top of the %s", row->word);
        }
    }
    fittings_levels(&list, d);
    qsort(rows, list.n, sizeof rows[0], deeper);
    return list.n;
}

struct places {
    struct uf_draft_place *rows;
    size_t n;
    double half_m; /* of the tank's length: stations count from its left end */
};

__attribute__((format(printf, 4, 5))) static void place(struct places *list, const double at_m[4],
                                                        double depth_m, const char *format, ...)
{
    if (list->n < UF_DRAFT_PLACES && isfinite(at_m[0]) && isfinite(at_m[2])) {
        struct uf_draft_place *row = &list->rows[list->n++];
        va_list args;
        *row = (struct uf_draft_place){.from_m = at_m[0],
                                       .to_m = at_m[1],
                                       .low_m = at_m[2],
                                       .high_m = at_m[3],
                                       .depth_m = depth_m};
        va_start(args, format);
        (void)vsnprintf(row->what, sizeof row->what, format, args);
        va_end(args);
    }
}

/* A rectangle about the tank's middle. */
static void about(struct places *list, const char *what, double half_l_m, double half_w_m,
                  double depth_m)
{
    const double at_m[] = {list->half_m - half_l_m, list->half_m + half_l_m, -half_w_m, half_w_m};
    place(list, at_m, depth_m, "%s", what);
}

static void pit_places(struct places *list, const struct uf_case *d)
{
    const struct uf_dig dig = uf_dig_of(d);
    const double low_l_m = uf_dig_half_length_m(&dig, dig.shelf_m);
    const double low_w_m = uf_dig_half_width_m(&dig, dig.shelf_m);
    if (!isfinite(d->burial.pit_clearance_m)) {
        return;
    }
    about(list, "pit at grade", uf_dig_half_length_m(&dig, 0.0), uf_dig_half_width_m(&dig, 0.0),
          0.0);
    if (dig.shelf_across_m > low_w_m + 1e-6 || dig.shelf_along_m > low_l_m + 1e-6) {
        about(list, "shelf for the board", dig.shelf_along_m, dig.shelf_across_m, dig.shelf_m);
    }
    about(list, "floor of the pit", dig.along_m, dig.across_m, dig.floor_m);
}

static void anchor_places(struct places *list, const struct uf_case *d)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        const struct uf_anchor_body body = row->body(d);
        const size_t n = body.count > 0.0 ? uf_draft_station_in_row(&body) : 0;
        for (int side = body.axis_m > 0.0 ? -1 : 1; side <= 1; side += 2) {
            for (size_t k = 0; k < n; k++) {
                const double from_m = list->half_m + body.length_m * ((double)k - 0.5 * (double)n);
                const double axis_m = side * body.axis_m;
                const double at_m[] = {from_m, from_m + body.length_m, axis_m - 0.5 * body.width_m,
                                       axis_m + 0.5 * body.width_m};
                place(list, at_m, body.top_m, "%s, top", row->one);
            }
        }
    }
}

static void fitting_places(struct places *list, const struct uf_site *site)
{
    const struct uf_case *d = &site->design;
    for (size_t i = 0; i < d->anchors.straps && uf_anchor_any(d); i++) {
        const double at_m[] = {list->half_m + uf_draft_station_strap_m(site, i), NAN, 0.0, NAN};
        place(list, at_m, (double)NAN, "strap %zu%s", i + 1,
              site->drawing.n_straps == 0 ? ", evenly apart" : "");
    }
    for (size_t i = 0; i < d->tank.n_risers; i++) {
        const double at_m[] = {list->half_m + uf_draft_station_riser_m(site, i), NAN, 0.0, NAN};
        place(list, at_m, uf_case_riser_top_m(d, &d->tank.risers[i]), "riser %zu, axis", i + 1);
    }
}

void uf_draft_places_fall(double *depth_m, const struct uf_site_route *route, double from_m)
{
    const double fall = isfinite(route->fall) ? route->fall : 0.0;
    depth_m[0] = from_m;
    for (size_t i = 1; i < route->n_along; i++) {
        depth_m[i] = depth_m[i - 1] + fall * hypot(route->along_m[i] - route->along_m[i - 1],
                                                   route->across_m[i] - route->across_m[i - 1]);
    }
}

static void route_places(struct places *list, const struct uf_site_route *route, double from_m)
{
    double depth_m[UF_SITE_BENDS];
    uf_draft_places_fall(depth_m, route, from_m);
    for (size_t i = 0; i < route->n_along; i++) {
        const double at_m[] = {route->along_m[i], NAN, route->across_m[i], NAN};
        if (i > 0 && i + 1 < route->n_along) {
            place(list, at_m, depth_m[i], "bend %zu of %s", i, route->pipe);
        } else {
            place(list, at_m, depth_m[i], "%s of %s", i == 0 ? "start" : "end", route->pipe);
        }
    }
}

static void pipe_places(struct places *list, const struct uf_site *site)
{
    const struct uf_case *d = &site->design;
    for (size_t i = 0; i < d->n_pipes + d->n_standpipes; i++) {
        const bool stands = i >= d->n_pipes;
        const char *name = stands ? d->standpipes[i - d->n_pipes].name : d->pipes[i].name;
        const struct uf_site_route *route = uf_site_drawing_route(&site->drawing, name);
        if (route != NULL && route->n_along == route->n_across) {
            route_places(list, route,
                         stands ? d->standpipes[i - d->n_pipes].bottom_m : d->pipes[i].depth_m);
        }
    }
}

size_t uf_draft_places(struct uf_draft_place *rows, const struct uf_site *site)
{
    const struct uf_case *d = &site->design;
    struct places list = {rows, 0, 0.5 * uf_tank_plan_length_m(&d->tank)};
    pit_places(&list, d);
    about(&list, "tank, outside", list.half_m, 0.5 * uf_tank_plan_width_m(&d->tank),
          uf_case_invert_m(d));
    anchor_places(&list, d);
    if (uf_case_has_board(d)) {
        const double beyond_m = d->board.beyond_tank_m;
        about(&list, "board, underside", list.half_m + beyond_m,
              0.5 * uf_tank_plan_width_m(&d->tank) + beyond_m, uf_case_board_bottom_m(d));
    }
    fitting_places(&list, site);
    pipe_places(&list, site);
    return list.n;
}
