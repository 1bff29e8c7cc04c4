#include "compare.h"

#include "cli/tell/answer.h"
#include "io/result/result_file.h"
#include "solver/design/shape.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const side_names[2] = {"A", "B"};

__attribute__((format(printf, 2, 3))) static void note(struct uf_compare *c, const char *format,
                                                       ...)
{
    if (c->n_notes < UF_COMPARE_NOTES) {
        va_list list;
        va_start(list, format);
        (void)vsnprintf(c->notes[c->n_notes++], sizeof c->notes[0], format, list);
        va_end(list);
    }
}

static double json_number(const cJSON *object, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    return cJSON_IsNumber(item) ? item->valuedouble : (double)NAN;
}

/* How often every winter broke a limit stands in the summary in JSON alone. */
static void fill_winters(struct uf_compare_side *side)
{
    const struct uf_result *r = side->result;
    cJSON *json = r->summary_json != NULL ? cJSON_Parse(r->summary_json) : NULL;
    side->value[UF_COMPARE_WINTERS] = json_number(json, "winters_run");
    side->value[UF_COMPARE_BROKEN] = json_number(json, "winters_that_broke_a_limit");
    cJSON_Delete(json);
}

/* A tank's numbers mean nothing where there is none: they stay NAN. */
static void fill_values(struct uf_compare_side *side)
{
    const struct uf_result *r = side->result;
    const struct uf_result_design *d = &r->design;
    const bool board = isfinite(d->board_top_m);
    const double thickness_m =
        board ? round(1e9 * (d->board_bottom_m - d->board_top_m)) / 1e9 : 0.0;
    side->value[UF_COMPARE_COVER] = d->crown_m;
    side->value[UF_COMPARE_THICKNESS] =
        uf_shape_at(d->shape) != NULL || board ? thickness_m : (double)NAN;
    side->value[UF_COMPARE_REACH] = d->board_half_width_m - d->half_width_m;
    side->value[UF_COMPARE_INDEX] = r->design_index_degC_day;
    side->value[UF_COMPARE_UPLIFT] = r->uplift_factor;
}

/* A recommendation's root is one of its choices, not what the site file says. */
static enum uf_status choose_leaves(struct uf_compare_side *side, struct uf_error *err)
{
    static const struct {
        const char *key;
        enum uf_compare_number which;
    } chosen[] = {{"burial.cover", UF_COMPARE_COVER},
                  {"board.thickness", UF_COMPARE_THICKNESS},
                  {"board.beyond_tank", UF_COMPARE_REACH}};
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < 3 && status == UF_OK; i++) {
        char text[40];
        if (isfinite(side->value[chosen[i].which])) {
            (void)snprintf(text, sizeof text, "%.6g m", side->value[chosen[i].which]);
            status = uf_site_leaves_put(&side->leaves, chosen[i].key, text, err);
        }
    }
    return status;
}

static enum uf_status read_side(struct uf_compare *c, size_t which, const char *path,
                                struct uf_error *err)
{
    struct uf_compare_side *side = &c->side[which];
    struct uf_error why = {0};
    side->path = path;
    enum uf_status status = uf_result_file_read(&side->result, path, err);
    if (status != UF_OK) {
        return status;
    }
    const struct uf_result *r = side->result;
    for (size_t i = 0; i < r->n_winters; i++) {
        side->every = side->every || isfinite(r->winters[i].frost_m);
    }
    fill_winters(side);
    fill_values(side);
    status = r->site_text != NULL
                 ? uf_site_leaves(&side->leaves, r->site_text, r->site_changes, &why)
                 : UF_E_INPUT;
    side->has_leaves = status == UF_OK;
    if (status == UF_E_MEMORY) {
        return uf_fail(err, status, "%s", why.text);
    }
    if (!side->has_leaves) {
        note(c, "%s holds no site file that can be read: what differs there is not told",
             side_names[which]);
    } else if (r->n_choices > 0) {
        return choose_leaves(side, err);
    }
    return UF_OK;
}

static enum uf_status add_difference(struct uf_compare *c, const char *key, const char *a,
                                     const char *b, struct uf_error *err)
{
    struct uf_compare_difference *rows =
        realloc(c->differences, (c->n_differences + 1) * sizeof *rows);
    if (rows == NULL) {
        return uf_fail(err, UF_E_MEMORY, "no memory for what differs");
    }
    c->differences = rows;
    rows[c->n_differences++] = (struct uf_compare_difference){key, {a, b}};
    return UF_OK;
}

static enum uf_status find_differences(struct uf_compare *c, struct uf_error *err)
{
    const struct uf_site_leaves *a = &c->side[0].leaves;
    const struct uf_site_leaves *b = &c->side[1].leaves;
    enum uf_status status = UF_OK;
    if (!c->side[0].has_leaves || !c->side[1].has_leaves) {
        return UF_OK;
    }
    for (size_t i = 0; i < a->n && status == UF_OK; i++) {
        const char *other = uf_site_leaves_value(b, a->rows[i].key);
        if (!uf_site_leaves_same(a->rows[i].key, a->rows[i].value, other)) {
            status = add_difference(c, a->rows[i].key, a->rows[i].value, other, err);
        }
    }
    for (size_t i = 0; i < b->n && status == UF_OK; i++) {
        if (uf_site_leaves_value(a, b->rows[i].key) == NULL) {
            status = add_difference(c, b->rows[i].key, NULL, b->rows[i].value, err);
        }
    }
    return status;
}

