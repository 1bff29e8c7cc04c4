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

/* The state of a section under construction. */
struct uf_build {
    const struct uf_case *design;
    struct uf_section *section;
    struct uf_grid *grid;
    struct uf_heat *heat;
    bool tank;
    struct uf_dig dig; /* with a tank */
    struct uf_outline outline, inside;
    uint8_t *kind;               /* [n_cells] uf_cell_kind */
    int layer[UF_MAX_LAYERS][2]; /* palette index of a layer moist / saturated, -1 = not yet */
    int backfill[2], bedding[2], board, water, air;
    double ends; /* 1 + end area / side area, or 1 */
    struct uf_error *err;
    enum uf_status status;
};

/* section_paint.c: kind, conducts and shown of every cell; fills the palette. */
void uf_section_paint(struct uf_build *build);

/* section_rows.c: nodes of the water, by rows of the grid, and of the air. */
void uf_section_rows(struct uf_build *build);
/* Volumes and substance of these nodes; what flows between them and to the air outside. */
void uf_section_bodies(struct uf_build *build);
void uf_section_connect_bodies(struct uf_build *build);

/* section_link.c: volumes, node materials, conductances, links and boundaries. */
void uf_section_volumes(struct uf_build *build);
void uf_section_connect(struct uf_build *build);

/* Plan area of column i and volume of cell (i, j), per metre (whole rings for a radial grid). */
double uf_section_plan_m2(const struct uf_grid *grid, size_t i);
double uf_section_volume_m3(const struct uf_grid *grid, size_t i, size_t j);

/* section.c: node that stands for a cell. */
size_t uf_section_node(const struct uf_build *build, size_t cell);

/* section.c: node under the risers: the air, else the water, of which still water's
   topmost cell on the axis. */
size_t uf_section_under_risers(const struct uf_build *build);

#endif
