#ifndef UF_REMARKS_H
#define UF_REMARKS_H

#include "answer.h"
#include "io/text/quantity.h"
#include "solver/run/record.h"

/* What a person must know before trusting a run: methods outside their range, a domain
   too small, a heat balance that does not close, a tank too short for a section. */
#define UF_REMARKS_MOST 16
struct uf_remarks {
    char text[UF_REMARKS_MOST][320];
    size_t n;
};
void uf_remarks(struct uf_remarks *out, const struct uf_case *design,
                const struct uf_summary *summary);

/* As text for people, nothing where there is none; as a list `remarks` into object. */
void uf_remarks_show(const struct uf_remarks *remarks, enum uf_units units);
void uf_remarks_answer(cJSON *object, const struct uf_remarks *remarks);

#endif
