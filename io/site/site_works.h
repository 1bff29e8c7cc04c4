#ifndef UF_SITE_WORKS_H
#define UF_SITE_WORKS_H

#include "solver/statics/backfill.h"
#include "solver/statics/lifting.h"
#include "solver/statics/roundness.h"
#include "solver/statics/suction.h"
#include "solver/works/dewater.h"
#include "solver/works/grading.h"
#include "solver/works/quantities.h"

/* What a site file says about doing the work: what is
   bought, lifted, measured and drawn. Numbers that were not given are NAN, choices from a
   table -1. */
struct uf_site_works {
    double wedge_angle_degree; /* anchors.wedge_angle */
    double strap_width_m;
    struct uf_quantities_input quantities;
    int grading; /* index into uf_grading_specs */
    struct uf_grading_list sieves;
    struct uf_lifting_input lifting;
    struct uf_roundness_input roundness;
    struct uf_backfill_input backfill;
    struct uf_dewater_input dewater;
    double frost_depth_m;
    int bond; /* index into uf_frost_force_bonds */
    struct uf_suction_input suction;
};

/* Nothing given. */
void uf_site_works_init(struct uf_site_works *works);

#endif
