#include "climate.h"
#include "climate_ghcn.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* GHCN-Daily as comma separated text, in both of its shapes:
     long   station, date, element, value, three flags and hour, one line a value ("by
   year", also by station), with or without a header; a header that begins with the date
   has no station; wide   one line a day, a column an element with its flags in
   ELEMENT_ATTRIBUTES ("by station"). The archive's own files are in tenths of degC. An
   export of the order form looks much the same in degC or degF and does not say which, so
   there a note `# units: degC` (or degF) is asked for. */

#define MAX_COLUMNS 512 /* a column an element and its flags; over 100 elements exist */
#define ELEMENTS    4

static const char *const wheres[UF_WHERES] = {"LATITUDE", "LONGITUDE", "ELEVATION"};
static const char *const elements[ELEMENTS] = {"TMAX", "TMIN", "TAVG", "SNWD"};

struct noaa {
    struct uf_climate_text text;
    struct uf_climate_ghcn ghcn;
    bool has_station; /* long: the first field is the station */
    char header[UF_CLIMATE_TEXT_ROOM];
    char *names[MAX_COLUMNS], *fields[MAX_COLUMNS];
    size_t n_columns;
    size_t date, station, name, where[UF_WHERES]; /* wide: places; n_columns = none */
    size_t value[ELEMENTS], attributes[ELEMENTS];
    char name_text[128];
    struct uf_climate_place place;
};

static bool begins(const char *line, const char *word)
{
    return strncasecmp(line, word, strlen(word)) == 0;
}

/* "USW00014922,20140101,TMAX,..." */
static bool is_long_row(const char *line)
{
    const size_t id = strcspn(line, ",");
    const char *date = line + id + (line[id] != '\0' ? 1 : 0);
    return id == 11 && strspn(date, "0123456789") == 8 && date[8] == ',';
}

static bool is_long_header(const char *line)
{
    return begins(line, "id,date,element,") || begins(line, "station,date,element,") ||
           begins(line, "date,element,value,") || begins(line, "date,attr,value,");
}

static bool is_long(const char *path, const char *head)
{
    char line[256];
    (void)path;
    uf_climate_text_first_line(line, sizeof line, head);
    return is_long_row(line) || is_long_header(line);
}

static bool is_wide(const char *path, const char *head)
{
    char line[256];
    (void)path;
    uf_climate_text_first_line(line, sizeof line, head);
    return begins(line, "station,") && strstr(line, "DATE") != NULL;
}

/* A note `# units: ...`. */
static enum uf_status read_note(struct noaa *noaa, struct uf_error *err)
{
    static const struct uf_climate_ghcn_units *const known[] = {
        &uf_climate_ghcn_tenths, &uf_climate_ghcn_metric, &uf_climate_ghcn_us};
    const char *units = noaa->text.text + 1;
    char shown[48];
    units += strspn(units, " \t");
    if (!begins(units, "units:")) {
        return UF_OK;
    }
    units += strlen("units:");
    units += strspn(units, " \t");
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        if (begins(units, known[i]->name)) {
            noaa->ghcn.units = known[i];
            return UF_OK;
        }
    }
    return uf_climate_text_fail(&noaa->text, err,
                                "units \"%s\": write degC, degF or tenths of degC",
                                uf_climate_text_shown(units, shown));
}

/* "20140101" or "2014-01-01". */
static bool read_date(const char *field, long *day)
{
    char text[16];
    if (strlen(field) == 8 && strspn(field, "0123456789") == 8) {
        (void)snprintf(text, sizeof text, "%.4s-%.2s-%.2s", field, field + 4, field + 6);
        return uf_calendar_parse(text, day);
    }
    return uf_calendar_parse(field, day);
}

static enum uf_status take_date(long *day, const struct noaa *noaa, const char *field,
                                struct uf_error *err)
{
    char shown[48];
    return read_date(field, day)
               ? UF_OK
               : uf_climate_text_fail(&noaa->text, err,
                                      "date \"%s\": expected 20140101 or 2014-01-01",
                                      uf_climate_text_shown(field, shown));
}

static enum uf_status take_value(struct noaa *noaa, long day, const char *element,
                                 const char *field, char quality, struct uf_error *err)
{
    double value = NAN;
    char shown[48];
    if (field[0] == '\0') {
        return UF_OK;
    }
    if (!uf_climate_text_number(field, &value)) {
        return uf_climate_text_fail(&noaa->text, err, "%s = \"%s\": is not a number", element,
                                    uf_climate_text_shown(field, shown));
    }
    return uf_climate_ghcn_put(&noaa->ghcn, day, element, value, quality, &noaa->text, err);
}

