#include "climate.h"
#include "climate_days.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Plain daily CSV. Lines that begin with # are notes, of which `# key: value` with
   source, licence, station (or `station NAME` for one column), units (degC, or degF) and
   dates are read.
   Then a header row whose first name is `date`, then one row a day, in order; an empty
   field is a missing value. */

#define MAX_COLUMNS 64

enum what { MEAN, LEAST, LARGEST, SNOW, WHATS };

/* Names a column may have, the preferred first, and what one unit of it is in degC or m. */
static const struct {
    const char *name;
    enum what what;
    double unit;
} known[] = {
    {"tair_mean", MEAN, 1.0},   {"tair_avg", MEAN, 1.0},      {"tair_min", LEAST, 1.0},
    {"tair_max", LARGEST, 1.0}, {"snow_cm", SNOW, 0.01},      {"snow_m", SNOW, 1.0},
    {"snow_mm", SNOW, 0.001},   {"snow_in", SNOW, UF_INCH_M},
};

/* Orders in which the parts of a date may be written: places of year, month and day. */
static const struct {
    const char *name;
    int year, month, day;
} orders[] = {
    {"year-month-day", 0, 1, 2}, {"year/month/day", 0, 1, 2}, {"day/month/year", 2, 1, 0},
    {"day-month-year", 2, 1, 0}, {"day.month.year", 2, 1, 0}, {"month/day/year", 2, 0, 1},
    {"month-day-year", 2, 0, 1},
};
#define N_ORDERS (sizeof orders / sizeof orders[0])

struct csv {
    struct uf_climate_text text;
    const char *column; /* asked for, or "" */
    bool raw;           /* that column as it stands */
    size_t order;
    char header[UF_CLIMATE_TEXT_ROOM]; /* cut into names */
    char *names[MAX_COLUMNS];
    size_t n_columns;
    size_t place[WHATS]; /* column of each quantity; 0 = none */
    double snow_unit_m;
    bool fahrenheit; /* temperatures, as a note of the file says */
    char station[128], source[256], licence[256], title[128];
};

/* Whether a note is one of those that are read, and so no title. */
static bool is_key(const char *note)
{
    static const char *const keys[] = {
        "source:", "licence:", "license:", "station", "units:", "dates:"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        if (strncmp(note, keys[i], strlen(keys[i])) == 0) {
            return true;
        }
    }
    return false;
}

/* Reads `# key: value` into the member it belongs to. */
static enum uf_status read_note(struct csv *csv, struct uf_error *err)
{
    char *note = csv->text.text + 1, own_station[160], shown[48];
    note += strspn(note, " \t#");
    char *value = strchr(note, ':');
    if (!is_key(note) && csv->title[0] == '\0') {
        uf_climate_text_copy(csv->title, sizeof csv->title, note);
    }
    if (value == NULL) {
        return UF_OK;
    }
    *value++ = '\0';
    value += strspn(value, " \t");
    (void)snprintf(own_station, sizeof own_station, "station %.120s", csv->column);
    if (strcmp(note, "source") == 0) {
        uf_climate_text_copy(csv->source, sizeof csv->source, value);
    } else if (strcmp(note, "licence") == 0 || strcmp(note, "license") == 0) {
        uf_climate_text_copy(csv->licence, sizeof csv->licence, value);
    } else if (strcmp(note, "station") == 0 || strcmp(note, own_station) == 0) {
        uf_climate_text_copy(csv->station, sizeof csv->station, value);
    } else if (strcmp(note, "units") == 0 && !csv->raw) {
        csv->fahrenheit = strncmp(value, "degF", 4) == 0;
        if (!csv->fahrenheit && strncmp(value, "degC", 4) != 0) {
            return uf_climate_text_fail(
                &csv->text, err, "units \"%s\": temperatures must be in degC or degF, named first",
                uf_climate_text_shown(value, shown));
        }
    } else if (strcmp(note, "dates") == 0) {
        for (csv->order = 0; csv->order < N_ORDERS; csv->order++) {
            if (strcmp(value, orders[csv->order].name) == 0) {
                return UF_OK;
            }
        }
        return uf_climate_text_fail(&csv->text, err,
                                    "dates \"%s\": write year-month-day, day/month/year, "
                                    "day.month.year or month/day/year",
                                    uf_climate_text_shown(value, shown));
    }
    return UF_OK;
}

/* Place of the column of that name; 0 when there is none. */
static size_t column_of(const struct csv *csv, const char *name)
{
    for (size_t i = 1; i < csv->n_columns; i++) {
        if (strcmp(csv->names[i], name) == 0) {
            return i;
        }
    }
    return 0;
}

/* Fails with the columns the file has. */
static enum uf_status no_column(const struct csv *csv, struct uf_error *err)
{
    char list[220] = "", shown[48];
    for (size_t i = 1; i < csv->n_columns; i++) {
        const size_t used = strlen(list);
        (void)snprintf(list + used, sizeof list - used, "%s%s", used > 0 ? ", " : "",
                       uf_climate_text_shown(csv->names[i], shown));
    }
    if (csv->column[0] != '\0') {
        return uf_climate_text_fail(&csv->text, err, "has no column \"%.60s\"; it has: %s",
                                    csv->column, list);
    }
    return uf_climate_text_fail(
        &csv->text, err,
        "has no tair_mean, tair_avg, or tair_min with tair_max: name the column of the "
        "air temperature by --column, or by `column:` in the site file; it has: %s",
        list);
}

