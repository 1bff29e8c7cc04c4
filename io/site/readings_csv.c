#include "readings_csv.h"

#include "io/text/input.h"
#include "io/text/units.h"
#include "io/weather/climate_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define MOST 8 /* columns */

enum kind { NAME, COUNT, LENGTH, IGNORED };

/* What a column may be called, and where its value goes. */
static const struct column {
    const char *name;
    enum kind kind;
    bool needed;
    size_t member;
} columns[MOST] = {
    {"at", NAME, true, 0},
    {"diameter", LENGTH, true, offsetof(struct uf_roundness_reading, diameter_m)},
    {"station", COUNT, false, 0},
    {"horizontal", LENGTH, false, offsetof(struct uf_roundness_reading, across_m)},
    {"level", LENGTH, false, offsetof(struct uf_roundness_reading, level_m)},
    {"far_level", LENGTH, false, offsetof(struct uf_roundness_reading, far_level_m)},
    {"date", IGNORED, false, 0},
    {"by", IGNORED, false, 0},
};

/* The columns of a file, in its order. */
struct heading {
    const struct column *columns[MOST];
    size_t n;
};

static enum uf_status read_length(struct uf_roundness_reading *reading, const struct column *column,
                                  const char *text, const struct uf_climate_text *at,
                                  struct uf_error *err)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    double m;
    if (uf_units_read(&m, text, &uf_units_length, "mm", &fault) != UF_OK) {
        return uf_climate_text_fail(at, err, "%s: %s", fault.what, fault.allowed);
    }
    memcpy((char *)reading + column->member, &m, sizeof m);
    return UF_OK;
}

static enum uf_status read_cell(struct uf_roundness_reading *reading, const struct column *column,
                                const char *text, const struct uf_climate_text *at,
                                struct uf_error *err)
{
    double count = 0.0;
    if (column->kind == IGNORED || (text[0] == '\0' && !column->needed)) {
        return UF_OK;
    }
    if (column->kind == LENGTH) {
        return read_length(reading, column, text, at, err);
    }
    if (column->kind == COUNT) {
        if (!uf_climate_text_number(text, &count) || !(count >= 1.0) || count > 99.0 ||
            count != floor(count)) {
            return uf_climate_text_fail(at, err, "station: a whole number, 1 to 99");
        }
        reading->station = (size_t)count;
        return UF_OK;
    }
    if (text[0] == '\0' || strlen(text) >= UF_ROUNDNESS_NAME) {
        return uf_climate_text_fail(at, err, "at: the step of the work, up to %d letters",
                                    UF_ROUNDNESS_NAME - 1);
    }
    memcpy(reading->at, text, strlen(text) + 1);
    return UF_OK;
}

static enum uf_status read_row(struct uf_roundness_input *out, char **cells, size_t n,
                               const struct heading *heading, const struct uf_climate_text *at,
                               struct uf_error *err)
{
    enum uf_status status = UF_OK;
    if (out->n >= UF_ROUNDNESS_READINGS) {
        return uf_climate_text_fail(at, err, "more than %d readings", UF_ROUNDNESS_READINGS);
    }
    if (n > heading->n) {
        return uf_climate_text_fail(at, err,
                                    "more fields than the heading has columns: quote a "
                                    "text that holds a comma");
    }
    struct uf_roundness_reading *reading = &out->readings[out->n++];
    *reading = (struct uf_roundness_reading){
        .diameter_m = NAN, .across_m = NAN, .level_m = NAN, .far_level_m = NAN};
    for (size_t i = 0; i < heading->n && status == UF_OK; i++) {
        status = read_cell(reading, heading->columns[i], i < n ? cells[i] : "", at, err);
    }
    return status;
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

static enum uf_status read_heading(struct heading *out, char **cells, size_t n,
                                   const struct uf_climate_text *at, struct uf_error *err)
{
    bool has[MOST] = {false};
    bool ok = n <= MOST;
    *out = (struct heading){.n = n};
    for (size_t i = 0; ok && i < n; i++) {
        out->columns[i] = find_column(cells[i]);
        ok = out->columns[i] != NULL && !has[out->columns[i] - columns];
        if (ok) {
            has[out->columns[i] - columns] = true;
        }
    }
    return ok && has[0] && has[1]
               ? UF_OK
               : uf_climate_text_fail(at, err,
                                      "not a heading: at,diameter and perhaps station, horizontal, "
                                      "level, far_level, date, by, each once");
}

static enum uf_status read_line(struct uf_roundness_input *out, struct heading *heading,
                                struct uf_climate_text *at, struct uf_error *err)
{
    char *cells[MOST];
    const size_t n = uf_climate_text_split(at->text, cells, MOST);
    if (at->line == 1) {
        return read_heading(heading, cells, n, at, err);
    }
    return n == 1 && cells[0][0] == '\0' ? UF_OK : read_row(out, cells, n, heading, at, err);
}

enum uf_status uf_readings_csv_read(struct uf_roundness_input *out, const char *path,
                                    struct uf_error *err)
{
    FILE *file = NULL;
    struct uf_error reason = {0};
    struct uf_climate_text at;
    struct heading heading = {.n = 0};
    bool more = true;
    if (uf_input_open(&file, path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
    }
    uf_climate_text_init(&at, file, path);
    out->n = 0;
    enum uf_status status = uf_climate_text_next(&at, &more, err);
    while (status == UF_OK && more) {
        status = read_line(out, &heading, &at, err);
        if (status == UF_OK) {
            status = uf_climate_text_next(&at, &more, err);
        }
    }
    (void)fclose(file);
    return status;
}
