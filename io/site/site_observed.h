#ifndef UF_SITE_OBSERVED_H
#define UF_SITE_OBSERVED_H

#include "solver/study/score_run.h"

/* What a site file says was measured, and those readings over the days of a run. */

#define UF_SITE_OBSERVED 24

struct uf_site_observed {
    char file[256], column[UF_NAME_SIZE], unit[UF_NAME_SIZE]; /* unit "": that of the kind */
    int kind;                                                 /* enum uf_score_kind */
    double x_m, depth_m;                  /* x_m NAN: far from the tank; depth resolved */
    double below_crown_m, above_invert_m; /* NAN unless that form was used */
};

/* Nothing given. */
void uf_site_observed_init(struct uf_site_observed *observed);

struct uf_site;

/* The measured series of a site over days from start_day on, temperatures by rising depth; each with
   room for what the run computes. *rows: which row of the site each is, [n]. Free both with
   uf_site_observed_free. Errors: UF_E_FILE, UF_E_INPUT (no column, no number, a unit that does not
   convert, no reading within the run), UF_E_MEMORY. */
enum uf_status uf_site_observed_read(struct uf_score_series **out, size_t **rows,
                                     const struct uf_site *site, long start_day, size_t days,
                                     struct uf_error *err);
void uf_site_observed_free(struct uf_score_series *series, size_t *rows, size_t n);

#endif
