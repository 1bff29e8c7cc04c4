#include "io/text/quote.h"
#include "site_private.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Walks the document tree beside the table of keys: each pair is looked up by its path,
   blocks and lists are entered, values handed to their kind. */

const struct site_kind uf_site_block = {"a block of keys", NULL, true};
const struct site_kind uf_site_list = {"a list", NULL, false};

void uf_site_blame_parts(struct site_reader *reader, const struct site_place *place,
                         const struct uf_message *what, const struct uf_message *allowed)
{
    struct uf_site_faults *faults = reader->faults;
    struct uf_fault *rows = realloc(faults->rows, (faults->n + 1) * sizeof *rows);
    if (rows == NULL) {
        reader->out_of_memory = true;
        return;
    }
    faults->rows = rows;
    struct uf_fault *row = &rows[faults->n++];
    *row = (struct uf_fault){
        .line = place->line, .column = place->column, .what = *what, .allowed = *allowed};
    (void)snprintf(row->key, sizeof row->key, "%s", place->path);
}

void uf_site_blame(struct site_reader *reader, const struct site_place *place, const char *allowed,
                   const char *what, ...)
{
    struct uf_message said = {.n = 0};
    struct uf_message right = {.n = 0};
    va_list args;
    va_start(args, what);
    (void)vsnprintf(said.text, sizeof said.text, what, args);
    va_end(args);
    (void)snprintf(right.text, sizeof right.text, "%s", allowed);
    uf_site_blame_parts(reader, place, &said, &right);
}

struct site_place uf_site_place_of(const struct site_reader *reader, const yaml_node_t *node,
                                   const char *path)
{
    struct site_place place = {.line = 0, .column = 0};
    const long id = node - reader->document.nodes.start + 1;
    (void)snprintf(place.path, sizeof place.path, "%s", path);
    if (id < reader->first_set_node) {
        place.line = (int)node->start_mark.line + 1;
        place.column = (int)node->start_mark.column + 1;
    }
    return place;
}

const char *uf_site_scalar(struct site_reader *reader, const struct site_place *place,
                           const yaml_node_t *node)
{
    if (node->type != YAML_SCALAR_NODE) {
        uf_site_blame(reader, place, "one value", "is a %s",
                      node->type == YAML_SEQUENCE_NODE ? "list" : "block of keys");
        return NULL;
    }
    const char *text = (const char *)node->data.scalar.value;
    if (strlen(text) != node->data.scalar.length) {
        uf_site_blame(reader, place, "text without control characters", "holds a zero byte");
        return NULL;
    }
    return text;
}

bool uf_site_is_null(const yaml_node_t *node)
{
    const char *text = NULL;
    switch (node->type) {
    case YAML_SEQUENCE_NODE:
        return node->data.sequence.items.top == node->data.sequence.items.start;
    case YAML_MAPPING_NODE:
        return node->data.mapping.pairs.top == node->data.mapping.pairs.start;
    case YAML_SCALAR_NODE:
        text = (const char *)node->data.scalar.value;
        return node->data.scalar.style == YAML_PLAIN_SCALAR_STYLE &&
               (text[0] == '\0' || strcmp(text, "~") == 0 || strcmp(text, "null") == 0);
    case YAML_NO_NODE:
        break;
    }
    return true;
}

const struct site_key *uf_site_find_key(const char *pattern)
{
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        if (strcmp(uf_site_keys[i].path, pattern) == 0) {
            return &uf_site_keys[i];
        }
    }
    return NULL;
}

/* A block or list that is being walked: its path as in the table and as written, and
   where the offsets of its keys count from. */
struct level {
    const char *pattern, *path;
    char *base;
};

static void walk_mapping(struct site_reader *reader, const struct level *level,
                         const struct site_place *place, yaml_node_t *node);

bool uf_site_enter(struct site_reader *reader, const struct site_place *place, int id)
{
    const yaml_node_t *node = yaml_document_get_node(&reader->document, id);
    static const char *const tags[] = {YAML_STR_TAG, YAML_SEQ_TAG, YAML_MAP_TAG};
    if (reader->visited[id]) {
        uf_site_blame(reader, place, "the value written out", "is an alias (*): not read here");
        return false;
    }
    reader->visited[id] = true;
    for (size_t i = 0; i < sizeof tags / sizeof tags[0]; i++) {
        if (node->tag != NULL && strcmp((const char *)node->tag, tags[i]) == 0) {
            return true;
        }
    }
    uf_site_blame(reader, place, "the value alone", "has a tag (!): not read here");
    return true;
}

/* A word in place of a block: its name, where the rows of the list must have one. */
static bool walk_name(struct site_reader *reader, const char *pattern, const struct site_place *at,
                      const yaml_node_t *node, char *base, const struct site_key *list, size_t i)
{
    char path[160];
    (void)snprintf(path, sizeof path, "%s.name", pattern);
    const struct site_key *name = uf_site_find_key(path);
    return name != NULL && name->fallback == uf_site_needed &&
           name->kind->read(reader, name, at, node,
                            base + list->offset + i * list->row_size + name->offset);
}

