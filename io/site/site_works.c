#include "site_works.h"

#include "site_private.h"

#include <math.h>

/* Words of the tables the works choose from, each with its index there. */
const struct site_word_row uf_site_works_swell_words[] = {
    {"sand", 0}, {"earth", 1}, {"clay", 2}, {"rock", 3}, {NULL, 0}};
const struct site_word_row uf_site_works_grading_words[] = {{"no_57", 0}, {"no_67", 1}, {"no_6", 2},
                                                            {"no_7", 3},  {"no_8", 4},  {NULL, 0}};
const struct site_word_row uf_site_works_reaction_words[] = {
    {"fine", 0}, {"mixed", 1}, {"clean_coarse", 2}, {"crushed_rock", 3}, {NULL, 0}};
const struct site_word_row uf_site_works_compaction_words[] = {
    {"dumped", 0}, {"slight", 1}, {"moderate", 2}, {"high", 3}, {NULL, 0}};
const struct site_word_row uf_site_works_bond_words[] = {
    {"concrete", 0}, {"steel", 1}, {"steel_in_gravel", 2}, {NULL, 0}};

void uf_site_works_init(struct uf_site_works *works)
{
    *works = (struct uf_site_works){.wedge_angle_degree = NAN,
                                    .strap_width_m = NAN,
                                    .grading = -1,
                                    .frost_depth_m = NAN,
                                    .bond = -1};
    uf_quantities_init(&works->quantities);
    uf_lifting_init(&works->lifting);
    uf_roundness_init(&works->roundness);
    uf_dewater_init(&works->dewater);
    uf_backfill_init(&works->backfill);
    uf_suction_init(&works->suction);
}
