#include "site_file.h"

#include "io/text/input.h"
#include "site_private.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Reading a site file from beginning to end: text, document, --set, values, rules. */

#define MOST_BYTES      ((size_t)1024 * 1024)
#define BYTE_ORDER_MARK "\xEF\xBB\xBF"

static void blame_parser(struct site_reader *reader, const yaml_parser_t *parser, const char *text,
                         const char *set_key)
{
    struct site_place place = {.line = 0, .column = 0};
    (void)snprintf(place.path, sizeof place.path, "%s", set_key != NULL ? set_key : "YAML");
    if (set_key == NULL) {
        place.line = (int)parser->problem_mark.line + 1;
        place.column = (int)parser->problem_mark.column + 1;
    }
    if (set_key == NULL && parser->error == YAML_READER_ERROR) {
        place.line = 1;
        for (size_t i = 0; i < parser->problem_offset; i++) {
            place.line += text[i] == '\n';
        }
    }
    uf_site_blame(reader, &place, "YAML in UTF-8: blocks indented by blanks, key: value", "%s",
                  parser->problem != NULL ? parser->problem : "cannot be read");
}

bool uf_site_load(struct site_reader *reader, yaml_document_t *document, const char *text,
                  size_t size, const char *set_key)
{
    yaml_parser_t parser;
    yaml_document_t second;
    struct site_place place = {.line = set_key == NULL, .column = set_key == NULL};
    bool ok = false;
    (void)snprintf(place.path, sizeof place.path, "%s", set_key != NULL ? set_key : "YAML");
    if (size >= 3 && memcmp(text, BYTE_ORDER_MARK, 3) == 0) {
        text += 3; /* told the encoding, the library does not step over it */
        size -= 3;
    }
    const int deep_line = uf_site_depth_excess(text, size);
    if (deep_line > 0) {
        place.line = set_key == NULL ? deep_line : 0;
        uf_site_blame(reader, &place, "blocks and lists as the manual page shows them",
                      "more than sixteen brackets or blocks stand in one another");
        return false;
    }
    if (yaml_parser_initialize(&parser) == 0) {
        reader->out_of_memory = true;
        return false;
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, size);
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    if (yaml_parser_load(&parser, document) == 0) {
        reader->out_of_memory = parser.error == YAML_MEMORY_ERROR;
        blame_parser(reader, &parser, text, set_key);
        goto done;
    }
    if (yaml_document_get_root_node(document) == NULL) {
        uf_site_blame(reader, &place,
                      set_key != NULL ? "a value, or null for none"
                                      : "blocks such as tank, ground, climate",
                      "nothing is written");
        yaml_document_delete(document);
        goto done;
    }
    ok = true;
    if (yaml_parser_load(&parser, &second) == 0) {
        blame_parser(reader, &parser, text, set_key);
        goto done;
    }
    yaml_node_t *more = yaml_document_get_root_node(&second);
    if (more != NULL) {
        place.line = set_key == NULL ? (int)second.start_mark.line + 1 : 0;
        uf_site_blame(reader, &place, "one site in a file", "a second document begins (---)");
    }
    yaml_document_delete(&second);
done:
    yaml_parser_delete(&parser);
    return ok;
}

void uf_site_init(struct uf_site *site, const char *name)
{
    (void)snprintf(site->path, sizeof site->path, "%s", name);
    (void)uf_winter_parse(uf_site_find_key("climate.winter")->fallback, &site->winter);
    site->cycle_mean_degC = site->cycle_amplitude_K = NAN;
    site->cycle_coldest_day = 20.0;
    site->cycle_period_day = 365.2425;
    site->project.date = UF_NO_DAY;
    site->drawing.grade_level_m = site->drawing.bearing_degree = NAN;
    for (size_t i = 0; i < UF_SITE_ROUTES; i++) {
        site->drawing.routes[i].fall = NAN;
    }
    uf_case_init(&site->design);
    site->design.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    uf_site_works_init(&site->works);
    for (size_t i = 0; i < UF_SITE_OBSERVED; i++) {
        uf_site_observed_init(&site->observed[i]);
    }
    for (size_t i = 0; i < UF_MAX_PROBES; i++) {
        struct uf_probe *probe = &site->design.probes[i];
        probe->depth_m = probe->below_crown_m = probe->above_invert_m = probe->least_degC = NAN;
    }
}

/* A short text that must be known before the values are read, wherever it stands: names lead to it,
   ended by NULL. "" where there is none. */
static void find_text(char *text, size_t size, struct site_reader *reader, const char *const *names)
{
    yaml_document_t *document = &reader->document;
    yaml_node_t *node = yaml_document_get_root_node(document);
    size_t i = 0;
    text[0] = '\0';
    for (; names[i] != NULL && node != NULL && node->type == YAML_MAPPING_NODE; i++) {
        yaml_node_t *found = NULL;
        for (const yaml_node_pair_t *pair = node->data.mapping.pairs.start;
             pair < node->data.mapping.pairs.top; pair++) {
            const yaml_node_t *key = yaml_document_get_node(document, pair->key);
            if (key->type == YAML_SCALAR_NODE &&
                strcmp((const char *)key->data.scalar.value, names[i]) == 0) {
                found = yaml_document_get_node(document, pair->value);
            }
        }
        node = found;
    }
    if (names[i] == NULL && node != NULL && node->type == YAML_SCALAR_NODE &&
        node->data.scalar.length < size) {
        memcpy(text, node->data.scalar.value, node->data.scalar.length + 1);
    }
}

