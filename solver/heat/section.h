#ifndef UF_SECTION_H
#define UF_SECTION_H

#include "heat.h"
#include "outline.h"
#include "slice.h"

/* Film on the inner face of a wetted wall, one figure for free convection of cold water. Vertical
   plate, laminar, mean over the height L (Churchill & Chu 1975, Int. J. Heat Mass Transfer 18:
   1323-1329, from memory), with the buoyancy of the density itself, as it turns round at 3.98 degC:

     Nu = h L / k = 0.68 + 0.670 Ra^(1/4) / (1 + (0.492 / Pr)^(9/16))^(4/9)
     Ra = g L^3 (drho / rho) / (nu alpha)

   over 1 m gives 33 W/m2K for 0.1 K at 3 degC, 64 for 1 K, 83 for 1 K at 8 degC (a test): at the few
   W/m2 of a buried tank in winter the wall is within 0.1 K of it. Under a roof that cools layered water nothing flows;
   the topmost row's own half is then what resists, which finer rows resolve. */
#define UF_SECTION_WATER_FILM_W_M2K 60.0

/* Where a link goes through the wall in the first slice, for points beside it. */
struct uf_section_crossing {
    size_t link;
    double x_m, z_m;
};

/* Paints a design on a grid: which substance each cell holds, and the network of heat
   flows that follows. Layers, water table, pit and board by cell centre (the grid has
   lines on them); the tank's outline by exact areas and by the exact lengths along the
   line between two centres. */
struct uf_section {
    struct uf_grid *grid; /* owned, but of a twin */
    struct uf_heat *heat; /* owned */
    int8_t *shown;        /* [ny][nz][nx] index into names: what a picture shows */
    char names[UF_MAX_MATERIALS][UF_NAME_SIZE];
    int8_t marks[UF_MAX_MATERIALS]; /* enum uf_soil_mark: what they are drawn as */
    size_t n_names;
    struct uf_slice *slices;        /* [ny], with a tank */
    struct uf_outline outline;      /* of the tank at mid-tank; half_m 0 without one */
    size_t crown_link, invert_link; /* links through the wall on the axis, or UF_HEAT_NONE */
    uint16_t water_material;        /* index into heat->materials, with a tank */
    bool unmixed;                   /* the water is cells that conduct, without nodes of its own */
    double whole_share;   /* times a conductance of the whole tank: the section's part of it.
                           1 for a standing tank, 1/4 for slices, 1 / (2 length) a metre of
                           a plane section */
    size_t *row_water;    /* [nz] node of the water that lies in, or nearest to, a row of the
                           grid, of the two of the uppermost the lower; UF_HEAT_NONE where the
                           water has no nodes of its own */
    double *water_edge_m; /* [n_water + 1] depths between the water's nodes, surface first */
    double surface_z_m;   /* depth of the water's surface in the tank, NAN when empty */
    bool twin;            /* the grid is another section's */
    struct uf_section_crossing *crossings; /* in the order of their links */
    size_t n_crossings;
};

/* Builds the section; uf_section_create_column the undisturbed ground of the same design
   in one column, with the rows of `like` (for a start).
   frost_m   upper guess of the frost depth: rows are fine down to it
   Errors: those of soils, grid and memory. */
enum uf_status uf_section_create(struct uf_section **out, const struct uf_case *design,
                                 double frost_m, struct uf_error *err);
enum uf_status uf_section_create_column(struct uf_section **out, const struct uf_case *design,
                                        const struct uf_grid *like, struct uf_error *err);

/* The same as uf_section_create on a grid of the caller's, which is taken over in any
   case; the board's edges and the sides of a box must be lines of it. */
enum uf_status uf_section_create_on(struct uf_section **out, const struct uf_case *design,
                                    struct uf_grid *grid, struct uf_error *err);
void uf_section_free(struct uf_section *section); /* NULL is fine */

/* The same design on the grid of a section, which is borrowed, with groundwater where saturated says
   so, [n_cells] (NULL: below ground.water_winter_m); same nodes, same inflow. Errors: as uf_section_create. */
enum uf_status uf_section_twin(struct uf_section **out, const struct uf_section *section,
                               const struct uf_case *design, const bool *saturated,
                               struct uf_error *err);

/* Puts a twin's network in the place of the section's own: section->heat stays where it is and says
   something else, its links and substances are others. Takes the twin over. */
void uf_section_take(struct uf_section *section, struct uf_section *twin);

/* Does the ground at a cell's centre lie below a water table at that depth (NAN: none)? */
bool uf_section_below(const struct uf_grid *grid, size_t cell, double table_m);

/* What of the tank holds a cell's centre: nothing (ground), water or air. */
enum uf_section_body { UF_SECTION_GROUND, UF_SECTION_WATER, UF_SECTION_AIR };
enum uf_section_body uf_section_body_of(const struct uf_section *section, size_t cell);

/* Temperature at a point of the first slice, degC. In the shell and on either of its faces the wall's inner
   surface, as for the crown; in the tank that of the body there, of still water that between
   its cells. In the ground between the centres of ground cells, in series where two substances
   meet; nearer to the tank than its first centre, between that and the wall's outer surface.
   T [n] */
double uf_section_at_degC(const struct uf_section *section, const double *T_degC, double x_m,
                          double z_m);

/* The water at a depth on the axis, degC: straight between the middles of its rows. */
double uf_section_water_degC(const struct uf_section *section, const double *T_degC, double z_m);

/* Inner surface of the wall at one link, degC. */
double uf_section_wall_degC(const struct uf_section *section, const struct uf_heat_link *link,
                            const double *T_degC);

/* Outer surface of the wall at one link, degC. */
double uf_section_outer_degC(const struct uf_section *section, const struct uf_heat_link *link,
                             const double *T_degC);

/* Temperature of every cell for pictures: the body's in the tank. cells [n_cells] */
void uf_section_cells(const struct uf_section *section, const double *T_degC, double *cells_degC);

#endif
