#ifndef UF_DRAFT_ROUTE_H
#define UF_DRAFT_ROUTE_H

#include "draft_section.h"

/* Pipes and standpipes, by their routes where the site file gives them: a stub at the tank's right end
   or nothing where it does not. */

/* Before the tank is drawn; the names over them. */
void uf_draft_route_section(const struct uf_draft_section *section);

/* Within the window. */
void uf_draft_route_plan(struct uf_draft *draft, const struct uf_view *view,
                         const struct uf_box *window);

/* Does every pipe and every standpipe have a route? */
bool uf_draft_route_all(const struct uf_draft *draft);

#endif
