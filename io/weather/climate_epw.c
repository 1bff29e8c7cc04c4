#include "climate.h"
#include "climate_text.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* EPW: eight header lines, then one row an hour: year, month, day, hour, minute, flags,
   dry bulb
   ... Mostly a typical year, its months taken from several years. Laid out as one whole
   winter that is dated 2001/02 (2001 in the south); a 29 February is left out. Snow depth
   is not read: in these files it is often a constant, or nought all winter. Source of the
   format: the public description of EPW by the US Department of Energy; 99.9 = missing
   dry bulb. */

#define FIELDS       32
#define DRY_BULB     6
#define LATITUDE     6
#define MISSING      99.9
#define YEAR_DAYS    365
#define LEAST_HOURS  20 /* of a day, for its mean: common practice, no source */
#define LOWEST_DEGC  (-80.0)
#define HIGHEST_DEGC 60.0

struct epw {
    struct uf_climate_text text;
    double sum_degC[YEAR_DAYS], hours[YEAR_DAYS]; /* by day of a common year */
    double per_hour;                              /* records an hour */
    struct uf_climate_place place;
    char station[128], kind[64];
};

static bool is_epw(const char *path, const char *head)
{
    char line[32];
    (void)path;
    uf_climate_text_first_line(line, sizeof line, head);
    return strncmp(line, "LOCATION,", 9) == 0;
}

/* LOCATION, city, region, country, kind, number, latitude, longitude, zone, elevation */
static enum uf_status read_location(struct epw *epw, struct uf_error *err)
{
    char *fields[FIELDS];
    static const size_t where[UF_WHERES] = {LATITUDE, LATITUDE + 1, LATITUDE + 3};
    const size_t n = uf_climate_text_split(epw->text.text, fields, FIELDS);
    epw->place = UF_CLIMATE_NOWHERE;
    for (size_t i = 0; i < UF_WHERES; i++) {
        uf_climate_text_where(&epw->place, i, where[i] < n ? fields[where[i]] : "");
    }
    if (!(fabs(epw->place.at[UF_WHERE_LATITUDE]) <= 90.0)) {
        return uf_climate_text_fail(
            &epw->text, err, "expected LOCATION, city, region, country, source, number, latitude");
    }
    char station[256];
    (void)snprintf(station, sizeof station, "%.80s, %.40s, %.40s", fields[1], fields[2], fields[3]);
    uf_climate_text_copy(epw->station, sizeof epw->station, station);
    uf_climate_text_copy(epw->kind, sizeof epw->kind, fields[4]);
    return UF_OK;
}

/* Header lines up to DATA PERIODS, which tells the records an hour. */
static enum uf_status read_top(struct epw *epw, struct uf_error *err)
{
    bool more = true;
    char *fields[FIELDS];
    enum uf_status status = uf_climate_text_next(&epw->text, &more, err);
    if (status == UF_OK) {
        status = read_location(epw, err);
    }
    while (status == UF_OK && more) {
        status = uf_climate_text_next(&epw->text, &more, err);
        if (status == UF_OK && strncmp(epw->text.text, "DATA PERIODS,", 13) == 0) {
            const size_t n = uf_climate_text_split(epw->text.text, fields, FIELDS);
            if (n < 3 || strcmp(fields[1], "1") != 0 ||
                !uf_climate_text_number(fields[2], &epw->per_hour) ||
                !(epw->per_hour >= 1.0 && epw->per_hour <= 60.0)) {
                return uf_climate_text_fail(&epw->text, err,
                                            "expected DATA PERIODS,1, and 1 to 60 records an hour");
            }
            return UF_OK;
        }
    }
    return status != UF_OK
               ? status
               : uf_climate_text_fail(&epw->text, err, "the file ends before DATA PERIODS");
}

/* A field as a whole number in a range, or -1. */
static int whole(const char *field, int highest)
{
    double value = NAN;
    const bool good = uf_climate_text_number(field, &value) && value >= 0.0 &&
                      value <= (double)highest && floor(value) == value;
    return good ? (int)value : -1;
}

