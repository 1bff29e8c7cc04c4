#ifndef UF_GROUND_WINTERS_H
#define UF_GROUND_WINTERS_H

#include "io/site/site_score.h"

/* Frost as it was measured: site files in climates/ with a string of sensors under `observed`, each
   run through one or more winters and scored as the command score does. */

#define UF_GROUND_SETS 3

struct uf_ground_winter {
    const char *station, *part; /* rows of one station stand together */
    const char *file;           /* in climates/ */
    const char *sets[UF_GROUND_SETS];
    const char *miss; /* why its frost is shown and not held; NULL: it is held */
};
extern const struct uf_ground_winter uf_ground_winters_rows[]; /* ended by a NULL station */
extern const char uf_ground_winters_source[];                  /* of readings and soil */

/* What one winter came to. */
struct uf_ground_outcome {
    struct uf_site *site;
    struct uf_site_score score;
};

/* Errors: those of reading the site and of its run. Free with uf_ground_winters_free, also after an
   error. */
enum uf_status uf_ground_winters_run(struct uf_ground_outcome *out,
                                     const struct uf_ground_winter *winter,
                                     const struct uf_season_options *options, struct uf_error *err);
void uf_ground_winters_free(struct uf_ground_outcome *outcome);

#endif
