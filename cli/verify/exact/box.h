#ifndef UF_BOX_H
#define UF_BOX_H

#include "solver/heat/heat.h"

/* A rectangular body of ground for theory: a grid filled with given substances, and a
   face law on any part of its four sides. For problems with a known answer that a site
   cannot express: two cold faces at a corner, a wall and a slab, a column of stone. What
   comes out is an ordinary heat network, to be integrated or solved like a section.

   A side without a law lets no heat through. A face kept at a temperature hangs on a
   bath: a node so heavy that it does not change (1e14 J/K; 100 MJ move it by 1e-6 K). */
struct uf_box {
    struct uf_grid *grid; /* owned */
    struct uf_heat *heat; /* owned; ready after uf_box_connect and the faces */
    double *bath_degC;    /* [most_baths] temperature of each bath, in the order made */
    size_t n_baths, most_baths;
};

enum uf_box_side { UF_BOX_TOP, UF_BOX_BOTTOM, UF_BOX_LEFT, UF_BOX_RIGHT };

/* An empty box: lines along x and z as uf_grid_edges makes them. radial: x is a radius.
   Errors: UF_E_MEMORY, UF_E_RANGE (too many lines). */
enum uf_status uf_box_create(struct uf_box **out, const struct uf_grid_axis *x,
                             const struct uf_grid_axis *z, bool radial, size_t most_baths,
                             struct uf_error *err);
void uf_box_free(struct uf_box *box); /* NULL is fine */

/* Fills the cells whose centre lies in the rectangle. At most UF_MAX_MATERIALS calls;
   later ones overwrite. The first must cover the whole box. */
struct uf_box_part {
    double x0_m, x1_m, z0_m, z1_m;
};
void uf_box_fill(struct uf_box *box, const struct uf_material *material, struct uf_box_part part);

/* Joins neighbouring cells. Once, after the last fill and before the first face. */
void uf_box_connect(struct uf_box *box);

/* A new bath; returns its place among the baths. At most most_baths calls. */
size_t uf_box_bath(struct uf_box *box, double degC);

/* Hangs the faces of one side whose middle lies between two coordinates on a bath,
   through a film (m2 K/W, 0 = none). */
struct uf_box_face {
    enum uf_box_side side;
    double from_m, to_m;
    size_t bath;
    double film_m2K_W;
};
void uf_box_face(struct uf_box *box, const struct uf_box_face *face);

/* Opens the top, or the part of it whose middles lie between two coordinates, to the
   drive of a season (its outside and film). */
void uf_box_open_top(struct uf_box *box);
void uf_box_open_part(struct uf_box *box, double from_m, double to_m);

/* Temperatures to start from: every cell at degC, the baths at theirs. T_degC [heat->n] */
void uf_box_start(const struct uf_box *box, double degC, double *T_degC);

/* Which nodes are baths, for uf_steady_solve. fixed [heat->n] */
void uf_box_fixed(const struct uf_box *box, bool *fixed);

/* Heat from a bath into the body, W. */
double uf_box_bath_W(const struct uf_box *box, const double *T_degC, size_t bath);

/* Temperature at a point: bilinear between centres, flat beyond the outermost. */
double uf_box_at_degC(const struct uf_box *box, const double *T_degC, double x_m, double z_m);

#endif
