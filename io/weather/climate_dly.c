#include "climate.h"
#include "climate_ghcn.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* GHCN-Daily in fixed width: one line a month and element. Station in columns 1-11, year
   12-15, month 16-17, element 18-21, then 31 times a value of five columns and three
   flags, the second of them the quality flag. Source: the data set's readme, section III. */

#define ID_WIDTH  11
#define DAYS_FROM 21
#define DAY_WIDTH 8

static bool all_of(const char *text, size_t n, const char *allowed)
{
    return strspn(text, allowed) >= n;
}

#define DIGITS   "0123456789"
#define CAPITALS "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

/* Station, year and month, element. */
static bool begins_well(const char *line)
{
    return strlen(line) >= DAYS_FROM + 5 && all_of(line, ID_WIDTH, DIGITS CAPITALS "_-") &&
           all_of(line + ID_WIDTH, 6, DIGITS) && all_of(line + 17, 4, DIGITS CAPITALS);
}

static bool is_dly(const char *path, const char *head)
{
    char line[64];
    const char *ending = strrchr(path, '.');
    uf_climate_text_first_line(line, sizeof line, head);
    return (ending != NULL && strcmp(ending, ".dly") == 0) ||
           (begins_well(line) && strchr(line, ',') == NULL);
}

static int number_at(const char *line, size_t n)
{
    char text[8] = "";
    memcpy(text, line, n);
    return (int)strtol(text, NULL, 10);
}

/* The value of one day; false when the columns hold no whole number. */
static bool value_at(const char *at, size_t length, double *value)
{
    char text[8] = "";
    char *end = NULL;
    memcpy(text, at, length < 5 ? length : 5);
    *value = (double)strtol(text, &end, 10);
    return end != text && *end == '\0';
}

static enum uf_status read_line(struct uf_climate_ghcn *ghcn, const struct uf_climate_text *text,
                                struct uf_error *err)
{
    const char *line = text->text;
    const size_t length = strlen(line);
    char station[ID_WIDTH + 1] = "";
    bool wanted = false;
    if (!begins_well(line)) {
        return uf_climate_text_fail(text, err,
                                    "expected a station of 11 letters, year, month and element in "
                                    "fixed columns: is this a whole .dly file?");
    }
    memcpy(station, line, ID_WIDTH);
    enum uf_status status = uf_climate_ghcn_wants(&wanted, ghcn, station, text, err);
    const int year = number_at(line + 11, 4), month = number_at(line + 15, 2);
    if (status == UF_OK && !uf_calendar_valid(year, month, 1)) {
        return uf_climate_text_fail(text, err, "%.6s is no year and month", line + ID_WIDTH);
    }
    for (int day = 1; status == UF_OK && wanted && uf_calendar_valid(year, month, day); day++) {
        const size_t at = DAYS_FROM + DAY_WIDTH * (size_t)(day - 1);
        double value = 0.0;
        if (at >= length) {
            break; /* blanks at the end of a line may be gone */
        }
        if (!value_at(line + at, length - at, &value)) {
            return uf_climate_text_fail(text, err, "day %d: columns %zu to %zu hold no number", day,
                                        at + 1, at + 5);
        }
        const char quality = at + 6 < length ? line[at + 6] : ' ';
        status = uf_climate_ghcn_put(ghcn, uf_calendar_day(year, month, day), line + 17, value,
                                     quality, text, err);
    }
    return status;
}

static enum uf_status read_dly(struct uf_weather **out, const struct uf_climate_request *request,
                               struct uf_error *err)
{
    struct uf_climate_ghcn ghcn = {.units = &uf_climate_ghcn_tenths, .asked = request->column};
    struct uf_climate_text *text = malloc(sizeof *text);
    bool more = true;
    *out = NULL;
    if (text == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory to read %s", request->name);
    }
    uf_climate_text_init(text, request->file, request->name);
    enum uf_status status = uf_climate_text_next(text, &more, err);
    while (status == UF_OK && more) {
        if (text->text[0] != '\0') {
            status = read_line(&ghcn, text, err);
        }
        if (status == UF_OK) {
            status = uf_climate_text_next(text, &more, err);
        }
    }
    if (status == UF_OK) {
        status = uf_climate_ghcn_finish(out, &ghcn, text, err);
    }
    uf_climate_days_clear(&ghcn.days);
    free(text);
    return status;
}

const struct uf_climate_reader uf_climate_dly = {
    .name = "GHCN-Daily .dly",
    .doc = "NOAA's daily network, fixed width, one line a month and element",
    .matches = is_dly,
    .read = read_dly,
};
