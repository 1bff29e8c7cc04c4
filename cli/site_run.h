#ifndef UF_SITE_RUN_H
#define UF_SITE_RUN_H

#include "io/site/site_weather.h"
#include "options.h"
#include "solver/run/run.h"

/* What every command that simulates needs: the site, its weather, and the weather turned
   into what drives the surface. */
struct uf_site_run {
    struct uf_site *site;
    struct uf_site_weather *weather;
    struct uf_forcing *forcing;
    struct uf_run_options options;
    bool every; /* climate.winter is `every`: weather holds the mean year in its place */
};

/* Reads all of it from the command line's site file and --set. Tells what is wrong
   itself; winter `every` is wrong for a command that does not say it takes it. returns
   enum uf_exit; 0:
   out is filled, to be closed with uf_site_run_close */
int uf_site_run_open(struct uf_site_run *out, const struct uf_arguments *args);
void uf_site_run_close(struct uf_site_run *run);

/* The same for a site that is open already, run->site, the rest of run being zero; run->site stays
   the caller's where this fails. */
enum uf_status uf_site_run_start(struct uf_site_run *run, const struct uf_arguments *args,
                                 struct uf_error *err);

/* Another winter for the same site (a sensitivity). Errors as uf_site_weather_create. */
enum uf_status uf_site_run_winter(struct uf_site_weather **weather, struct uf_forcing **forcing,
                                  const struct uf_site *site, const struct uf_winter_choice *winter,
                                  struct uf_error *err);

#endif
