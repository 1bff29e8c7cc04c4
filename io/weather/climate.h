#ifndef UF_CLIMATE_H
#define UF_CLIMATE_H

#include "solver/weather/weather.h"

#include <stdio.h>

/* Weather files of several makes, read into one daily record. Units are turned into SI here. */

#define UF_CLIMATE_PATH_SIZE 1024
#define UF_CLIMATE_FILL_DAYS 5 /* longest gap that is filled: common practice, no source */

/* Where a climate file is. A path is taken as it stands, a relative one from base_dir
   (NULL or "": the current folder). A bare file name that is not there is looked for
   among the shipped climates: the folder of the environment's UNDERFROST_CLIMATES when it
   is set, else the shipped one (uf_shipped).
   found     text of size bytes, the path to open
   Errors: UF_E_FILE, saying where it was looked for. */
enum uf_status uf_climate_find(char *found, size_t size, const char *path, const char *base_dir,
                               struct uf_error *err);

/* Reads a weather file of any known format, told by its content and ending.
   *out     a record of daily air temperature, degC, and snow depth, m, where the file has it; gaps
            of up to UF_CLIMATE_FILL_DAYS are filled and counted. Free with uf_weather_free
   path     see uf_climate_find
   column   station or column of a file that holds several; NULL or "" otherwise
   Errors: UF_E_FILE (not found, not readable); UF_E_INPUT with FILE:LINE and what to change. */
enum uf_status uf_climate_read(struct uf_weather **out, const char *path, const char *column,
                               const char *base_dir, struct uf_error *err);

/* Reads one named column of a plain CSV as a daily temperature series, degC, into
   air_degC of the record; no snow. For a ground temperature measured by a sensor. Same
   gaps and errors. */
enum uf_status uf_climate_read_series(struct uf_weather **out, const char *path, const char *column,
                                      const char *base_dir, struct uf_error *err);

/* The same column as it stands: of any unit and size, no gap filled; for what was measured, which may
   hold faults. */
enum uf_status uf_climate_read_raw(struct uf_weather **out, const char *path, const char *column,
                                   const char *base_dir, struct uf_error *err);

/* What a reader gets: the open file at its first byte, its name for messages, the column or "". */
struct uf_climate_request {
    FILE *file;
    const char *name, *column;
    bool raw; /* the column as it stands */
};

/* One format. A reader fills what the file holds and leaves gaps as NAN. */
struct uf_climate_reader {
    const char *name, *doc;
    /* head: the first bytes of the file as text, at most 4 kB */
    bool (*matches)(const char *path, const char *head);
    enum uf_status (*read)(struct uf_weather **out, const struct uf_climate_request *request,
                           struct uf_error *err);
};

/* All formats, the most particular first; ended by NULL. The last one takes any file. */
extern const struct uf_climate_reader *const uf_climate_readers[];

/* One row each; defined in climate_<format>.c. */
extern const struct uf_climate_reader uf_climate_noaa_long, uf_climate_noaa_wide;
extern const struct uf_climate_reader uf_climate_dly, uf_climate_epw, uf_climate_eccc;
extern const struct uf_climate_reader uf_climate_csv;

#endif
