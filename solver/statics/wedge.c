#include "wedge.h"

#include "holddown.h"

#include <math.h>

/* One side of an anchor: its outer edge, how far the tank's shadow reaches, its top and
 * length. */
struct side {
    double outer_m, shadow_m, top_m, length_m, slope;
};

/* Integral of max(0, slope y - gap) from y = 0 to y. */
static double ramp_m2(double slope, double gap_m, double y_m)
{
    const double past_m = slope * y_m - gap_m;
    return past_m > 0.0 ? 0.5 * past_m * past_m / slope : 0.0;
}

static double side_m3(const void *body, double top_m, double bottom_m)
{
    const struct side *side = body;
    const double gap_m = fmax(0.0, side->shadow_m - side->outer_m);
    return side->length_m * (ramp_m2(side->slope, gap_m, side->top_m - top_m) -
                             ramp_m2(side->slope, gap_m, side->top_m - bottom_m));
}

static enum uf_status weigh(double *out_N, double *out_m3, const struct uf_column *column,
                            const struct side *side, double water_m, struct uf_error *err)
{
    const struct uf_column_span span = {0.0, side->top_m, water_m};
    struct uf_column_weight weight;
    *out_N = *out_m3 = 0.0;
    if (!(side->slope > 0.0)) {
        return UF_OK;
    }
    const enum uf_status status = uf_column_weigh(&weight, column, &span, side_m3, side, err);
    *out_N = weight.submerged_N;
    *out_m3 = weight.volume_m3;
    return status;
}

enum uf_status uf_wedge(struct uf_wedge *out, const struct uf_case *design,
                        const struct uf_column_soils *soils, double water_m, double angle_rad,
                        struct uf_error *err)
{
    const struct uf_anchors *anchors = &design->anchors;
    struct uf_holddown balance;
    struct uf_column column;
    *out = (struct uf_wedge){.angle_rad = angle_rad};
    if (!(angle_rad >= 0.0 && angle_rad < 1.4)) {
        return uf_fail_key(err, UF_E_RANGE, "anchors.wedge_angle", UF_PLAIN("is out of range"),
                           UF_PLAIN("0 to 80 degrees from the vertical"));
    }
    enum uf_status status = uf_holddown_at(&balance, design, soils, water_m, err);
    uf_column_build(&column, design, soils, false);
    const double half_m = uf_case_half_width_m(design), slope = tan(angle_rad);
    if (status == UF_OK && anchors->deadmen > 0) {
        const struct side side = {.outer_m = uf_holddown_deadman_offset_m(design) +
                                             0.5 * anchors->deadman_width_m,
                                  .shadow_m = half_m,
                                  .top_m = uf_holddown_deadman_top_m(design),
                                  .length_m = (double)anchors->deadmen * anchors->deadman_length_m,
                                  .slope = slope};
        status = weigh(&out->deadmen_N, &out->deadmen_m3, &column, &side, water_m, err);
    }
    if (status == UF_OK && anchors->has_pad) {
        const struct side side = {.outer_m = 0.5 * anchors->pad_width_m,
                                  .shadow_m = half_m,
                                  .top_m = uf_case_invert_m(design) + design->burial.bedding_m,
                                  .length_m = 2.0 * anchors->pad_length_m,
                                  .slope = slope};
        status = weigh(&out->pad_N, &out->pad_m3, &column, &side, water_m, err);
    }
    out->factor = balance.uplift_N > 0.0
                      ? (balance.submerged_N + out->deadmen_N + out->pad_N) / balance.uplift_N
                      : (double)NAN;
    return status;
}
