#include "ground_winters.h"

#include "io/weather/climate.h"

const char uf_ground_winters_source[] =
    "NOAA NCEI, US Climate Reference Network, 2020 (read), and USDA NRCS SNOTEL 428, checked by "
    "Heggli et al. 2022 (read). Soil by its water readings alone: texture, density and unfrozen "
    "water from the driest and the wettest, by Saxton & Rawls 2006 and the law of Clapeyron; water "
    "as the mean of the thawed readings";

const struct uf_ground_winter uf_ground_winters_rows[] = {
    {.station = "aberdeen", .part = "early", .file = "uscrn_aberdeen.yaml"},
    {.station = "aberdeen",
     .part = "late",
     .file = "uscrn_aberdeen.yaml",
     .sets =
         {"initial.date=2020-01-01", "initial.end=2020-06-01",
          "initial.profile=[[0.05 m, 0.4 degC], [0.1 m, 0.8 degC], [0.2 m, 1.2 degC], [0.5 m, 2 degC], [1.0 m, 3.1 degC]]"}},
    {.station = "goodridge", .part = "early", .file = "uscrn_goodridge.yaml"},
    {.station = "goodridge",
     .part = "late",
     .file = "uscrn_goodridge.yaml",
     .sets =
         {"initial.date=2020-01-01", "initial.end=2020-06-01",
          "initial.profile=[[0.05 m, 0 degC], [0.1 m, 0.1 degC], [0.2 m, 0.7 degC], [0.5 m, 1.1 degC], [1.0 m, 2.1 degC]]"}},
    {.station = "necedah", .part = "early", .file = "uscrn_necedah.yaml"},
    {.station = "necedah",
     .part = "late",
     .file = "uscrn_necedah.yaml",
     .sets =
         {"initial.date=2020-01-01", "initial.end=2020-06-01",
          "initial.profile=[[0.05 m, -0.1 degC], [0.1 m, 0 degC], [0.2 m, 0.4 degC], [0.5 m, 1.1 degC], [1.0 m, 2.2 degC]]"}},
    {.station = "pierre", .part = "early", .file = "uscrn_pierre.yaml"},
    {.station = "pierre",
     .part = "late",
     .file = "uscrn_pierre.yaml",
     .sets =
         {"initial.date=2020-01-01", "initial.end=2020-06-01",
          "initial.profile=[[0.05 m, -0.8 degC], [0.1 m, -0.1 degC], [0.2 m, 0.5 degC], [0.5 m, 1.6 degC], [1.0 m, 3.9 degC]]"}},
    {.station = "wolf_point", .part = "early", .file = "uscrn_wolf_point.yaml"},
    {.station = "wolf_point",
     .part = "late",
     .file = "uscrn_wolf_point.yaml",
     .sets =
         {"initial.date=2020-01-01", "initial.end=2020-06-01",
          "initial.profile=[[0.05 m, -2.4 degC], [0.1 m, -2.2 degC], [0.2 m, -1.9 degC], [0.5 m, 0 degC], [1.0 m, 2.8 degC]]"}},
    {.station = "snow", .part = "2005", .file = "cssl.yaml"},
    {.station = "snow",
     .part = "2006",
     .file = "cssl.yaml",
     .sets = {"initial.date=2006-10-01", "initial.end=2007-05-01",
              "initial.profile=[[0.05 m, 17.09 degC], [0.2 m, 15.57 degC], [0.5 m, 14.2 degC]]"}},
    {.station = "snow",
     .part = "2007",
     .file = "cssl.yaml",
     .sets = {"initial.date=2007-10-01", "initial.end=2008-03-05",
              "initial.profile=[[0.05 m, 9.88 degC], [0.2 m, 11.73 degC], [0.5 m, 12.83 degC]]"},
     .miss =
         "one cold night in autumn on ground still bare, which the sun had kept 3 K warmer than the air; "
         "a film knows no sun"},
    {.station = "snow",
     .part = "2008",
     .file = "cssl.yaml",
     .sets = {"initial.date=2008-10-01", "initial.end=2009-05-01",
              "initial.profile=[[0.05 m, 18.43 degC], [0.2 m, 16.03 degC], [0.5 m, 14.7 degC]]"}},
    {.station = "snow",
     .part = "2009",
     .file = "cssl.yaml",
     .sets = {"initial.date=2009-10-01", "initial.end=2010-05-01",
              "initial.profile=[[0.05 m, 15.85 degC], [0.2 m, 15.45 degC], [0.5 m, 15.44 degC]]"}},
    {.station = "snow",
     .part = "2010",
     .file = "cssl.yaml",
     .sets = {"initial.date=2010-10-01", "initial.end=2011-05-01",
              "initial.profile=[[0.05 m, 21.3 degC], [0.2 m, 17.83 degC], [0.5 m, 14.33 degC]]"}},
    {.station = "snow",
     .part = "2012",
     .file = "cssl.yaml",
     .sets = {"initial.date=2012-10-04", "initial.end=2013-05-01",
              "initial.profile=[[0.05 m, 18.97 degC], [0.2 m, 16.97 degC], [0.5 m, 15.13 degC]]"}},
    {.station = "snow",
     .part = "2013",
     .file = "cssl.yaml",
     .sets = {"initial.date=2013-10-01", "initial.end=2014-05-01",
              "initial.profile=[[0.05 m, 11.93 degC], [0.2 m, 11.8 degC], [0.5 m, 12.17 degC]]"}},
    {.station = "snow",
     .part = "2014",
     .file = "cssl.yaml",
     .sets = {"initial.date=2014-10-01", "initial.end=2015-05-01",
              "initial.profile=[[0.05 m, 12.35 degC], [0.2 m, 12.42 degC], [0.5 m, 12.58 degC]]"}},
    {.station = "snow",
     .part = "2015",
     .file = "cssl.yaml",
     .sets = {"initial.date=2015-10-01", "initial.end=2016-05-01",
              "initial.profile=[[0.05 m, 12.91 degC], [0.2 m, 14.95 degC], [0.5 m, 14.93 degC]]"}},
    {.station = "snow",
     .part = "2016",
     .file = "cssl.yaml",
     .sets = {"initial.date=2016-10-01", "initial.end=2017-05-01",
              "initial.profile=[[0.05 m, 17 degC], [0.2 m, 16.73 degC], [0.5 m, 15 degC]]"}},
    {.station = "snow",
     .part = "2017",
     .file = "cssl.yaml",
     .sets = {"initial.date=2017-10-01", "initial.end=2018-05-01",
              "initial.profile=[[0.05 m, 13.81 degC], [0.2 m, 12.88 degC], [0.5 m, 11.88 degC]]"}},
    {.station = "snow",
     .part = "2018",
     .file = "cssl.yaml",
     .sets = {"initial.date=2018-10-01", "initial.end=2019-05-01",
              "initial.profile=[[0.05 m, 17.49 degC], [0.2 m, 16.66 degC], [0.5 m, 15.68 degC]]"}},
    {.station = NULL},
};

