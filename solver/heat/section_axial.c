#include "section_private.h"

/* From one slice to the next: ground to ground where neither holds tank, tank to ground where
   the tank ends or narrows, and what is in the tank to itself. Shares of a cell's section
   that lie in the tank are exact, so that the end wall's area is. */

/* The end wall over one cell: from the cell of ground behind it to the body before it. */
static void link_end(struct uf_build *b, const struct uf_section_face *f, double area_m2)
{
    const struct uf_grid *g = b->grid;
    const size_t j = uf_grid_j(g, f->b);
    struct uf_section_way way = {.ground = f->b,
                                 .body = b->section->unmixed ? uf_section_node(b, f->a)
                                                             : uf_section_body_node(b, f->a),
                                 .water = g->z_m[j] > b->section->surface_z_m,
                                 .area_m2 = area_m2,
                                 .to_body_m = f->to_a_m + f->to_b_m,
                                 .wall_m = b->section->outline.wall_m,
                                 .narrower = 1.0};
    uf_slice_end(b->design, g, b->k, g->x_m[uf_grid_i(g, f->b)], g->z_m[j], &way.distance_m,
                 &way.normal);
    uf_section_link_wall(b, &way);
}

static void connect_cell(struct uf_build *b, size_t i, size_t j)
{
    const struct uf_grid *g = b->grid;
    const struct uf_slice *next = &b->section->slices[b->k + 1];
    struct uf_section_face f = {.a = uf_grid_in(g, i, j, b->k),
                                .b = uf_grid_in(g, i, j, b->k + 1),
                                .to_a_m = 0.5 * b->slice.thick_m,
                                .to_b_m = 0.5 * next->thick_m,
                                .structured = b->heat->gy_m};
    const double face_m2 = uf_section_volume_m3(g, i, j); /* of a metre of it */
    const double here = uf_section_share(g, &b->outline, i, j);
    const double there = uf_section_share(g, &next->outline, i, j);
    const bool ground_here = b->kind[f.a] == UF_CELL_GROUND;
    const bool ground_there = b->kind[f.b] == UF_CELL_GROUND;
    const bool no_body = ground_here && b->section->unmixed;
    const double wall = ground_there && !no_body ? here - there : 0.0;
    if (wall > 0.0) {
        link_end(b, &f, face_m2 * wall);
    }
    f.area_m2 = face_m2 * (ground_here ? 1.0 - there - wall : there);
    if (ground_here == ground_there && f.area_m2 > 0.0) {
        uf_section_connect_face(b, &f);
    }
}

void uf_section_connect_next(struct uf_build *b)
{
    for (size_t j = 0; b->k + 1 < b->grid->ny && j < b->grid->nz; j++) {
        for (size_t i = 0; i < b->grid->nx; i++) {
            connect_cell(b, i, j);
        }
    }
}
