#include "cli/verify/field/ground_index.h"
#include "solver/ground/published_depth.h"

#include <criterion/criterion.h>

/* Every winter of every station whose ground thaws, bare: in bins of 200 degC day the
   depth stays within 30 % of the mean of Chisholm & Phang 1983 and Fair, Geyer & Okun (a
   band of plausibility, not a published tolerance), and rises with the index. */
Test(ground, depth_against_index_lies_among_the_published)
{
    const struct uf_season_options options = uf_season_defaults();
    struct uf_ground_index index;
    struct uf_error err = {0};
    double last_m = 0.0;
    cr_assert(uf_ground_index_run(&index, &options, &err) == UF_OK, "%s", err.text);
    cr_expect_gt(index.n, 500);
    for (double from = 0.0; from < 2400.0; from += 200.0) {
        const struct uf_ground_bin bin = uf_ground_index_bin(&index, from, from + 200.0);
        const double mean_m = 0.5 * (uf_published_depth_chisholm_phang_m(bin.index_degC_day) +
                                     uf_published_depth_fair_m(bin.index_degC_day));
        cr_assert(bin.n >= 5, "%g: %zu", from, bin.n);
        cr_expect_float_eq(bin.frost_m, mean_m, 0.30 * mean_m, "%g: %g m", from, bin.frost_m);
        cr_expect_gt(bin.frost_m, last_m);
        last_m = bin.frost_m;
    }
    cr_expect_eq(uf_ground_index_bin(&index, 9000.0, 9200.0).n, 0);
    uf_ground_index_free(&index);
}
