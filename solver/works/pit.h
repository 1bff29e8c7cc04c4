#ifndef UF_PIT_H
#define UF_PIT_H

#include "solver/design/case.h"

/* The hole, what goes into it and what comes out of it, and what that costs. All volumes
   are in place (no swell). */

/* Slopes allowed in a pit less than 20 ft deep, 29 CFR 1926 subpart P, appendix B, table B-1. */
struct uf_pit_class {
    char soil_class; /* 'R' rock, 'A', 'B', 'C' */
    const char *name, *source;
    double slope; /* horizontal per vertical */
};
extern const struct uf_pit_class uf_pit_classes[]; /* ended by name NULL */

/* The row of that class; class C for 0, an unclassified soil. NULL for any other letter. */
const struct uf_pit_class *uf_pit_class_find(char soil_class);

#define UF_PIT_ENGINEER_M   6.096  /* deeper: a registered engineer designs it (20 ft) */
#define UF_PIT_PROTECT_M    1.524  /* from here: sloping, shoring or a shield (5 ft) */
#define UF_PIT_EGRESS_M     1.2192 /* from here: a way out within 25 ft (4 ft) */
#define UF_PIT_SPOIL_BACK_M 0.6096 /* spoil kept this far from the edge (2 ft) */

/* Volume of a pit with base a x b, depth h and side slope m on all four sides, exact, m3:

       V = h (a b + m h (a + b) + (4/3) m^2 h^2) */
double uf_pit_prismatoid_m3(double a_m, double b_m, double depth_m, double slope);

struct uf_pit {
    bool given; /* false: no burial.pit, counted with no clearance at all */
    double base_width_m, base_length_m, top_width_m, top_length_m;
    double depth_m;       /* to the underside of bedding, pad or deadmen */
    double excavation_m3; /* with the shelf a board wider than the pit needs */
    double bedding_m3;    /* from the pit's floor to the invert, less concrete in it */
    double displaced_m3;  /* tank, and risers below grade */
    double board_width_m, board_length_m; /* plan of the board; 0 without one */
    double skirt_m3;                      /* foam of the skirt */
    double board_area_m2, board_m3;       /* one layer's plan with the skirt's area; all of it */
    double concrete_m3;                   /* deadmen and pad as given */
    double backfill_m3;                   /* brought in; 0 where the ground goes back as it lies */
    double native_m3;                     /* dug ground that goes back */
    double spoil_m3;                      /* dug ground that does not */
    double allowed_slope;                 /* by soil class */
    bool too_steep; /* than the class allows, in a given pit that needs protection */
    bool needs_protection, needs_engineer;
};

/* Pit around tank, bedding and anchors: its floor holds tank plus clearance and whatever
   anchor reaches further; backfill reaches the board's underside, or grade; above the
   board the dug ground goes back. A vertical tank's board is counted as the square around
   it. Errors: UF_E_INPUT without a tank or with a size missing. */
enum uf_status uf_pit(struct uf_pit *out, const struct uf_case *design, struct uf_error *err);

struct uf_pit_cost {
    double excavation, backfill, board, concrete; /* NAN: no price for it */
    double total;                                 /* of what has a price; NAN: nothing has */
    bool complete;                                /* everything that is needed has a price */
};

/* Cost of a choice. ballast_m3: concrete to add (uf_uplift); backfill counts bedding with
   it where either is brought in. */
void uf_pit_cost(struct uf_pit_cost *out, const struct uf_pit *pit, double ballast_m3,
                 const struct uf_costs *costs);

#endif
