#ifndef UF_PRICE_H
#define UF_PRICE_H

#include "choice.h"

/* At which price the recommended option changes. A cost is a sum of amounts times prices, so with
   one price p alone it is  cost(p) = cost(p0) + amount (p - p0);  two options cost the same at
     p = p0 + (cost_b - cost_a) / (amount_a - amount_b),
   and the nearest such p on either side of today's is where another takes over. */
struct uf_price_change {
    double price; /* NAN: no price on that side changes anything */
    long row;     /* takes over there; -1 */
};

/* Looks among rows that are ok and not fragile. up: at a higher price, else at a lower, above 0.
   None where rows are not chosen by cost, or the item has no price. */
struct uf_price_change uf_price_change(const struct uf_choices_result *choices,
                                       const struct uf_costs *costs, enum uf_cost_item item,
                                       bool up);

#endif
