#include "quantities.h"

#include "solver/base/constants.h"
#include "solver/design/tank.h"

#include <math.h>
#include <string.h>

/* The row of an index, or NULL for none. */
static const struct uf_pit_swell *swell_of(int index)
{
    return index >= 0 ? &uf_pit_swells[index] : NULL;
}

void uf_quantities_init(struct uf_quantities_input *input)
{
    *input = (struct uf_quantities_input){.sheet_length_m = NAN,
                                          .sheet_width_m = NAN,
                                          .sheet_thickness_m = NAN,
                                          .truck_m3 = NAN,
                                          .roll_m = NAN,
                                          .lap_m = NAN,
                                          .fill = -1};
}

static void set_layers(struct uf_quantities *out, const struct uf_case *design,
                       const struct uf_pit_swell *fill)
{
    const double invert_m = uf_case_invert_m(design), crown_m = uf_case_crown_m(design);
    const double widest_m = invert_m - uf_tank_widest_m(&design->tank);
    const double top_m = out->pit.dig.fill_top_m;
    const struct uf_quantities_layer layers[UF_QUANTITIES_LAYERS] = {
        {"bedding, floor to invert", invert_m, out->pit.depth_m, 0.0, NAN},
        {"haunches, invert to widest level", widest_m, invert_m, 0.0, NAN},
        {"sides, widest level to crown", crown_m, widest_m, 0.0, NAN},
        {"over the crown", top_m, crown_m, 0.0, NAN}};
    for (size_t i = 0; i < UF_QUANTITIES_LAYERS; i++) {
        struct uf_quantities_layer *layer = &out->layers[i];
        *layer = layers[i];
        if (i == 0 ? out->pit.bedding_m3 <= 0.0 : !design->burial.has_backfill) {
            continue;
        }
        layer->place_m3 = fmax(0.0, uf_dig_volume_m3(&out->pit.dig, layer->top_m, layer->bottom_m) -
                                        uf_dig_solids_m3(design, layer->top_m, layer->bottom_m));
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
    out->staggered =
        uf_quantities_cut_staggered(&out->cut, out->pit.board_length_m, out->pit.board_width_m);
    if (design->board.skirt_m > 0.0) {
        const double round_m = 2.0 * (out->pit.board_length_m + out->pit.board_width_m);
        const size_t strips = pieces(input->sheet_width_m, design->board.skirt_m);
        const size_t wanted = (size_t)ceil(round_m / input->sheet_length_m - 1e-9);
        const double rows = ceil(design->board.skirt_m / input->sheet_width_m - 1e-9);
        out->skirt_sheets =
            out->board_layers * (strips > 0 ? sheets_for(wanted, strips) : wanted * (size_t)rows);
    }
    const size_t between = out->board_layers / 2;
    out->sheets = (out->board_layers - between) * out->cut.sheets +
                  between * out->staggered.sheets + out->skirt_sheets;
    return UF_OK;
}

/* Floor, four sloping sides and top of what is filled. */
static enum uf_status set_geotextile(struct uf_quantities *out,
                                     const struct uf_quantities_input *input, struct uf_error *err)
{
    const double top_m = out->pit.dig.fill_top_m;
    out->geotextile_m2 =
        uf_dig_skin_m2(&out->pit.dig, top_m) + 4.0 * uf_dig_half_width_m(&out->pit.dig, top_m) *
                                                   uf_dig_half_length_m(&out->pit.dig, top_m);
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
    const struct uf_pit_swell *native = swell_of(design->burial.native_swell);
    out->spoil_loose_m3 = native != NULL ? out->pit.spoil_m3 * native->loose : (double)NAN;
    out->fill_trucks = ceil(out->fill_loose_m3 / input->truck_m3 - 1e-9);
    out->spoil_trucks = ceil(out->spoil_loose_m3 / input->truck_m3 - 1e-9);
    status = set_geotextile(out, input, err);
    return status == UF_OK ? set_sheets(out, design, input, err) : status;
}
