#include "quantities.h"

#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/holddown.h"

#include <math.h>
#include <string.h>

const struct uf_quantities_swell uf_quantities_swells[] = {
    {"sand", "published soil conversion factors, as in FM 5-434, table 1-1", 1.11, 0.95},
    {"earth", "FM 5-434, table 1-1, from memory", 1.25, 0.90},
    {"clay", "FM 5-434, table 1-1, from memory", 1.43, 0.90},
    {"rock", "FM 5-434, table 1-1, from memory", 1.50, 1.30},
    {NULL, NULL, 0.0, 0.0},
};

/* The row of an index, or NULL for none. */
static const struct uf_quantities_swell *swell_of(int index)
{
    return index >= 0 ? &uf_quantities_swells[index] : NULL;
}

void uf_quantities_init(struct uf_quantities_input *input)
{
    *input = (struct uf_quantities_input){.sheet_length_m = NAN,
                                          .sheet_width_m = NAN,
                                          .sheet_thickness_m = NAN,
                                          .truck_m3 = NAN,
                                          .roll_m = NAN,
                                          .lap_m = NAN,
                                          .fill = -1,
                                          .native = -1};
}

static double overlap_m(double top_m, double bottom_m, double from_m, double to_m)
{
    return fmax(0.0, fmin(bottom_m, to_m) - fmax(top_m, from_m));
}

/* Everything that is no fill in a slice of the pit below the board: tank, risers, concrete,
   skirt. */
static double solids_m3(const struct uf_case *design, const struct uf_pit *pit, double top_m,
                        double bottom_m)
{
    const struct uf_anchors *anchors = &design->anchors;
    const double invert_m = uf_case_invert_m(design), crown_m = uf_case_crown_m(design);
    double sum_m3 = uf_tank_submerged_m3(&design->tank, invert_m - top_m) -
                    uf_tank_submerged_m3(&design->tank, invert_m - bottom_m);
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        const struct uf_riser *riser = &design->tank.risers[i];
        sum_m3 += 0.25 * UF_PI * riser->diameter_m * riser->diameter_m *
                  overlap_m(top_m, bottom_m, crown_m - riser->height_m, crown_m);
    }
    if (anchors->deadmen > 0) {
        const double from_m = uf_holddown_deadman_top_m(design);
        sum_m3 += (double)anchors->deadmen * anchors->deadman_width_m * anchors->deadman_length_m *
                  overlap_m(top_m, bottom_m, from_m, from_m + anchors->deadman_height_m);
    }
    if (anchors->has_pad) {
        const double from_m = invert_m + design->burial.bedding_m;
        sum_m3 += anchors->pad_length_m * anchors->pad_width_m *
                  overlap_m(top_m, bottom_m, from_m, from_m + anchors->pad_thickness_m);
    }
    if (uf_case_has_board(design) && design->board.skirt_m > 0.0) {
        const double from_m = uf_case_board_bottom_m(design), skirt_m = design->board.skirt_m;
        const double plan_m2 = pit->skirt_m3 / skirt_m;
        sum_m3 += plan_m2 * overlap_m(top_m, bottom_m, from_m, from_m + skirt_m);
    }
    return sum_m3;
}

static double dug_m3(const struct uf_case *design, const struct uf_pit *pit, double top_m,
                     double bottom_m)
{
    const double slope = design->burial.pit_slope;
    return uf_pit_prismatoid_m3(pit->base_width_m, pit->base_length_m, pit->depth_m - top_m,
                                slope) -
           uf_pit_prismatoid_m3(pit->base_width_m, pit->base_length_m, pit->depth_m - bottom_m,
                                slope);
}

