#include "io/text/quote.h"
#include "site_private.h"
#include "solver/choice/variant.h"
#include "solver/design/foam.h"
#include "solver/ground/soil.h"
#include "solver/statics/load.h"
#include "solver/weather/surface.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Kinds of value with rules of their own: rows of the soil, board and surface tables, the
   design winter, the wheel, snow, the initial profile. */

#define SIGNATURE                                                                                  \
    struct site_reader *reader, const struct site_key *key, const struct site_place *place,        \
        const yaml_node_t *node, void *target

#define MOST_WORDS 60

static void blame_word(struct site_reader *reader, const struct site_place *place, const char *word,
                       const char *what, const char *const *words)
{
    char allowed[256], quoted[60];
    uf_site_suggest_word(allowed, sizeof allowed, word, words);
    uf_site_blame(reader, place, allowed, "'%s' is not a row of %s",
                  uf_quote_text(quoted, sizeof quoted, word), what);
}

static bool soil(SIGNATURE)
{
    const char *word = uf_site_scalar(reader, place, node), *words[MOST_WORDS + 1] = {NULL};
    (void)key;
    if (word == NULL) {
        return false;
    }
    const struct uf_soil *row = uf_soil_find(word);
    if (row == NULL) {
        for (size_t i = 0; i < MOST_WORDS && uf_soil_table[i].name != NULL; i++) {
            words[i] = uf_soil_table[i].name;
        }
        blame_word(reader, place, word, "the soil table", words);
        return false;
    }
    *(const struct uf_soil **)target = row;
    return true;
}

static bool cover(SIGNATURE)
{
    const char *word = uf_site_scalar(reader, place, node), *words[MOST_WORDS + 1] = {NULL};
    (void)key;
    if (word == NULL) {
        return false;
    }
    const struct uf_cover_row *row = uf_surface_find(word);
    if (row == NULL) {
        for (size_t i = 0; i < MOST_WORDS && uf_surface_table[i].name != NULL; i++) {
            words[i] = uf_surface_table[i].name;
        }
        blame_word(reader, place, word, "the n-factor table", words);
        return false;
    }
    *(const struct uf_cover_row **)target = row;
    return true;
}

/* A row of the board table, or NULL for `least`. */
static bool foam_row(SIGNATURE)
{
    const char *word = uf_site_scalar(reader, place, node), *words[MOST_WORDS + 1] = {"least"};
    (void)key;
    if (word == NULL) {
        return false;
    }
    const struct uf_foam *row = uf_foam_find(word);
    *(const struct uf_foam **)target = row;
    if (row == NULL && strcmp(word, "least") != 0) {
        for (size_t i = 0; i + 1 < MOST_WORDS && uf_foam_table[i].name != NULL; i++) {
            words[i + 1] = uf_foam_table[i].name;
        }
        blame_word(reader, place, word, "the board table", words);
        return false;
    }
    return true;
}

static bool foams(SIGNATURE)
{
    return uf_site_each(reader, key, place, node, target, foam_row);
}

static bool foam(SIGNATURE)
{
    struct uf_board *board = target;
    const struct uf_foam *row = NULL;
    if (!foam_row(reader, key, place, node, &row)) {
        return false;
    }
    board->least = row == NULL;
    uf_foam_put(board, row == NULL ? uf_foam_table : row);
    return true;
}

/* `least`; a block is read key by key. */
static bool anchors(SIGNATURE)
{
    const char *word = uf_site_scalar(reader, place, node);
    struct uf_anchors *own = target;
    own->least = word != NULL && strcmp(word, "least") == 0;
    if (word != NULL && !own->least) {
        uf_site_blame(reader, place, key->help, "is no block of anchors");
    }
    return own->least;
}

static bool winter(SIGNATURE)
{
    char quoted[60];
    const char *text = uf_site_scalar(reader, place, node);
    if (text == NULL) {
        return false;
    }
    if (!uf_winter_parse(text, target)) {
        uf_site_blame(reader, place, key->help, "'%s' names no winter",
                      uf_quote_text(quoted, sizeof quoted, text));
        return false;
    }
    return true;
}