/* Finds which column holds what. */
static enum uf_status choose_columns(struct csv *csv, struct uf_error *err)
{
    for (size_t k = 0; k < sizeof known / sizeof known[0]; k++) {
        const size_t at = column_of(csv, known[k].name);
        const bool wanted = csv->column[0] == '\0' || (known[k].what == SNOW && !csv->raw);
        if (at > 0 && wanted && csv->place[known[k].what] == 0) {
            csv->place[known[k].what] = at;
            csv->snow_unit_m = known[k].what == SNOW ? known[k].unit : csv->snow_unit_m;
        }
    }
    if (csv->column[0] != '\0') {
        csv->place[MEAN] = column_of(csv, csv->column);
    }
    if (csv->place[MEAN] == 0 && (csv->place[LEAST] == 0 || csv->place[LARGEST] == 0)) {
        return no_column(csv, err);
    }
    return UF_OK;
}

static enum uf_status read_header(struct csv *csv, struct uf_error *err)
{
    char shown[48];
    memcpy(csv->header, csv->text.text, sizeof csv->header);
    csv->n_columns = uf_climate_text_split(csv->header, csv->names, MAX_COLUMNS);
    if (strcmp(csv->names[0], "date") != 0 && strcmp(csv->names[0], "Date") != 0 &&
        strcmp(csv->names[0], "DATE") != 0) {
        return uf_climate_text_fail(
            &csv->text, err,
            "is no header row: expected one whose first column is `date`, with commas between "
            "the columns (no semicolons, no tabs) and points in the numbers");
    }
    if (csv->n_columns > MAX_COLUMNS) {
        return uf_climate_text_fail(&csv->text, err, "has %zu columns: at most %d are read",
                                    csv->n_columns, MAX_COLUMNS);
    }
    for (size_t i = 1; i < csv->n_columns; i++) {
        if (column_of(csv, csv->names[i]) != i) {
            return uf_climate_text_fail(&csv->text, err, "names the column \"%s\" twice",
                                        uf_climate_text_shown(csv->names[i], shown));
        }
    }
    return choose_columns(csv, err);
}

/* Notes and header row. */
static enum uf_status read_top(struct csv *csv, struct uf_error *err)
{
    bool more = true;
    enum uf_status status = uf_climate_text_next(&csv->text, &more, err);
    while (status == UF_OK && more) {
        const char *line = csv->text.text;
        if (line[0] != '#' && line[strspn(line, " \t")] != '\0') {
            return read_header(csv, err);
        }
        status = line[0] == '#' ? read_note(csv, err) : UF_OK;
        if (status == UF_OK) {
            status = uf_climate_text_next(&csv->text, &more, err);
        }
    }
    return status != UF_OK
               ? status
               : uf_climate_text_fail(&csv->text, err, "the file ends before its header row");
}

/* "3/12/2014" in the order of the file. */
static bool read_date(const char *field, size_t order, long *day)
{
    const char *at = field, *mark = strpbrk(orders[order].name, "-/.");
    int parts[3] = {0};
    if (order == 0) {
        return uf_calendar_parse(field, day);
    }
    for (int i = 0; i < 3; i++) {
        const size_t digits = strspn(at, "0123456789");
        const size_t most = i == orders[order].year ? 4 : 2;
        if (digits == 0 || digits > most || (most == 4 && digits != 4)) {
            return false;
        }
        parts[i] = (int)strtol(at, NULL, 10);
        at += digits;
        if (*at != (i < 2 ? *mark : '\0')) {
            return false;
        }
        at += i < 2 ? 1 : 0;
    }
    const int year = parts[orders[order].year], month = parts[orders[order].month];
    const int of_month = parts[orders[order].day];
    if (!uf_calendar_valid(year, month, of_month)) {
        return false;
    }
    *day = uf_calendar_day(year, month, of_month);
    return true;
}

/* One value of a row: NAN when the field is empty or the column absent. */
static enum uf_status read_value(double *value, const struct csv *csv, char **fields,
                                 enum what what, struct uf_error *err)
{
    const size_t at = csv->place[what];
    char shown[48];
    *value = NAN;
    if (at == 0 || fields[at][0] == '\0') {
        return UF_OK;
    }
    if (!uf_climate_text_number(fields[at], value)) {
        return uf_climate_text_fail(&csv->text, err,
                                    "%s = \"%s\": is not a number; leave it empty where the value "
                                    "is missing, and write decimals with a point",
                                    csv->names[at], uf_climate_text_shown(fields[at], shown));
    }
    if (csv->raw) {
        return UF_OK;
    }
    if (what == SNOW) {
        *value *= csv->snow_unit_m;
        if (!(*value >= 0.0 && *value <= UF_CLIMATE_DAYS_DEEPEST_M)) {
            return uf_climate_text_fail(&csv->text, err,
                                        "%s = %s: outside 0 to %g m; check the unit in the "
                                        "column's name (snow_mm, snow_cm, snow_m, snow_in)",
                                        csv->names[at], fields[at], UF_CLIMATE_DAYS_DEEPEST_M);
        }
        return UF_OK;
    }
    if (csv->fahrenheit) {
        *value = (*value - 32.0) / 1.8;
    }
    if (!(*value >= UF_CLIMATE_DAYS_LOWEST_DEGC && *value <= UF_CLIMATE_DAYS_HIGHEST_DEGC)) {
        return uf_climate_text_fail(
            &csv->text, err,
            "%s = %s: outside %g to %g degC; correct it, or leave it empty if it is "
            "missing; a file in degF says so by a line `# units: degF` at the top",
            csv->names[at], fields[at], UF_CLIMATE_DAYS_LOWEST_DEGC, UF_CLIMATE_DAYS_HIGHEST_DEGC);
    }
    return UF_OK;
}

