#ifndef UF_CASE_PRIVATE_H
#define UF_CASE_PRIVATE_H

#include "case.h"

/* The faults found so far, and where the next one goes. */
struct uf_case_faults {
    struct uf_fault *rows;
    size_t n, n_max;
};

void uf_case_blame(struct uf_case_faults *faults, const char *key, struct uf_said what,
                   struct uf_said allowed);

#endif
