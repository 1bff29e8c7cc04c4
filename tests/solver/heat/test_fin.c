#include "solver/heat/fin.h"

#include <criterion/criterion.h>

#include <math.h>

/* One section, surroundings at 0, root at 1: K m (sinh + t cosh) / (cosh + t sinh), t = tip / (K m),
   however it is parted; and at the tip 1 / (cosh + t sinh) of it. */
Test(fin, one_section_in_parts)
{
    const double K = 0.2, R = 2.0, L = 1.5, tip = 0.05;
    const double m = 1.0 / sqrt(K * R), t = tip / (K * m);
    const double all = K * m * (sinh(m * L) + t * cosh(m * L)) / (cosh(m * L) + t * sinh(m * L));
    for (size_t n = 1; n < 40; n = 2 * n + 1) {
        struct uf_fin_part parts[40];
        double sum_W_K = 0.0;
        for (size_t i = 0; i < n; i++) {
            parts[i] = (struct uf_fin_part){.length_m = L / (double)n, .R_mK_W = R};
        }
        const double out = uf_fin(parts, n, K, tip);
        cr_expect_float_eq(out, tip / (cosh(m * L) + t * sinh(m * L)), 1e-12);
        for (size_t i = 0; i < n; i++) {
            cr_expect(parts[i].W_K > 0.0 && (i == 0 || parts[i].W_K < parts[i - 1].W_K));
            sum_W_K += parts[i].W_K;
        }
        cr_expect_float_eq(sum_W_K + out, all, 1e-12, "%zu parts: %g %g", n, sum_W_K + out, all);
    }
}

/* A part that leads without limit is a resistance alone; one far longer than it fades, a wall. */
Test(fin, limits)
{
    struct uf_fin_part lossless[2] = {{.length_m = 3.0, .R_mK_W = 1e15},
                                      {.length_m = 1e-3, .R_mK_W = 1e-9}};
    (void)uf_fin(lossless, 2, 0.6, 0.0);
    cr_expect_float_eq(lossless[1].W_K, 0.6 / 3.0, 1e-5, "%g", lossless[1].W_K);
    struct uf_fin_part far[2] = {{.length_m = 1e4, .R_mK_W = 0.25},
                                 {.length_m = 1.0, .R_mK_W = 1.0}};
    cr_expect_float_eq(uf_fin(far, 2, 0.01, 1.0), 0.0, 0.0);
    cr_expect_float_eq(far[0].W_K, sqrt(0.01 / 0.25), 1e-12);
    cr_expect_float_eq(far[1].W_K, 0.0, 0.0);
}
