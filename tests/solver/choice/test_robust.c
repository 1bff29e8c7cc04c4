#include "solver/choice/robust.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static size_t index_of(const char *key)
{
    size_t k = 0;
    while (k < uf_limit_count && strcmp(uf_limits[k].key, key) != 0) {
        k++;
    }
    cr_assert_lt(k, uf_limit_count);
    return k;
}

static struct uf_verdict no_verdict(void)
{
    struct uf_verdict out = {.ok = true, .governs = uf_limit_count};
    for (size_t k = 0; k < uf_limit_count; k++) {
        out.margin[k] = NAN;
    }
    return out;
}

Test(robust, the_limit_that_some_case_brings_nearest_is_decisive)
{
    const size_t water = index_of("limits.water"), uplift = index_of("limits.uplift_factor");
    struct uf_verdict own = no_verdict();
    struct uf_robust_case cases[2] = {{.verdict = no_verdict()}, {.verdict = no_verdict()}};
    cr_expect_eq(uf_robust_decisive(&own, cases, 2), uf_limit_count, "nothing applies");
    own.margin[uplift] = cases[0].verdict.margin[uplift] = cases[1].verdict.margin[uplift] = 0.001;
    cr_expect_eq(uf_robust_decisive(&own, cases, 2), uplift, "no case changes anything");
    own.margin[water] = cases[0].verdict.margin[water] = 2.0 * uf_limits[water].scale;
    cases[1].verdict.margin[water] = 1.0 * uf_limits[water].scale;
    cr_expect_eq(uf_robust_decisive(&own, cases, 2), water, "what a case changes comes first");
    cr_expect_eq(uf_robust_decisive(&own, cases, 1), uplift, "that case left out");
}
