#include "climate.h"
#include "climate_days.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Daily CSV of Environment and Climate Change Canada, English download, old layout (some
   lines on the station, a legend of flags, then the header) or new (header first, station
   in columns). Years put one after the other in one file may repeat the header. Flags: M,
   N, Y = missing, T = trace (of snow: none to measure), E = estimated, kept and counted. */

#define MAX_COLUMNS 64

enum what { MEAN, LEAST, LARGEST, SNOW, WHATS };

/* Beginnings of the names: the degree sign after them comes in more than one encoding. */
static const struct {
    const char *value, *flag;
} columns[WHATS] = {
    [MEAN] = {"Mean Temp (", "Mean Temp Flag"},
    [LEAST] = {"Min Temp (", "Min Temp Flag"},
    [LARGEST] = {"Max Temp (", "Max Temp Flag"},
    [SNOW] = {"Snow on Grnd (cm)", "Snow on Grnd Flag"},
};

static const char *const wheres[UF_WHERES] = {"Latitude", "Longitude", "Elevation"};

struct eccc {
    struct uf_climate_text text;
    struct uf_climate_days days;
    size_t n_columns;                       /* 0: the header was not met yet */
    size_t date, station, where[UF_WHERES]; /* places; MAX_COLUMNS = none */
    size_t value[WHATS], flag[WHATS];
    size_t estimated, flagged, crossed; /* kept; left out by flag; least above largest */
    long last;                          /* latest day with a value */
    char name[128];
    struct uf_climate_place place;
};

static bool is_eccc(const char *path, const char *head)
{
    (void)path;
    return strstr(head, "Temp") != NULL &&
           (strstr(head, "Date/Time") != NULL || strstr(head, "Date/Heure") != NULL);
}

static size_t column_of(char **names, size_t n, const char *begin)
{
    for (size_t i = 0; i < n; i++) {
        if (strncmp(names[i], begin, strlen(begin)) == 0) {
            return i;
        }
    }
    return MAX_COLUMNS;
}

static enum uf_status read_header(struct eccc *eccc, char **names, size_t n, struct uf_error *err)
{
    if (n > MAX_COLUMNS) {
        return uf_climate_text_fail(&eccc->text, err, "has %zu columns: at most %d are read", n,
                                    MAX_COLUMNS);
    }
    eccc->n_columns = n;
    eccc->date = column_of(names, n, "Date/Time");
    eccc->station = column_of(names, n, "Station Name");
    for (size_t i = 0; i < UF_WHERES; i++) {
        eccc->where[i] = column_of(names, n, wheres[i]);
    }
    for (size_t i = 0; i < WHATS; i++) {
        eccc->value[i] = column_of(names, n, columns[i].value);
        eccc->flag[i] = column_of(names, n, columns[i].flag);
    }
    if (eccc->value[MEAN] == MAX_COLUMNS &&
        (eccc->value[LEAST] == MAX_COLUMNS || eccc->value[LARGEST] == MAX_COLUMNS)) {
        return uf_climate_text_fail(
            &eccc->text, err,
            "has no Mean Temp, nor Min Temp with Max Temp: download the daily data, in English");
    }
    return UF_OK;
}

/* Lines before the header: those on the station are kept. */
static void read_station(struct eccc *eccc, char **fields, size_t n)
{
    if (n >= 2 && strcmp(fields[0], "Station Name") == 0) {
        uf_climate_text_copy(eccc->name, sizeof eccc->name, fields[1]);
    }
    for (size_t i = 0; n >= 2 && i < UF_WHERES; i++) {
        if (strcmp(fields[0], wheres[i]) == 0) {
            uf_climate_text_where(&eccc->place, i, fields[1]);
        }
    }
}

/* One value in degC or m; NAN when it is missing. */
static enum uf_status read_value(double *value, struct eccc *eccc, char **fields, enum what what,
                                 struct uf_error *err)
{
    const char *field = eccc->value[what] < MAX_COLUMNS ? fields[eccc->value[what]] : "";
    const char *flag = eccc->flag[what] < MAX_COLUMNS ? fields[eccc->flag[what]] : "";
    char shown[48];
    *value = NAN;
    if (strchr(flag, 'M') != NULL || strchr(flag, 'N') != NULL || strchr(flag, 'Y') != NULL) {
        eccc->flagged += field[0] != '\0' ? 1 : 0;
        return UF_OK;
    }
    if (field[0] == '\0') {
        *value = what == SNOW && strchr(flag, 'T') != NULL ? 0.0 : (double)NAN;
        return UF_OK;
    }
    if (!uf_climate_text_number(field, value)) {
        return uf_climate_text_fail(&eccc->text, err, "%s \"%s\": is not a number",
                                    columns[what].flag, uf_climate_text_shown(field, shown));
    }
    *value *= what == SNOW ? 0.01 : 1.0;
    const double lowest = what == SNOW ? 0.0 : UF_CLIMATE_DAYS_LOWEST_DEGC;
    const double highest = what == SNOW ? UF_CLIMATE_DAYS_DEEPEST_M : UF_CLIMATE_DAYS_HIGHEST_DEGC;
    if (!(*value >= lowest && *value <= highest)) {
        return uf_climate_text_fail(&eccc->text, err,
                                    "%s: %s is impossible: correct it or blank it",
                                    columns[what].value, field);
    }
    eccc->estimated += strchr(flag, 'E') != NULL && what != SNOW ? 1 : 0;
    return UF_OK;
}

