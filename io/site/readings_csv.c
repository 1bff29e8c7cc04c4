#include "readings_csv.h"

#include "io/text/input.h"
#include "io/weather/climate_text.h"
#include "site_private.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#define MOST 8 /* columns */

enum kind { NAME, COUNT, LENGTH, IGNORED };

/* What a column may be called, and where its value goes. A length is that of a key of the site file,
   with its range and its words. */
static const struct column {
    const char *name;
    enum kind kind;
    bool needed;
    size_t member;
    const char *key;
} columns[MOST] = {
    {"at", NAME, true, 0, NULL},
    {"diameter", LENGTH, true, offsetof(struct uf_roundness_reading, diameter_m),
     "readings[].diameter"},
    {"station", COUNT, false, 0, NULL},
    {"horizontal", LENGTH, false, offsetof(struct uf_roundness_reading, across_m),
     "readings[].horizontal"},
    {"level", LENGTH, false, offsetof(struct uf_roundness_reading, level_m), "readings[].level"},
    {"far_level", LENGTH, false, offsetof(struct uf_roundness_reading, far_level_m),
     "readings[].far_level"},
    {"date", IGNORED, false, 0, NULL},
    {"by", IGNORED, false, 0, NULL},
};

/* Lines after which no more faults are told: a file that is no list of readings. */
enum { MOST_FAULTS = 100 };

struct lines {
    struct uf_climate_text at;
    const struct column *heading[MOST]; /* the columns of the file, in its order */
    size_t n;
    struct site_reader reader; /* where faults go */
};

static struct site_place place_of(const struct lines *lines, const char *name)
{
    struct site_place place = {.line = (int)lines->at.line};
    (void)snprintf(place.path, sizeof place.path, "%s", name);
    return place;
}

static void blame(struct lines *lines, const char *name, const char *what, const char *allowed)
{
    const struct site_place place = place_of(lines, name);
    uf_site_blame(&lines->reader, &place, allowed, "%s", what);
}

static bool has_control(const char *text)
{
    bool has = false;
    for (; *text != '\0'; text++) {
        has = has || (unsigned char)*text < 0x20 || *text == 0x7F;
    }
    return has;
}

static void read_name(struct lines *lines, char *out, const char *text)
{
    char allowed[60];
    (void)snprintf(allowed, sizeof allowed, "the step of the work, 1 to %d letters",
                   UF_ROUNDNESS_NAME - 1);
    if (has_control(text)) {
        blame(lines, "at", "holds a control character", "text on one line");
    } else if (text[0] == '\0' || strlen(text) >= UF_ROUNDNESS_NAME) {
        blame(lines, "at", text[0] == '\0' ? "is missing" : "is too long", allowed);
    } else {
        memcpy(out, text, strlen(text) + 1);
    }
}

static void read_cell(struct lines *lines, struct uf_roundness_reading *reading,
                      const struct column *column, const char *text)
{
    double value = NAN;
    if (column->kind == IGNORED || (text[0] == '\0' && !column->needed)) {
        return;
    }
    if (column->kind == NAME) {
        read_name(lines, reading->at, text);
    } else if (column->kind == LENGTH) {
        const struct site_place place = place_of(lines, column->name);
        (void)uf_site_quantity_of(&lines->reader, uf_site_find_key(column->key), &place, text,
                                  &value);
        memcpy((char *)reading + column->member, &value, sizeof value);
    } else if (uf_climate_text_number(text, &value) && value >= 1.0 && value <= 99.0 &&
               value <= floor(value)) {
        reading->station = (size_t)value;
    } else {
        blame(lines, column->name, "is no station", "a whole number, 1 to 99");
    }
}

static void read_row(struct uf_roundness_input *out, struct lines *lines, char **cells, size_t n)
{
    struct uf_roundness_reading reading = {
        .diameter_m = NAN, .across_m = NAN, .level_m = NAN, .far_level_m = NAN};
    const size_t wrong = lines->reader.faults->n;
    if (n > lines->n) {
        blame(lines, "", "more fields than the heading has columns",
              "quote a text that holds a comma");
        return;
    }
    for (size_t i = 0; i < lines->n; i++) {
        read_cell(lines, &reading, lines->heading[i], i < n ? cells[i] : "");
    }
    if (out->n < UF_ROUNDNESS_READINGS && lines->reader.faults->n == wrong) {
        out->readings[out->n++] = reading;
    } else if (lines->reader.faults->n == wrong) {
        char allowed[40];
        (void)snprintf(allowed, sizeof allowed, "at most %d", UF_ROUNDNESS_READINGS);
        blame(lines, "", "one reading too many", allowed);
    }
}

static const struct column *find_column(const char *name)
{
    for (size_t i = 0; i < MOST; i++) {
        if (strcmp(columns[i].name, name) == 0) {
            return &columns[i];
        }
    }
    return NULL;
}

/* false: no line below it can be read. */
static bool read_heading(struct lines *lines, char **cells, size_t n)
{
    bool has[MOST] = {false};
    bool ok = n <= MOST;
    lines->n = n;
    for (size_t i = 0; ok && i < n; i++) {
        lines->heading[i] = find_column(cells[i]);
        ok = lines->heading[i] != NULL && !has[lines->heading[i] - columns];
        if (ok) {
            has[lines->heading[i] - columns] = true;
        }
    }
    if (!ok || !has[0] || !has[1]) {
        blame(lines, "", "not a heading",
              "at,diameter and perhaps station, horizontal, level, far_level, date, by, each once");
        return false;
    }
    return true;
}

/* Returns whether to go on. */
static bool read_line(struct uf_roundness_input *out, struct lines *lines)
{
    char *cells[MOST];
    const size_t n = uf_climate_text_split(lines->at.text, cells, MOST);
    if (lines->at.line == 1) {
        return read_heading(lines, cells, n);
    }
    if (n != 1 || cells[0][0] != '\0') {
        read_row(out, lines, cells, n);
    }
    return lines->reader.faults->n < MOST_FAULTS;
}

enum uf_status uf_readings_csv_take(struct uf_roundness_input *out, FILE *file, const char *name,
                                    struct uf_site_faults *faults, struct uf_error *err)
{
    struct lines lines = {.reader = {.name = name, .faults = faults}};
    bool more = true;
    *faults = (struct uf_site_faults){0};
    uf_climate_text_init(&lines.at, file, name);
    out->n = 0;
    enum uf_status status = uf_climate_text_next(&lines.at, &more, err);
    while (status == UF_OK && more && read_line(out, &lines)) {
        status = uf_climate_text_next(&lines.at, &more, err);
    }
    if (status == UF_OK && lines.reader.no_units) {
        return uf_fail(err, UF_E_FILE, "%s", lines.reader.no_units_text);
    }
    if (status == UF_OK && lines.reader.out_of_memory) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for what is wrong with %.250s", name);
    }
    return status == UF_OK && faults->n > 0
               ? uf_fail(err, UF_E_INPUT, "%.250s: %zu readings are wrong", name, faults->n)
               : status;
}

enum uf_status uf_readings_csv_read(struct uf_roundness_input *out, const char *path,
                                    struct uf_site_faults *faults, struct uf_error *err)
{
    FILE *file = NULL;
    struct uf_error reason = {0};
    *faults = (struct uf_site_faults){0};
    if (uf_input_open(&file, path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
    }
    const enum uf_status status = uf_readings_csv_take(out, file, path, faults, err);
    (void)fclose(file);
    return status;
}