static bool wheel(SIGNATURE)
{
    static const struct site_key force = {
        .measure = &uf_units_force, .unit = "kN", .low = 0, .high = 2000};
    struct uf_case *design = target;
    const char *text = uf_site_scalar(reader, place, node);
    if (text == NULL) {
        return false;
    }
    design->wheel_h20 = strcmp(text, "H20") == 0;
    if (design->wheel_h20 || strcmp(text, "none") == 0) {
        design->wheel_N = design->wheel_h20 ? UF_LOAD_H20_N : 0.0;
        return true;
    }
    if (strpbrk(text, "0123456789") == NULL || strchr("hHnN", text[0]) != NULL) {
        char quoted[60];
        uf_site_blame(reader, place, key->help, "'%s' is no wheel load",
                      uf_quote_text(quoted, sizeof quoted, text));
        return false;
    }
    return uf_site_quantity.read(reader, &force, place, node, &design->wheel_N);
}

/* A height over the crown, or `grade`: no bound. */
static bool fill_over(SIGNATURE)
{
    static const struct site_key height = {
        .measure = &uf_units_length, .unit = "m", .low = 0, .high = 30};
    const char *text = uf_site_scalar(reader, place, node);
    (void)key;
    if (text != NULL && strcmp(text, "grade") == 0) {
        *(double *)target = INFINITY;
        return true;
    }
    return text != NULL && uf_site_quantity.read(reader, &height, place, node, target);
}

static bool fill_overs(SIGNATURE)
{
    return uf_site_each(reader, key, place, node, target, fill_over);
}

/* Adds a case to those left out. */
static bool leave_out(struct site_reader *reader, const struct site_place *place,
                      const yaml_node_t *node, unsigned long *out)
{
    const char *word = uf_site_scalar(reader, place, node), *words[MOST_WORDS + 1] = {NULL};
    for (size_t i = 0; i < UF_VARIANTS && word != NULL; i++) {
        words[i] = uf_variants[i].name;
        if (strcmp(word, uf_variants[i].name) == 0) {
            *out |= 1UL << i;
            return true;
        }
    }
    if (word != NULL) {
        blame_word(reader, place, word, "the list of cases", words);
    }
    return false;
}

static bool left_out(SIGNATURE)
{
    const bool list = node->type == YAML_SEQUENCE_NODE;
    bool ok = list || leave_out(reader, place, node, target);
    (void)key;
    for (size_t i = 0;
         list && i < (size_t)(node->data.sequence.items.top - node->data.sequence.items.start);
         i++) {
        const int id = node->data.sequence.items.start[i];
        const yaml_node_t *item = yaml_document_get_node(&reader->document, id);
        char path[sizeof place->path];
        (void)snprintf(path, sizeof path, "%.100s[%zu]", place->path, i);
        const struct site_place at = uf_site_place_of(reader, item, path);
        ok = uf_site_enter(reader, &at, id) && leave_out(reader, &at, item, target) && ok;
    }
    return ok;
}

static bool snow(SIGNATURE)
{
    struct uf_surface_input *surface = target;
    const char *text = uf_site_scalar(reader, place, node);
    if (text == NULL) {
        return false;
    }
    if (strcmp(text, "none") != 0 && strcmp(text, "recorded") != 0) {
        char quoted[60];
        uf_site_blame(reader, place, key->help, "'%s' is no kind of snow",
                      uf_quote_text(quoted, sizeof quoted, text));
        return false;
    }
    surface->snow = strcmp(text, "none") == 0 ? UF_SNOW_NONE : UF_SNOW_RECORDED;
    return true;
}

static bool snow_depth(SIGNATURE)
{
    static const struct site_key depth = {
        .measure = &uf_units_length, .unit = "m", .low = 0, .high = 20};
    struct uf_surface_input *surface = target;
    const char *text = uf_site_scalar(reader, place, node);
    (void)key;
    if (text == NULL) {
        return false;
    }
    surface->snow = strcmp(text, "recorded") == 0 ? UF_SNOW_RECORDED : UF_SNOW_FIXED;
    return surface->snow == UF_SNOW_RECORDED ||
           uf_site_quantity.read(reader, &depth, place, node, &surface->snow_depth_m);
}

