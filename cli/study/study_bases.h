#ifndef UF_STUDY_BASES_H
#define UF_STUDY_BASES_H

#include "solver/study/members.h"
#include "study_group.h"

/* What the members of a variant that run in lanes have in common, option by option: one depth of fine
   rows, a tenth more than the variant's own guess, and so like grids; and the design that they are drawn
   round, from whose start theirs set out. Of the plan alone: it does not hang on which of them are run. */
struct uf_study_bases {
    struct uf_study_group undrawn; /* the variant without what is drawn */
    struct uf_members_base *rows;  /* [options] */
    double *frost_m;               /* [options] 0: of each member its own */
};
bool uf_study_bases_room(struct uf_study_bases *bases, const struct uf_study *study);
void uf_study_bases_free(struct uf_study_bases *bases, const struct uf_study *study);

/* Those of the variant whose first case this is; nothing where the plan is none for lanes. */
void uf_study_bases_take(struct uf_study_bases *bases, const struct uf_study *study, size_t first,
                         struct uf_study_weather *shared);

#endif
