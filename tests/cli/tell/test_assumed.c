#include "cli/tell/assumed.h"
#include "solver/choice/settle.h"
#include "tests/runs.h"

#include <string.h>

static struct uf_case wet(void)
{
    struct uf_case d = runs_tank();
    d.burial.has_backfill = d.burial.has_bedding_soil = false;
    d.anchors.least = true;
    d.limits.uplift_factor = 1.6;
    return d;
}

static void expect(const struct uf_case *d, bool settled, size_t n, const char *last)
{
    struct uf_assumed found;
    uf_assumed(&found, d, settled, UF_UNITS_SI);
    cr_assert_eq(found.n, n, "%zu sentences, not %zu", found.n, n);
    cr_expect(n == 0 || strstr(found.lines[n - 1], last) != NULL, "%s",
              n > 0 ? found.lines[n - 1] : "");
}

Test(assumed, grade_where_no_level_was_given)
{
    struct uf_case d = wet();
    expect(&d, false, 1, "with the water at grade");
    d.ground.highest_given = true;
    expect(&d, false, 0, "");
    d.ground.highest_given = false;
    d.tank.shape = UF_NO_TANK;
    expect(&d, false, 0, "");
}

Test(assumed, what_least_came_to)
{
    struct uf_case d = wet();
    d.ground.highest_given = true;
    cr_assert_eq(uf_settle(&d, true, NULL), UF_OK);
    cr_assert(d.anchors.deadmen > 0 || d.anchors.has_pad);
    expect(&d, true, 1, d.anchors.deadmen > 0 ? "2 deadmen" : "a pad");
    expect(&d, false, 0, "");
    d.limits.uplift_factor = 0.1;
    cr_assert_eq(uf_settle(&d, true, NULL), UF_OK);
    expect(&d, true, 1, "none: flotation is met without");
    d.limits.uplift_factor = 50.0;
    cr_assert_eq(uf_settle(&d, true, NULL), UF_OK);
    expect(&d, true, 1, "is enough");
    d.anchors.least = false;
    d.board.least = true;
    d.wheel_N = 71e3;
    cr_assert_eq(uf_settle(&d, true, NULL), UF_OK);
    expect(&d, true, 1, "the weakest type that carries the load");
    d.wheel_N = 71e6;
    cr_assert_eq(uf_settle(&d, true, NULL), UF_OK);
    expect(&d, true, 1, "the strongest there is, which does not carry the load");
}
