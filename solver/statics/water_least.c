#include "water_least.h"

#include "holddown.h"

#include <math.h>

static enum uf_status check(const struct uf_water_year *water, struct uf_error *err)
{
    if (water->n_months != 0 && water->n_months != 12) {
        return uf_fail_key(err, UF_E_INPUT, "groundwater.by_month",
                           UF_SAID("{} depths are given", UF_COUNT(water->n_months)),
                           UF_PLAIN("twelve, one a month"));
    }
    if (water->n_months == 0 && !(water->amplitude_m >= 0.0 && water->highest_day >= 1.0)) {
        return uf_fail_key(err, UF_E_INPUT, "groundwater.mean",
                           UF_PLAIN("a wave needs more than its mean"),
                           UF_PLAIN("with groundwater.amplitude and groundwater.highest_on"));
    }
    return UF_OK;
}

/* The day of a month on which the water stands highest. */
static int highest_day(const struct uf_water_year *water, int month)
{
    int best = uf_water_year_month_day(month);
    for (int day = best + 1; day < uf_water_year_month_day(month + 1); day++) {
        if (uf_water_year_depth_m(water, (double)day) <
            uf_water_year_depth_m(water, (double)best)) {
            best = day;
        }
    }
    return best;
}

enum uf_status uf_water_least(struct uf_water_least *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, struct uf_error *err)
{
    const struct uf_water_year *water = &design->ground.year;
    enum uf_status status = check(water, err);
    *out = (struct uf_water_least){.depth_m = INFINITY, .factor = NAN};
    for (int month = 0; month < 12 && status == UF_OK; month++) {
        struct uf_holddown balance;
        const int day = highest_day(water, month);
        const double depth_m = uf_water_year_depth_m(water, (double)day);
        status = uf_holddown_at(&balance, design, soils, depth_m, err);
        out->month_factor[month] = balance.factor_submerged;
        if (status == UF_OK && depth_m < out->depth_m) {
            out->day = day;
            out->depth_m = depth_m;
            out->factor = balance.factor_submerged;
        }
    }
    return status;
}
