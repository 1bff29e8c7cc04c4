#ifndef UF_SITE_SCORE_H
#define UF_SITE_SCORE_H

#include "site_weather.h"
#include "solver/run/forcing.h"

/* A site's run held against what its file says was measured (observed). */
struct uf_site_score {
    struct uf_score_series *series; /* [n], temperatures by rising depth */
    size_t *rows;                   /* [n] which row of observed each is */
    size_t n, days;
    long start_day; /* of the run */
    struct uf_score_profile profile;
    double *block; /* owns what profile points to */
};

/* Runs the site through its weather and scores every series. out is to be freed after an error too.
   Errors: those of uf_site_observed_read and of a run; UF_E_INPUT when nothing was measured. */
enum uf_status uf_site_score(struct uf_site_score *out, const struct uf_site *site,
                             const struct uf_forcing_weather *weather,
                             const struct uf_forcing *forcing, const struct uf_run_options *options,
                             struct uf_error *err);
void uf_site_score_free(struct uf_site_score *score);

/* Name of a series: the column of its file. */
const char *uf_site_score_name(const struct uf_site_score *score, const struct uf_site *site,
                               size_t i);

#endif