/* One [depth, temperature] pair of the profile. */
static bool read_pair(struct site_reader *reader, const struct site_place *place,
                      const yaml_node_t *node, double *depth_m, double *degC)
{
    static const struct site_key keys[2] = {
        {.measure = &uf_units_length, .unit = "m", .low = 0, .high = 500},
        {.measure = &uf_units_temperature, .unit = "degC", .low = -60, .high = 60}};
    double *const targets[2] = {depth_m, degC};
    bool ok = true;
    if (node->type != YAML_SEQUENCE_NODE ||
        node->data.sequence.items.top - node->data.sequence.items.start != 2) {
        uf_site_blame(reader, place, "a pair such as [0.5 m, 6 degC]", "is not a pair");
        return false;
    }
    for (size_t i = 0; i < 2; i++) {
        const int id = node->data.sequence.items.start[i];
        const yaml_node_t *item = yaml_document_get_node(&reader->document, id);
        const struct site_place at = uf_site_place_of(reader, item, place->path);
        ok = uf_site_enter(reader, &at, id) &&
             uf_site_quantity.read(reader, &keys[i], &at, item, targets[i]) && ok;
    }
    return ok;
}

static bool profile(SIGNATURE)
{
    struct uf_initial *initial = target;
    bool ok = true;
    (void)key;
    if (node->type != YAML_SEQUENCE_NODE) {
        uf_site_blame(reader, place, "a list such as [[0 m, 5 degC], [10 m, 5 degC]]",
                      "is not a list");
        return false;
    }
    const size_t n = (size_t)(node->data.sequence.items.top - node->data.sequence.items.start);
    if (n > UF_MAX_PROFILE) {
        uf_site_blame(reader, place, "at most 32", "%zu pairs are given", n);
        return false;
    }
    for (size_t i = 0; i < n; i++) {
        const int id = node->data.sequence.items.start[i];
        const yaml_node_t *item = yaml_document_get_node(&reader->document, id);
        char path[sizeof place->path];
        (void)snprintf(path, sizeof path, "%.100s[%zu]", place->path, i);
        const struct site_place at = uf_site_place_of(reader, item, path);
        ok = uf_site_enter(reader, &at, id) &&
             read_pair(reader, &at, item, &initial->depth_m[i], &initial->degC[i]) && ok;
        if (ok && i > 0 && !(initial->depth_m[i] > initial->depth_m[i - 1])) {
            uf_site_blame(reader, &at, "each depth below the one before",
                          "%g m does not lie below %g m", initial->depth_m[i],
                          initial->depth_m[i - 1]);
            ok = false;
        }
    }
    initial->n_profile = n;
    return ok;
}

const struct site_kind uf_site_soil = {"a row of the soil table", soil, false};
const struct site_kind uf_site_cover = {"a row of the n-factor table", cover, false};
const struct site_kind uf_site_foam = {"a row of the board table, or a block", foam, true};
const struct site_kind uf_site_foams = {"a list of rows of the board table", foams, false};
const struct site_kind uf_site_anchors = {"a block, or least", anchors, true};
const struct site_kind uf_site_fill_overs = {"a list of heights, or grade", fill_overs, false};
const struct site_kind uf_site_left_out = {"a list of cases", left_out, false};
const struct site_kind uf_site_winter = {"a winter", winter, false};
const struct site_kind uf_site_wheel = {"a word or a force", wheel, false};
const struct site_kind uf_site_fill_over = {"a height, or grade", fill_over, false};
const struct site_kind uf_site_snow = {"a word, or a block", snow, true};
const struct site_kind uf_site_snow_depth = {"a length, or recorded", snow_depth, false};
const struct site_kind uf_site_profile = {"a list of pairs", profile, false};
