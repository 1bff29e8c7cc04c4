#ifndef UF_PLAUSIBLE_H
#define UF_PLAUSIBLE_H

#include "forcing.h"
#include "run.h"

/* What stands beside a computed frost depth, to tell a slip from a result: not proof.

   berggren_m      the layered modified Berggren formula with the design's own ground, surface and
                   water table, no snow; annual temperature: of the air in the repeated year, as the
                   formula is used (from memory), or the lowest reading of a given profile
   relations_m     the mean of two published relations of depth with the air freezing index, for
                   ground without snow or grass (Chisholm & Phang 1983; Fair, Geyer & Okun); NAN under
                   other surfaces and below 100 degC day, where the two are a quarter apart and more
   frost_without_snow_m   the run's undisturbed ground once more, with no snow; NAN where none is
                   counted

   Fills these members of a summary of one season; longer forcings are left NAN, and so is a column
   that cannot be run: nothing rests on them. Errors: memory, stopped. */
enum uf_status uf_plausible(struct uf_summary *summary, const struct uf_case *design,
                            const struct uf_forcing *forcing, const struct uf_run_options *options,
                            struct uf_error *err);

#endif
