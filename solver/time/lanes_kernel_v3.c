#include "lanes_kernel.h"

/* For machines with AVX2. */
#if UF_LANES_KINDS
#pragma GCC target("arch=x86-64-v3")
#define UF_LANES_KERNEL uf_lanes_kernel_v3
#include "lanes_kernel_body.h"
#else
typedef int uf_lanes_kernel_v3_unused;
#endif
