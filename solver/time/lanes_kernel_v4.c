#include "lanes_kernel.h"

/* For machines with AVX-512. */
#if UF_LANES_KINDS
#pragma GCC target("arch=x86-64-v4")
#define UF_LANES_KERNEL uf_lanes_kernel_v4
#include "lanes_kernel_body.h"
#else
typedef int uf_lanes_kernel_v4_unused;
#endif