static enum uf_status run_site(struct uf_ground_outcome *out,
                               const struct uf_season_options *options, struct uf_error *err)
{
    struct uf_site_weather *weather = NULL;
    struct uf_forcing *forcing = NULL;
    struct uf_run_options run = uf_run_defaults();
    run.season = *options;
    enum uf_status status = uf_site_weather_create(&weather, out->site, NULL, err);
    if (status == UF_OK) {
        status = uf_forcing_create(&forcing, &out->site->design.surface, &weather->weather, err);
    }
    if (status == UF_OK) {
        status = uf_site_score(&out->score, out->site, &weather->weather, forcing, &run, err);
    }
    uf_forcing_free(forcing);
    uf_site_weather_free(weather);
    return status;
}

enum uf_status uf_ground_winters_run(struct uf_ground_outcome *out,
                                     const struct uf_ground_winter *winter,
                                     const struct uf_season_options *options, struct uf_error *err)
{
    char path[UF_CLIMATE_PATH_SIZE];
    struct uf_site_override rows[UF_GROUND_SETS];
    struct uf_site_overrides sets = {rows, 0};
    struct uf_site_faults faults = {0};
    *out = (struct uf_ground_outcome){.site = NULL};
    while (sets.n < UF_GROUND_SETS && winter->sets[sets.n] != NULL) {
        rows[sets.n] = (struct uf_site_override){.text = winter->sets[sets.n]};
        sets.n++;
    }
    enum uf_status status = uf_climate_find(path, sizeof path, winter->file, NULL, err);
    if (status == UF_OK) {
        status = uf_site_read(&out->site, path, &sets, &faults, err);
    }
    return status == UF_OK ? run_site(out, options, err) : status;
}

void uf_ground_winters_free(struct uf_ground_outcome *outcome)
{
    uf_site_score_free(&outcome->score);
    uf_site_free(outcome->site);
    outcome->site = NULL;
}
