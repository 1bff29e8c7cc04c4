#ifndef UF_CLIMATE_DRAW_H
#define UF_CLIMATE_DRAW_H

#include "cli/options.h"
#include "cli/tell/answer.h"
#include "solver/weather/winter.h"

/* Can it be drawn as asked? Letters need no folder, other formats do, and none moves.
   Errors: UF_E_INPUT. */
enum uf_status uf_climate_draw_check(const struct uf_arguments *args, struct uf_error *err);

/* Draws the winters of a record and the design winter, into the folder of --output or in
   letters; nothing where neither was asked for. Nobody names a winter here, so it is the
   1 in 30; the mean year of a typical one; the coldest on file where the record is too
   short for it; the record as it is where no winter is whole.

   mean    the record's mean year, NULL: none
   answer  takes "design_winter" and "files"; NULL: both are printed

   Errors: UF_E_INPUT, UF_E_FILE, UF_E_MEMORY. */
enum uf_status uf_climate_draw(const struct uf_weather *weather,
                               const struct uf_winter_list *winters,
                               const struct uf_winter_mean_year *mean,
                               const struct uf_arguments *args, cJSON *answer,
                               struct uf_error *err);

#endif