static bool is_ours(const char *element)
{
    for (size_t i = 0; i < ELEMENTS; i++) {
        if (strcmp(element, elements[i]) == 0) {
            return true;
        }
    }
    return false;
}

static enum uf_status long_row(struct noaa *noaa, struct uf_error *err)
{
    const size_t skip = noaa->has_station ? 1 : 0;
    const size_t n = uf_climate_text_split(noaa->text.text, noaa->fields, MAX_COLUMNS);
    char **fields = noaa->fields + skip;
    bool wanted = true;
    long day = 0;
    enum uf_status status = UF_OK;
    if (n < 6 + skip || n > MAX_COLUMNS) {
        return uf_climate_text_fail(
            &noaa->text, err, "has %zu fields: expected date, element, value, three flags and hour",
            n);
    }
    if (noaa->has_station) {
        status = uf_climate_ghcn_wants(&wanted, &noaa->ghcn, noaa->fields[0], &noaa->text, err);
    }
    if (status != UF_OK || !wanted || !is_ours(fields[1])) {
        return status;
    }
    status = take_date(&day, noaa, fields[0], err);
    const char quality = fields[4][0] != '\0' ? fields[4][0] : ' ';
    return status == UF_OK ? take_value(noaa, day, fields[1], fields[2], quality, err) : status;
}

static enum uf_status long_first(struct noaa *noaa, struct uf_error *err)
{
    char line[256];
    uf_climate_text_first_line(line, sizeof line, noaa->text.text);
    noaa->has_station = !begins(line, "date,");
    noaa->ghcn.units = &uf_climate_ghcn_tenths;
    return is_long_header(line) ? UF_OK : long_row(noaa, err);
}

/* Place of the column; n_columns when there is none. */
static size_t column_of(const struct noaa *noaa, const char *name)
{
    size_t i = 0;
    while (i < noaa->n_columns && strcasecmp(noaa->names[i], name) != 0) {
        i++;
    }
    return i;
}

static enum uf_status wide_first(struct noaa *noaa, struct uf_error *err)
{
    bool attributes = false;
    memcpy(noaa->header, noaa->text.text, sizeof noaa->header);
    noaa->n_columns = uf_climate_text_split(noaa->header, noaa->names, MAX_COLUMNS);
    if (noaa->n_columns > MAX_COLUMNS) {
        return uf_climate_text_fail(&noaa->text, err, "has %zu columns: at most %d are read",
                                    noaa->n_columns, MAX_COLUMNS);
    }
    noaa->station = column_of(noaa, "STATION");
    noaa->date = column_of(noaa, "DATE");
    noaa->name = column_of(noaa, "NAME");
    for (size_t i = 0; i < UF_WHERES; i++) {
        noaa->where[i] = column_of(noaa, wheres[i]);
    }
    for (size_t i = 0; i < ELEMENTS; i++) {
        char name[24];
        (void)snprintf(name, sizeof name, "%s_ATTRIBUTES", elements[i]);
        noaa->value[i] = column_of(noaa, elements[i]);
        noaa->attributes[i] = column_of(noaa, name);
        attributes = attributes || noaa->attributes[i] < noaa->n_columns;
    }
    if (noaa->ghcn.units == NULL) {
        if (!attributes || noaa->date != 1) {
            return uf_climate_text_fail(
                &noaa->text, err,
                "an export of the order form is in degC or degF and does "
                "not say which: put the line `# units: degC` or `# units: degF` on top");
        }
        noaa->ghcn.units = &uf_climate_ghcn_tenths;
    }
    if (noaa->date >= noaa->n_columns || noaa->station >= noaa->n_columns) {
        return uf_climate_text_fail(&noaa->text, err, "has no column %s",
                                    noaa->date >= noaa->n_columns ? "DATE" : "STATION");
    }
    return UF_OK;
}

/* The quality flag, second of "M,Q,S". */
static char quality_of(const char *attributes)
{
    const char *comma = strchr(attributes, ',');
    return comma == NULL || comma[1] == ',' || comma[1] == '\0' ? ' ' : comma[1];
}