/* What the values are read by: the name of the money, and the units a bare number is told. */
static void look_ahead(struct site_reader *reader)
{
    char units[4];
    find_text(reader->currency, sizeof reader->currency, reader,
              (const char *const[]){"costs", "currency", NULL});
    find_text(units, sizeof units, reader, (const char *const[]){"units", NULL});
    reader->units = strcmp(units, "us") == 0 ? UF_UNITS_US : UF_UNITS_SI;
}

/* By line, then column; faults of --set (line 0) first; otherwise as found. */
static void sort_faults(struct uf_site_faults *faults)
{
    for (size_t i = 1; i < faults->n; i++) {
        const struct uf_fault row = faults->rows[i];
        size_t k = i;
        while (k > 0 &&
               (faults->rows[k - 1].line > row.line || (faults->rows[k - 1].line == row.line &&
                                                        faults->rows[k - 1].column > row.column))) {
            faults->rows[k] = faults->rows[k - 1];
            k--;
        }
        faults->rows[k] = row;
    }
}

static void read_document(struct site_reader *reader, const struct uf_site_overrides *overrides)
{
    const yaml_document_t *document = &reader->document;
    reader->first_set_node = (int)(document->nodes.top - document->nodes.start) + 1;
    for (size_t i = 0; overrides != NULL && i < overrides->n; i++) {
        uf_site_set(reader, overrides->rows[i].text);
    }
    reader->visited =
        calloc((size_t)(document->nodes.top - document->nodes.start) + 1, sizeof(bool));
    if (reader->visited == NULL) {
        reader->out_of_memory = true;
        return;
    }
    look_ahead(reader);
    if (uf_site_walk(reader)) {
        uf_site_rules(reader);
    }
}

/* How the reading ended. */
static enum uf_status settle(const struct site_reader *reader, struct uf_error *err)
{
    const size_t n = reader->faults->n;
    if (reader->out_of_memory) {
        return uf_fail(err, UF_E_MEMORY, "no memory for %s", reader->site->path);
    }
    if (reader->no_units) {
        return uf_fail(err, UF_E_FILE, "%s", reader->no_units_text);
    }
    if (n > 0) {
        return uf_fail(err, UF_E_INPUT, "%zu fault%s in the site file", n, n > 1 ? "s" : "");
    }
    return UF_OK;
}

enum uf_status uf_site_parse(struct uf_site **out, const char *name, const char *text, size_t size,
                             const struct uf_site_overrides *overrides,
                             struct uf_site_faults *faults, struct uf_error *err)
{
    struct site_reader reader = {.faults = faults};
    *out = NULL;
    *faults = (struct uf_site_faults){.rows = NULL, .n = 0};
    reader.site = calloc(1, sizeof *reader.site);
    if (reader.site == NULL || (reader.site->text = malloc(size + 1)) == NULL) {
        uf_site_free(reader.site);
        return uf_fail(err, UF_E_MEMORY, "no memory for %s", name);
    }
    memcpy(reader.site->text, text, size);
    reader.site->text[size] = '\0';
    uf_site_init(reader.site, name);
    if (uf_site_load(&reader, &reader.document, text, size, NULL)) {
        read_document(&reader, overrides);
        yaml_document_delete(&reader.document);
    }
    const enum uf_status status = settle(&reader, err);
    if (status == UF_OK) {
        *out = reader.site;
    } else {
        uf_site_free(reader.site);
    }
    if (status == UF_E_INPUT) {
        sort_faults(faults);
    } else {
        uf_site_faults_clear(faults);
    }
    free(reader.visited);
    free(reader.seen);
    return status;
}

enum uf_status uf_site_read(struct uf_site **out, const char *path,
                            const struct uf_site_overrides *overrides,
                            struct uf_site_faults *faults, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    FILE *file = NULL;
    char *text = malloc(MOST_BYTES + 1);
    *out = NULL;
    *faults = (struct uf_site_faults){.rows = NULL, .n = 0};
    if (text == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "no memory for %s", path);
        goto done;
    }
    status = uf_input_open(&file, path, err);
    if (status != UF_OK) {
        goto done;
    }
    const size_t size = fread(text, 1, MOST_BYTES + 1, file);
    if (ferror(file)) {
        status = uf_fail(err, UF_E_FILE, "cannot be read: %s", strerror(errno));
    } else if (size > MOST_BYTES) {
        status = uf_fail(err, UF_E_FILE, "is larger than a megabyte: no site file");
    } else {
        status = uf_site_parse(out, path, text, size, overrides, faults, err);
    }
done:
    if (file != NULL) {
        (void)fclose(file);
    }
    free(text);
    return status;
}

void uf_site_units(enum uf_units *out, const char *path, const struct uf_site_overrides *overrides)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    if (uf_site_read(&site, path, overrides, &faults, NULL) == UF_OK) {
        *out = site->units;
    }
    uf_site_faults_clear(&faults);
    uf_site_free(site);
}

void uf_site_free(struct uf_site *site)
{
    if (site != NULL) {
        free(site->text);
        free(site);
    }
}

void uf_site_faults_clear(struct uf_site_faults *faults)
{
    free(faults->rows);
    *faults = (struct uf_site_faults){.rows = NULL, .n = 0};
}
