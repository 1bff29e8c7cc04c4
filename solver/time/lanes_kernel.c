#include "lanes_kernel.h"

#define UF_LANES_KERNEL uf_lanes_kernel_any
#include "lanes_kernel_body.h"

const struct uf_lanes_kernel *uf_lanes_kernel(void)
{
#if UF_LANES_KINDS
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512bw") && __builtin_cpu_supports("avx512vl")) {
        return &uf_lanes_kernel_v4;
    }
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) {
        return &uf_lanes_kernel_v3;
    }
#endif
    return &uf_lanes_kernel_any;
}
