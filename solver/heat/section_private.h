#ifndef UF_SECTION_PRIVATE_H
#define UF_SECTION_PRIVATE_H

#include "section.h"
#include "solver/design/dig.h"
#include "solver/ground/soil.h"

/* Inner film of air: ISO 6946 internal surface resistance, horizontal heat flow. */
#define UF_SECTION_AIR_FILM_M2K_W 0.13
/* Heat capacity of a shell of any kind (steel 3.6, concrete 2.0, fibreglass laminate 1.6
   MJ/m3K; common practice, no source). It goes to the body inside. */
#define UF_SECTION_WALL_J_M3K 2.0e6

/* What a cell's centre lies in. */
enum uf_cell_kind { UF_CELL_GROUND, UF_CELL_WATER, UF_CELL_AIR };

/* Of the uppermost row of water, where it is parted in two: its upper part, so that neither conducts ice
   the faster for what it holds (half would want more stages a step). */
#define UF_SECTION_UPPER_PART 0.4

/* The state of a section under construction. */
struct uf_build {
    const struct uf_case *design;
    struct uf_section *section;
    struct uf_grid *grid;
    struct uf_heat *heat;
    bool tank, parted;                 /* the uppermost row of water is two nodes */
    struct uf_dig dig;                 /* with a tank */
    struct uf_slice slice;             /* the one in hand, number k */
    struct uf_outline outline, inside; /* its */
    size_t k;
    uint16_t lid;                /* index into heat->materials */
    uint8_t *kind;               /* [n_cells] uf_cell_kind */
    const bool *saturated;       /* [n_cells]; NULL: below ground.water_winter_m */
    int layer[UF_MAX_LAYERS][2]; /* palette index of a layer moist / saturated, -1 = not yet */
    int backfill[2], bedding[2], board, water, air;
    struct uf_error *err;
    enum uf_status status;
};

/* section_paint.c: kind, conducts and shown of every cell of the slice in hand; fills the
   palette, which begins with what the tank may hold. */
void uf_section_add_bodies(struct uf_build *build);
void uf_section_paint(struct uf_build *build);

/* section_rows.c: nodes of the water, by rows of the grid, and of the air. */
void uf_section_rows(struct uf_build *build);
/* Volumes and substance of these nodes; what flows between them and to the air outside. */
void uf_section_bodies(struct uf_build *build);
void uf_section_connect_bodies(struct uf_build *build);

/* section_riser.c: from the tank to the outside air and to the ground beside its risers. */
void uf_section_connect_risers(struct uf_build *build);
/* What part of a riser or standpipe counts to slice k: as much as of the tank. */
double uf_section_part_in(const struct uf_build *build, size_t k);

/* section_standpipe.c: from the tank's water to the ground beside its standpipes. */
void uf_section_connect_standpipes(struct uf_build *build);

/* section_link.c: volumes, node materials, conductances, links and boundaries of the slice
   in hand. */
void uf_section_volumes(struct uf_build *build);
void uf_section_connect(struct uf_build *build);

/* section_thin.c: heat capacity of the board, all that its thickness makes it store. */
double uf_section_foam_J_m3K(const struct uf_case *design);

/* section_thin.c: thin cells of ground take volume from those beside them; after all volumes. */
void uf_section_thin(struct uf_build *build);

/* One face between cells a and b (b right of, below or behind a): its area, the lengths to
   it, and where its conductance goes when both are of one substance. */
struct uf_section_face {
    size_t a, b;
    bool along_x;
    double area_m2, to_a_m, to_b_m;
    double *structured; /* [n_cells] */
};
/* Joins the two cells of a face; neither or both lie in the tank, or the face lies in the
   slice in hand. */
void uf_section_connect_face(struct uf_build *build, const struct uf_section_face *face);

/* The way through the shell from a cell of ground to the body beyond: how far to the shell,
   the part of its normal along the way, its thickness, how much less its inner face is. */
struct uf_section_way {
    size_t ground, body; /* body: a node */
    bool water;
    double area_m2, to_body_m, distance_m, normal, wall_m, narrower;
};
void uf_section_link_wall(struct uf_build *build, const struct uf_section_way *way);

/* section_point.c: fills the section's crossings; false: no memory. */
bool uf_section_point_walls(struct uf_section *section);

/* section_axial.c: from the slice in hand to the next. */
void uf_section_connect_next(struct uf_build *build);

/* section_link.c: share of a cell's section that lies inside an outline. */
double uf_section_share(const struct uf_grid *grid, const struct uf_outline *outline, size_t i,
                        size_t j);

/* Plan area of column i and volume of cell (i, j), per metre (whole rings for a radial
 * grid). */
double uf_section_plan_m2(const struct uf_grid *grid, size_t i);
double uf_section_volume_m3(const struct uf_grid *grid, size_t i, size_t j);

/* section.c: node of the water or the air at the depth of a cell, and the node that stands
   for a cell. */
size_t uf_section_body_node(const struct uf_build *build, size_t cell);
size_t uf_section_node(const struct uf_build *build, size_t cell);

/* section.c: node under the risers: the air, else the water, of which still water's
   topmost cell on the axis. */
size_t uf_section_under_risers(const struct uf_build *build);

#endif
