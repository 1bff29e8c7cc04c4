#include "cost.h"

#include "solver/base/constants.h"

#include <math.h>
#include <stddef.h>

#define PRICE(member) offsetof(struct uf_costs, member)

const struct uf_cost_row uf_cost_rows[UF_COST_ITEMS] = {
    [UF_COST_EXCAVATION] = {"excavation", "excavation", UF_QUANTITY_VOLUME, true,
                            PRICE(excavation_m3)},
    [UF_COST_HAUL] = {"haul", "haul of spoil", UF_QUANTITY_VOLUME, false, PRICE(haul_m3)},
    [UF_COST_FILL] = {"backfill", "backfill, bedding", UF_QUANTITY_VOLUME, true,
                      PRICE(backfill_m3)},
    [UF_COST_BOARD] = {"board", "board", UF_QUANTITY_VOLUME, true, PRICE(board_m3)},
    [UF_COST_SLEEVE] = {"sleeve", "sleeves on risers", UF_QUANTITY_VOLUME, true, PRICE(sleeve_m3)},
    [UF_COST_LID] = {"lid", "insulation of lids", UF_QUANTITY_VOLUME, false, PRICE(lid_m3)},
    [UF_COST_CONCRETE] = {"concrete", "concrete, anchors and ballast", UF_QUANTITY_VOLUME, true,
                          PRICE(concrete_m3)},
    [UF_COST_STRAPS] = {"strap", "straps", UF_QUANTITY_FACTOR, false, PRICE(strap)},
    [UF_COST_GEOTEXTILE] = {"geotextile", "geotextile", UF_QUANTITY_AREA, false,
                            PRICE(geotextile_m2)},
    [UF_COST_SHORING] = {"shoring", "shoring", UF_QUANTITY_LENGTH, false, PRICE(shoring_m)},
    [UF_COST_FIXED] = {"fixed", "fixed sum", UF_QUANTITY_FACTOR, false, PRICE(fixed)},
};

double uf_cost_price(const struct uf_costs *costs, enum uf_cost_item item)
{
    return *(const double *)(const void *)((const char *)costs + uf_cost_rows[item].price);
}

/* The resistance of the risers' lids as foam of the sleeves' conductivity: area x R x k. */
static double lids_m3(const struct uf_case *design)
{
    double sum_m3 = 0.0;
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        const struct uf_riser *riser = &design->tank.risers[i];
        sum_m3 += 0.25 * UF_PI * riser->diameter_m * riser->diameter_m * riser->lid_m2K_W *
                  riser->shell.sleeve_W_mK;
    }
    return sum_m3;
}

void uf_cost(struct uf_cost *out, const struct uf_case *design, const struct uf_pit *pit,
             double ballast_m3)
{
    const double top_m = pit->dig.fill_top_m, below_m = design->costs.shoring_below_m;
    *out = (struct uf_cost){
        .amount = {[UF_COST_EXCAVATION] = pit->excavation_m3,
                   [UF_COST_HAUL] = pit->spoil_m3,
                   [UF_COST_FILL] = pit->backfill_m3 + pit->bedding_m3 + pit->lack_m3,
                   [UF_COST_BOARD] = pit->board_m3,
                   [UF_COST_SLEEVE] = uf_dig_sleeves_m3(design, -INFINITY, INFINITY),
                   [UF_COST_LID] = lids_m3(design),
                   [UF_COST_CONCRETE] = pit->concrete_m3 + ballast_m3,
                   [UF_COST_STRAPS] = (double)design->anchors.straps,
                   [UF_COST_GEOTEXTILE] = uf_dig_skin_m2(&pit->dig, top_m) +
                                          4.0 * uf_dig_half_width_m(&pit->dig, top_m) *
                                              uf_dig_half_length_m(&pit->dig, top_m),
                   [UF_COST_SHORING] = fmax(0.0, pit->depth_m - below_m),
                   [UF_COST_FIXED] = 1.0},
        .total = NAN,
        .complete = true};
    for (size_t i = 0; i < UF_COST_ITEMS; i++) {
        const double price = uf_cost_price(&design->costs, (enum uf_cost_item)i);
        out->part[i] = out->amount[i] > 0.0 ? out->amount[i] * price : 0.0 * price;
        if (!isnan(price)) {
            out->total = isnan(out->total) ? out->part[i] : out->total + out->part[i];
        } else if (uf_cost_rows[i].needed && out->amount[i] > 0.0) {
            out->complete = false;
        }
    }
}