static enum uf_status read_row(struct eccc *eccc, char **fields, size_t n, struct uf_error *err)
{
    struct uf_climate_day read = {NAN, NAN, NAN, NAN}, *row = NULL;
    double *const to[WHATS] = {&read.mean_degC, &read.min_degC, &read.max_degC, &read.snow_m};
    long day = 0;
    enum uf_status status = UF_OK;
    char shown[48];
    if (n != eccc->n_columns) {
        return uf_climate_text_fail(&eccc->text, err,
                                    "has %zu fields where the header has %zu columns", n,
                                    eccc->n_columns);
    }
    if (!uf_calendar_parse(fields[eccc->date], &day)) {
        return uf_climate_text_fail(&eccc->text, err,
                                    "date \"%s\": expected 2001-02-03; is this the daily file?",
                                    uf_climate_text_shown(fields[eccc->date], shown));
    }
    for (int what = 0; status == UF_OK && what < WHATS; what++) {
        status = read_value(to[what], eccc, fields, (enum what)what, err);
    }
    if (read.min_degC > read.max_degC) { /* then their half sum is none either */
        read.mean_degC = read.min_degC = read.max_degC = NAN;
        eccc->crossed++;
    }
    const bool any = !isnan(read.mean_degC) || !isnan(read.min_degC) || !isnan(read.max_degC) ||
                     !isnan(read.snow_m);
    if (status != UF_OK || !any) {
        return status;
    }
    if (eccc->days.n > 0 && day <= eccc->last) {
        return uf_climate_text_fail(&eccc->text, err,
                                    "date %s comes twice or goes back: join years in order",
                                    fields[eccc->date]);
    }
    eccc->last = day;
    if (eccc->station < n && eccc->name[0] == '\0') {
        uf_climate_text_copy(eccc->name, sizeof eccc->name, fields[eccc->station]);
    }
    for (size_t i = 0; i < UF_WHERES; i++) {
        if (eccc->where[i] < n) {
            uf_climate_text_where(&eccc->place, i, fields[eccc->where[i]]);
        }
    }
    status = uf_climate_days_at(&row, &eccc->days, day, &eccc->text, err);
    if (status == UF_OK) {
        *row = read;
    }
    return status;
}

static enum uf_status read_line(struct eccc *eccc, struct uf_error *err)
{
    char *fields[MAX_COLUMNS];
    const size_t n = uf_climate_text_split(eccc->text.text, fields, MAX_COLUMNS);
    const size_t within = n < MAX_COLUMNS ? n : MAX_COLUMNS;
    if (n == 1 && fields[0][0] == '\0') {
        return UF_OK;
    }
    if (column_of(fields, within, "Date/Heure") < MAX_COLUMNS) {
        return uf_climate_text_fail(&eccc->text, err,
                                    "is the French file: download the English one");
    }
    if (column_of(fields, within, "Date/Time") < MAX_COLUMNS) {
        return read_header(eccc, fields, n, err);
    }
    if (eccc->n_columns == 0 || n <= 2) {
        read_station(eccc, fields, within);
        return UF_OK;
    }
    return read_row(eccc, fields, n, err);
}

static enum uf_status finish(struct uf_weather **out, const struct eccc *eccc, struct uf_error *err)
{
    const enum uf_status status = uf_climate_days_finish(out, &eccc->days, &eccc->text, err);
    if (status == UF_OK) {
        struct uf_weather *weather = *out;
        memcpy(weather->station, eccc->name, sizeof weather->station);
        uf_climate_text_settle(weather, &eccc->place);
        (void)snprintf(weather->source, sizeof weather->source,
                       "Environment and Climate Change Canada, daily data");
        (void)snprintf(
            weather->licence, sizeof weather->licence,
            "as stated at the download: attribution to Environment and Climate Change Canada");
        char *note = weather->note;
        const size_t size = sizeof weather->note;
        uf_climate_text_count(note, size, eccc->flagged, "values left out by their flag");
        uf_climate_text_count(note, size, eccc->crossed,
                              "days with Min Temp above Max Temp, left out");
        uf_climate_text_count(note, size, eccc->estimated,
                              "temperatures flagged as estimated, kept");
    }
    return status;
}

static enum uf_status read_eccc(struct uf_weather **out, const struct uf_climate_request *request,
                                struct uf_error *err)
{
    bool more = true;
    struct eccc *eccc = calloc(1, sizeof *eccc);
    *out = NULL;
    if (eccc == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory to read %s", request->name);
    }
    uf_climate_text_init(&eccc->text, request->file, request->name);
    eccc->place = UF_CLIMATE_NOWHERE;
    enum uf_status status = UF_OK;
    while (status == UF_OK && more) {
        status = uf_climate_text_next(&eccc->text, &more, err);
        if (status == UF_OK && more) {
            status = read_line(eccc, err);
        }
    }
    if (status == UF_OK) {
        status = finish(out, eccc, err);
    }
    uf_climate_days_clear(&eccc->days);
    free(eccc);
    return status;
}

const struct uf_climate_reader uf_climate_eccc = {
    .name = "Environment Canada daily CSV",
    .doc = "daily data as downloaded in English, one year or several joined",
    .matches = is_eccc,
    .read = read_eccc,
};
