#ifndef UF_CLIMATE_TEXT_H
#define UF_CLIMATE_TEXT_H

#include "solver/weather/weather.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* Lines, fields and numbers of text files, for the readers of weather and of tape readings. */

#define UF_CLIMATE_TEXT_ROOM 16384 /* longest line; far beyond any of the formats */

struct uf_climate_text {
    FILE *file;       /* borrowed */
    const char *name; /* for messages; borrowed */
    long line;        /* number of the line in text */
    char text[UF_CLIMATE_TEXT_ROOM];
};

void uf_climate_text_init(struct uf_climate_text *text, FILE *file, const char *name);

/* Next line into text->text, without its end (LF, CR LF or CR) and without a byte order
   mark. *more is false, and the text empty, at the end of the file. Errors: UF_E_FILE
   when reading fails; UF_E_INPUT for a line too long or not plain text. */
enum uf_status uf_climate_text_next(struct uf_climate_text *text, bool *more, struct uf_error *err);

/* Cuts a line at the commas, in place; double quotes hold a field together; blanks around
   a field are dropped. Returns how many fields there are; at most max were stored. */
size_t uf_climate_text_split(char *line, char **fields, size_t max);

/* A plain decimal number, whole field, point as decimal sign; no nan, inf or hexadecimal. */
bool uf_climate_text_number(const char *field, double *value);

/* Fails with "NAME:LINE: ..." */
enum uf_status uf_climate_text_fail(const struct uf_climate_text *text, struct uf_error *err,
                                    const char *format, ...) __attribute__((format(printf, 3, 4)));

/* Copies whole UTF-8 characters as far as they fit, always ended; what is no character,
   or would steer a terminal, becomes '?'. */
void uf_climate_text_copy(char *to, size_t size, const char *from);

/* Adds "what: 12" to a note, after a semicolon; nothing when the count is 0. */
void uf_climate_text_count(char *note, size_t size, size_t count, const char *what);

/* Where a station stands, as far as its file says: degrees north and east, m above sea;
   NAN: does not say. */
enum uf_climate_where { UF_WHERE_LATITUDE, UF_WHERE_LONGITUDE, UF_WHERE_ELEVATION, UF_WHERES };
struct uf_climate_place {
    double at[UF_WHERES];
};
#define UF_CLIMATE_NOWHERE ((struct uf_climate_place){{NAN, NAN, NAN}})

/* Takes a number that was not yet known, where one of UF_WHERE_...; other text is left
   alone. */
void uf_climate_text_where(struct uf_climate_place *place, size_t where, const char *text);
/* Puts the place into a record; what lies beyond the globe, or below -500 or above 9000
   m, is not known. */
void uf_climate_text_settle(struct uf_weather *weather, const struct uf_climate_place *place);

/* Latitude written as "49.9 N" or "33.4 S" somewhere in a text, degrees, south negative; NAN. */
double uf_climate_text_latitude_deg(const char *text);
/* Longitude written as "97.2 W", west negative. */
double uf_climate_text_longitude_deg(const char *text);

/* First line of a file's head that is neither empty nor a note after #, without a byte
   order mark and without double quotes, as far as it fits. For telling formats apart. */
void uf_climate_text_first_line(char *line, size_t size, const char *head);

/* A field for a message: at most 40 characters, anything that is not plain ASCII as '?'. */
const char *uf_climate_text_shown(const char *field, char shown[48]);

#endif
