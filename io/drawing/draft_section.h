#ifndef UF_DRAFT_SECTION_H
#define UF_DRAFT_SECTION_H

#include "draft_private.h"

/* A section being drawn, across the tank or along its axis; shared by draft_section.c, which draws it,
   and draft_section_sizes.c, which says how large it all is. */

struct uf_draft_section {
    struct uf_draft *draft;
    const struct uf_view *view;
    bool along;
    double half_m;          /* of the tank */
    double edge_m, depth_m; /* of what is shown */
    double board_m;         /* half of the board */
    double water_m[2];      /* water tables, where they are shown */
};

struct uf_draft_section uf_draft_section_of(struct uf_draft *draft, const struct uf_view *view,
                                            bool along);

/* Everything but chains, levels and names; pipes: with them. */
void uf_draft_section_bodies(const struct uf_draft_section *section, bool pipes);

/* What lies out to half_m at a depth, less the risers that come through there: spans_m has room for
   UF_MAX_RISERS + 1; returns how many stretches, from left to right. Risers do not lie in one another. */
size_t uf_draft_section_spans(double spans_m[][2], const struct uf_draft_section *section,
                              double half_m, double depth_m);

/* draft_section_board.c: nothing without a board. */
void uf_draft_section_board(const struct uf_draft_section *section);

/* Boxes on both sides of an axis, from near to far off it. */
void uf_draft_section_pair_at(const struct uf_draft_section *section, size_t fill, double at_m,
                              double near_m, double far_m, double top_m, double bottom_m);

/* The riser that the section across shows, NULL without any. */
const struct uf_riser *uf_draft_section_highest(const struct uf_tank *tank);

double uf_draft_section_pit_m(const struct uf_draft_section *section, double depth_m);

/* draft_section_anchors.c: boxes right and left of the axis, or one across it; the anchors, or the
   straps that go over the tank. */
void uf_draft_section_pair(const struct uf_draft_section *section, size_t fill, enum uf_pen pen,
                           double axis_m, double half_m, double top_m, double bottom_m);
void uf_draft_section_anchors(const struct uf_draft_section *section, bool straps);

/* All chains, then the levels to the right. */
void uf_draft_section_sizes(const struct uf_draft_section *section, struct uf_dimension *dimension);

#endif
