#ifndef UF_UPLIFT_MORE_H
#define UF_UPLIFT_MORE_H

#include "answer.h"
#include "cli/options.h"
#include "solver/statics/uplift.h"
#include "solver/statics/water_year.h"
#include "solver/statics/wedge.h"
#include "solver/statics/wet_pit.h"

/* What the uplift command tells beyond the verdict: deadmen that would do, the pit while
   it is wet, the water through the year, the wedge of soil beside an anchor. */
struct uf_uplift_more {
    double deadman_side_m; /* see uf_uplift_deadman_side */
    double contact_Pa;     /* of a strap on a round shell; NAN: not known */
    struct uf_wet_pit wet;
    bool has_year;
    struct uf_water_year_least year;
    bool has_wedge;
    struct uf_wedge wedge;
};

enum uf_status uf_uplift_more_find(struct uf_uplift_more *out, const struct uf_site *site,
                                   const struct uf_column_soils *soils,
                                   const struct uf_uplift *uplift, struct uf_error *err);
void uf_uplift_more_answer(cJSON *object, const struct uf_uplift_more *more);
void uf_uplift_more_show(const struct uf_arguments *args, const struct uf_site *site,
                         const struct uf_uplift_more *more);

#endif
