#include "draft_section.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Dimension chains and levels of a section. */

static void chain(struct uf_dimension *d, enum uf_dimension_side side, const double *places,
                  size_t n, double from_m)
{
    uf_dimension_chain(d, side, places, n, from_m);
}

/* Places +-a, +-b: the same on both sides. */
static void chain_pairs(struct uf_dimension *d, enum uf_dimension_side side, double a_m, double b_m,
                        double from_m)
{
    const double places[] = {-a_m, -b_m, b_m, a_m};
    chain(d, side, places, 4, from_m);
}

static void dimension_stations(const struct uf_draft_section *s, struct uf_dimension *d)
{
    double places[UF_SITE_STRAPS + 2];
    const size_t straps = s->draft->design->anchors.straps;
    size_t n = 0;
    places[n++] = -s->half_m;
    for (size_t i = 0; i < straps && i < UF_SITE_STRAPS && uf_anchor_any(s->draft->design); i++) {
        places[n++] = uf_draft_tank_strap_m(s->draft, i);
    }
    places[n++] = s->half_m;
    if (n > 2) {
        chain(d, UF_DIMENSION_BELOW, places, n, s->draft->invert_m);
    }
}

/* Board and tank, and the stations of risers between, in one chain. */
static void dimension_top(const struct uf_draft_section *s, struct uf_dimension *d)
{
    double places[UF_MAX_RISERS + 4];
    size_t n = 0;
    for (size_t i = 0; s->along && i < s->draft->design->tank.n_risers; i++) {
        places[n++] = uf_draft_tank_riser_m(s->draft, i);
    }
    for (int side = -1; side <= 1; side += 2) {
        places[n++] = side * s->half_m;
        places[n++] = uf_case_has_board(s->draft->design) ? side * s->board_m : (double)NAN;
    }
    chain(d, UF_DIMENSION_ABOVE, places, n, 0.0);
}

static void dimension_anchors(const struct uf_draft_section *s, struct uf_dimension *d)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body =
            uf_anchor_at((enum uf_anchor_kind)i)->body(s->draft->design);
        const double bottom_m = body.top_m + body.height_m;
        if (!(body.count > 0.0)) {
            continue;
        }
        if (s->along) {
            const double half_m = 0.5 * body.length_m * (double)uf_draft_section_in_row(&body);
            chain_pairs(d, UF_DIMENSION_BELOW, half_m, half_m, bottom_m);
        } else if (body.axis_m > 0.0) {
            const double places[] = {-body.axis_m, 0.0, body.axis_m};
            chain(d, UF_DIMENSION_BELOW, places, 3, bottom_m);
        } else {
            chain_pairs(d, UF_DIMENSION_BELOW, 0.5 * body.width_m, 0.5 * body.width_m, bottom_m);
        }
    }
}

static void dimension_level_chains(const struct uf_draft_section *s, struct uf_dimension *d)
{
    const struct uf_draft *draft = s->draft;
    const bool board = uf_case_has_board(draft->design);
    const double foot_m = uf_anchor_bedding_foot_m(draft->design, draft->dig.floor_m);
    const double fine[] = {0.0,
                           board ? uf_case_board_top_m(draft->design) : (double)NAN,
                           board ? uf_case_board_bottom_m(draft->design) : (double)NAN,
                           draft->crown_m,
                           draft->invert_m,
                           foot_m,
                           draft->dig.floor_m};
    const double all[] = {0.0, draft->dig.floor_m};
    chain(d, UF_DIMENSION_LEFT, fine, 7, -s->edge_m);
    chain(d, UF_DIMENSION_LEFT, all, 2, -s->edge_m);
}

static void dimension_all(const struct uf_draft_section *s, struct uf_dimension *d)
{
    const struct uf_draft *draft = s->draft;
    const double floor_m = s->along ? draft->dig.along_m : draft->dig.across_m;
    if (s->along) {
        dimension_stations(s, d);
    }
    chain_pairs(d, UF_DIMENSION_BELOW, draft->pit ? floor_m : s->half_m, s->half_m,
                draft->dig.floor_m);
    dimension_anchors(s, d);
    dimension_top(s, d);
    if (draft->pit) {
        chain_pairs(d, UF_DIMENSION_ABOVE, uf_draft_section_pit_m(s, 0.0),
                    uf_draft_section_pit_m(s, 0.0), 0.0);
    }
    if (!s->along) {
        dimension_level_chains(s, d);
    }
}

struct levels {
    struct uf_dimension_level rows[24];
    size_t n;
};

static void level(struct levels *list, const struct uf_draft *draft, double depth_m,
                  const char *what)
{
    char text[32];
    if (isfinite(depth_m) && list->n < sizeof list->rows / sizeof list->rows[0]) {
        struct uf_dimension_level *row = &list->rows[list->n++];
        row->depth_m = depth_m;
        (void)snprintf(row->text, sizeof row->text, "%s  %s",
                       uf_draft_level(text, sizeof text, draft, depth_m), what);
    }
}

/* A water table that lies below what is shown stands at the foot of it. */
static void water_level(struct levels *list, const struct uf_draft_section *s, size_t i,
                        const char *what)
{
    const size_t n = list->n;
    level(list, s->draft, s->water_m[i], what);
    if (list->n > n && s->water_m[i] > s->depth_m) {
        struct uf_dimension_level *row = &list->rows[n];
        const size_t used = strlen(row->text);
        row->depth_m = s->depth_m;
        (void)snprintf(row->text + used, sizeof row->text - used, " (below)");
    }
}

static void levels_of_anchors(struct levels *list, const struct uf_draft *draft)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        char what[48];
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        const struct uf_anchor_body body = row->body(draft->design);
        if (body.count > 0.0) {
            (void)snprintf(what, sizeof what, "top of %s", row->word);
            level(list, draft, body.top_m, what);
        }
    }
}

static void draw_levels(const struct uf_draft_section *s, struct uf_dimension *d)
{
    const struct uf_draft *draft = s->draft;
    const struct uf_tank *tank = &draft->design->tank;
    struct levels list = {.n = 0};
    level(&list, draft, 0.0, "grade");
    level(&list, draft,
          uf_case_has_board(draft->design) ? uf_case_board_top_m(draft->design) : (double)NAN,
          "board, top");
    level(&list, draft, draft->crown_m, "crown");
    level(&list, draft, draft->invert_m, "invert, top of bedding");
    level(&list, draft, draft->dig.floor_m,
          draft->pit ? "floor of the pit" : "underside of bedding");
    level(&list, draft,
          draft->pit && draft->design->burial.has_backfill && draft->dig.fill_top_m > 0.0
              ? draft->dig.fill_top_m
              : (double)NAN,
          "top of fill");
    levels_of_anchors(&list, draft);
    water_level(&list, s, 0, "water table, winter");
    water_level(&list, s, 1, "water table, highest");
    if (tank->n_risers > 0) {
        level(&list, draft, draft->crown_m - tank->risers[0].height_m, "riser, top");
    }

    uf_dimension_levels(d, list.rows, list.n, s->view->x_mm + s->edge_m * s->view->mm_m + 1.0);
}

void uf_draft_section_sizes(const struct uf_draft_section *section, struct uf_dimension *dimension)
{
    dimension_all(section, dimension);
    if (!section->along) {
        draw_levels(section, dimension);
    }
}
