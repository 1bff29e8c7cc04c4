#ifndef UF_LANES_KERNEL_H
#define UF_LANES_KERNEL_H

#include "lanes_private.h"

/* The loops of a stage, for one kind of machine. */
struct uf_lanes_kernel {
    /* turn from U of the cells: the recurrence of uf_lanes_stage without links and surface */
    void (*rows)(const struct uf_lanes_shape *shape, float c[4][UF_LANES], float *turn);
    /* of the nodes that are asked for, into T [n] */
    void (*temperatures)(const struct uf_lanes_shape *shape, float *T);
    /* of all nodes in use, from the state H [n][UF_LANES] */
    void (*all_temperatures)(const struct uf_lanes_shape *shape, const double *H, float *T);
    /* adds what links bring, times scale, to rate [n]; fresh: with conductances anew */
    void (*links)(const struct uf_lanes_shape *shape, const float *scale, bool fresh, float *rate);
    /* the same of surface, risers and what comes from below; adds to the flows */
    void (*surface)(const struct uf_lanes_shape *shape, const struct uf_lanes_now *outside,
                    const float *scale, float *rate, struct uf_lanes_flow *flow);
    /* by how much each lane leaves the range of what drives it, J/m3, into out [UF_LANES]; at most 0:
       within */
    void (*beyond)(const struct uf_lanes_shape *shape, float *out);
    /* and by how much its coldest node is below what cannot freeze in a step, at the step's start */
    void (*cold)(const struct uf_lanes_shape *shape, float *below);
};

/* Four lanes a vector, eight (AVX2), all sixteen (AVX-512). */
extern const struct uf_lanes_kernel uf_lanes_kernel_any, uf_lanes_kernel_v3, uf_lanes_kernel_v4;

/* That of the machine this runs on. */
const struct uf_lanes_kernel *uf_lanes_kernel(void);

/* Can the compiler make all kinds? One that cannot takes what it was told to build for. */
#if defined(__x86_64__)
#include <immintrin.h>
#endif
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__)
#define UF_LANES_KINDS 1
#else
#define UF_LANES_KINDS 0
#endif

#endif
