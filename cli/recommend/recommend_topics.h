#ifndef UF_RECOMMEND_TOPICS_H
#define UF_RECOMMEND_TOPICS_H

#include "io/site/site_file.h"
#include "solver/statics/frost_force.h"
#include "solver/statics/lifting.h"
#include "solver/statics/load.h"
#include "solver/statics/roundness.h"
#include "solver/statics/suction.h"

/* The statics of an option beside flotation and board: each topic that the site file gives data for. */
struct uf_recommend_topics {
    bool has_suction, has_fittings, has_lifting, has_readings, has_forecast;
    struct uf_suction suction;
    struct uf_frost_force fittings;
    const struct uf_frost_force_bond *bond;
    struct uf_lifting lifting;
    struct uf_roundness roundness;
    struct uf_roundness_forecast forecast;
    double crown_Pa; /* dead load at the crown */
    char lacks[400]; /* what a topic was asked for without its data, "" */
};

/* design: the option; frost_m: computed in undisturbed ground. */
void uf_recommend_topics(struct uf_recommend_topics *out, const struct uf_site *site,
                         const struct uf_case *design, double frost_m);

#endif
