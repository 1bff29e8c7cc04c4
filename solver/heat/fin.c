#include "fin.h"

#include <math.h>

double uf_fin(struct uf_fin_part *parts, size_t n, double along_WmK, double tip_W_K)
{
    double seen_W_K = tip_W_K, share = 1.0; /* of the root's temperature, where a part begins */
    for (size_t i = n; i-- > 0;) {
        const double Y = sqrt(along_WmK / parts[i].R_mK_W);
        const double t = tanh(parts[i].length_m / sqrt(along_WmK * parts[i].R_mK_W));
        parts[i].W_K = seen_W_K; /* for the way back: beyond this part */
        seen_W_K = Y * (seen_W_K + Y * t) / (Y + seen_W_K * t);
    }
    for (size_t i = 0; i < n; i++) {
        const double beyond_W_K = parts[i].W_K;
        const double Y = sqrt(along_WmK / parts[i].R_mK_W);
        const double mL = parts[i].length_m / sqrt(along_WmK * parts[i].R_mK_W);
        const double left = share / (cosh(mL) + beyond_W_K / Y * sinh(mL));
        parts[i].W_K = seen_W_K * share - beyond_W_K * left;
        seen_W_K = beyond_W_K;
        share = left;
    }
    return tip_W_K * share;
}
