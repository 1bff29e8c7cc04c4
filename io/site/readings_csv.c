#include "readings_csv.h"

#include "io/text/input.h"
#include "io/text/units.h"
#include "io/weather/climate_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static enum uf_status read_length(double *out_m, const char *text, const struct uf_climate_text *at,
                                  struct uf_error *err)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    const enum uf_status status = uf_units_read(out_m, text, &uf_units_length, "mm", &fault);
    if (status != UF_OK) {
        return uf_climate_text_fail(at, err, "%s: %s", fault.what, fault.allowed);
    }
    return UF_OK;
}

static enum uf_status read_row(struct uf_roundness_input *out, char **cells, size_t n,
                               const struct uf_climate_text *at, struct uf_error *err)
{
    if (out->n >= UF_ROUNDNESS_READINGS) {
        return uf_climate_text_fail(at, err, "more than %d readings", UF_ROUNDNESS_READINGS);
    }
    if (n < 2 || n > 3 || cells[0][0] == '\0' || strlen(cells[0]) >= UF_ROUNDNESS_NAME) {
        return uf_climate_text_fail(at, err,
                                    "not a reading: at, diameter and perhaps level, such as "
                                    "after straps,2391 mm,98.512 m");
    }
    struct uf_roundness_reading *reading = &out->readings[out->n++];
    memcpy(reading->at, cells[0], strlen(cells[0]) + 1);
    reading->level_m = NAN;
    enum uf_status status = read_length(&reading->diameter_m, cells[1], at, err);
    if (status == UF_OK && n == 3 && cells[2][0] != '\0') {
        status = read_length(&reading->level_m, cells[2], at, err);
    }
    return status;
}

static enum uf_status read_line(struct uf_roundness_input *out, struct uf_climate_text *at,
                                struct uf_error *err)
{
    char *cells[3];
    if (at->line == 1) {
        return strncmp(at->text, "at,diameter", 11) == 0
                   ? UF_OK
                   : uf_climate_text_fail(at, err, "the heading is missing: at,diameter,level");
    }
    const size_t n = uf_climate_text_split(at->text, cells, 3);
    return n == 1 && cells[0][0] == '\0' ? UF_OK : read_row(out, cells, n, at, err);
}

enum uf_status uf_readings_csv_read(struct uf_roundness_input *out, const char *path,
                                    struct uf_error *err)
{
    FILE *file = NULL;
    struct uf_error reason = {0};
    struct uf_climate_text at;
    bool more = true;
    if (uf_input_open(&file, path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
    }
    uf_climate_text_init(&at, file, path);
    out->n = 0;
    enum uf_status status = uf_climate_text_next(&at, &more, err);
    while (status == UF_OK && more) {
        status = read_line(out, &at, err);
        if (status == UF_OK) {
            status = uf_climate_text_next(&at, &more, err);
        }
    }
    (void)fclose(file);
    return status;
}
