#ifndef UF_ANCHOR_H
#define UF_ANCHOR_H

#include "case.h"

/* What holds a tank down in its pit: everything that differs between kinds of anchor, one row and
   one file each (anchor_<word>.c) and its line in UF_ANCHOR_LIST. What differs is asked of the row;
   nobody else asks whether there are deadmen or a pad. */

/* Bodies of concrete, all alike, with a flat top; each width x length in plan. */
struct uf_anchor_body {
    double count;  /* 0: the design has none of this kind */
    double axis_m; /* from the tank's axis to that of the body */
    double tie_m;  /* from the tank's axis to where a strap reaches down */
    double width_m, length_m, height_m;
    double top_m; /* depth below grade */
};

struct uf_case_faults; /* case_private.h */

struct uf_anchor_row {
    const char *word;          /* such as "deadmen": of options, parts of the balance and JSON */
    const char *one;           /* one of them, such as "deadman" */
    const char *soil, *foam;   /* names of the parts that lie over it */
    const char *key, *allowed; /* its block in the site file; which sizes it needs */
    const char *check;         /* what is checked once it is set */
    double sides;              /* long sides with free soil beside them, of one body */
    bool under_bedding;        /* else beside the tank */
    double least_m, most_m;    /* sizes that `put` is tried with */
    double (*room_m)(const struct uf_case *design); /* the largest size that the pit has room for */
    struct uf_anchor_body (*body)(const struct uf_case *design);
    double (*under_m2)(
        const struct uf_case *design); /* plan area of one within the tank's footprint */
    void (*put)(struct uf_case *design, double size_m); /* one of this size for `least` */
    void (*clear)(struct uf_anchors *anchors);
    void (*check_case)(struct uf_case_faults *faults, const struct uf_case *design); /* or NULL */
    void (*say)(struct uf_message *out, const struct uf_case *design);
};

const struct uf_anchor_row *uf_anchor_at(enum uf_anchor_kind kind);

/* Is there an anchor of any kind? */
bool uf_anchor_any(const struct uf_case *design);

/* Depth at which the bedding begins: the pit's floor, or the top of what lies under the bedding. */
double uf_anchor_bedding_foot_m(const struct uf_case *design, double floor_m);

/* All that there are in words, after each other; nothing where there is none. */
void uf_anchor_say(struct uf_message *out, const struct uf_case *design);

/* Depth of the pit's floor: the underside of the bedding as asked, or of what lies under it. Nothing
   beside the tank makes it deeper. */
double uf_anchor_floor_m(const struct uf_case *design);

/* Takes all kinds out of a design. */
void uf_anchor_clear(struct uf_anchors *anchors);

/* Concrete of all of them, and what of it lies between two depths, m3. */
double uf_anchor_m3(const struct uf_case *design);
double uf_anchor_between_m3(const struct uf_case *design, double top_m, double bottom_m);

#endif
