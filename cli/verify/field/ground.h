#ifndef UF_GROUND_H
#define UF_GROUND_H

#include "ground_column.h"
#include "solver/weather/weather.h"

/* Frost as it was measured: stations with a string of sensors in the ground, each run
   through one or two winters and held against its own readings. Water and the profile at
   the start are what the station measured (ground_column.h); the soil follows from its
   water readings by one rule for all (ground_soil.h). */

#define UF_GROUND_SENSORS UF_GROUND_LAYERS
extern const double uf_ground_depth_m[UF_GROUND_SENSORS]; /* 0.05 ... 1.00 */

/* How the surface is driven. */
enum uf_ground_drive {
    UF_GROUND_SENSOR, /* the 5 cm sensor itself; ground above it left out */
    UF_GROUND_AIR,    /* air through the n-factor of turf, which stands for usual snow */
    UF_GROUND_SNOW    /* air through a film and 0.2 m of snow of 200 kg/m3 while it is cold;
                      stated: the stations measure no snow */
};

/* One station. Nothing of its soil is stated: all of it follows from its water readings. */
struct uf_ground_site {
    const char *key, *name, *file; /* file: in climates/ */
};
extern const struct uf_ground_site uf_ground_sites[]; /* ended by a NULL key */
extern const char uf_ground_source[];                 /* of readings and soil */

/* Part of a winter that the record holds whole. */
struct uf_ground_part {
    const char *key, *doc;
    struct uf_ground_day {
        int year, month, day;
    } first, end; /* end: the day after the last */
};
extern const struct uf_ground_part uf_ground_parts[]; /* ended by a NULL key */

/* The readings of a station, day by day; NAN where there is none. */
struct uf_ground_record {
    long start_day;
    size_t days;
    double *ts_degC[UF_GROUND_SENSORS];  /* [days] */
    double *sm_m3_m3[UF_GROUND_SENSORS]; /* [days] liquid water by volume */
    double *air_degC;
    struct uf_weather *columns[2 * UF_GROUND_SENSORS + 1]; /* own the arrays */
};

/* Errors: those of uf_climate_read_series. Free with uf_ground_record_free. */
enum uf_status uf_ground_read(struct uf_ground_record **out, const char *file,
                              struct uf_error *err);
void uf_ground_record_free(struct uf_ground_record *record); /* NULL is fine */

/* The soil round a sensor: driest and wettest reading of the whole record at 0.3 degC or
   above. Errors: UF_E_INPUT when it never read; those of uf_ground_soil. */
enum uf_status uf_ground_soil_of(struct uf_ground_soil *out, const struct uf_ground_record *record,
                                 size_t sensor, struct uf_error *err);

/* One run. The factors move what is uncertain, to see what it does; 0 stands for 1. */
struct uf_ground_setup {
    const struct uf_ground_site *site;
    const struct uf_ground_part *part;
    enum uf_ground_drive drive;
    enum uf_method method;
    double water_factor;   /* times the water measured, not beyond the pores */
    double density_factor; /* times the dry density by the rule */
    double driest_factor;  /* times the driest reading, which gives texture and curve */
};
/* Its column at the part's first day; borrows the record. Errors: UF_E_INPUT when the
   record does not hold the part, or a sensor reads nothing; those of
   uf_ground_column_create. */
enum uf_status uf_ground_start(struct uf_ground_column **out, const struct uf_ground_record *record,
                               const struct uf_ground_setup *setup,
                               const struct uf_season_options *options, struct uf_error *err);

/* What came of it, beside what was measured, over every day of the part. Depth of frost
   is the 0 degC line between the sensors, straight, for the readings and for the run's
   temperatures at the same depths: like with like. frost_line_m is the run's own line,
   found between its rows. All count from grade. */
struct uf_ground_outcome {
    double rmse_K[UF_GROUND_SENSORS], bias_K[UF_GROUND_SENSORS]; /* [0] NAN: it drives */
    double least_degC[UF_GROUND_SENSORS], measured_least_degC[UF_GROUND_SENSORS];
    double frost_m, measured_frost_m; /* between sensors */
    double frost_line_m;              /* deepest 0 degC line of the run */
    bool deepest_froze;               /* the lowest sensor went below 0 degC */
    double heat_balance_relative;
};
enum uf_status uf_ground_run(struct uf_ground_outcome *out, const struct uf_ground_record *record,
                             const struct uf_ground_setup *setup,
                             const struct uf_season_options *options, struct uf_error *err);

/* ---- A station under deep snow ---------------------------------------------------------- */

/* Central Sierra Snow Laboratory: air and snow depth drive a film with snow in series;
   three sensors in the ground tell whether frost came. Each winter is a run of its own,
   as at the other stations: from the profile measured on 1 October (the first day of
   October with all sensors, or the winter is left out) to the end of April. */
#define UF_GROUND_SNOW_SENSORS 3
#define UF_GROUND_SNOW_WINTERS 16
#define UF_GROUND_SNOW_DAYS    120 /* readings that a winter needs to be judged */
extern const double uf_ground_snow_depth_m[UF_GROUND_SNOW_SENSORS]; /* 0.05, 0.20, 0.50 */

struct uf_ground_winter {
    int year;         /* it begins in */
    size_t read_days; /* days from November to April with all three sensors reading */
    double snow_m;    /* deepest */
    double least_degC[UF_GROUND_SNOW_SENSORS], measured_least_degC[UF_GROUND_SNOW_SENSORS];
    double frost_m, measured_frost_m; /* between sensors, as above */
    double frost_line_m;              /* the run's own 0 degC line, also above 5 cm */
};

struct uf_ground_snow {
    double density_kg_m3;                  /* of the snow */
    double rmse_K[UF_GROUND_SNOW_SENSORS]; /* November to April */
    struct uf_ground_winter winters[UF_GROUND_SNOW_WINTERS];
    size_t n;
    double heat_balance_relative;
};
extern const char uf_ground_snow_source[]; /* what is assumed */

/* Errors: those of reading and of the run. */
enum uf_status uf_ground_snow_run(struct uf_ground_snow *out,
                                  const struct uf_season_options *options, struct uf_error *err);

/* ---- Frost depth against freezing index -------------------------------------------------- */

/* Bare ground of one soil at every shipped station whose ground thaws, each winter on
   file: n-factors of bare soil, silt of 1600 kg/m3 with 20 % of water, no water table. To
   stand beside published relations of depth and index. */
struct uf_ground_station {
    const char *name, *file, *column;
};
extern const struct uf_ground_station uf_ground_stations[]; /* ended by a NULL name */
extern const char uf_ground_index_soil[];                   /* what is assumed, in words */

struct uf_ground_point {
    size_t station;
    int year; /* the winter begins in */
    double index_degC_day, frost_m;
};
struct uf_ground_index {
    struct uf_ground_point *points; /* station by station, rising years */
    size_t n;
};

/* Errors: those of reading and of the runs. Free with uf_ground_index_free. */
enum uf_status uf_ground_index_run(struct uf_ground_index *out,
                                   const struct uf_season_options *options, struct uf_error *err);
void uf_ground_index_free(struct uf_ground_index *index);

/* Mean over the winters whose index lies in from .. to: index, depth, and how many. */
struct uf_ground_bin {
    double index_degC_day, frost_m;
    size_t n;
};
struct uf_ground_bin uf_ground_index_bin(const struct uf_ground_index *index, double from_degC_day,
                                         double to_degC_day);

#endif
