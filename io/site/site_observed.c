#include "site_observed.h"

#include "io/weather/climate.h"
#include "site_leaves.h"
#include "site_private.h"
#include "site_weather.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct site_word_row uf_site_observed_kinds[] = {{"temperature", UF_SCORE_TEMPERATURE},
                                                       {"frost_depth", UF_SCORE_FROST},
                                                       {"water_temperature", UF_SCORE_WATER},
                                                       {NULL, 0}};

void uf_site_observed_init(struct uf_site_observed *observed)
{
    *observed = (struct uf_site_observed){.kind = UF_SCORE_TEMPERATURE,
                                          .x_m = NAN,
                                          .depth_m = NAN,
                                          .below_crown_m = NAN,
                                          .above_invert_m = NAN};
}

static void blame_row(struct site_reader *reader, size_t i, const char *allowed, const char *what)
{
    char path[60];
    (void)snprintf(path, sizeof path, "observed[%zu]", i);
    const struct site_place place = uf_site_nearest_place(reader, path);
    uf_site_blame(reader, &place, allowed, "%s", what);
}

void uf_site_observed_rules(struct site_reader *reader)
{
    const struct uf_case *design = &reader->site->design;
    const bool tank = uf_case_has_tank(design);
    for (size_t i = 0; i < reader->site->n_observed; i++) {
        struct uf_site_observed *row = &reader->site->observed[i];
        const bool from_tank = isfinite(row->below_crown_m) || isfinite(row->above_invert_m);
        if (from_tank && !tank) {
            blame_row(reader, i, "depth, below grade", "there is no tank to count from");
        } else if (isfinite(row->below_crown_m)) {
            row->depth_m = uf_case_crown_m(design) + row->below_crown_m;
        } else if (isfinite(row->above_invert_m)) {
            row->depth_m = uf_case_invert_m(design) - row->above_invert_m;
        }
        row->x_m = from_tank && isnan(row->x_m) ? 0.0 : row->x_m;
        row->x_m = tank ? row->x_m : (double)NAN; /* all of bare ground is undisturbed */
        if (row->kind == UF_SCORE_TEMPERATURE && isnan(row->depth_m)) {
            blame_row(reader, i, "one of depth, below_crown, above_invert",
                      "a temperature needs the depth of its sensor");
        } else if (row->kind == UF_SCORE_TEMPERATURE &&
                   !(row->depth_m >= 0.0 && row->depth_m <= design->grid.depth_m &&
                     !(fabs(row->x_m) > design->grid.width_m))) {
            blame_row(reader, i, "within grid.depth and grid.width",
                      "the sensor lies outside the domain");
        } else if (row->kind == UF_SCORE_WATER && !(tank && design->tank.level_m > 0.0)) {
            blame_row(reader, i, "tank.contents with water", "there is no water in the tank");
        }
    }
}

/* Scale and offset that turn a number of the column into SI. */
static enum uf_status conversion(double *scale, double *offset, const struct uf_site_observed *row,
                                 struct uf_error *err)
{
    const char *to = row->kind == UF_SCORE_FROST ? "m" : "degC";
    const char *from = row->unit[0] != '\0' ? row->unit : to;
    double one = NAN;
    enum uf_status status = uf_units_convert(offset, 0.0, from, to, err);
    if (status == UF_OK) {
        status = uf_units_convert(&one, 1.0, from, to, err);
    }
    *scale = one - *offset;
    return status;
}

/* A column over the days of the run, NAN where nothing was read; how many were. */
static enum uf_status read_one(struct uf_score_series *s, const struct uf_site_observed *row,
                               const char *folder, long start_day, size_t days,
                               struct uf_error *err)
{
    struct uf_weather *record = NULL;
    double scale = 1.0, offset = 0.0;
    size_t read = 0;
    enum uf_status status = uf_climate_read_raw(&record, row->file, row->column, folder, err);
    if (status == UF_OK) {
        status = conversion(&scale, &offset, row, err);
    }
    for (size_t i = 0; status == UF_OK && i < days; i++) {
        const long at = start_day + (long)i - record->start_day;
        const bool there = at >= 0 && at < (long)record->days;
        s->measured[i] = there ? scale * record->air_degC[at] + offset : (double)NAN;
        read += isfinite(s->measured[i]) ? 1 : 0;
    }
    uf_weather_free(record);
    if (status == UF_OK && read == 0) {
        return uf_fail(err, UF_E_INPUT,
                       "%.120s: column %.60s holds no reading within the run: initial.date and "
                       "initial.end say when it runs",
                       row->file, row->column);
    }
    return status;
}

/* Does row a come before row b? Temperatures of undisturbed ground first, by depth. */
static bool comes_before(const struct uf_site_observed *a, const struct uf_site_observed *b)
{
    if (a->kind != b->kind) {
        return a->kind < b->kind;
    }
    if (isnan(a->x_m) != isnan(b->x_m)) {
        return isnan(a->x_m);
    }
    return a->depth_m < b->depth_m;
}

static void sort_rows(size_t *rows, const struct uf_site *site)
{
    for (size_t i = 0; i < site->n_observed; i++) {
        size_t k = i;
        while (k > 0 && comes_before(&site->observed[i], &site->observed[rows[k - 1]])) {
            rows[k] = rows[k - 1];
            k--;
        }
        rows[k] = i;
    }
}

enum uf_status uf_site_observed_read(struct uf_score_series **out, size_t **rows,
                                     const struct uf_site *site, long start_day, size_t days,
                                     struct uf_error *err)
{
    char folder[UF_CLIMATE_PATH_SIZE];
    struct uf_score_series *series = calloc(site->n_observed + 1, sizeof *series);
    enum uf_status status = UF_OK;
    *out = NULL;
    *rows = calloc(site->n_observed + 1, sizeof **rows);
    if (series == NULL || *rows == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for what was measured");
    } else {
        sort_rows(*rows, site);
    }
    uf_site_weather_folder(folder, sizeof folder, site);
    for (size_t i = 0; i < site->n_observed && status == UF_OK; i++) {
        const struct uf_site_observed *row = &site->observed[(*rows)[i]];
        struct uf_score_series *s = &series[i];
        *s = (struct uf_score_series){
            .kind = (enum uf_score_kind)row->kind, .x_m = row->x_m, .depth_m = row->depth_m};
        s->measured = calloc(2 * days + 1, sizeof *s->measured);
        s->computed = s->measured == NULL ? NULL : s->measured + days;
        status = s->measured == NULL
                     ? uf_fail(err, UF_E_MEMORY, "out of memory for what was measured")
                     : read_one(s, row, folder, start_day, days, err);
        if (status == UF_E_FILE || status == UF_E_INPUT) {
            char key[64];
            (void)snprintf(key, sizeof key, "observed[%zu].file", (*rows)[i]);
            uf_site_leaves_blame(err, site->path, site->text, key, row->file);
        }
    }
    if (status != UF_OK) {
        uf_site_observed_free(series, *rows, series != NULL ? site->n_observed : 0);
        *rows = NULL;
        return status;
    }
    *out = series;
    return UF_OK;
}

void uf_site_observed_free(struct uf_score_series *series, size_t *rows, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        free(series[i].measured);
    }
    free(series);
    free(rows);
}