static enum uf_status read_row(struct epw *epw, struct uf_error *err)
{
    char *fields[FIELDS], shown[48];
    double air_degC = NAN;
    if (uf_climate_text_split(epw->text.text, fields, FIELDS) <= DRY_BULB) {
        return uf_climate_text_fail(&epw->text, err, "is cut off before the dry bulb temperature");
    }
    const int month = whole(fields[1], 12), day = whole(fields[2], 31);
    if (month < 1 || day < 1 || !uf_calendar_valid(2000, month, day)) {
        return uf_climate_text_fail(&epw->text, err, "month %s, day %s: no such date",
                                    uf_climate_text_shown(fields[1], shown), fields[2]);
    }
    if (!uf_climate_text_number(fields[DRY_BULB], &air_degC)) {
        return uf_climate_text_fail(&epw->text, err, "dry bulb \"%s\": is not a number",
                                    uf_climate_text_shown(fields[DRY_BULB], shown));
    }
    if (air_degC == MISSING || (month == 2 && day == 29)) {
        return UF_OK;
    }
    if (!(air_degC >= LOWEST_DEGC && air_degC <= HIGHEST_DEGC)) {
        return uf_climate_text_fail(&epw->text, err, "dry bulb %s: outside %g to %g degC",
                                    fields[DRY_BULB], LOWEST_DEGC, HIGHEST_DEGC);
    }
    const long slot = uf_calendar_day(2001, month, day) - uf_calendar_day(2001, 1, 1);
    epw->sum_degC[slot] += air_degC;
    epw->hours[slot] += 1.0 / epw->per_hour;
    if (epw->hours[slot] > 24.0 + 1e-6) {
        return uf_climate_text_fail(&epw->text, err,
                                    "a 25th hour of one day: one year is read from such a file");
    }
    return UF_OK;
}

static enum uf_status lay_out(struct uf_weather **out, const struct epw *epw, struct uf_error *err)
{
    const bool south = epw->place.at[UF_WHERE_LATITUDE] < 0.0;
    const long start = uf_calendar_day(2001, south ? 2 : 8, 1);
    const long shift = start - uf_calendar_day(2001, 1, 1);
    size_t missing = 0;
    const enum uf_status status = uf_weather_create(out, start, YEAR_DAYS, false, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_weather *weather = *out;
    for (long i = 0; i < YEAR_DAYS; i++) {
        const long slot = (i + shift) % YEAR_DAYS;
        if (epw->hours[slot] >= LEAST_HOURS) {
            weather->air_degC[i] = epw->sum_degC[slot] / (epw->hours[slot] * epw->per_hour);
        } else {
            missing++;
        }
    }
    weather->typical_year = true;
    uf_climate_text_settle(weather, &epw->place);
    memcpy(weather->station, epw->station, sizeof weather->station);
    (void)snprintf(weather->source, sizeof weather->source, "EPW file, %s", epw->kind);
    (void)snprintf(weather->licence, sizeof weather->licence, "see where the file comes from");
    (void)snprintf(weather->note, sizeof weather->note,
                   "a typical year, dated %s though no real winter; its snow depth is not read, "
                   "being often wrong in such files",
                   south ? "2001" : "2001/02");
    uf_climate_text_count(weather->note, sizeof weather->note, missing, "days without a mean");
    if (missing == YEAR_DAYS) {
        uf_weather_free(weather);
        *out = NULL;
        return uf_fail(err, UF_E_INPUT, "%s: no day of it has an air temperature", epw->text.name);
    }
    return UF_OK;
}

static enum uf_status read_epw(struct uf_weather **out, const struct uf_climate_request *request,
                               struct uf_error *err)
{
    bool more = true;
    struct epw *epw = calloc(1, sizeof *epw);
    *out = NULL;
    if (epw == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory to read %s", request->name);
    }
    uf_climate_text_init(&epw->text, request->file, request->name);
    enum uf_status status = read_top(epw, err);
    while (status == UF_OK && more) {
        status = uf_climate_text_next(&epw->text, &more, err);
        if (status == UF_OK && more && epw->text.text[0] != '\0') {
            status = read_row(epw, err);
        }
    }
    if (status == UF_OK) {
        status = lay_out(out, epw, err);
    }
    free(epw);
    return status;
}

const struct uf_climate_reader uf_climate_epw = {
    .name = "EPW",
    .doc = "hourly weather of one year, mostly a typical one",
    .matches = is_epw,
    .read = read_epw,
};
