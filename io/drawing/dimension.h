#ifndef UF_DIMENSION_H
#define UF_DIMENSION_H

#include "io/text/quantity.h"
#include "paper.h"

/* Dimension chains and levels on a paper, with their texts kept apart. */

/* A length as a drawing writes it: whole millimetres ("1200"), or feet and inches to the eighth
   (4'-0", 6 1/2"), with primes. Returns text. size at least 32. */
char *uf_dimension_text(char *text, size_t size, enum uf_units units, double m);

/* Where a view lies: of its origin on paper, and millimetres of paper to a metre. u runs to the
   right, v down (a depth, or across the plan). */
struct uf_view {
    double x_mm, y_mm, mm_m;
};
static inline struct uf_point uf_view_at(const struct uf_view *view, double u_m, double v_m)
{
    return (struct uf_point){view->x_mm + u_m * view->mm_m, view->y_mm - v_m * view->mm_m};
}

enum uf_dimension_side { UF_DIMENSION_BELOW, UF_DIMENSION_ABOVE, UF_DIMENSION_LEFT };

/* The sides of a view that chains are stacked on: how far out each is taken, mm on paper. */
struct uf_dimension {
    struct uf_paper *paper;
    const struct uf_view *view;
    enum uf_units units;
    double out_mm[3]; /* y below, y above, x to the left */
};

/* One chain through the places (u, or v to the left), in any order, two that are nearer than 1 mm
   counted as one; from_m: where its extension lines begin (v, or u). Texts that have no room between
   their marks are set in rows behind. Chains to the left come last: what reaches out at the corner is
   theirs to keep clear of. Fewer than two places: nothing. */
void uf_dimension_chain(struct uf_dimension *dimension, enum uf_dimension_side side,
                        const double *places_m, size_t n, double from_m);

/* A level: its depth, and the words before its figure. */
struct uf_dimension_level {
    double depth_m;
    char text[96];
};

/* Levels right of x_mm, each with a leader from its depth; sorted and set apart. Rows are changed. */
void uf_dimension_levels(struct uf_dimension *dimension, struct uf_dimension_level *levels,
                         size_t n, double x_mm);

#endif
