#include "readings_csv.h"

#include "io/text/input.h"
#include "io/text/units.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define LINE_SIZE 512

/* A line being read, for messages. */
struct place {
    const char *path;
    int line;
};

/* Cuts blanks and the end of the line off both sides of a text. */
static char *trim(char *text)
{
    text += strspn(text, " \t");
    size_t n = strlen(text);
    while (n > 0 && strchr(" \t\r\n", text[n - 1]) != NULL) {
        text[--n] = '\0';
    }
    return text;
}

/* Cuts a line at its commas; returns how many cells there are, at most n. */
static size_t split(char *line, char *cells[], size_t n)
{
    size_t count = 0;
    for (char *cell = line; cell != NULL && count < n; count++) {
        char *comma = strchr(cell, ',');
        if (comma != NULL) {
            *comma = '\0';
        }
        cells[count] = trim(cell);
        cell = comma != NULL ? comma + 1 : NULL;
    }
    return count;
}

static enum uf_status read_length(double *out_m, const char *text, const struct place *at,
                                  struct uf_error *err)
{
    struct uf_units_fault fault = {.what = "", .allowed = ""};
    const enum uf_status status = uf_units_read(out_m, text, &uf_units_length, "mm", &fault);
    if (status != UF_OK) {
        return uf_fail(err, status, "%s:%d: %s: %s", at->path, at->line, fault.what, fault.allowed);
    }
    return UF_OK;
}

static enum uf_status read_row(struct uf_roundness_input *out, char *line, const struct place *at,
                               struct uf_error *err)
{
    char *cells[4];
    const size_t n = split(line, cells, 4);
    if (out->n >= UF_ROUNDNESS_READINGS) {
        return uf_fail(err, UF_E_INPUT, "%s:%d: more than %d readings", at->path, at->line,
                       UF_ROUNDNESS_READINGS);
    }
    if (n < 2 || n > 3 || cells[0][0] == '\0' || strlen(cells[0]) >= UF_ROUNDNESS_NAME) {
        return uf_fail(err, UF_E_INPUT,
                       "%s:%d: not a reading: at, diameter and perhaps level, such as "
                       "after straps,2391 mm,98.512 m",
                       at->path, at->line);
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

enum uf_status uf_readings_csv_read(struct uf_roundness_input *out, const char *path,
                                    struct uf_error *err)
{
    FILE *file = NULL;
    struct uf_error reason = {0};
    struct place at = {.path = path, .line = 0};
    enum uf_status status = UF_OK;
    char line[LINE_SIZE];
    if (uf_input_open(&file, path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
    }
    out->n = 0;
    while (status == UF_OK && fgets(line, sizeof line, file) != NULL) {
        at.line++;
        char *text = trim(strncmp(line, "\xEF\xBB\xBF", 3) == 0 ? line + 3 : line);
        if (at.line == 1) {
            if (strncmp(text, "at,diameter", 11) != 0) {
                status = uf_fail(err, UF_E_INPUT, "%s:1: the heading is missing: at,diameter,level",
                                 path);
            }
        } else if (text[0] != '\0') {
            status = read_row(out, text, &at, err);
        }
    }
    if (status == UF_OK && ferror(file) != 0) {
        status = uf_fail(err, UF_E_FILE, "%s: could not be read to its end", path);
    }
    (void)fclose(file);
    return status;
}
