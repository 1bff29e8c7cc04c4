#include "remark_private.h"
#include "solver/weather/surface.h"

#include <math.h>

static const double APART = 0.25; /* of a published depth */

/* The run's depth where no snow lies: what the formulas speak of. */
UF_REMARK_VALUE(bare_frost_m, isnan(run.s->frost_without_snow_m) ? run.s->frost_undisturbed_m
                                                                 : run.s->frost_without_snow_m)

/* As a share of the published depth; 0 where there is none to speak of. */
static double apart(struct uf_remark_run run, double published_m)
{
    return published_m > 0.0 ? fabs(bare_frost_m(run) / published_m - 1.0) : 0.0;
}

UF_REMARK_VALUE(off_berggren, apart(run, run.s->berggren_m))
UF_REMARK_VALUE(off_relations, apart(run, run.s->relations_m))
UF_REMARK_WHERE(is_above_berggren,
                off_berggren(run) > APART && bare_frost_m(run) > run.s->berggren_m)
UF_REMARK_WHERE(is_below_berggren,
                off_berggren(run) > APART && bare_frost_m(run) < run.s->berggren_m)
UF_REMARK_WHERE(is_above_relations,
                off_relations(run) > APART && bare_frost_m(run) > run.s->relations_m)
UF_REMARK_WHERE(is_below_relations,
                off_relations(run) > APART && bare_frost_m(run) < run.s->relations_m)
UF_REMARK_WHERE(counts_snow, uf_surface_lies(&run.design->surface))
UF_REMARK_VALUE(without_snow_m, run.s->frost_without_snow_m)

const struct uf_remark_row uf_remark_depth_rows[UF_REMARK_DEPTH_ROWS] = {
    {counts_snow,
     "snow is counted in the design winter; its density alone can move the frost depth threefold, and "
     "no one can promise it: without snow the frost in undisturbed ground reaches {}; design for "
     "surface.snow: none unless the snow is certain to lie",
     without_snow_m, UF_QUANTITY_LENGTH},
    {is_above_berggren,
     "frost in undisturbed ground is {} deeper than by the modified Berggren formula: look at the "
     "ground's moisture (dry layers freeze deep), at a start colder than the mean year, and at thaws "
     "in the winter that the formula counts against the frost",
     off_berggren, UF_QUANTITY_SHARE},
    {is_below_berggren,
     "frost in undisturbed ground is {} shallower than by the modified Berggren formula: look at a "
     "start warmer than the mean year, at the geothermal flux, at grid.depth, and at water that holds "
     "the frost up where layers differ much",
     off_berggren, UF_QUANTITY_SHARE},
    {is_above_relations,
     "frost in undisturbed ground is {} deeper than published relations with the freezing index for "
     "ground clear of snow: likely reasons are a film without the sun (bare ground has n-factors of "
     "0.7 to 0.9) and ground drier or more conductive than the soils of highways and streets",
     off_relations, UF_QUANTITY_SHARE},
    {is_below_relations,
     "frost in undisturbed ground is {} shallower than published relations with the freezing index for "
     "ground clear of snow: likely reasons are ground wetter or finer than the soils of highways and "
     "streets, a high water table, or a mild year around the winter",
     off_relations, UF_QUANTITY_SHARE},
};