static enum uf_status read_values(struct uf_climate_day *row, const struct csv *csv, char **fields,
                                  struct uf_error *err)
{
    double *const to[WHATS] = {&row->mean_degC, &row->min_degC, &row->max_degC, &row->snow_m};
    enum uf_status status = UF_OK;
    for (int what = 0; status == UF_OK && what < WHATS; what++) {
        status = read_value(to[what], csv, fields, (enum what)what, err);
    }
    if (status == UF_OK && row->min_degC > row->max_degC) {
        return uf_climate_text_fail(&csv->text, err, "tair_min = %g is above tair_max = %g",
                                    row->min_degC, row->max_degC);
    }
    return status;
}

static enum uf_status read_row(struct uf_climate_days *days, struct csv *csv, struct uf_error *err)
{
    char *fields[MAX_COLUMNS], shown[48];
    struct uf_climate_day *row = NULL;
    long day = 0;
    const size_t n = uf_climate_text_split(csv->text.text, fields, MAX_COLUMNS);
    if (!read_date(fields[0], csv->order, &day)) {
        return uf_climate_text_fail(&csv->text, err,
                                    "date \"%s\": expected a date as %s; another order is stated "
                                    "by a line such as `# dates: day/month/year` at the top",
                                    uf_climate_text_shown(fields[0], shown),
                                    orders[csv->order].name);
    }
    if (n != csv->n_columns) {
        return uf_climate_text_fail(&csv->text, err,
                                    "has %zu fields where the header has %zu columns; write "
                                    "decimals with a point, as 1.4, not 1,4",
                                    n, csv->n_columns);
    }
    const long last = days->start + (long)days->n - 1;
    if (days->n > 0 && day <= last) {
        return uf_climate_text_fail(&csv->text, err, "date %s %s: keep one row a day, in order",
                                    fields[0], day == last ? "comes twice" : "goes back in time");
    }
    const enum uf_status status = uf_climate_days_at(&row, days, day, &csv->text, err);
    return status == UF_OK ? read_values(row, csv, fields, err) : status;
}

static enum uf_status read_rows(struct uf_climate_days *days, struct csv *csv, struct uf_error *err)
{
    for (;;) {
        bool more = false;
        enum uf_status status = uf_climate_text_next(&csv->text, &more, err);
        if (status != UF_OK || !more) {
            return status;
        }
        const char *line = csv->text.text;
        if (line[0] != '#' && line[strspn(line, " \t")] != '\0') {
            status = read_row(days, csv, err);
        }
        if (status != UF_OK) {
            return status;
        }
    }
}

static enum uf_status read_csv(struct uf_weather **out, const struct uf_climate_request *request,
                               struct uf_error *err)
{
    struct uf_climate_days days = {0};
    struct csv *csv = calloc(1, sizeof *csv);
    *out = NULL;
    if (csv == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory to read %s", request->name);
    }
    uf_climate_text_init(&csv->text, request->file, request->name);
    csv->column = request->column;
    csv->raw = request->raw;
    enum uf_status status = read_top(csv, err);
    if (status == UF_OK) {
        status = read_rows(&days, csv, err);
    }
    if (status == UF_OK) {
        status = uf_climate_days_finish(out, &days, &csv->text, err);
    }
    if (status == UF_OK) {
        const char *station = csv->station[0] != '\0' ? csv->station : csv->title;
        uf_climate_text_copy((*out)->station, sizeof(*out)->station, station);
        uf_climate_text_copy((*out)->source, sizeof(*out)->source, csv->source);
        uf_climate_text_copy((*out)->licence, sizeof(*out)->licence, csv->licence);
        (*out)->latitude_deg = uf_climate_text_latitude_deg((*out)->station);
        (*out)->longitude_deg = uf_climate_text_longitude_deg((*out)->station);
    }
    uf_climate_days_clear(&days);
    free(csv);
    return status;
}

static bool any_file(const char *path, const char *head)
{
    (void)path;
    (void)head;
    return true;
}

const struct uf_climate_reader uf_climate_csv = {
    .name = "plain CSV",
    .doc = "notes after #, a header row beginning with `date`, one row a day",
    .matches = any_file,
    .read = read_csv,
};
