#ifndef UF_MEASURE_H
#define UF_MEASURE_H

#include "robust.h"

/* The cells of an option: its cases as they are screened, itself and its cases in three
   dimensions. */
#define UF_ROBUST_SOLID (UF_VARIANTS)
#define UF_ROBUST_CELLS (2 * UF_VARIANTS + 1)

/* Where no option is robust: the first measure that makes one so, on the option that comes nearest:
   a thicker board, one that reaches further, a better lid, a thicker sleeve on the
   risers, more cover, then all of them together;
   each in steps up to its bound. The largest step is tried first, then the smallest that will do. */
struct uf_measure {
    struct uf_robust_measure found;
    size_t at, step; /* measure and step on trial */
    bool begun, over;
    bool largest; /* looking for the largest step that fits; else for the smallest that will do */
    size_t most;  /* the step that will do */
    size_t cells[UF_ROBUST_CELLS];
    size_t run;              /* of the design case, as it is screened */
    struct uf_choice choice; /* on trial */
    struct uf_case design;
};

void uf_measure_begin(struct uf_measure *search);

/* Goes on until it has to wait for runs, or is over. */
enum uf_status uf_measure_next(struct uf_robust *robust, struct uf_error *err);

#endif
