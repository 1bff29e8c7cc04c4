#ifndef UF_WINTER_H
#define UF_WINTER_H

#include "weather.h"

#include <stdbool.h>
#include <stddef.h>

/* Winters of a daily record: freezing index by the cumulative-curve method, return
   periods, the mean year, and the design winter a run is driven with. A winter YYYY/YY
   runs August to July in the north (label: the year it begins), February to January in
   the south. */

struct uf_winter {
    int year;    /* of its first day */
    bool usable; /* no gap left after filling */
    long first_day, last_day;
    double freezing_index_degC_day; /* NAN when not usable */
    size_t missing_days;
    long freeze_start; /* first and last day between the maximum of the cumulative curve */
    long freeze_end;   /* and the following minimum; start > end when it never froze */
};

struct uf_winter_list {
    struct uf_winter *rows;
    size_t n, n_usable;
    bool south;
    double mean_degC_day, sd_degC_day;       /* of the usable winters; NAN under 1 (sd: under
                                          2); sd with n - 1 */
    double coldest_three_in_thirty_degC_day; /* mean of the 3 coldest of the latest 30
                                                usable; NAN under 10 */
    double gumbel_location, gumbel_scale;    /* by moments; NAN under 10 usable */
};

/* Freezing index of one series of daily means: the largest drop of the cumulative curve
   of degree-days from a maximum to a later minimum. Source: UFC 3-130-01 / TM 5-852-1
   definition.

   returns degC day, >= 0 */
double uf_winter_index(const double *air_degC, size_t days);

/* The same with its place: the freezing season is days from .. to-1 of the series. */
struct uf_winter_drop {
    double degC_day;
    size_t from, to;
};
struct uf_winter_drop uf_winter_drop(const double *air_degC, size_t days);

/* All winters that the record touches, also those it only begins or ends in (not usable).
   south: months shifted by half a year.

   Errors: UF_E_INPUT for an empty record, UF_E_MEMORY. Free with uf_winter_list_free. */
enum uf_status uf_winter_list_create(struct uf_winter_list **out, const struct uf_weather *weather,
                                     bool south, struct uf_error *err);
void uf_winter_list_free(struct uf_winter_list *list);

/* Fills n_usable and every statistic of the list from its rows. Called by create; public
   so that a published list of indexes can be put through the same formulas. "Three
   coldest in thirty": the usual design index of UFC 3-130-04 and TM 5-852-4. */
void uf_winter_list_statistics(struct uf_winter_list *list);

/* "1978/79" (south: "1978") into text of at least 8 bytes; returns text. */
char *uf_winter_label(int year, bool south, char *text, size_t size);

/* Gumbel estimate by moments of the index with a return period of `years` > 1, degC day:

       scale    = sd sqrt(6) / pi
       location = mean - 0.5772 scale
       index    = location - scale ln(-ln(1 - 1/years))

   NAN under 10 usable winters. */
double uf_winter_return_degC_day(const struct uf_winter_list *list, double years);

/* Mean year: mean air temperature of each day of the year over all usable winters' days,
   smoothed by its mean and first three harmonics, so that the frost does not start on the
   noise of one day. Three keep what matters of the shape: at nine shipped stations the
   freezing index of the mean year stays within 3 % of, or 25 degC day from, that of the
   daily means before smoothing (computed here), and the yearly mean is kept exactly. One
   harmonic alone misses it by up to 10 %. The mean year's own index lies below the mean
   of the winters' indexes, the more the milder the climate (3 % at Winnipeg, a third at
   Fort Collins), because cold spells that fall on other days in other years cancel in the
   mean. Snow depth is smoothed by a 15-day running mean instead: harmonics would put
   snow, or less than none, into summer. It lies where it does in half of the years or more (of
   the same 15 days): lying snow is never above 0 degC, and a mean depth above 0 alone would hold
   mild days of years that are bare at 0 degC.

   Periodic. day 0 = 1 January, 366 entries (29 February its own, entry 59).
   Errors: UF_E_INPUT when the record has no usable winter. */
struct uf_winter_mean_year {
    double air_degC[366];
    double snow_m[366];            /* 0 where the record has no snow */
    double mean_air_degC;          /* over the year */
    long coldest_day, warmest_day; /* day of the year */
};
enum uf_status uf_winter_mean_year(struct uf_winter_mean_year *out,
                                   const struct uf_weather *weather,
                                   const struct uf_winter_list *list, struct uf_error *err);

/* The same of any daily record, over the latest whole years on file: of a sensor in the ground, or of
   a record no winter of which is whole. Days that no year has, at most 60, take the value of the
   day before. Returns false when the record is shorter than a year or lacks more. */
bool uf_winter_mean_record(struct uf_winter_mean_year *out, const struct uf_weather *weather);

/* Freezing index of the mean year, degC day, over one winter of it. */
double uf_winter_mean_index(const struct uf_winter_mean_year *year, bool south);

/* Is its warmest day a day of summer there, within a quarter year of the day winters are
   counted from (1 August; in the south 1 February)? Where it is not, every winter of the
   list is cut in two. */
bool uf_winter_mean_fits(const struct uf_winter_mean_year *year, bool south);

/* A whole year of it from the date of start_day on, 29 February left out. air_degC,
   snow_m [365] */
#define UF_WINTER_YEAR_DAYS 365
void uf_winter_mean_days(const struct uf_winter_mean_year *year, long start_day, double *air_degC,
                         double *snow_m);

/* The mean year's air temperature and snow on the date of a day since 1970-01-01. */
void uf_winter_mean_day(const struct uf_winter_mean_year *year, long day, double *air_degC,
                        double *snow_m);

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
    long start_day; /* first day of the normal autumn: 30 days after the mean year's
                       warmest day; the season ends 61 days after the next one */
    size_t days;
    double *air_degC, *snow_m;      /* [days] */
    long winter_first, winter_last; /* where the design winter proper stands in it */
    double asked_index_degC_day, got_index_degC_day, recorded_index_degC_day, scale;
    int recorded_year;      /* whose shape it has */
    struct uf_message text; /* one sentence for a person */
    char warning[256];      /* "" or what to know, such as N over three times the record */
};

/* Builds the season for choice (not EVERY: ask for each usable winter in turn): the
   recorded usable winter whose index is nearest to the asked one, its departure from the
   mean year scaled until its index is the asked one (within 0.1 degC day). A recorded
   winter is taken as it was, scale 1. MEAN is the mean year through the whole season,
   scale 0; its own index is got_index_degC_day. The winter proper spans the freezing
   seasons of the recorded winter and of the mean year; over seven days on either side the
   departure grows from nothing, so there is no jump. Snow as recorded that winter,
   unscaled; days without a reading have none (the colder side for the ground), which is
   said in warning.

   Errors: UF_E_INPUT with the remedy, for a choice the record cannot serve (under 10
   usable winters or a typical year: only mean and recorded winters), or a hemisphere that
   does not fit the record. */
enum uf_status uf_winter_season_create(struct uf_winter_season **out,
                                       const struct uf_weather *weather,
                                       const struct uf_winter_list *list,
                                       const struct uf_winter_choice *choice, struct uf_error *err);
void uf_winter_season_free(struct uf_winter_season *season);

#endif