static void walk_list(struct site_reader *reader, const struct site_key *key,
                      const struct site_place *place, const yaml_node_t *node, char *base)
{
    if (node->type != YAML_SEQUENCE_NODE) {
        uf_site_blame(reader, place, "a list, each row beginning with '-'", "is not a list");
        return;
    }
    const size_t n = (size_t)(node->data.sequence.items.top - node->data.sequence.items.start);
    char pattern[128];
    (void)snprintf(pattern, sizeof pattern, "%s[]", key->path);
    if (n > key->room) {
        char allowed[60];
        (void)snprintf(allowed, sizeof allowed, "at most %zu", key->room);
        uf_site_blame(reader, place, allowed, "%zu rows are given", n);
    }
    for (size_t i = 0; i < n && i < key->room; i++) {
        const int id = node->data.sequence.items.start[i];
        yaml_node_t *row = yaml_document_get_node(&reader->document, id);
        char path[sizeof place->path];
        (void)snprintf(path, sizeof path, "%.100s[%zu]", place->path, i);
        struct site_place at = uf_site_place_of(reader, row, path);
        if (reader->visited[id]) {
            at.line = place->line;
            at.column = place->column;
        }
        uf_site_note(reader, key, &at);
        if (!uf_site_enter(reader, &at, id)) {
            continue;
        }
        if (row->type == YAML_SCALAR_NODE && walk_name(reader, pattern, &at, row, base, key, i)) {
            continue;
        }
        if (row->type != YAML_MAPPING_NODE) {
            uf_site_blame(reader, &at, "a block of keys, such as {key: value}", "is not a block");
            continue;
        }
        const struct level level = {pattern, at.path, base + key->offset + i * key->row_size};
        walk_mapping(reader, &level, &at, row);
    }
    *(size_t *)(void *)(base + key->count_offset) = n < key->room ? n : key->room;
}

static void walk_value(struct site_reader *reader, const struct site_key *key,
                       const struct site_place *place, int id, char *base)
{
    yaml_node_t *node = yaml_document_get_node(&reader->document, id);
    const bool is_block = key->kind->or_block && node->type == YAML_MAPPING_NODE;
    if (!uf_site_enter(reader, place, id)) {
        uf_site_note(reader, key, place);
        return;
    }
    if (uf_site_is_null(node)) {
        if (key->kind != &uf_site_block && key->kind != &uf_site_list) {
            char allowed[200];
            (void)snprintf(allowed, sizeof allowed, "give one (%.150s), or leave the key out",
                           key->help);
            uf_site_blame(reader, place, allowed, "has no value");
        }
        return;
    }
    uf_site_note(reader, key, place);
    if (key->not_yet) {
        uf_site_blame(reader, place, "leave it out for now", "not yet: this part is not built");
        return;
    }
    if (key->kind == &uf_site_list) {
        walk_list(reader, key, place, node, base);
        return;
    }
    if (!is_block && key->kind->read == NULL) {
        uf_site_blame(reader, place, "a block of keys, such as {key: value}", "is not a block");
        return;
    }
    if (is_block) {
        const struct level level = {key->path, place->path, base};
        if (key->kind == &uf_site_block && key->offset != SITE_NO_OFFSET) {
            *(bool *)(void *)(base + key->offset) = true;
        }
        walk_mapping(reader, &level, place, node);
        return;
    }
    (void)key->kind->read(reader, key, place, node, base + key->offset);
}

static bool is_given_here(const struct site_reader *reader, const char *path, const char *name)
{
    char full[256];
    (void)snprintf(full, sizeof full, "%s%s%s", path, path[0] != '\0' ? "." : "", name);
    return uf_site_given(reader, full) != NULL;
}

/* Keys the block cannot do without. */
static void check_needed(struct site_reader *reader, const struct level *level,
                         const struct site_place *place)
{
    const size_t n = strlen(level->pattern);
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        const struct site_key *key = &uf_site_keys[i];
        if (key->fallback != uf_site_needed || strncmp(key->path, level->pattern, n) != 0 ||
            key->path[n] != '.' || strchr(key->path + n + 1, '.') != NULL ||
            is_given_here(reader, level->path, key->path + n + 1)) {
            continue;
        }
        struct site_place missing = *place;
        (void)snprintf(missing.path, sizeof missing.path, "%.80s.%.40s", level->path,
                       key->path + n + 1);
        uf_site_blame(reader, &missing, key->help, "is missing");
    }
}

