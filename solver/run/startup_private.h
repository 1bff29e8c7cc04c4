#ifndef UF_STARTUP_PRIVATE_H
#define UF_STARTUP_PRIVATE_H

#include "startup.h"

/* Is there frost under thawed ground, left from an earlier winter, or in the lowest row? */
bool uf_startup_frost_stays(const struct uf_heat *heat, const double *T_degC);

/* Years as they come, until one ends within the tolerance of where it began. What is left
   then is the rest of a geometric series of the yearly changes. A correction that is right
   for heat does not know which cell of lasting frost it tips over. */
enum uf_status uf_startup_repeat_plainly(struct uf_season *season, const struct uf_heat *heat,
                                         const struct uf_drive *year, double tolerance_K,
                                         struct uf_startup_result *result, struct uf_error *err);

#endif
