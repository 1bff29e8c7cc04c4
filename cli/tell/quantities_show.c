#include "quantities_show.h"

#include "io/text/show.h"
#include "order.h"
#include "outcome.h"

#include <math.h>

enum uf_status uf_quantities_show_find(struct uf_quantities_found *out, const struct uf_site *site,
                                       struct uf_error *err)
{
    const struct uf_site_works *works = &site->works;
    struct uf_column_soils soils;
    struct uf_error ignored;
    *out = (struct uf_quantities_found){.site = site, .ballast_m3 = NAN, .ok = true};
    enum uf_status status = uf_quantities(&out->quantities, &site->design, &works->quantities, err);
    if (status == UF_OK && works->grading >= 0) {
        out->graded = true;
        status =
            uf_grading_check(&out->grading, &uf_grading_specs[works->grading], &works->sieves, err);
        out->ok = out->grading.n_outside == 0 && out->grading.n_unknown == 0;
    }
    /* Concrete to add where the weights of the soils are known. */
    out->weighed = status == UF_OK && uf_column_soils(&soils, &site->design, &ignored) == UF_OK &&
                   uf_uplift_held(&out->uplift, &site->design, &soils, &ignored) == UF_OK;
    if (out->weighed) {
        out->ballast_m3 = out->uplift.needed_ballast_m3;
    }
    const double concrete_m3 = isnan(out->ballast_m3) ? 0.0 : out->ballast_m3;
    uf_cost(&out->cost, &site->design, &out->quantities.pit, concrete_m3);
    out->ok = out->ok && !out->quantities.pit.too_steep;
    return status;
}

static void answer_pit(cJSON *row, const struct uf_pit *pit)
{
    uf_answer_bool(row, "given", pit->given);
    uf_answer_number(row, "base_width_m", pit->base_width_m);
    uf_answer_number(row, "base_length_m", pit->base_length_m);
    uf_answer_number(row, "top_width_m", pit->top_width_m);
    uf_answer_number(row, "top_length_m", pit->top_length_m);
    uf_answer_number(row, "depth_m", pit->depth_m);
    uf_answer_number(row, "excavation_m3", pit->excavation_m3);
    uf_answer_number(row, "displaced_m3", pit->displaced_m3);
    uf_answer_number(row, "native_back_m3", pit->native_m3);
    uf_answer_number(row, "allowed_slope", pit->allowed_slope);
    uf_answer_bool(row, "too_steep", pit->too_steep);
    uf_answer_bool(row, "needs_protection", pit->needs_protection);
    uf_answer_bool(row, "needs_engineer", pit->needs_engineer);
}

static void answer_board(cJSON *object, const struct uf_quantities *quantities)
{
    const struct uf_quantities_cut *cut = &quantities->cut;
    cJSON *row = uf_answer_object(object, "board");
    uf_answer_number(row, "area_m2", quantities->pit.board_area_m2);
    uf_answer_number(row, "volume_m3", quantities->pit.board_m3);
    uf_answer_count(row, "layers", (long)quantities->board_layers);
    uf_answer_count(row, "sheets", (long)quantities->sheets);
    uf_answer_count(row, "sheets_a_layer", (long)cut->sheets);
    uf_answer_count(row, "sheets_a_staggered_layer", (long)quantities->staggered.sheets);
    uf_answer_count(row, "whole_a_layer", (long)cut->full);
    uf_answer_number(row, "end_strip_m", cut->end_strip_m);
    uf_answer_number(row, "side_strip_m", cut->side_strip_m);
    uf_answer_count(row, "skirt_sheets", (long)quantities->skirt_sheets);
    uf_answer_number(row, "waste_share", cut->waste_share);
}

static void answer_cost(cJSON *object, const struct uf_quantities_found *found)
{
    cJSON *row = uf_answer_object(object, "cost");
    uf_answer_text(row, "currency", found->site->design.costs.currency);
    for (size_t i = 0; i < UF_COST_ITEMS; i++) {
        uf_answer_number(row, uf_cost_rows[i].key, found->cost.part[i]);
    }
    uf_answer_number(row, "total", found->cost.total);
    uf_answer_bool(row, "complete", found->cost.complete);
}

static void answer_grading(cJSON *object, const struct uf_grading *grading)
{
    cJSON *row = uf_answer_object(object, "grading");
    uf_answer_text(row, "name", grading->spec->name);
    uf_answer_text(row, "source", grading->spec->source);
    uf_answer_bool(row, "ok", grading->n_outside == 0 && grading->n_unknown == 0);
    cJSON *list = uf_answer_array(row, "sieves");
    for (size_t i = 0; i < grading->spec->n; i++) {
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "sieve", grading->spec->rows[i].sieve);
        uf_answer_number(item, "low", grading->spec->rows[i].low);
        uf_answer_number(item, "high", grading->spec->rows[i].high);
        uf_answer_number(item, "passing", grading->rows[i].passing);
        uf_answer_bool(item, "ok", grading->rows[i].ok);
    }
}

