#include "column.h"

#include "solver/base/constants.h"
#include "solver/design/dig.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define LEAST_M 1e-9 /* thinner is what rounding leaves between two depths that are one */

enum uf_status uf_column_soils(struct uf_column_soils *out, const struct uf_case *design,
                               struct uf_error *err)
{
    memset(out, 0, sizeof *out);
    out->n_layers = design->ground.n_layers;
    for (size_t i = 0; i < out->n_layers; i++) {
        const enum uf_status status = uf_soil_resolve(
            &out->layers[i], &design->ground.layers[i].spec, design->ground.method, false, err);
        if (status != UF_OK) {
            return status;
        }
    }
    if (!design->burial.has_backfill) {
        return UF_OK;
    }
    return uf_soil_resolve(&out->backfill, &design->burial.backfill, design->ground.method, false,
                           err);
}

static void add_segment(struct uf_column *column, double top_m, double bottom_m,
                        const struct uf_soil_state *soil, int layer)
{
    struct uf_column_segment *before = column->n > 0 ? &column->segments[column->n - 1] : NULL;
    if (!(bottom_m > top_m)) {
        return;
    }
    if (before != NULL && before->layer == layer && before->bottom_m == top_m) {
        before->bottom_m = bottom_m; /* the same soil goes on */
    } else {
        column->segments[column->n++] =
            (struct uf_column_segment){.top_m = top_m,
                                       .bottom_m = bottom_m,
                                       .moist_N_m3 = soil->unit_weight_moist_N_m3,
                                       .saturated_N_m3 = soil->unit_weight_saturated_N_m3,
                                       .layer = layer};
    }
}

/* The native layers, or the backfill, between two depths; the last layer has no end. */
static void add_soil(struct uf_column *column, const struct uf_case *design,
                     const struct uf_column_soils *soils, bool backfill, double top_m,
                     double bottom_m)
{
    double from_m = 0.0;
    if (backfill) {
        add_segment(column, top_m, bottom_m, &soils->backfill, UF_COLUMN_BACKFILL);
        return;
    }
    for (size_t i = 0; i < soils->n_layers; i++) {
        const bool last = i + 1 == soils->n_layers;
        const double to_m = last ? (double)INFINITY : design->ground.layers[i].to_m;
        add_segment(column, fmax(from_m, top_m), fmin(to_m, bottom_m), &soils->layers[i], (int)i);
        from_m = to_m;
    }
}

void uf_column_build(struct uf_column *out, const struct uf_case *design,
                     const struct uf_column_soils *soils, double foam_m)
{
    const bool slot = uf_case_has_board(design) && foam_m > 0.0;
    const double fill_m = uf_dig_of(design).fill_top_m;
    const double slot_top_m = slot ? uf_case_board_top_m(design) : (double)INFINITY;
    const double slot_m = slot ? slot_top_m + foam_m : (double)INFINITY;
    const bool backfill = design->burial.has_backfill;
    out->n = 0;
    out->log = NULL;
    add_soil(out, design, soils, false, 0.0, fmin(fill_m, slot_top_m));
    add_soil(out, design, soils, false, slot_m, fill_m);
    add_soil(out, design, soils, backfill, fill_m, slot_top_m);
    add_soil(out, design, soils, backfill, fmax(fill_m, slot_m), INFINITY);
}

static enum uf_status unknown_weight(const struct uf_column_segment *segment, struct uf_error *err)
{

    char key[40] = "burial.backfill";
    if (segment->layer != UF_COLUMN_BACKFILL) {
        (void)snprintf(key, sizeof key, "ground[%d]", segment->layer);
    }
    return uf_fail_key(err, UF_E_INPUT, key, UF_PLAIN("its unit weight is not known"),
                       UF_PLAIN("give unit_weight_moist and unit_weight_saturated (thermal "
                                "properties alone do not say what the soil weighs)"));
}

/* Writes a share down: beside what is there of the same part, soil and reach, else in its place from the
   part's top down. */
static void log_share(struct uf_column_log *log, const struct uf_column_share *share)
{
    const struct uf_column_segment *soil = &share->soil;
    size_t at = log->n;
    while (at > 0 && log->shares[at - 1].part == share->part &&
           log->shares[at - 1].soil.top_m >= soil->top_m) {
        const struct uf_column_share *old = &log->shares[--at];
        if (old->soil.layer == soil->layer && old->soil.top_m == soil->top_m &&
            old->soil.bottom_m == soil->bottom_m) {
            log->shares[at].dry_m3 += share->dry_m3;
            log->shares[at].wet_m3 += share->wet_m3;
            return;
        }
    }
    assert(log->n < UF_COLUMN_SHARES);
    memmove(&log->shares[at + 1], &log->shares[at], (log->n++ - at) * sizeof log->shares[0]);
    log->shares[at] = *share;
}

/* One segment's share, cut at the water table. */
static enum uf_status add_share(struct uf_column_weight *out,
                                const struct uf_column_segment *segment, double dry_m3,
                                double wet_m3, struct uf_error *err)
{
    if ((dry_m3 > 0.0 && isnan(segment->moist_N_m3)) ||
        (wet_m3 > 0.0 && isnan(segment->saturated_N_m3))) {
        return unknown_weight(segment, err);
    }
    const double dry_N = dry_m3 > 0.0 ? dry_m3 * segment->moist_N_m3 : 0.0;
    const double wet_N = wet_m3 > 0.0 ? wet_m3 * segment->saturated_N_m3 : 0.0;
    out->total_N += dry_N + wet_N;
    out->submerged_N += dry_N + wet_N - wet_m3 * UF_WATER_UNIT_N_M3;
    out->volume_m3 += dry_m3 + wet_m3;
    out->below_m3 += wet_m3;
    return UF_OK;
}

enum uf_status uf_column_weigh(struct uf_column_weight *out, const struct uf_column *column,
                               const struct uf_column_span *span, uf_column_room *room,
                               const void *body, struct uf_error *err)
{
    *out = (struct uf_column_weight){0};
    for (size_t i = 0; i < column->n; i++) {
        const struct uf_column_segment *segment = &column->segments[i];
        const double top_m = fmax(segment->top_m, span->top_m);
        const double bottom_m = fmin(segment->bottom_m, span->bottom_m);
        if (!(bottom_m - top_m > LEAST_M)) {
            continue;
        }
        const double cut_m = fmin(fmax(span->water_m, top_m), bottom_m);
        const double dry_m3 = cut_m > top_m ? room(body, top_m, cut_m) : 0.0;
        const double wet_m3 = bottom_m > cut_m ? room(body, cut_m, bottom_m) : 0.0;
        const enum uf_status status = add_share(out, segment, dry_m3, wet_m3, err);
        if (status != UF_OK) {
            return status;
        }
        if (column->log != NULL && dry_m3 + wet_m3 > 0.0) {
            struct uf_column_share share = {column->log->part, *segment, dry_m3, wet_m3};
            share.soil.top_m = top_m;
            share.soil.bottom_m = bottom_m;
            log_share(column->log, &share);
        }
    }
    return UF_OK;
}

static double prism_m3(const void *area_m2, double top_m, double bottom_m)
{
    return *(const double *)area_m2 * (bottom_m - top_m);
}

enum uf_status uf_column_prism(struct uf_column_weight *out, const struct uf_column *column,
                               const struct uf_column_span *span, double area_m2,
                               struct uf_error *err)
{
    return uf_column_weigh(out, column, span, prism_m3, &area_m2, err);
}
