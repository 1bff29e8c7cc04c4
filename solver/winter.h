#ifndef UF_WINTER_H
#define UF_WINTER_H

#include "weather.h"

/* Winters of a daily record: freezing index by the cumulative-curve method, return
   periods, the mean year, and the design winter a run is driven with. A winter YYYY/YY
   runs August to July in the north (label: the year it begins), February to January in
   the south. */

struct uf_winter {
    int year; /* of its first day */
    long first_day, last_day;
    double freezing_index_degC_day; /* NAN when not usable */
    bool usable;                    /* no gap left after filling */
    size_t missing_days;
    long freeze_start,
        freeze_end; /* maximum and following minimum of the cumulative curve */
};

struct uf_winter_list {
    struct uf_winter *rows;
    size_t n, n_usable;
    bool south;
    double mean_degC_day,
        sd_degC_day; /* of the usable winters; NAN under 1 (sd: under 2) */
    double coldest_three_in_thirty_degC_day; /* mean of the 3 coldest of the latest 30
                                                usable; NAN under 10 */
    double gumbel_location, gumbel_scale;    /* by moments; NAN under 10 usable */
};

/* Freezing index of one series of daily means: the largest drop of the cumulative curve
   of degree-days from a maximum to a later minimum. Source: UFC 3-130-01 / TM 5-852-1
   definition. returns degC day, >= 0 */
double uf_winter_index(const double *air_degC, size_t days);

/* All winters of the record. south: months shifted by half a year. */
enum uf_status uf_winter_list_create(struct uf_winter_list **out,
                                     const struct uf_weather *weather, bool south,
                                     struct uf_error *err);
void uf_winter_list_free(struct uf_winter_list *list);

/* Gumbel estimate by moments (scale = sd sqrt(6)/pi, location = mean - 0.5772 scale) of
   the index with that return period. years > 1. NAN under 10 usable winters. */
double uf_winter_return_degC_day(const struct uf_winter_list *list, double years);

/* Mean year: mean air temperature (and snow depth) of each day of the year over all
   usable winters' days, smoothed by its first harmonics so that a frost start is not a
   noise of one day. Periodic. day 0 = 1 January, 366 entries (29 February its own). */
struct uf_winter_mean_year {
    double air_degC[366];
    double snow_m[366];            /* 0 where the record has no snow */
    double mean_air_degC;          /* over the year */
    long coldest_day, warmest_day; /* day of the year */
};
enum uf_status uf_winter_mean_year(struct uf_winter_mean_year *out,
                                   const struct uf_weather *weather,
                                   const struct uf_winter_list *list,
                                   struct uf_error *err);

/* What winter to design for. */
enum uf_winter_kind {
    UF_WINTER_MEAN,
    UF_WINTER_RETURN,
    UF_WINTER_THREE_IN_THIRTY,
    UF_WINTER_COLDEST,
    UF_WINTER_RECORDED,
    UF_WINTER_EVERY
};
struct uf_winter_choice {
    enum uf_winter_kind kind;
    double return_years; /* UF_WINTER_RETURN: N of "1 in N" */
    int year;            /* UF_WINTER_RECORDED */
};

/* Reads "mean", "1 in 100", "coldest three in thirty", "coldest recorded", "1978/79"
   (south: "1978"), "every". false: not one of these. */
bool uf_winter_parse(const char *text, struct uf_winter_choice *choice);

/* Daily weather of a whole run, gap-free: autumn of the mean year, the design winter, and
   the mean year after it to the end of the following summer. */
struct uf_winter_season {
    long start_day; /* first day of the normal autumn (mean year's warmest day + ~30) */
    size_t days;
    double *air_degC, *snow_m;      /* [days] */
    long winter_first, winter_last; /* where the design winter proper stands in it */
    double asked_index_degC_day, got_index_degC_day, recorded_index_degC_day, scale;
    int recorded_year; /* whose shape it has */
    char text[256];    /* one sentence for a person */
    char warning[256]; /* "" or what to know, such as N over three times the record */
};

/* Builds the season for choice (not EVERY): the recorded usable winter whose index is
   nearest to the asked one, its departure from the mean year scaled until its index is
   the asked one (within 0.1 degC day). Snow as recorded that winter. Errors: UF_E_INPUT
   with the remedy, for a choice the record cannot serve (under 10 usable winters or a
   typical year: only mean and recorded winters). */
enum uf_status uf_winter_season_create(struct uf_winter_season **out,
                                       const struct uf_weather *weather,
                                       const struct uf_winter_list *list,
                                       const struct uf_winter_choice *choice,
                                       struct uf_error *err);
void uf_winter_season_free(struct uf_winter_season *season);

#endif
