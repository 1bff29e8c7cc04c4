#ifndef UF_SITE_WEATHER_H
#define UF_SITE_WEATHER_H

#include "site_file.h"
#include "solver/run/forcing.h"
#include "solver/weather/winter.h"

/* The weather a site asks for, read and made ready: from a station's file through the
   design winter, from a yearly cycle, or from a sensor in the ground. */
struct uf_site_weather {
    enum uf_source_kind source;
    struct uf_weather *record;       /* the station's file; NULL for a cycle */
    struct uf_winter_list *winters;  /* of the record; NULL without one */
    struct uf_winter_mean_year mean; /* meaningful when has_mean */
    bool has_mean;
    struct uf_winter_choice winter; /* what was asked for; meaningful with season */
    struct uf_winter_season
        *season; /* the design winter; NULL for a run as recorded, a cycle, a sensor */
    struct uf_forcing_weather weather; /* what drives the run */
    double *block;                     /* owns the arrays of weather that nothing else does */
    struct uf_message text;            /* one sentence: which winter drives the run */
    char note[512];                    /* warnings, "" */
};

/* winter: NULL for the site's own, or another (for a sensitivity).
   Errors: UF_E_FILE, UF_E_INPUT with the remedy. */
enum uf_status uf_site_weather_create(struct uf_site_weather **out, const struct uf_site *site,
                                      const struct uf_winter_choice *winter, struct uf_error *err);
void uf_site_weather_free(struct uf_site_weather *weather); /* NULL is fine */

/* Folder of the site file, "" for the current one; relative climate paths start there. */
void uf_site_weather_folder(char *folder, size_t size, const struct uf_site *site);

#endif