void uf_quantities_show_answer_pit(cJSON *object, const struct uf_quantities_found *found)
{
    answer_pit(object, &found->quantities.pit);
    if (found->graded) {
        answer_grading(object, &found->grading);
    }
}

void uf_quantities_show_answer(cJSON *object, const struct uf_quantities_found *found)
{
    const struct uf_quantities *quantities = &found->quantities;
    uf_answer_text(object, "name", found->site->design.name);
    answer_pit(uf_answer_object(object, "pit"), &quantities->pit);
    cJSON *list = uf_answer_array(object, "layers");
    for (size_t i = 0; i < UF_QUANTITIES_LAYERS; i++) {
        const struct uf_quantities_layer *layer = &quantities->layers[i];
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "layer", layer->name);
        uf_answer_number(row, "top_m", layer->top_m);
        uf_answer_number(row, "bottom_m", layer->bottom_m);
        uf_answer_number(row, "in_place_m3", layer->place_m3);
        uf_answer_number(row, "loose_m3", layer->loose_m3);
    }
    uf_answer_number(object, "fill_m3", quantities->fill_m3);
    uf_answer_number(object, "fill_loose_m3", quantities->fill_loose_m3);
    uf_answer_number(object, "fill_trucks", quantities->fill_trucks);
    uf_answer_number(object, "spoil_m3", quantities->pit.spoil_m3);
    uf_answer_number(object, "spoil_loose_m3", quantities->spoil_loose_m3);
    uf_answer_number(object, "spoil_trucks", quantities->spoil_trucks);
    uf_answer_number(object, "geotextile_m2", quantities->geotextile_m2);
    uf_answer_number(object, "geotextile_lapped_m2", quantities->geotextile_lapped_m2);
    answer_board(object, quantities);
    uf_answer_number(object, "concrete_m3", quantities->pit.concrete_m3);
    uf_answer_number(object, "needed_ballast_m3", found->ballast_m3);
    if (found->graded) {
        answer_grading(object, &found->grading);
    }
    answer_cost(object, found);
    uf_answer_bool(object, "ok", found->ok);
}

static void show_pit(const struct uf_arguments *args, const struct uf_case *design,
                     const struct uf_pit *pit)
{
    const enum uf_units units = args->units;
    const struct uf_pit_class *row = uf_pit_class_find(design->burial.soil_class);
    if (!pit->given) {
        uf_show_text(stdout, 0, "burial.pit is not given: counted with no clearance at all.");
    }
    uf_show_line(stdout, "floor", "%s x %s, %s deep", UF_TEXT(LENGTH, units, pit->base_width_m),
                 UF_TEXT(LENGTH, units, pit->base_length_m), UF_TEXT(LENGTH, units, pit->depth_m));
    uf_show_line(stdout, "at grade", "%s x %s", UF_TEXT(LENGTH, units, pit->top_width_m),
                 UF_TEXT(LENGTH, units, pit->top_length_m));
    uf_show_line(stdout, "excavation", "%s in place, exact prismatoid",
                 UF_TEXT(VOLUME, units, pit->excavation_m3));
    uf_show_line(stdout, "slope", "%g : 1 (horizontal : vertical); %s allows %g : 1%s (%s)",
                 design->burial.pit_slope, row->name, row->slope,
                 pit->too_steep ? ": TOO STEEP without shoring or a shield" : "", row->source);
    if (pit->needs_protection) {
        uf_show_line(stdout, "from 5 ft",
                     "sloped, shored or shielded; spoil 2 ft back; a way out within 25 ft");
    }
    uf_show_line(stdout, "engineer", "%s: %s is %s 20 ft",
                 pit->needs_engineer ? "A REGISTERED ENGINEER DESIGNS THE PIT"
                                     : "not required by depth alone",
                 UF_TEXT(LENGTH, units, pit->depth_m), pit->needs_engineer ? "past" : "less than");
}

