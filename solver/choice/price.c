#include "price.h"

#include <math.h>

struct uf_price_change uf_price_change(const struct uf_choices_result *choices,
                                       const struct uf_costs *costs, enum uf_cost_item item,
                                       bool up)
{
    struct uf_price_change out = {NAN, -1};
    const double now = uf_cost_price(costs, item);
    if (choices->pick < 0 || !choices->priced || isnan(now)) {
        return out;
    }
    const struct uf_cost *mine = &choices->rows[choices->pick].cost;
    for (size_t i = 0; i < choices->n; i++) {
        const struct uf_choice *row = &choices->rows[i];
        const double more = mine->amount[item] - row->cost.amount[item];
        if (!row->ok || row->trial == UF_CHOICE_FRAGILE ||
            (up ? !(more > 1e-9) : !(more < -1e-9))) {
            continue;
        }
        const double price = now + (row->cost.total - mine->total) / more;
        const double nearer = up ? out.price - price : price - out.price;
        const bool first = out.row < 0 || nearer > 0.0;
        const bool even = nearer == 0.0 && uf_choice_better(row, &choices->rows[out.row], true);
        if (price > 1e-9 && (first || even)) {
            out = (struct uf_price_change){price, (long)i};
        }
    }
    return out;
}
