#include "column.h"

#include "solver/base/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

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
    if (!uf_column_has_backfill(design)) {
        return UF_OK;
    }
    return uf_soil_resolve(&out->backfill, &design->burial.backfill, design->ground.method, false,
                           err);
}

bool uf_column_has_backfill(const struct uf_case *design)
{
    return design->burial.has_backfill && !isnan(design->burial.pit_clearance_m);
}

static void add_segment(struct uf_column *column, double top_m, double bottom_m,
                        const struct uf_soil_state *soil, int layer)
{
    if (bottom_m > top_m) {
        column->segments[column->n++] =
            (struct uf_column_segment){.top_m = top_m,
                                       .bottom_m = bottom_m,
                                       .moist_N_m3 = soil->unit_weight_moist_N_m3,
                                       .saturated_N_m3 = soil->unit_weight_saturated_N_m3,
                                       .layer = layer};
    }
}

/* The native layers between two depths; the last one has no end. */
static void add_native(struct uf_column *column, const struct uf_case *design,
                       const struct uf_column_soils *soils, double top_m, double bottom_m)
{
    double from_m = 0.0;
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
    const bool board = uf_case_has_board(design);
    const bool foam = board && foam_m > 0.0;
    const double fill_m = board ? uf_case_board_bottom_m(design) : 0.0;
    const double slot_m = foam ? uf_case_board_top_m(design) : fill_m;
    const double under_m = foam ? slot_m + foam_m : fill_m;
    out->n = 0;
    add_native(out, design, soils, 0.0, slot_m);
    if (uf_column_has_backfill(design)) {
        add_segment(out, under_m, INFINITY, &soils->backfill, UF_COLUMN_BACKFILL);
    } else {
        add_native(out, design, soils, under_m, INFINITY);
    }
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
        if (!(bottom_m > top_m)) {
            continue;
        }
        const double cut_m = fmin(fmax(span->water_m, top_m), bottom_m);
        const double dry_m3 = cut_m > top_m ? room(body, top_m, cut_m) : 0.0;
        const double wet_m3 = bottom_m > cut_m ? room(body, cut_m, bottom_m) : 0.0;
        const enum uf_status status = add_share(out, segment, dry_m3, wet_m3, err);
        if (status != UF_OK) {
            return status;
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