static void show_cut(const struct uf_arguments *args, const struct uf_quantities *quantities)
{
    const enum uf_units units = args->units;
    const struct uf_quantities_cut *cut = &quantities->cut;
    if (quantities->sheets == 0) {
        return;
    }
    uf_show_heading(stdout, "Cut plan of the board, a layer");
    uf_show_line(stdout, "laid", "%s along the board and %s across it: %zu x %zu whole sheets",
                 UF_TEXT(LENGTH, units, cut->along_m), UF_TEXT(LENGTH, units, cut->across_m),
                 cut->full_along, cut->full_across);
    if (cut->for_ends > 0) {
        uf_show_line(stdout, "cut at the end", "pieces %s long from %zu sheet%s",
                     UF_TEXT(LENGTH, units, cut->end_strip_m), cut->for_ends,
                     cut->for_ends == 1 ? "" : "s");
    }
    if (cut->for_sides > 0) {
        uf_show_line(stdout, "cut at the side", "pieces %s wide from %zu sheet%s",
                     UF_TEXT(LENGTH, units, cut->side_strip_m), cut->for_sides,
                     cut->for_sides == 1 ? "" : "s");
    }
    uf_show_line(stdout, "offcuts", "%.0f percent of what is bought", 100.0 * cut->waste_share);
}

static void show_grading(const struct uf_grading *grading)
{
    static const struct uf_show_column columns[] = {
        {"sieve", 'l'}, {"required\npercent", 'r'}, {"found\npercent", 'r'}, {"", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    uf_show_heading(stdout, "Grading of the gravel");
    for (size_t i = 0; i < grading->spec->n; i++) {
        const struct uf_grading_row *row = &grading->rows[i];
        uf_show_table_cell(table, "%s", grading->spec->rows[i].sieve);
        uf_show_table_cell(table, "%.0f to %.0f", 100.0 * grading->spec->rows[i].low,
                           100.0 * grading->spec->rows[i].high);
        if (isnan(row->passing)) {
            uf_show_table_cell(table, "-");
            uf_show_table_cell(table, "not measured");
        } else {
            uf_show_table_cell(table, "%.1f", 100.0 * row->passing);
            uf_show_table_cell(table, "%s%s", row->ok ? "met" : "OUTSIDE",
                               row->between ? ", read between sieves" : "");
        }
    }
    uf_show_table_end(stdout, table);
    uf_show_line(stdout, "grading", "%s (%s)", grading->spec->name, grading->spec->source);
}

static void show_cost_line(const char *what, double cost, const char *currency)
{
    if (!isnan(cost)) {
        uf_show_line(stdout, what, "%.0f %s", cost, currency);
    }
}

static void show_cost(const struct uf_quantities_found *found)
{
    const char *currency = found->site->design.costs.currency;
    if (isnan(found->cost.total)) {
        return;
    }
    uf_show_heading(stdout, "Costs");
    for (size_t i = 0; i < UF_COST_ITEMS; i++) {
        show_cost_line(uf_cost_rows[i].name, found->cost.part[i], currency);
    }
    show_cost_line("total", found->cost.total, currency);
    if (!found->cost.complete) {
        uf_show_line(stdout, "", "incomplete: a price is missing");
    }
}

void uf_quantities_show_pit(const struct uf_arguments *args,
                            const struct uf_quantities_found *found)
{
    show_pit(args, &found->site->design, &found->quantities.pit);
    if (found->graded) {
        show_grading(&found->grading);
    }
    (void)putchar('\n');
    uf_show_text(stdout, 0,
                 "Pits kill: nobody enters an unprotected one, and a competent person inspects it "
                 "every day and after rain.");
}

void uf_quantities_show_text(const struct uf_arguments *args,
                             const struct uf_quantities_found *found)
{
    const struct uf_quantities *quantities = &found->quantities;
    const struct uf_quantities_input *input = &found->site->works.quantities;
    show_pit(args, &found->site->design, &quantities->pit);
    uf_order_show(found->site, quantities, found->weighed ? &found->uplift : NULL, args->units);
    show_cut(args, quantities);
    if (found->graded) {
        show_grading(&found->grading);
    }
    show_cost(found);
    uf_show_heading(stdout, "Sources and cautions");
    if (input->fill >= 0) {
        uf_show_line(stdout, "swell of the fill",
                     "%s: %.2f loose, %.2f compacted for 1 in the bank (%s)",
                     uf_pit_swells[input->fill].name, uf_pit_swells[input->fill].loose,
                     uf_pit_swells[input->fill].compacted, uf_pit_swells[input->fill].source);
    }
    uf_show_text(stdout, 0,
                 "Volumes are geometry. Bedding, clearance and how the fill is to be placed "
                 "are from the tank manufacturer's sheet. Pits kill: nobody enters an unprotected "
                 "one, and a competent person inspects it every day and after rain.");
    uf_show_text(stdout, 0, uf_outcome_cautions);
}
