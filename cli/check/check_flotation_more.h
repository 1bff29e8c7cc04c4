#ifndef UF_CHECK_FLOTATION_MORE_H
#define UF_CHECK_FLOTATION_MORE_H

#include "cli/options.h"
#include "cli/tell/answer.h"
#include "solver/statics/uplift.h"
#include "solver/statics/water_least.h"
#include "solver/statics/wedge.h"
#include "solver/statics/wet_pit.h"

/* What the topic flotation tells beyond the verdict: deadmen that would be enough, the open pit
   filled with water, the water table through the year, the wedge of soil beside an anchor. */
struct uf_check_flotation_more {
    double deadman_side_m; /* see uf_uplift_deadman_side */
    double contact_Pa;     /* of a strap on a round shell; NAN: not known */
    struct uf_wet_pit wet;
    bool has_year;
    struct uf_water_least year;
    bool has_wedge;
    struct uf_wedge wedge;
};

enum uf_status uf_check_flotation_more_find(struct uf_check_flotation_more *out,
                                            const struct uf_site *site,
                                            const struct uf_column_soils *soils,
                                            const struct uf_uplift *uplift, struct uf_error *err);
void uf_check_flotation_more_answer(cJSON *object, const struct uf_check_flotation_more *more);
void uf_check_flotation_more_show(const struct uf_arguments *args, const struct uf_site *site,
                                  const struct uf_check_flotation_more *more);

#endif
