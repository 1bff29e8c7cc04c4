#ifndef UF_STUDY_PLAN_PRIVATE_H
#define UF_STUDY_PLAN_PRIVATE_H

#include "site_leaves.h"
#include "study_plan.h"

/* What the two files of the plan's reader share. */

/* Takes one leaf; key is what follows the prefix of its row. */
typedef enum uf_status uf_study_plan_leaf(struct uf_study_plan *plan, const char *key,
                                          const struct uf_site_leaf *leaf, struct uf_error *err);

/* study_plan_leaf.c: one for each row. */
uf_study_plan_leaf uf_study_plan_site, uf_study_plan_station, uf_study_plan_winters,
    uf_study_plan_set, uf_study_plan_vary, uf_study_plan_members, uf_study_plan_seed,
    uf_study_plan_drawn, uf_study_plan_correlations, uf_study_plan_options,
    uf_study_plan_reliability, uf_study_plan_life;

/* A new station at the end; NULL: no memory. A row whose file begins with "folder:" stands for all
   files of that folder. */
struct uf_study_station *uf_study_plan_new_station(struct uf_study_plan *plan);

/* Fails by a key of the plan. */
enum uf_status uf_study_plan_wrong(struct uf_error *err, const char *key, const char *what,
                                   const char *allowed);

#endif
