#ifndef UF_SETTLE_H
#define UF_SETTLE_H

#include "solver/design/case.h"

/* What a design leaves open is settled by statics, which no winter changes: `board.type: least`,
   `anchors: least`. */

/* board.least: the weakest of the XPS types (all of one conductivity) whose use by uf_load is at
   most 1 here; the strongest where none carries the load.
   anchors.least: of the kinds of anchor (two deadmen as long as the tank's plan, a pad under it) the
   one that costs least with its pit (without prices: takes less concrete), just so large that
   the factor of safety against flotation is what is asked for; none where it is met without.
   sure: in every sensitivity case that is not left out too (drier soil is lighter). Sizes are rounded up to
   UF_SETTLE_STEP_M. Where no size is enough the anchors stay out, and the limit says so.
   Errors: those of uplift, load and pit. */
enum uf_status uf_settle(struct uf_case *design, bool sure, struct uf_error *err);

#define UF_SETTLE_STEP_M   0.01 /* of sizes */
#define UF_SETTLE_STRAPS_M 1.5  /* a strap each so far along the tank, two at least; the same */

#endif
