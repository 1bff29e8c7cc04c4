#ifndef UF_SOAK_H
#define UF_SOAK_H

#include "solver/heat/section.h"
#include "solver/time/season.h"

/* Groundwater that rises and falls through the year, in a run: each day the ground below the table
   (ground.year) is saturated and that above it moist. Ground below 0 degC keeps the water it has
   until it thaws: ice does not drain, and nothing runs in. Water comes and goes at the temperature
   of the ground it meets; its heat is a boundary's own (uf_season_changed_J). */
struct uf_soak;

/* Borrows all; the season asks it from now on. Errors: UF_E_MEMORY. */
enum uf_status uf_soak_create(struct uf_soak **out, const struct uf_case *design,
                              struct uf_section *section, struct uf_season *season,
                              struct uf_error *err);
void uf_soak_free(struct uf_soak *soak); /* NULL is fine */

/* Water that has come and gone since creation, m3, as the network counts (a metre of tank, half
   section). From the latent heat of what the ground holds. */
struct uf_soak_water {
    double in_m3, out_m3;
};
struct uf_soak_water uf_soak_water(const struct uf_soak *soak);

#endif