/* Keys that stand for each other. */
static void check_groups(struct site_reader *reader, const struct level *level,
                         const struct site_place *place)
{
    for (size_t i = 0; i < uf_site_groups_count; i++) {
        const struct site_group *group = &uf_site_groups[i];
        const char *given[2] = {NULL, NULL};
        char list[160] = "";
        size_t n = 0;
        if (strcmp(group->block, level->pattern) != 0) {
            continue;
        }
        for (size_t k = 0; group->names[k] != NULL; k++) {
            const size_t used = strlen(list);
            (void)snprintf(list + used, sizeof list - used, "%s%s", k > 0 ? ", " : "",
                           group->names[k]);
            if (is_given_here(reader, level->path, group->names[k])) {
                given[n < 2 ? n : 1] = group->names[k];
                n++;
            }
        }
        if (n > 1) {
            char allowed[200];
            (void)snprintf(allowed, sizeof allowed, "one of %s", list);
            uf_site_blame(reader, place, allowed, "%s and %s are both given", given[0], given[1]);
        } else if (n == 0 && group->needed) {
            uf_site_blame(reader, place, list, "one key is missing");
        }
    }
}

/* A value's own line, but its key's for a block, a list, nothing and an alias. */
static struct site_place place_of_value(const struct site_reader *reader,
                                        const struct site_place *key_place, int id)
{
    yaml_node_t *value = reader->document.nodes.start + id - 1;
    const bool own = value->type == YAML_SCALAR_NODE && !uf_site_is_null(value);
    if (id >= reader->first_set_node || (own && !reader->visited[id])) {
        return uf_site_place_of(reader, value, key_place->path);
    }
    return *key_place;
}

/* One pair of a block. */
static void walk_pair(struct site_reader *reader, const struct level *level,
                      const yaml_node_t *mapping, size_t index)
{
    const yaml_node_pair_t *pairs = mapping->data.mapping.pairs.start;
    yaml_node_t *name_node = yaml_document_get_node(&reader->document, pairs[index].key);
    struct site_place place = uf_site_place_of(reader, name_node, level->path);
    char name[60], pattern[200];
    if (reader->visited[pairs[index].key] || name_node->type != YAML_SCALAR_NODE) {
        uf_site_blame(reader, &place, "a plain word before the colon", "a key is not a plain word");
        return;
    }
    reader->visited[pairs[index].key] = true;
    (void)uf_quote_text(name, sizeof name, (const char *)name_node->data.scalar.value);
    (void)snprintf(place.path, sizeof place.path, "%.60s%s%s", level->path,
                   level->path[0] != '\0' ? "." : "", name);
    (void)snprintf(pattern, sizeof pattern, "%s%s%s", level->pattern,
                   level->pattern[0] != '\0' ? "." : "", name);
    for (size_t i = 0; i < index; i++) {
        const yaml_node_t *other = yaml_document_get_node(&reader->document, pairs[i].key);
        if (other->type == YAML_SCALAR_NODE &&
            strcmp((const char *)other->data.scalar.value,
                   (const char *)name_node->data.scalar.value) == 0) {
            uf_site_blame(reader, &place, "each key once", "duplicate key, also on line %d",
                          (int)other->start_mark.line + 1);
            return;
        }
    }
    const struct site_key *key = strpbrk(name, ".[") == NULL ? uf_site_find_key(pattern) : NULL;
    if (strcmp(name, "<<") == 0) {
        uf_site_blame(reader, &place, "the keys written out", "is a merge key: not read here");
    } else if (key == NULL) {
        char allowed[256];
        uf_site_suggest_key(allowed, sizeof allowed, level->pattern, name);
        if (isdigit((unsigned char)name[0])) {
            (void)snprintf(allowed, sizeof allowed, "numbers take a decimal point: 1.4, not 1,4");
        }
        uf_site_blame(reader, &place, allowed, "unknown key");
    } else {
        place = place_of_value(reader, &place, pairs[index].value);
        walk_value(reader, key, &place, pairs[index].value, level->base);
    }
}

static void walk_mapping(struct site_reader *reader, const struct level *level,
                         const struct site_place *place, yaml_node_t *node)
{
    const size_t n = (size_t)(node->data.mapping.pairs.top - node->data.mapping.pairs.start);
    for (size_t i = 0; i < n && !reader->out_of_memory; i++) {
        walk_pair(reader, level, node, i);
    }
    check_needed(reader, level, place);
    check_groups(reader, level, place);
}

bool uf_site_walk(struct site_reader *reader)
{
    const struct level top = {"", "", (char *)reader->site};
    yaml_node_t *root = yaml_document_get_root_node(&reader->document);
    struct site_place place = {.path = "", .line = 1, .column = 1};
    if (root->type != YAML_MAPPING_NODE) {
        uf_site_blame(reader, &place, "blocks such as tank, ground, climate", "holds no keys");
        return false;
    }
    reader->visited[root - reader->document.nodes.start + 1] = true;
    walk_mapping(reader, &top, &place, root);
    return true;
}
