#ifndef UF_PIT_H
#define UF_PIT_H

#include "solver/base/constants.h"
#include "solver/design/dig.h"

/* The hole, what goes into it and what comes out of it. Volumes
   are in place, excavation and spoil in the bank. */

/* Slopes allowed in a pit less than 20 ft deep, 29 CFR 1926 subpart P, appendix B, table B-1. */
struct uf_pit_class {
    char soil_class; /* 'R' rock, 'A', 'B', 'C' */
    const char *name, *source;
    double slope; /* horizontal per vertical */
};

/* The row of that class; class C for 0, an unclassified soil. NULL for any other letter. */
const struct uf_pit_class *uf_pit_class_find(char soil_class);

#define UF_PIT_ENGINEER_M (20.0 * UF_FOOT_M) /* deeper: a registered engineer designs it (20 ft) */
#define UF_PIT_PROTECT_M  (5.0 * UF_FOOT_M)  /* from here: sloping, shoring or a shield (5 ft) */

/* Volume of a soil loose and compacted over its volume in the bank. */
struct uf_pit_swell {
    const char *name, *source;
    double loose, compacted;
};
extern const struct uf_pit_swell uf_pit_swells[]; /* ended by name NULL */

struct uf_pit {
    struct uf_dig dig;
    bool given; /* false: no burial.pit, counted with no clearance at all */
    double base_width_m, base_length_m, top_width_m, top_length_m;
    double depth_m;       /* to the underside of bedding and pad */
    double excavation_m3; /* with the shelf a board wider than the pit needs */
    double bedding_m3;    /* from the pit's floor to the invert, less concrete in it */
    double displaced_m3;  /* tank, and risers below grade */
    double board_width_m, board_length_m; /* plan of the board; 0 without one */
    double skirt_m3;                      /* foam of the skirt */
    double board_area_m2, board_m3;       /* one layer's plan with the skirt's area; all of it */
    double concrete_m3;                   /* deadmen and pad as given */
    double backfill_m3;                   /* brought in; 0 where the ground goes back as it lies */
    double native_m3;                     /* dug ground that goes back, in place */
    double spoil_m3; /* dug ground that does not, in the bank: native ground that goes back takes
                        native_m3 / compacted of it (burial.native_swell) */
    double lack_m3;  /* native ground missing in place, where it shrinks so; brought in */
    double allowed_slope; /* by soil class */
    bool too_steep;       /* than the class allows, in a pit that is given and needs protection
                     */
    bool needs_protection, needs_engineer;
};

/* The pit of uf_dig_of with what fills it; above uf_dig.fill_top_m the dug ground goes back. A
   vertical tank and its board are counted as the square around them. Errors: UF_E_INPUT without a tank or with a size missing. */
enum uf_status uf_pit(struct uf_pit *out, const struct uf_case *design, struct uf_error *err);

/* Volume that native ground takes from the bank for a unit of it compacted in place, by
   burial.native_swell; 1 where that is not given. */
double uf_pit_bank_share(const struct uf_case *design);

#endif
