#ifndef UF_REMARK_H
#define UF_REMARK_H

#include "solver/base/message.h"
#include "solver/design/case.h"
#include "solver/run/record.h"

/* What a person must know before trusting a run: methods outside their range, a domain too small, a
   heat balance that does not close, a tank too short for a section. One row each in remark.c. */
#define UF_REMARKS_MOST 16
struct uf_remarks {
    struct uf_message rows[UF_REMARKS_MOST];
    size_t n;
};

/* The remarks that hold of a run of the design; each stands once. */
void uf_remarks(struct uf_remarks *out, const struct uf_case *design,
                const struct uf_summary *summary);

#endif
