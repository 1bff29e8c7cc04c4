#include "result.h"
#include "solver/design/foam.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A design as a picture sees it: what the rows of its shape, anchors and limits say. */

void uf_result_design_clear(struct uf_result_design *d)
{
    memset(d, 0, sizeof *d);
    d->latitude_deg = d->crown_m = d->invert_m = d->half_width_m = d->length_m = NAN;
    d->head_m = d->wall_thickness_m = d->level_m = NAN;
    d->board_top_m = d->board_bottom_m = d->board_half_width_m = d->skirt_m = NAN;
    d->water_winter_m = d->water_highest_m = NAN;
    d->dig = (struct uf_dig){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
}

static void fill_tank(struct uf_result_design *out, const struct uf_case *c)
{
    out->crown_m = uf_case_crown_m(c);
    out->invert_m = uf_case_invert_m(c);
    out->half_width_m = uf_case_half_width_m(c);
    out->length_m = uf_shape_is_radial(&c->tank) ? (double)NAN : c->tank.length_m;
    out->head_m = uf_tank_head_depth_m(&c->tank);
    out->n_risers = c->tank.n_risers;
    for (size_t i = 0; i < c->tank.n_risers; i++) { /* what the file keeps of one */
        const struct uf_riser *riser = &c->tank.risers[i];
        out->risers[i] = (struct uf_riser){
            .diameter_m = riser->diameter_m,
            .above_grade_m = riser->above_grade_m,
            .height_m = uf_case_riser_height_m(c, riser),
            .lid_m2K_W = riser->lid_m2K_W,
            .station_m = riser->station_m,
            .shell = {.sleeve_m = riser->shell.sleeve_m,
                      .sleeve_length_m = fmin(out->crown_m, riser->shell.sleeve_length_m)}};
    }
    out->wall_thickness_m = c->tank.wall_thickness_m;
    out->level_m = c->tank.level_m;
    if (isfinite(c->burial.pit_clearance_m)) {
        out->dig = uf_dig_of(c);
    }
}

static void fill_anchors(struct uf_result_design *out, const struct uf_case *c)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        const struct uf_anchor_body body = row->body(c);
        if (body.count > 0.0) {
            struct uf_result_anchor *anchor = &out->anchors[out->n_anchors++];
            anchor->body = body;
            anchor->under_bedding = row->under_bedding;
            (void)snprintf(anchor->name, sizeof anchor->name, "%s", row->one);
        }
    }
}

static void fill_limits(struct uf_result_design *out, const struct uf_case *c)
{
    struct uf_summary not_run;
    uf_facts_clear(&not_run);
    const struct uf_limit_facts facts = {.design = c, .summary = &not_run};
    for (size_t i = 0; i < uf_limit_count; i++) {
        const struct uf_limit *row = &uf_limits[i];
        const double asked = row->asked(&facts);
        if (isnan(asked)) {
            continue;
        }
        struct uf_result_limit *limit = &out->limits[out->n_limits++];
        limit->asked = asked;
        (void)snprintf(limit->key, sizeof limit->key, "%s", row->key);
    }
}

void uf_result_design_fill(struct uf_result_design *out, const struct uf_case *design)
{
    uf_result_design_clear(out);
    (void)snprintf(out->name, sizeof out->name, "%s", design->name);
    out->shape = (long)design->tank.shape;
    out->latitude_deg = design->latitude_deg;
    out->water_winter_m = design->ground.water_winter_m;
    out->water_highest_m = design->ground.water_highest_m;
    if (uf_case_has_tank(design)) {
        fill_tank(out, design);
        fill_anchors(out, design);
        fill_limits(out, design);
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
    memcpy(out->pipes, design->pipes, design->n_pipes * sizeof out->pipes[0]);
    out->n_pipes = design->n_pipes;
    out->n_probes = design->n_probes;
    for (size_t i = 0; i < design->n_probes; i++) {
        out->probe_x_m[i] = design->probes[i].x_m;
        out->probe_depth_m[i] = design->probes[i].depth_m;
    }
}
