#ifndef UF_WINTER_PRIVATE_H
#define UF_WINTER_PRIVATE_H

#include "winter.h"

/* The usable winter whose index is nearest to degC_day among those farther from it than
   `beyond` (negative: any); NULL when there is none. */
const struct uf_winter *uf_winter_pick_nearest(const struct uf_winter_list *list, double degC_day,
                                               double beyond_degC_day);

/* Which recorded winter gives a season its shape (borrowed from list), and which freezing
   index is asked for. Errors: UF_E_INPUT with the remedy, as told at
   uf_winter_season_create. */
enum uf_status uf_winter_pick(const struct uf_winter **winter, double *asked_degC_day,
                              const struct uf_weather *weather, const struct uf_winter_list *list,
                              const struct uf_winter_choice *choice, struct uf_error *err);

#endif
