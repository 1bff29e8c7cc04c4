#ifndef UF_ISOLINE_H
#define UF_ISOLINE_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* Lines of equal value through numbers given at the nodes of a rectangular grid, as
   closed loops that can be filled, by marching squares with straight lines between nodes.
   The grid is taken as surrounded by high values, so every loop closes. Where loops of
   several levels are painted from the largest to the smallest, each with the tone of what
   lies inside it, the picture is right: loops never cross. */

struct uf_isoline_point {
    double x, z;
    bool border; /* on the grid's surrounding, not a line of the field */
};

struct uf_isoline_loop {
    size_t first, n; /* points of the list */
    double area;     /* enclosed, > 0 */
    int level;       /* index into levels */
    bool low_inside; /* values under the level lie inside */
};

struct uf_isoline_list {
    struct uf_isoline_point *points;
    size_t n_points;
    struct uf_isoline_loop *loops; /* largest first */
    size_t n_loops;
};

/* What lines are drawn through: values [nz][nx] at (x[i], z[j]), no NAN; x and z
   increasing, nx and nz >= 2. Borrowed. */
struct uf_isoline_field {
    const double *values, *x, *z;
    size_t nx, nz;
};

/* levels    n_levels numbers
   Free the list's contents with uf_isoline_clear. Errors: UF_E_MEMORY. */
enum uf_status uf_isoline_trace(struct uf_isoline_list *out, const struct uf_isoline_field *field,
                                const double *levels, int n_levels, struct uf_error *err);
void uf_isoline_clear(struct uf_isoline_list *list);

#endif