static bool same_text(const char *a, const char *b)
{
    return strcmp(a != NULL ? a : "", b != NULL ? b : "") == 0;
}

/* NAN, not known, is as good as any. */
static bool same_numbers(const double *a, const double *b, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (fabs(a[i] - b[i]) > 1e-6) {
            return false;
        }
    }
    return true;
}

static bool same_lists(const struct uf_result *a, const struct uf_result *b)
{
    bool same = a->n_days == b->n_days;
    for (size_t i = 0; same && i < a->n_days; i++) {
        const struct uf_result_day *x = &a->days[i];
        const struct uf_result_day *y = &b->days[i];
        same = same_numbers(&x->time_day, &y->time_day, 1) &&
               same_numbers(&x->air_degC, &y->air_degC, 1) &&
               same_numbers(&x->snow_m, &y->snow_m, 1);
    }
    return same;
}

/* The weather day by day: of the list where both have one, else of the series. */
static bool same_days(const struct uf_result *a, const struct uf_result *b)
{
    if (a->n_days > 0 && b->n_days > 0) {
        return same_lists(a, b);
    }
    const struct uf_record *x = a->record;
    const struct uf_record *y = b->record;
    return x->nt == y->nt && same_numbers(x->time_day, y->time_day, x->nt) &&
           same_numbers(x->air_degC, y->air_degC, x->nt) &&
           same_numbers(x->snow_m, y->snow_m, x->nt);
}

static void compare_weather(struct uf_compare *c)
{
    const struct uf_result *a = c->side[0].result;
    const struct uf_result *b = c->side[1].result;
    const bool station = same_text(a->station, b->station);
    const bool winter = same_text(a->winter_text, b->winter_text);
    const bool days = same_days(a, b);
    c->same_weather = station && winter && days;
    if (!station || !winter) {
        note(c, "NOT the same %s: what follows is the weather's doing too, not the design's alone",
             station  ? "winter"
             : winter ? "weather station"
                      : "weather station and winter");
    } else if (!days) {
        note(c, "NOT the same weather day by day, though station and winter have the "
                "same name: the weather file, or the days run, differ");
    }
}

static void note_side(struct uf_compare *c, size_t which)
{
    const struct uf_compare_side *side = &c->side[which];
    const struct uf_result *r = side->result;
    const char *name = side_names[which];
    if (r->n_choices > 0) {
        note(c, "%s is a recommendation: its %s is set beside the other", name,
             r->pick >= 0 ? "recommended option" : "nearest option, which misses a limit,");
    } else if (r->without_board != NULL) {
        note(c, "%s also holds the run without board: the one with board is used", name);
    }
    if (uf_shape_at(r->design.shape) == NULL &&
        uf_shape_at(c->side[1 - which].result->design.shape) != NULL) {
        note(c, "%s has no tank: of its numbers only the ground's can be set beside the other's",
             name);
    }
    if (side->every) {
        note(c,
             "%s holds every winter on file: its numbers are of the winter with the coldest water "
             "(without tank: the deepest frost)",
             name);
    }
    if (!(r->summary.heat_balance_relative <= 1e-4)) {
        note(c, "%s: heat balance NOT within 1e-4: do not use this run", name);
    }
}

static void note_both(struct uf_compare *c)
{
    const struct uf_result *a = c->side[0].result;
    const struct uf_result *b = c->side[1].result;
    if (!same_text(a->version, b->version)) {
        note(c, "by underfrost %s and %s: part of a difference may be the program's",
             a->version != NULL ? a->version : "(not told)",
             b->version != NULL ? b->version : "(not told)");
    }
    if ((a->summary.counters.factorisations > 0) != (b->summary.counters.factorisations > 0)) {
        note(c, "%s was run by the reference integrator, %s by the fast one",
             side_names[a->summary.counters.factorisations > 0 ? 0 : 1],
             side_names[a->summary.counters.factorisations > 0 ? 1 : 0]);
    }
}

enum uf_status uf_compare_read(struct uf_compare *out, const char *const paths[2],
                               struct uf_error *err)
{
    enum uf_status status = UF_OK;
    memset(out, 0, sizeof *out);
    out->facts = uf_facts;
    for (size_t i = 0; i < 2 && status == UF_OK; i++) {
        status = read_side(out, i, paths[i], err);
    }
    if (status == UF_OK && out->side[0].every != out->side[1].every) {
        status = uf_fail(err, UF_E_INPUT,
                         "%s holds every winter on file, the other file a single one: run both "
                         "designs with the same climate.winter",
                         out->side[0].every ? paths[0] : paths[1]);
    }
    if (status == UF_OK) {
        status = find_differences(out, err);
    }
    if (status == UF_OK) {
        compare_weather(out);
        note_both(out);
        note_side(out, 0);
        note_side(out, 1);
    }
    return status;
}

void uf_compare_free(struct uf_compare *compare)
{
    for (size_t i = 0; i < 2; i++) {
        uf_result_free(compare->side[i].result);
        uf_site_leaves_free(&compare->side[i].leaves);
    }
    free(compare->differences);
    memset(compare, 0, sizeof *compare);
}
