#include "result.h"

#include "solver/design/anchor.h"
#include "solver/design/foam.h"
#include "solver/design/shape.h"
#include "solver/run/facts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The texts a result may own, so that they are freed in one loop. */
#define TEXT_COUNT 9

static void clear_design(struct uf_result_design *d)
{
    memset(d, 0, sizeof *d);
    d->latitude_deg = d->crown_m = d->invert_m = d->half_width_m = d->length_m = NAN;
    d->wall_thickness_m = d->level_m = NAN;
    d->board_top_m = d->board_bottom_m = d->board_half_width_m = d->skirt_m = NAN;
    d->water_winter_m = d->water_highest_m = NAN;
    d->dig = (struct uf_dig){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    d->deadman_width_m = d->deadman_height_m = d->deadman_top_m = d->deadman_offset_m = NAN;
    d->pad_half_width_m = d->pad_thickness_m = d->pad_top_m = NAN;
    d->limit_water_degC = d->limit_ice_share = d->limit_uplift_factor = NAN;
}

void uf_result_init(struct uf_result *result)
{
    memset(result, 0, sizeof *result);
    clear_design(&result->design);
    uf_facts_clear(&result->summary);
    uf_facts_clear(&result->summary_without_board);
    result->facts = uf_facts;
    result->pick = -1;
    result->design_index_degC_day = result->uplift_factor = NAN;
}

static void fill_tank(struct uf_result_design *out, const struct uf_case *c)
{
    out->crown_m = uf_case_crown_m(c);
    out->invert_m = uf_case_invert_m(c);
    out->half_width_m = uf_case_half_width_m(c);
    out->length_m = uf_shape_is_radial(&c->tank) ? (double)NAN : c->tank.length_m;
    out->wall_thickness_m = c->tank.wall_thickness_m;
    out->level_m = c->tank.level_m;
    out->limit_water_degC = c->limits.water_degC;
    out->limit_ice_share = c->limits.ice_share;
    out->limit_uplift_factor = c->limits.uplift_factor;
    if (isfinite(c->burial.pit_clearance_m)) {
        out->dig = uf_dig_of(c);
    }
}

static void fill_anchors(struct uf_result_design *out, const struct uf_case *c)
{
    const struct uf_anchor_body deadmen = uf_anchor_at(UF_ANCHOR_DEADMEN)->body(c);
    const struct uf_anchor_body pad = uf_anchor_at(UF_ANCHOR_PAD)->body(c);
    if (deadmen.count > 0.0) {
        out->deadmen = deadmen.count;
        out->deadman_width_m = deadmen.width_m;
        out->deadman_height_m = deadmen.height_m;
        out->deadman_top_m = deadmen.top_m;
        out->deadman_offset_m = deadmen.axis_m;
    }
    if (pad.count > 0.0) {
        out->pad_half_width_m = pad.width_m / 2.0;
        out->pad_thickness_m = pad.height_m;
        out->pad_top_m = pad.top_m;
    }
}

void uf_result_design_fill(struct uf_result_design *out, const struct uf_case *design)
{
    clear_design(out);
    (void)snprintf(out->name, sizeof out->name, "%s", design->name);
    out->shape = (long)design->tank.shape;
    out->latitude_deg = design->latitude_deg;
    out->water_winter_m = design->ground.water_winter_m;
    out->water_highest_m = design->ground.water_highest_m;
    if (uf_case_has_tank(design)) {
        fill_tank(out, design);
        fill_anchors(out, design);
    }
    if (uf_case_has_board(design)) {
        out->board_top_m = uf_case_board_top_m(design);
        out->board_bottom_m = uf_case_board_bottom_m(design);
        out->board_half_width_m = uf_case_board_half_width_m(design);
        out->skirt_m = design->board.skirt_m;
        (void)snprintf(out->board_name, sizeof out->board_name, "%s",
                       design->board.row != NULL ? design->board.row->name : "");
    }
    (void)snprintf(out->currency, sizeof out->currency, "%s",
                   design->costs.given ? design->costs.currency : "");
    out->n_probes = design->n_probes;
    for (size_t i = 0; i < design->n_probes; i++) {
        out->probe_x_m[i] = design->probes[i].x_m;
        out->probe_depth_m[i] = design->probes[i].depth_m;
    }
}

void uf_result_free(struct uf_result *result)
{
    if (result == NULL) {
        return;
    }
    char *const texts[TEXT_COUNT] = {result->title,     result->version,      result->command_line,
                                     result->site_text, result->summary_json, result->libraries,
                                     result->station,   result->winter_text,  result->site_changes};
    for (size_t i = 0; i < TEXT_COUNT; i++) {
        free(texts[i]);
    }
    uf_record_free(result->record);
    uf_record_free(result->without_board);
    free(result->choices);
    free(result->cases);
    free(result->levels);
    free(result->winters);
    free(result->returns);
    free(result->days);
    free(result);
}
