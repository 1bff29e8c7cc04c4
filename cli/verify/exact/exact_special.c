#include "exact.h"
#include "exact_private.h"
#include "solver/base/constants.h"

#include <math.h>

#define EULER_GAMMA 0.57721566490153286061

double uf_exact_e1(double x)
{
    if (!(x > 0.0)) {
        return x == 0.0 ? (double)INFINITY : (double)NAN;
    }
    if (x <= 1.0) {
        double sum = -EULER_GAMMA - log(x), term = 1.0;
        for (int n = 1; n <= 25; n++) {
            term *= -x / n;
            sum -= term / n;
        }
        return sum;
    }
    /* exp(-x)/(x+1 - 1/(x+3 - 4/(x+5 - ...))), from the far end back */
    double tail = 0.0;
    for (int n = 120; n >= 1; n--) {
        tail = (double)n * n / (x + 2.0 * n + 1.0 - tail);
    }
    return exp(-x) / (x + 1.0 - tail);
}

double uf_exact_erfcx(double x)
{
    if (x < 5.0) {
        return exp(x * x) * erfc(x);
    }
    double tail = 0.0;
    for (int n = 60; n >= 1; n--) {
        tail = 0.5 * n / (x + tail);
    }
    return 1.0 / (sqrt(UF_PI) * (x + tail));
}

double uf_exact_root(double (*f)(double x, const void *data), const void *data, double low,
                     double high)
{
    if (!(f(low, data) > 0.0) || !(f(high, data) < 0.0)) {
        return NAN;
    }
    for (;;) {
        const double middle = 0.5 * (low + high);
        if (!(middle > low) || !(middle < high)) {
            return middle;
        }
        if (f(middle, data) > 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
}
