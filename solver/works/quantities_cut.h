#ifndef UF_QUANTITIES_CUT_H
#define UF_QUANTITIES_CUT_H

#include <stddef.h>

/* One layer of board cut from sheets by straight lines, piece by piece. */

/* Pieces of one size. */
struct uf_quantities_piece {
    double along_m, across_m;
    size_t count;
};

/* What a direction is made of: a narrower strip first, whole sheets, a narrower strip last. */
#define UF_QUANTITIES_PIECES 9

struct uf_quantities_cut {
    double along_m, across_m;         /* a sheet as it lies: along the board's length, across it */
    size_t full_along, full_across;   /* whole sheets in each direction */
    double first_end_m, first_side_m; /* strips before them, of a layer that is staggered; 0 */
    double end_strip_m, side_strip_m; /* widths of what is left at the end and at the side; 0 */
    size_t full, for_ends, for_sides; /* sheets: whole; cut up for strips at the ends; at the sides,
                                         the corners with the one or the other */
    size_t sheets;
    double waste_share;                                      /* of the foam bought for the layer */
    struct uf_quantities_piece pieces[UF_QUANTITIES_PIECES]; /* by size, the whole ones first */
    size_t n_pieces;
};

/* Cuts a rectangle of length x width from sheets, the better of both ways to lay them. What is cut off
   is used again within the layer where it is long enough; sizes in m, above 0. */
struct uf_quantities_cut uf_quantities_cut_plan(double length_m, double width_m,
                                                double sheet_length_m, double sheet_width_m);

/* The same board over that layer, its joints half a sheet aside in both directions. */
struct uf_quantities_cut uf_quantities_cut_staggered(const struct uf_quantities_cut *below,
                                                     double length_m, double width_m);

/* Where the joints of one direction lie, from one edge to the other, both edges with them: at most
   most places, m; returns how many. */
size_t uf_quantities_cut_joints(double *at_m, size_t most, double first_m, size_t whole,
                                double sheet_m, double last_m);

#endif
