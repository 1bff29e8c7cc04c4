#include "solver/base/constants.h"
#include "solver/works/cost.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>

static void same(double got, double expected, const char *what)
{
    cr_expect(fabs(got - expected) <= 1e-9 * fmax(1.0, fabs(expected)),
              "%s: got %.9g, expected %.9g", what, got, expected);
}

static struct uf_case design;
static struct uf_pit pit;

static struct uf_cost cost(double ballast_m3)
{
    struct uf_cost got;
    struct uf_error err = {0};
    cr_assert_eq(uf_pit(&pit, &design, &err), UF_OK, "%s", err.text);
    uf_cost(&got, &design, &pit, ballast_m3);
    return got;
}

static void setup(void)
{
    statics_works(&design);
    statics_works_board(&design);
    design.costs.excavation_m3 = 25.0;
    design.costs.board_m3 = 240.0;
    design.costs.concrete_m3 = 450.0;
    design.costs.backfill_m3 = 35.0;
}
TestSuite(cost, .init = setup);

Test(cost, with_and_without_prices)
{
    struct uf_cost got = cost(2.0);
    same(got.part[UF_COST_EXCAVATION], 25.0 * pit.excavation_m3, "excavation");
    same(got.part[UF_COST_CONCRETE], 900.0, "concrete");
    same(got.part[UF_COST_FILL], 35.0 * (pit.backfill_m3 + pit.bedding_m3), "backfill");
    double sum = 0.0;
    for (size_t i = 0; i < UF_COST_ITEMS; i++) {
        sum += isnan(got.part[i]) ? 0.0 : got.part[i];
    }
    same(got.total, sum, "total");
    cr_expect(got.complete, "haul, straps and the like may go without a price");
    design.costs.concrete_m3 = NAN;
    got = cost(2.0);
    cr_expect(isnan(got.part[UF_COST_CONCRETE]) && !got.complete);
    same(got.total, sum - 900.0, "of what has a price");
    cr_expect(cost(0.0).complete, "no concrete, no price needed");
    design.costs.excavation_m3 = design.costs.board_m3 = design.costs.backfill_m3 = NAN;
    got = cost(0.0);
    cr_expect(isnan(got.total) && !got.complete);
}

/* Haul by the bank, straps by the piece, 4.0 m of pit below 1.5 m: 2.5 m of shoring. */
Test(cost, items_that_need_no_price)
{
    const double before = cost(0.0).total;
    design.costs.haul_m3 = 10.0;
    design.costs.strap = 70.0;
    design.costs.fixed = 1000.0;
    design.costs.shoring_m = 400.0;
    design.costs.shoring_below_m = 1.5;
    design.anchors.straps = 4;
    const struct uf_cost got = cost(0.0);
    same(got.part[UF_COST_HAUL], 10.0 * pit.spoil_m3, "haul");
    same(got.part[UF_COST_STRAPS], 280.0, "straps");
    same(got.part[UF_COST_SHORING], 1000.0, "shoring");
    same(got.total, before + 10.0 * pit.spoil_m3 + 2280.0, "total");
}

/* A lid of 2 m2.K/W over 0.6 m, as foam of 0.032 W/m/K: 64 mm over 0.283 m2. */
Test(cost, a_lid_is_paid_for_by_its_foam)
{
    design.tank.n_risers = 1;
    design.tank.risers[0] = (struct uf_riser){.diameter_m = 0.6,
                                              .above_grade_m = -0.3,
                                              .lid_m2K_W = 2.0,
                                              .shell = {.sleeve_W_mK = 0.032}};
    cr_expect(cost(0.0).complete, "a lid needs no price");
    design.costs.lid_m3 = 500.0;
    same(cost(0.0).part[UF_COST_LID], 500.0 * UF_PI * 0.09 * 0.064, "lid");
}
