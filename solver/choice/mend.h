#ifndef UF_MEND_H
#define UF_MEND_H

#include "choice.h"

/* The least changes that mend an option that fails, each alone. */
struct uf_mend {
    double concrete_m3; /* to add against flotation; 0: not what is missing */
    double cover_m;     /* least cover against flotation, where it may be had; NAN */
    const struct uf_foam
        *type; /* weakest type that carries the load, where the board fails; NULL */
    long row;  /* cheapest option that is ok and differs in one value; -1 */
};

/* Errors: those of the load check. */
enum uf_status uf_mend(struct uf_mend *out, const struct uf_choices_result *choices, size_t row,
                       struct uf_error *err);

#endif
