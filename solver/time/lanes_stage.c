#include "lanes_kernel.h"

#include <string.h>

void uf_lanes_stage(struct uf_lanes_shape *s, const struct uf_lanes_now *outside,
                    float c[4][UF_LANES], bool fresh, struct uf_lanes_flow *flow)
{
    memset(flow, 0, sizeof *flow);
    EACH_LANE
    {
        flow->bottom[l] = s->bottom_W[l];
    }
    s->kernel->rows(s, c, s->turn);
    s->kernel->temperatures(s, s->T);
    s->kernel->links(s, c[2], fresh, s->turn);
    s->kernel->surface(s, outside, c[2], s->turn, flow);
}
