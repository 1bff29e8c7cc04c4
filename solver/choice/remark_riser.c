#include "remark_private.h"

#include <math.h>

static bool has_bare_side(struct uf_remark_run run)
{
    for (size_t i = 0; i < run.design->tank.n_risers; i++) {
        const struct uf_riser *riser = &run.design->tank.risers[i];
        if (riser->lid_at == UF_LID_TOP && !(riser->shell.wall_m > 0.0) &&
            !(riser->shell.sleeve_m > 0.0)) {
            return true;
        }
    }
    return false;
}

static bool has_buried_lid(struct uf_remark_run run)
{
    bool any = false;
    for (size_t i = 0; i < run.design->tank.n_risers; i++) {
        any = any || uf_case_riser_top_m(run.design, &run.design->tank.risers[i]) > 1e-6;
    }
    return any;
}

static bool no_sleeve_helps(struct uf_remark_run run)
{
    for (size_t i = 0; i < run.s->n_standpipes; i++) {
        const struct uf_standpipe_summary *pipe = &run.s->standpipes[i];
        if (pipe->ice_share > uf_case_pipe_ice_asked(run.design) && isnan(pipe->sleeve_m)) {
            return true;
        }
    }
    return false;
}

const struct uf_remark_row uf_remark_riser_rows[UF_REMARK_RISER_ROWS] = {
    {no_sleeve_helps,
     "no sleeve of up to 200 mm keeps the ice in a standpipe within limits.standpipe_ice: keep its "
     "water below the frost or drain it, and insulate its cap (standpipes[].cap)",
     NULL, UF_QUANTITY_FACTOR},
    {has_buried_lid,
     "a riser ends below grade: its lid counts as if it lay in the open air, its side only up to "
     "there; tank.risers[].above_grade in place of height takes it to grade at every cover",
     NULL, UF_QUANTITY_FACTOR},
    {has_bare_side,
     "a riser was given neither wall nor sleeve: its side counts as bare, the cold side of what it can "
     "be; tank.risers[].wall and .sleeve say what it is, .lid_at: crown that a frost cover at the "
     "crown closes it off",
     NULL, UF_QUANTITY_FACTOR}};
