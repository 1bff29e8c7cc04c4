#ifndef UF_MEND_H
#define UF_MEND_H

#include "choice.h"

/* The least changes that mend an option that fails, each alone. */
struct uf_mend {
    struct uf_message
        what; /* of what needs no run: concrete, cover, board; "": nothing is missing */
    long row; /* cheapest option that is ok and differs in one value; -1 */
};

/* Errors: those of the load check. */
enum uf_status uf_mend(struct uf_mend *out, const struct uf_choices_result *choices, size_t row,
                       struct uf_error *err);

#endif