static void set_layers(struct uf_quantities *out, const struct uf_case *design,
                       const struct uf_quantities_swell *fill)
{
    const double invert_m = uf_case_invert_m(design), crown_m = uf_case_crown_m(design);
    const double widest_m = invert_m - uf_tank_widest_m(&design->tank);
    const double top_m = uf_case_has_board(design) ? uf_case_board_bottom_m(design) : 0.0;
    const struct uf_quantities_layer layers[UF_QUANTITIES_LAYERS] = {
        {"bedding, floor to invert", invert_m, out->pit.depth_m, 0.0, NAN},
        {"haunches, invert to widest level", widest_m, invert_m, 0.0, NAN},
        {"sides, widest level to crown", crown_m, widest_m, 0.0, NAN},
        {"over the crown, to board or grade", top_m, crown_m, 0.0, NAN}};
    for (size_t i = 0; i < UF_QUANTITIES_LAYERS; i++) {
        struct uf_quantities_layer *layer = &out->layers[i];
        *layer = layers[i];
        if (i == 0 ? out->pit.bedding_m3 <= 0.0 : !design->burial.has_backfill) {
            continue;
        }
        layer->place_m3 =
            fmax(0.0, dug_m3(design, &out->pit, layer->top_m, layer->bottom_m) -
                          solids_m3(design, &out->pit, layer->top_m, layer->bottom_m));
        layer->loose_m3 =
            fill != NULL ? layer->place_m3 * fill->loose / fill->compacted : (double)NAN;
        out->fill_m3 += layer->place_m3;
    }
    out->fill_loose_m3 = fill != NULL ? out->fill_m3 * fill->loose / fill->compacted : (double)NAN;
}

/* Pieces of a size that one length gives; 0 for a piece longer than it. */
static size_t pieces(double from_m, double piece_m)
{
    return piece_m > 0.0 ? (size_t)floor(from_m / piece_m + 1e-9) : 0;
}

/* Sheets that give n pieces of which each sheet gives k. */
static size_t sheets_for(size_t n, size_t k)
{
    return k > 0 ? (n + k - 1) / k : 0;
}

static struct uf_quantities_cut lay(double length_m, double width_m, double along_m,
                                    double across_m)
{
    struct uf_quantities_cut cut = {.along_m = along_m, .across_m = across_m};
    cut.full_along = pieces(length_m, along_m);
    cut.full_across = pieces(width_m, across_m);
    cut.end_strip_m = fmax(0.0, length_m - (double)cut.full_along * along_m);
    cut.side_strip_m = fmax(0.0, width_m - (double)cut.full_across * across_m);
    cut.end_strip_m = cut.end_strip_m < 1e-6 ? 0.0 : cut.end_strip_m;
    cut.side_strip_m = cut.side_strip_m < 1e-6 ? 0.0 : cut.side_strip_m;
    cut.full = cut.full_along * cut.full_across;
    const bool corner = cut.end_strip_m > 0.0 && cut.side_strip_m > 0.0;
    if (cut.end_strip_m > 0.0) {
        cut.for_ends =
            sheets_for(cut.full_across + (corner ? 1 : 0), pieces(along_m, cut.end_strip_m));
    }
    if (cut.side_strip_m > 0.0) {
        cut.for_sides = sheets_for(cut.full_along, pieces(across_m, cut.side_strip_m));
    }
    cut.sheets = cut.full + cut.for_ends + cut.for_sides;
    cut.waste_share = 1.0 - length_m * width_m / ((double)cut.sheets * along_m * across_m);
    return cut;
}

struct uf_quantities_cut uf_quantities_cut_plan(double length_m, double width_m,
                                                double sheet_length_m, double sheet_width_m)
{
    const struct uf_quantities_cut one = lay(length_m, width_m, sheet_length_m, sheet_width_m);
    const struct uf_quantities_cut other = lay(length_m, width_m, sheet_width_m, sheet_length_m);
    return other.sheets < one.sheets ? other : one;
}

