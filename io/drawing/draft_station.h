#ifndef UF_DRAFT_STATION_H
#define UF_DRAFT_STATION_H

#include "io/site/site_file.h"
#include "solver/design/anchor.h"

/* Stations along the tank, from its middle, m. */

/* How far from the middle a strap may lie: on the shell between its heads, and over what it is tied to.
   *key: of the anchor in the site file that ends it, NULL for the shell. */
double uf_draft_station_reach_m(const struct uf_case *design, const char **key);

/* Of straps, evenly apart where the site file has none; of risers, NAN where nobody knows. */
double uf_draft_station_strap_m(const struct uf_site *site, size_t i);
double uf_draft_station_riser_m(const struct uf_site *site, size_t i);

/* How many bodies of an anchor lie end to end on one side. */
size_t uf_draft_station_in_row(const struct uf_anchor_body *body);

#endif
