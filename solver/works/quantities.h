#ifndef UF_QUANTITIES_H
#define UF_QUANTITIES_H

#include "pit.h"
#include "quantities_cut.h"
#include "solver/design/case.h"

/* What to order for the pit of a design: fill by the layer in place, loose and by the
   truck, geotextile, board by the sheet, spoil to haul. */

struct uf_quantities_input {
    double sheet_length_m, sheet_width_m,
        sheet_thickness_m; /* of a board as sold; NAN: not given */
    double truck_m3;       /* heaped load of one truck; NAN: not given */
    double roll_m, lap_m;  /* geotextile: width of a roll, lap at its seams; NAN: not given */
    int fill;              /* index into uf_pit_swells; -1: not given */
};

/* Nothing given. */
void uf_quantities_init(struct uf_quantities_input *input);

/* One layer of the fill, from the floor up. */
struct uf_quantities_layer {
    const char *name;
    double top_m, bottom_m; /* depths */
    double place_m3;        /* compacted in place */
    double loose_m3;        /* as it comes on the truck: place * loose / compacted; NAN */
};
#define UF_QUANTITIES_LAYERS 4

struct uf_quantities {
    struct uf_pit pit;
    struct uf_quantities_layer layers[UF_QUANTITIES_LAYERS];
    double fill_m3, fill_loose_m3; /* brought in, all layers */
    double fill_trucks;            /* whole loads; NAN: not known */
    double spoil_loose_m3, spoil_trucks;
    double geotextile_m2, geotextile_lapped_m2; /* floor, sides and top of the fill; with laps */
    size_t board_layers;                        /* 0: no board or no sheet given */
    struct uf_quantities_cut cut;               /* of the first, third ... layer */
    struct uf_quantities_cut staggered;         /* of those between, where there are several */
    size_t skirt_sheets, sheets;                /* skirt; all */
};

/* Errors: as uf_pit; UF_E_INPUT for sheets that do not make up the board's thickness, a
   lap not smaller than the roll. */
enum uf_status uf_quantities(struct uf_quantities *out, const struct uf_case *design,
                             const struct uf_quantities_input *input, struct uf_error *err);

#endif
