#include "pit.h"

#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/tank.h"

#include <math.h>

static const char osha[] = "29 CFR 1926 subpart P, appendix B, table B-1";

static const struct uf_pit_class classes[] = {
    {'R', "stable rock", osha, 0.0},
    {'A', "type A", osha, 0.75},
    {'B', "type B", osha, 1.0},
    {'C', "type C, submerged, seeping, granular, disturbed or not classified", osha, 1.5},
    {0, NULL, NULL, 0.0},
};

const struct uf_pit_class *uf_pit_class_find(char soil_class)
{
    char wanted = 'C';
    if (soil_class != 0) {
        wanted = soil_class;
    }
    for (const struct uf_pit_class *row = classes; row->name != NULL; row++) {
        if (row->soil_class == wanted) {
            return row;
        }
    }
    return NULL;
}

const struct uf_pit_swell uf_pit_swells[] = {
    {"sand", "published soil conversion factors, as in FM 5-434, table 1-1", 1.11, 0.95},
    {"earth", "FM 5-434, table 1-1, from memory", 1.25, 0.90},
    {"clay", "FM 5-434, table 1-1, from memory", 1.43, 0.90},
    {"rock", "FM 5-434, table 1-1, from memory", 1.50, 1.30},
    {NULL, NULL, 0.0, 0.0},
};

double uf_pit_bank_share(const struct uf_case *design)
{
    const int row = design->burial.native_swell;
    return row < 0 ? 1.0 : 1.0 / uf_pit_swells[row].compacted;
}

static void set_foam(struct uf_pit *out, const struct uf_case *design)
{
    const struct uf_board *board = &design->board;
    if (!uf_case_has_board(design)) {
        return;
    }
    out->board_width_m = uf_tank_plan_width_m(&design->tank) + 2.0 * board->beyond_tank_m;
    out->board_length_m = uf_tank_plan_length_m(&design->tank) + 2.0 * board->beyond_tank_m;
    out->skirt_m3 = uf_dig_skirt_m3(design);
    out->board_m3 = out->board_width_m * out->board_length_m * board->thickness_m + out->skirt_m3;
    out->board_area_m2 = out->board_m3 / board->thickness_m;
}

/* Soil between two depths of the pit: what is dug there less what stands there. */
static double soil_m3(const struct uf_pit *pit, const struct uf_case *design, double top_m,
                      double bottom_m)
{
    return fmax(0.0, uf_dig_volume_m3(&pit->dig, top_m, bottom_m) -
                         uf_dig_solids_m3(design, top_m, bottom_m));
}

/* Shares the dug volume out between what goes into it. */
static void set_volumes(struct uf_pit *out, const struct uf_case *design)
{
    const struct uf_burial *burial = &design->burial;
    const double fill_m = out->dig.fill_top_m, invert_m = out->dig.invert_m;
    const double around_m3 = soil_m3(out, design, fill_m, invert_m);
    const double bed_m3 = soil_m3(out, design, invert_m, out->depth_m);
    const bool bed = burial->has_backfill || burial->has_bedding_soil;
    out->concrete_m3 = uf_anchor_m3(design);
    out->excavation_m3 = uf_dig_volume_m3(&out->dig, 0.0, out->depth_m);
    out->displaced_m3 = uf_tank_volume_m3(&design->tank) + uf_dig_risers_m3(design, 0.0, INFINITY);
    out->bedding_m3 = bed ? bed_m3 : 0.0;
    out->backfill_m3 = burial->has_backfill ? around_m3 : 0.0;
    out->native_m3 = soil_m3(out, design, 0.0, fill_m) + (burial->has_backfill ? 0.0 : around_m3) +
                     (bed ? 0.0 : bed_m3);
    const double bank_m3 = out->native_m3 * uf_pit_bank_share(design);
    out->spoil_m3 = fmax(0.0, out->excavation_m3 - bank_m3);
    out->lack_m3 = fmax(0.0, bank_m3 - out->excavation_m3) / uf_pit_bank_share(design);
}

enum uf_status uf_pit(struct uf_pit *out, const struct uf_case *design, struct uf_error *err)
{
    const struct uf_pit_class *row = uf_pit_class_find(design->burial.soil_class);
    *out = (struct uf_pit){.given = !isnan(design->burial.pit_clearance_m)};
    if (!uf_case_has_tank(design)) {
        return uf_fail_key(err, UF_E_INPUT, "tank", UF_PLAIN("there is nothing to dig for"),
                           UF_PLAIN("give a tank block"));
    }
    if (row == NULL) {
        const char letter[2] = {design->burial.soil_class, '\0'};
        return uf_fail_key(err, UF_E_INPUT, "burial.pit.soil_class",
                           UF_SAID("'{}' is not a class", UF_WORD(letter)), UF_PLAIN("A, B or C"));
    }
    out->dig = uf_dig_of(design);
    out->depth_m = out->dig.floor_m;
    out->base_width_m = 2.0 * out->dig.across_m;
    out->base_length_m = 2.0 * out->dig.along_m;
    out->top_width_m = 2.0 * uf_dig_half_width_m(&out->dig, 0.0);
    out->top_length_m = 2.0 * uf_dig_half_length_m(&out->dig, 0.0);
    set_foam(out, design);
    set_volumes(out, design);
    if (!(out->excavation_m3 > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "burial.pit", UF_PLAIN("a size is missing"),
                           UF_PLAIN("sizes of tank, burial and anchors"));
    }
    out->allowed_slope = row->slope;
    out->needs_protection = out->depth_m >= UF_PIT_PROTECT_M;
    out->too_steep =
        out->given && out->needs_protection && design->burial.pit_slope < row->slope - 1e-9;
    out->needs_engineer = out->depth_m >= UF_PIT_ENGINEER_M;
    return UF_OK;
}