static enum uf_status set_sheets(struct uf_quantities *out, const struct uf_case *design,
                                 const struct uf_quantities_input *input, struct uf_error *err)
{
    const double thickness_m = design->board.thickness_m;
    if (!uf_case_has_board(design) || isnan(input->sheet_length_m) || isnan(input->sheet_width_m)) {
        return UF_OK;
    }
    const double sheet_m = isnan(input->sheet_thickness_m) ? thickness_m : input->sheet_thickness_m;
    const double layers = round(thickness_m / sheet_m);
    if (!(layers >= 1.0) || fabs(layers * sheet_m - thickness_m) > 1e-6) {
        return uf_fail_key(err, UF_E_INPUT, "quantities.sheet.thickness",
                           UF_SAID("sheets of {} do not make up a board of {}",
                                   UF_OF(THICKNESS, sheet_m), UF_OF(THICKNESS, thickness_m)),
                           UF_PLAIN("a whole number of layers"));
    }
    out->board_layers = (size_t)layers;
    out->cut = uf_quantities_cut_plan(out->pit.board_length_m, out->pit.board_width_m,
                                      input->sheet_length_m, input->sheet_width_m);
    if (design->board.skirt_m > 0.0) {
        const double round_m = 2.0 * (out->pit.board_length_m + out->pit.board_width_m);
        const size_t strips = pieces(input->sheet_width_m, design->board.skirt_m);
        const size_t wanted = (size_t)ceil(round_m / input->sheet_length_m - 1e-9);
        const double rows = ceil(design->board.skirt_m / input->sheet_width_m - 1e-9);
        out->skirt_sheets =
            out->board_layers * (strips > 0 ? sheets_for(wanted, strips) : wanted * (size_t)rows);
    }
    out->sheets = out->board_layers * out->cut.sheets + out->skirt_sheets;
    return UF_OK;
}

/* Floor, four sloping sides and top of what is filled. */
static enum uf_status set_geotextile(struct uf_quantities *out, const struct uf_case *design,
                                     const struct uf_quantities_input *input, struct uf_error *err)
{
    const double slope = design->burial.pit_slope;
    const double top_m = uf_case_has_board(design) ? uf_case_board_bottom_m(design) : 0.0;
    const double rise_m = out->pit.depth_m - top_m, slant_m = rise_m * hypot(1.0, slope);
    const double a_m = out->pit.base_width_m, b_m = out->pit.base_length_m;
    const double wide_m = a_m + 2.0 * slope * rise_m, long_m = b_m + 2.0 * slope * rise_m;
    out->geotextile_m2 = a_m * b_m + wide_m * long_m + (a_m + wide_m + b_m + long_m) * slant_m;
    out->geotextile_lapped_m2 = out->geotextile_m2 * input->roll_m / (input->roll_m - input->lap_m);
    if (input->lap_m >= input->roll_m) {
        return uf_fail_key(
            err, UF_E_INPUT, "quantities.geotextile.lap",
            UF_SAID("{} is no less than the roll", UF_OF(LENGTH, input->lap_m)),
            UF_SAID("less than the width of the roll, {}", UF_OF(LENGTH, input->roll_m)));
    }
    return UF_OK;
}

enum uf_status uf_quantities(struct uf_quantities *out, const struct uf_case *design,
                             const struct uf_quantities_input *input, struct uf_error *err)
{
    memset(out, 0, sizeof *out);
    enum uf_status status = uf_pit(&out->pit, design, err);
    if (status != UF_OK) {
        return status;
    }
    set_layers(out, design, swell_of(input->fill));
    const struct uf_quantities_swell *native = swell_of(input->native);
    out->spoil_loose_m3 = native != NULL ? out->pit.spoil_m3 * native->loose : (double)NAN;
    out->fill_trucks = ceil(out->fill_loose_m3 / input->truck_m3 - 1e-9);
    out->spoil_trucks = ceil(out->spoil_loose_m3 / input->truck_m3 - 1e-9);
    status = set_geotextile(out, design, input, err);
    return status == UF_OK ? set_sheets(out, design, input, err) : status;
}
