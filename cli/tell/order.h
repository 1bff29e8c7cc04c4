#ifndef UF_ORDER_H
#define UF_ORDER_H

#include "io/report/report.h"
#include "io/site/site_file.h"
#include "solver/statics/uplift.h"
#include "solver/works/quantities.h"

/* What is ordered, thing by thing: volumes, the tank with all that is fitted to it, board, anchors. One
   list for the sheet's table and the terminal's lines. uplift: NULL where it is not known. */
void uf_order_report(struct uf_report *report, const struct uf_site *site,
                     const struct uf_quantities *quantities, const struct uf_uplift *uplift,
                     enum uf_units units);
void uf_order_show(const struct uf_site *site, const struct uf_quantities *quantities,
                   const struct uf_uplift *uplift, enum uf_units units);

#endif
