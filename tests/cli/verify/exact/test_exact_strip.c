#include "cli/verify/exact/exact.h"
#include "solver/base/constants.h"

#include <criterion/criterion.h>

#include <math.h>

/* k (2 b s + J): from the strip into the ground where the strip itself swings, by the J of the outside's. */
static struct uf_exact_harmonic itself(const struct uf_exact_strip *strip)
{
    const struct uf_exact_harmonic out = uf_exact_strip_outside(strip);
    const double rate_1_s = 2.0 * UF_PI / (strip->period_day * UF_DAY_S);
    const double ks_W_mK = sqrt(rate_1_s * strip->c_J_m3K * strip->k_W_mK);
    const double away_W_mK = 2.0 * strip->half_m * ks_W_mK * sqrt(0.5);
    const double real = out.W_mK * cos(out.lead_rad) + away_W_mK;
    const double imaginary = out.W_mK * sin(out.lead_rad) + away_W_mK;
    return (struct uf_exact_harmonic){hypot(real, imaginary), atan2(imaginary, real)};
}

static double degrees(double rad)
{
    return rad * 180.0 / UF_PI;
}

/* Amplitude and lead as computed apart, by another quadrature of the same theory. */
Test(exact_strip, swings_of_the_strip_itself)
{
    static const struct {
        struct uf_exact_strip strip;
        double W_mK, lead_deg;
    } rows[] = {{{1.5, 3.0e6, 2.0, 0.5, 365.0}, 4.57181, 27.0113},
                {{1.5, 3.0e6, 2.0, 0.5, 60.0}, 9.56093, 39.9372},
                {{1.6, 2.2e6, 1.0, 0.25, 365.0}, 3.48715, 10.4550},
                {{1.6, 2.2e6, 1.0, 0.25, 60.0}, 4.94598, 27.4546},
                {{1.9, 2.682e6, 6.0, 0.24, 365.0}, 13.63424, 34.2706},
                {{1.9, 2.682e6, 6.0, 0.24, 60.0}, 30.56030, 41.6576}};
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        const struct uf_exact_harmonic got = itself(&rows[k].strip);
        cr_expect(fabs(got.W_mK / rows[k].W_mK - 1.0) < 2e-5, "row %zu: %.7g", k, got.W_mK);
        cr_expect(fabs(degrees(got.lead_rad) - rows[k].lead_deg) < 1e-3, "row %zu: %.7g", k,
                  degrees(got.lead_rad));
    }
}

/* A period without end is the steady slab, whose formula is closed. */
Test(exact_strip, without_end_it_is_the_slab)
{
    const struct uf_exact_strip strip = {1.5, 3.0e6, 2.0, 0.5, 1e9};
    const struct uf_exact_slab slab = {4.0, 0.5, 1.5, 1.0, 0.0};
    const struct uf_exact_harmonic own = itself(&strip);
    const struct uf_exact_harmonic outside = uf_exact_strip_outside(&strip);
    cr_expect(fabs(own.W_mK / uf_exact_slab_W_m(&slab) - 1.0) < 2e-3, "%.7g", own.W_mK);
    cr_expect(fabs(outside.W_mK / uf_exact_slab_W_m(&slab) - 1.0) < 2e-3, "%.7g", outside.W_mK);
}
