#ifndef UF_SHAPE_H
#define UF_SHAPE_H

#include "case.h"

/* A shape of tank: everything that differs between shapes, one row and one file each
   (shape_<word>.c) and its line in UF_SHAPE_LIST. Sizes are outside. What differs is asked of the
   row; nobody asks for a shape by its word. */

/* A size of the site file that the shape needs, or has no use for. */
struct uf_shape_key {
    const char *key, *text; /* what it is, or what to give in its place */
    bool needed;
};

/* A size that the volume by level is worked from, for a page that prints it. */
struct uf_shape_size {
    const char *name; /* such as "R"; NULL ends */
    double value;
    bool is_volume; /* m3, else m */
};
#define UF_SHAPE_SIZES 5

struct uf_shape_row {
    const struct uf_shape_key *keys; /* ended by key NULL */
    bool round_section;              /* its section is a circle, else a rectangle */
    bool radial;                     /* stands: the section is one of rings around its axis */
    bool has_heads;                  /* its ends may be curved */
    const char *across, *along;      /* what its two sizes are called on a drawing */
    double (*height_m)(const struct uf_tank *tank);      /* crown to invert */
    double (*plan_length_m)(const struct uf_tank *tank); /* seen from above, with heads */
    double (*plan_width_m)(const struct uf_tank *tank);  /* at its widest */
    double (*plan_area_m2)(const struct uf_tank *tank);  /* of its footprint */
    double (*widest_m)(const struct uf_tank *tank); /* above the invert, up to which it is widest */
    double (*end_area_m2)(const struct uf_tank *tank); /* both ends */
    /* Volume below a level h_m above the invert of the tank shrunk by wall_m on every side. */
    double (*below_m3)(const struct uf_tank *tank, double wall_m, double h_m);
    const char *below; /* its formula in words, in these sizes */
    void (*below_sizes)(struct uf_shape_size sizes[UF_SHAPE_SIZES], const struct uf_tank *tank,
                        double wall_m);
};

/* The row of a tank, or of a word of enum uf_shape out of a file; NULL where there is no tank or no
   such word. */
const struct uf_shape_row *uf_shape_of(const struct uf_tank *tank);
const struct uf_shape_row *uf_shape_at(long word);

bool uf_shape_is_round(const struct uf_tank *tank);  /* lies, with a circle for its section */
bool uf_shape_is_radial(const struct uf_tank *tank); /* stands, with a circle for its plan */

/* For the rows. */

/* Depth of one head of a cylinder shrunk by wall_m, and the volume of both. */
double uf_shape_head_m(const struct uf_tank *tank, double wall_m);
double uf_shape_heads_m3(const struct uf_tank *tank, double wall_m);

/* Both ends of a cylinder: circles, or half ellipsoids. */
double uf_shape_ends_m2(const struct uf_tank *tank);

/* For the rows: a size or a place that follows from the tank. */
#define UF_SHAPE_NUMBER(name, expression)                                                          \
    static double name(const struct uf_tank *tank)                                                 \
    {                                                                                              \
        return expression;                                                                         \
    }

#endif