static enum uf_status wide_row(struct noaa *noaa, struct uf_error *err)
{
    const size_t n = uf_climate_text_split(noaa->text.text, noaa->fields, MAX_COLUMNS);
    char **fields = noaa->fields;
    bool wanted = false;
    long day = 0;
    if (n != noaa->n_columns) {
        return uf_climate_text_fail(&noaa->text, err,
                                    "has %zu fields where the header has %zu columns", n,
                                    noaa->n_columns);
    }
    enum uf_status status =
        uf_climate_ghcn_wants(&wanted, &noaa->ghcn, fields[noaa->station], &noaa->text, err);
    if (status != UF_OK || !wanted) {
        return status;
    }
    status = take_date(&day, noaa, fields[noaa->date], err);
    for (size_t i = 0; status == UF_OK && i < ELEMENTS; i++) {
        if (noaa->value[i] < n) {
            const char quality =
                noaa->attributes[i] < n ? quality_of(fields[noaa->attributes[i]]) : ' ';
            status = take_value(noaa, day, elements[i], fields[noaa->value[i]], quality, err);
        }
    }
    if (noaa->name_text[0] == '\0' && noaa->name < n) {
        uf_climate_text_copy(noaa->name_text, sizeof noaa->name_text, fields[noaa->name]);
    }
    for (size_t i = 0; i < UF_WHERES; i++) {
        if (noaa->where[i] < n) {
            uf_climate_text_where(&noaa->place, i, fields[noaa->where[i]]);
        }
    }
    return status;
}

/* Notes, then `first` on the first line, then `row` on each other one. */
static enum uf_status read_lines(struct noaa *noaa,
                                 enum uf_status (*first)(struct noaa *, struct uf_error *),
                                 enum uf_status (*row)(struct noaa *, struct uf_error *),
                                 struct uf_error *err)
{
    bool begun = false;
    for (;;) {
        bool more = false;
        enum uf_status status = uf_climate_text_next(&noaa->text, &more, err);
        if (status != UF_OK || !more) {
            return status;
        }
        if (noaa->text.text[0] == '#') {
            status = begun ? UF_OK : read_note(noaa, err);
        } else if (noaa->text.text[0] != '\0') {
            status = begun ? row(noaa, err) : first(noaa, err);
            begun = true;
        }
        if (status != UF_OK) {
            return status;
        }
    }
}

static enum uf_status read_noaa(struct uf_weather **out, const struct uf_climate_request *request,
                                bool wide, struct uf_error *err)
{
    struct noaa *noaa = calloc(1, sizeof *noaa);
    *out = NULL;
    if (noaa == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory to read %s", request->name);
    }
    uf_climate_text_init(&noaa->text, request->file, request->name);
    noaa->ghcn.asked = request->column;
    noaa->place = UF_CLIMATE_NOWHERE;
    enum uf_status status = wide ? read_lines(noaa, wide_first, wide_row, err)
                                 : read_lines(noaa, long_first, long_row, err);
    if (status == UF_OK) {
        status = uf_climate_ghcn_finish(out, &noaa->ghcn, &noaa->text, err);
    }
    if (status == UF_OK) {
        const size_t used = strlen((*out)->station);
        (void)snprintf((*out)->station + used, sizeof(*out)->station - used, "%s%.100s",
                       used > 0 && noaa->name_text[0] != '\0' ? " " : "", noaa->name_text);
        uf_climate_text_settle(*out, &noaa->place);
    }
    uf_climate_days_clear(&noaa->ghcn.days);
    free(noaa);
    return status;
}

static enum uf_status read_long(struct uf_weather **out, const struct uf_climate_request *request,
                                struct uf_error *err)
{
    return read_noaa(out, request, false, err);
}

static enum uf_status read_wide(struct uf_weather **out, const struct uf_climate_request *request,
                                struct uf_error *err)
{
    return read_noaa(out, request, true, err);
}

const struct uf_climate_reader uf_climate_noaa_long = {
    .name = "NOAA daily CSV, by year",
    .doc = "GHCN-Daily, one line a value: station, date, element, value, flags",
    .matches = is_long,
    .read = read_long,
};

const struct uf_climate_reader uf_climate_noaa_wide = {
    .name = "NOAA daily CSV, by station",
    .doc = "GHCN-Daily, one line a day: STATION, DATE, TMAX, TMAX_ATTRIBUTES, ...",
    .matches = is_wide,
    .read = read_wide,
};
