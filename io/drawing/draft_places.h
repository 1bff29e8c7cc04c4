#ifndef UF_DRAFT_PLACES_H
#define UF_DRAFT_PLACES_H

#include "io/site/site_file.h"

/* What a crew sets out: levels, and places in plan counted along from the tank's left end and across
   from its axis, up in plan positive. One list for drawing and sheet. */

#define UF_DRAFT_PLACES 64

struct uf_draft_places_level {
    double depth_m; /* below grade */
    char what[80];
};

/* Deepest first; of rows there is room for UF_DRAFT_PLACES. Returns how many. The tank is there. */
size_t uf_draft_places_levels(struct uf_draft_places_level *rows, const struct uf_site *site);

/* A level by the benchmark, "98.800"; "-1.200" from grade where that is not known; feet and hundredths in
   US units. Returns text. */
char *uf_draft_places_text(char *text, size_t size, const struct uf_site *site, enum uf_units units,
                           double depth_m);

/* A rectangle from low to high, or a point where to_m is NAN. */
struct uf_draft_place {
    double from_m, to_m, low_m, high_m; /* along; across */
    double depth_m;                     /* NAN: none is set out */
    char what[80];
};

/* Pit, tank, anchors, straps, risers, board, bends of routes; what is not known is left out. Returns how
   many; room for UF_DRAFT_PLACES. */
size_t uf_draft_places(struct uf_draft_place *rows, const struct uf_site *site);

/* Depth of a pipe's centre at each place of its route, by its fall; depth_m[0] is where it leaves the
   tank. route has places. */
void uf_draft_places_fall(double *depth_m, const struct uf_site_route *route, double from_m);

#endif
