#ifndef UF_SITE_START_H
#define UF_SITE_START_H

#include "io/text/quantity.h"
#include "solver/base/error.h"

#include <stdio.h>

/* A site file to start from, written from the table of keys: every key with its help
   behind it, what may be left out behind a '#' at the line's beginning. It runs as it is. */
struct uf_site_start {
    const char *shape;        /* a word of tank.shape, or "none" for bare ground */
    const char *climate_file; /* as in climate.file */
    const char *column;       /* NULL or "": the file holds one station */
    double latitude_deg;      /* NAN: not known */
    const char *winter;       /* as in climate.winter; NULL: 1 in 30 */
    enum uf_units units;      /* of its values, and of the answers */
};

/* Errors: UF_E_INPUT for an unknown shape, nothing is written then; UF_E_FILE. */
enum uf_status uf_site_start_write(FILE *out, const struct uf_site_start *start,
                                   struct uf_error *err);

#endif
