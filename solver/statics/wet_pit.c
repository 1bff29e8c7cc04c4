#include "wet_pit.h"

#include "holddown.h"
#include "solver/base/constants.h"
#include "solver/design/tank.h"

#include <math.h>

double uf_wet_pit_inside_m(const struct uf_tank *tank, double uplift_N, double holddown_N,
                           double factor)
{
    const double missing_m3 = (factor * uplift_N - holddown_N) / UF_WATER_UNIT_N_M3;
    const double wall_m = isnan(tank->wall_thickness_m) ? 0.0 : tank->wall_thickness_m;
    const double tall_m = uf_tank_height_m(tank);
    double low_m = 0.0, high_m = tall_m - 2.0 * wall_m;
    if (!(missing_m3 > 0.0)) {
        return 0.0;
    }
    if (!(uf_tank_content_m3(tank, high_m) >= missing_m3)) {
        return NAN;
    }
    for (int i = 0; i < 60; i++) {
        const double middle_m = 0.5 * (low_m + high_m);
        *(uf_tank_content_m3(tank, middle_m) >= missing_m3 ? &high_m : &low_m) = middle_m;
    }
    return high_m;
}

/* Water above the invert at which the factor falls to one; it only falls as water rises. */
static enum uf_status find_floating(double *out_m, const struct uf_case *design,
                                    const struct uf_column_soils *soils, double fill_m,
                                    struct uf_error *err)
{
    const double invert_m = uf_case_invert_m(design);
    double floats_m = 0.0, holds_m = invert_m;
    struct uf_holddown balance;
    enum uf_status status = uf_holddown_filled(&balance, design, soils, 0.0, fill_m, err);
    *out_m = NAN;
    if (status != UF_OK || !(balance.factor_submerged < 1.0)) {
        return status;
    }
    for (int i = 0; i < 60 && status == UF_OK; i++) {
        const double middle_m = 0.5 * (floats_m + holds_m);
        status = uf_holddown_filled(&balance, design, soils, middle_m, fill_m, err);
        *(balance.factor_submerged < 1.0 ? &floats_m : &holds_m) = middle_m;
    }
    *out_m = invert_m - floats_m;
    return status;
}

enum uf_status uf_wet_pit_stage(struct uf_wet_pit_stage *out, const struct uf_case *design,
                                const struct uf_column_soils *soils, double water_m,
                                struct uf_error *err)
{
    struct uf_holddown balance;
    enum uf_status status = uf_holddown_filled(&balance, design, soils, water_m, out->fill_m, err);
    if (status == UF_OK) {
        status = find_floating(&out->floats_at_m, design, soils, out->fill_m, err);
    }
    if (status != UF_OK) {
        return status;
    }
    out->factor = balance.factor_submerged;
    out->inside_m = uf_wet_pit_inside_m(&design->tank, balance.uplift_N, balance.submerged_N,
                                        uf_case_flotation_asked(design));
    out->inside_m3 =
        isnan(out->inside_m) ? (double)NAN : uf_tank_content_m3(&design->tank, out->inside_m);
    return UF_OK;
}

enum uf_status uf_wet_pit(struct uf_wet_pit *out, const struct uf_case *design,
                          const struct uf_column_soils *soils, struct uf_error *err)
{
    const double invert_m = uf_case_invert_m(design), crown_m = uf_case_crown_m(design);
    const struct uf_wet_pit_stage stages[UF_WET_PIT_STAGES] = {
        {.name = design->anchors.straps > 0 ? "strapped, no fill" : "set, no fill",
         .fill_m = invert_m},
        {.name = "filled to the widest level",
         .fill_m = invert_m - uf_tank_widest_m(&design->tank)},
        {.name = "filled to the crown", .fill_m = crown_m},
        {.name = "filled to grade", .fill_m = 0.0}};
    out->required = uf_case_flotation_asked(design);
    for (size_t i = 0; i < UF_WET_PIT_STAGES; i++) {
        out->stages[i] = stages[i];
        const enum uf_status status = uf_wet_pit_stage(&out->stages[i], design, soils, 0.0, err);
        if (status != UF_OK) {
            return status;
        }
    }
    return UF_OK;
}
