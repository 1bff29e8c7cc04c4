#include "ends.h"

#include <math.h>
#include <string.h>

struct uf_case uf_ends_plane(const struct uf_case *design)
{
    struct uf_case plane;
    memcpy(&plane, design, sizeof plane); /* padding too: equal designs are told by their bytes */
    plane.tank.ends = UF_ENDS_PLANE;
    return plane;
}

double uf_ends_slack_K(const struct uf_case *design, const struct uf_summary *plane)
{
    const double share = isnan(plane->riser_share) ? 0.0 : plane->riser_share;
    const double slender = 2.0 * uf_case_half_width_m(design) / design->tank.length_m;
    return 0.05 + 1.2 * share * fmin(1.0, slender);
}

struct uf_verdict uf_ends_warmest(const struct uf_verdict *verdict, const struct uf_case *design,
                                  const struct uf_summary *plane)
{
    const double slack_K = uf_ends_slack_K(design, plane);
    struct uf_verdict best = *verdict;
    for (size_t k = 0; k < uf_limit_count; k++) {
        best.margin[k] += uf_limits[k].per_K * slack_K;
    }
    uf_limit_weigh(&best);
    return best;
}

struct uf_verdict uf_ends_carried(const struct uf_verdict *plane_case,
                                  const struct uf_verdict *plane, const struct uf_verdict *solid)
{
    struct uf_verdict carried = *plane_case;
    for (size_t k = 0; k < uf_limit_count; k++) {
        if (uf_limits[k].winter && isfinite(plane->got[k]) && isfinite(solid->got[k])) {
            carried.margin[k] += solid->margin[k] - plane->margin[k];
            carried.got[k] += solid->got[k] - plane->got[k];
        }
    }
    uf_limit_weigh(&carried);
    return carried;
}

double uf_ends_least_K(const struct uf_verdict *verdict)
{
    double least_K = INFINITY;
    for (size_t k = 0; k < uf_limit_count; k++) {
        least_K =
            uf_limit_of_temperature(&uf_limits[k]) ? fmin(least_K, verdict->margin[k]) : least_K;
    }
    return least_K;
}

bool uf_ends_near(const struct uf_verdict *carried, double water_degC)
{
    for (size_t k = 0; k < uf_limit_count; k++) {
        const double margin = carried->margin[k];
        if (!uf_limits[k].winter || isnan(margin)) {
            continue;
        }
        if (uf_limit_of_temperature(&uf_limits[k]) ? fabs(margin) < UF_ENDS_NEAR_K
                                                   : water_degC < UF_ENDS_NEAR_K) {
            return true;
        }
    }
    return false;
}
