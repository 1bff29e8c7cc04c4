#include "draft_places.h"
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
        places[n++] = uf_draft_station_strap_m(s->draft->site, i);
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
        places[n++] = uf_draft_station_riser_m(s->draft->site, i);
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
            const double half_m = 0.5 * body.length_m * (double)uf_draft_station_in_row(&body);
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

/* A water table that lies below what is shown stands at the foot of it. */
static void water_level(struct uf_dimension_level *row, const struct uf_draft_section *s, size_t i)
{
    static const char *const names[] = {"water table, winter", "water table, highest"};
    char text[32];
    const double depth_m = s->water_m[i];
    row->depth_m = fmin(depth_m, s->depth_m);
    (void)snprintf(row->text, sizeof row->text, "%s  %s%s",
                   uf_draft_level(text, sizeof text, s->draft, depth_m), names[i],
                   depth_m > s->depth_m ? " (below)" : "");
}

static void draw_levels(const struct uf_draft_section *s, struct uf_dimension *d)
{
    struct uf_draft_places_level levels[UF_DRAFT_PLACES];
    struct uf_dimension_level rows[UF_DRAFT_PLACES + 2];
    size_t n = uf_draft_places_levels(levels, s->draft->site);
    for (size_t i = 0; i < n; i++) {
        char text[32], fitted[60];
        rows[i].depth_m = fmin(levels[i].depth_m, s->depth_m);
        (void)uf_paper_fit(fitted, sizeof fitted, UF_LETTER_SMALL, levels[i].what, 56.0);
        (void)snprintf(rows[i].text, sizeof rows[i].text, "%s  %s",
                       uf_draft_level(text, sizeof text, s->draft, levels[i].depth_m), fitted);
    }
    for (size_t i = 0; i < 2; i++) {
        if (isfinite(s->water_m[i])) {
            water_level(&rows[n++], s, i);
        }
    }
    uf_dimension_levels(d, rows, n, s->view->x_mm + s->edge_m * s->view->mm_m + 1.0);
}

void uf_draft_section_sizes(const struct uf_draft_section *section, struct uf_dimension *dimension)
{
    dimension_all(section, dimension);
    if (!section->along) {
        draw_levels(section, dimension);
    }
}
