#ifndef UF_COST_H
#define UF_COST_H

#include "pit.h"
#include "solver/base/quantity_kind.h"

/* What a design costs, item by item, each an amount times its price: so a total runs straight with
   any one price. */
enum uf_cost_item {
    UF_COST_EXCAVATION,
    UF_COST_HAUL,
    UF_COST_FILL,
    UF_COST_BOARD,
    UF_COST_SLEEVE,
    UF_COST_LID,
    UF_COST_CONCRETE,
    UF_COST_STRAPS,
    UF_COST_GEOTEXTILE,
    UF_COST_SHORING,
    UF_COST_FIXED,
    UF_COST_ITEMS
};

struct uf_cost_row {
    const char *key;           /* of its price: costs.<key> */
    const char *name;          /* for people */
    enum uf_quantity quantity; /* of the amount */
    bool needed;  /* without its price a total is not complete; else it is not counted */
    size_t price; /* offset of the price in struct uf_costs */
};
extern const struct uf_cost_row uf_cost_rows[UF_COST_ITEMS];

struct uf_cost {
    double amount[UF_COST_ITEMS]; /* m3, count, m2, m below costs.shoring.below, 1 */
    double part[UF_COST_ITEMS];   /* NAN: no price for it */
    double total;                 /* of what has a price; NAN: nothing has */
    bool complete;                /* everything that is needed has a price */
};

/* ballast_m3: concrete to add (uf_uplift); fill counts bedding, and native ground that lacks. */
void uf_cost(struct uf_cost *out, const struct uf_case *design, const struct uf_pit *pit,
             double ballast_m3);

/* The price of an item, NAN: not given. */
double uf_cost_price(const struct uf_costs *costs, enum uf_cost_item item);

#endif
