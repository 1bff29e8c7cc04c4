#include "solver/study/share.h"

#include <criterion/criterion.h>

#include <math.h>

/* Score intervals as tabulated by Newcombe 1998 (Statistics in Medicine 17, 857-872), table I, method
   3; from memory. */
Test(share, intervals_are_those_of_the_table)
{
    static const struct {
        size_t k, n;
        double low, high;
    } rows[] = {{81, 263, 0.2553, 0.3662},
                {15, 148, 0.0624, 0.1605},
                {0, 20, 0.0000, 0.1611},
                {1, 29, 0.0061, 0.1718}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct uf_share s = uf_share(rows[i].k, rows[i].n);
        cr_expect_float_eq(s.low, rows[i].low, 5e-5, "%zu: %g", i, s.low);
        cr_expect_float_eq(s.high, rows[i].high, 5e-5, "%zu: %g", i, s.high);
    }
    cr_expect(isnan(uf_share(0, 0).share));
}

/* Worked by hand: half of the winters rarer than 1 in 10 fail at 1 in 10, all at 1 in 100. */
Test(share, years_are_bounded_by_the_rarer_winter)
{
    const double years[] = {10.0, 100.0}, failing[] = {0.5, 1.0}, none[] = {0.0, 0.0};
    cr_expect_float_eq(uf_share_of_years(years, failing, 2), 0.9 * 0.5 + 0.09 + 0.01, 1e-12);
    cr_expect_float_eq(uf_share_of_years(years, none, 2), 0.01, 1e-12);
    cr_expect(isnan(uf_share_of_years(years, none, 0)));
    cr_expect_float_eq(uf_share_in_life(0.01, 50.0), 1.0 - pow(0.99, 50.0), 1e-12);
}

Test(share, quantiles_lie_between_their_neighbours)
{
    const double sorted[] = {1.0, 2.0, 4.0};
    cr_expect_float_eq(uf_share_quantile(sorted, 3, 0.5), 2.0, 1e-12);
    cr_expect_float_eq(uf_share_quantile(sorted, 3, 0.75), 3.0, 1e-12);
    cr_expect_float_eq(uf_share_quantile(sorted, 3, 1.0), 4.0, 1e-12);
    cr_expect(isnan(uf_share_quantile(sorted, 0, 0.5)));
}
