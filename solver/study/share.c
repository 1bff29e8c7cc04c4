#include "share.h"

#include <math.h>

static const double Z = 1.959963984540054; /* 97.5 % of the standard normal */

struct uf_share uf_share(size_t k, size_t n)
{
    if (n == 0) {
        return (struct uf_share){NAN, NAN, NAN};
    }
    const double count = (double)n, p = (double)k / count, zz = Z * Z / count;
    const double middle = p + 0.5 * zz;
    const double half = Z * sqrt(p * (1.0 - p) / count + 0.25 * zz / count);
    return (struct uf_share){p, fmax(0.0, (middle - half) / (1.0 + zz)),
                             fmin(1.0, (middle + half) / (1.0 + zz))};
}

double uf_share_of_years(const double *years, const double *failing, size_t n)
{
    if (n == 0) {
        return NAN;
    }
    double sum = (1.0 - 1.0 / years[0]) * failing[0];
    for (size_t i = 0; i + 1 < n; i++) {
        sum += (1.0 / years[i] - 1.0 / years[i + 1]) * failing[i + 1];
    }
    return sum + 1.0 / years[n - 1];
}

double uf_share_in_life(double yearly, double life_years)
{
    return 1.0 - pow(1.0 - yearly, life_years);
}

double uf_share_quantile(const double *sorted, size_t n, double p)
{
    if (n == 0) {
        return NAN;
    }
    const double at = p * (double)(n - 1);
    const size_t low = (size_t)floor(at), high = low + 1 < n ? low + 1 : low;
    return sorted[low] + (at - (double)low) * (sorted[high] - sorted[low]);
}
