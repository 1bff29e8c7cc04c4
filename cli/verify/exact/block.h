#ifndef UF_BLOCK_H
#define UF_BLOCK_H

#include "solver/base/error.h"

#include <stddef.h>

/* A body of blocks in three dimensions, steady: stone, wood or air, each conducting alike in all
   directions, for published problems that no site can express. Where a solid meets air, heat passes
   the air's film; the outermost sides let none through. */

enum { UF_BLOCK_AIRS = 3, UF_BLOCK_PARTS = 10 };

struct uf_block_air {
    double degC, film_m2K_W;
};

/* A rectangle from .. to, along x, y and z; of a solid, or of one of the airs where k is 0. */
struct uf_block_part {
    double x_m[2], y_m[2], z_m[2];
    double k_W_mK;
    size_t air;
};

/* A later part overwrites an earlier one; the first covers the whole body. Cells are `size_m` at
   the sides of every part and grow by `growth` towards the middle between two sides. */
struct uf_block {
    struct uf_block_part parts[UF_BLOCK_PARTS];
    size_t n_parts;
    struct uf_block_air airs[UF_BLOCK_AIRS];
    size_t n_airs;
    double size_m, growth;
};

/* Of each air: heat out of it into the body, W; coldest and warmest surface that it touches, NAN
   where it touches none. */
struct uf_block_answer {
    double into_W[UF_BLOCK_AIRS];
    double coldest_degC[UF_BLOCK_AIRS], warmest_degC[UF_BLOCK_AIRS];
};

/* Errors: UF_E_MEMORY, UF_E_SOLVER. */
enum uf_status uf_block_solve(struct uf_block_answer *out, const struct uf_block *block,
                              struct uf_error *err);

/* Edges through the lines (ascending, n of them, at least two), finest at each: *edges_m is
   allocated [*n_cells + 1], the caller's to free. Errors: UF_E_MEMORY. */
enum uf_status uf_block_edges(double **edges_m, size_t *n_cells, const double *lines_m, size_t n,
                              double size_m, double growth, struct uf_error *err);

#endif
