#ifndef UF_ASSUMED_H
#define UF_ASSUMED_H

#include "answer.h"
#include "io/text/quantity.h"
#include "solver/design/case.h"

/* What an answer stands on that the site file does not say, told in its first lines: the level of the
   groundwater, and what `least` came to. */

#define UF_ASSUMED_MOST 3

struct uf_assumed {
    char lines[UF_ASSUMED_MOST][320]; /* sentences */
    size_t n;
};

/* design: settled (settle.h). settled false: what is left to `least` is not told, since it differs from
   option to option. */
void uf_assumed(struct uf_assumed *out, const struct uf_case *design, bool settled,
                enum uf_units units);

/* The sentences as paragraphs; as the member `assumed`, a list of them in SI. */
void uf_assumed_show(const struct uf_case *design, bool settled, enum uf_units units);
void uf_assumed_answer(cJSON *object, const struct uf_case *design, bool settled);

#endif
