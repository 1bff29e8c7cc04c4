#include "io/text/quote.h"
#include "site_private.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* --set key.path=value: the value is read as YAML and grafted onto the document, so that
   it is checked like a value of the file. Nodes made here carry no line. */

#define MOST_NODES 2000

/* Appends a copy of a node of another document; 0 when there is no memory or the value is
   a knot of aliases. budget counts down the nodes. */
static int copy_node(yaml_document_t *to, yaml_document_t *from, int id, int *budget)
{
    const yaml_node_t *node = yaml_document_get_node(from, id);
    if (--*budget < 0) {
        return 0;
    }
    if (node->type == YAML_SCALAR_NODE) {
        return yaml_document_add_scalar(to, node->tag, node->data.scalar.value,
                                        (int)node->data.scalar.length, node->data.scalar.style);
    }
    if (node->type == YAML_SEQUENCE_NODE) {
        const int list = yaml_document_add_sequence(to, node->tag, YAML_FLOW_SEQUENCE_STYLE);
        for (const yaml_node_item_t *item = node->data.sequence.items.start;
             list != 0 && item < node->data.sequence.items.top; item++) {
            const int copy = copy_node(to, from, *item, budget);
            if (copy == 0 || yaml_document_append_sequence_item(to, list, copy) == 0) {
                return 0;
            }
        }
        return list;
    }
    const int block = yaml_document_add_mapping(to, node->tag, YAML_FLOW_MAPPING_STYLE);
    for (const yaml_node_pair_t *pair = node->data.mapping.pairs.start;
         block != 0 && pair < node->data.mapping.pairs.top; pair++) {
        const int key = copy_node(to, from, pair->key, budget);
        const int value = key != 0 ? copy_node(to, from, pair->value, budget) : 0;
        if (value == 0 || yaml_document_append_mapping_pair(to, block, key, value) == 0) {
            return 0;
        }
    }
    return block;
}

/* One step of a path: a name, or a place in a list. */
struct step {
    char name[60]; /* "" for a place in a list */
    size_t index;
};

/* Takes the next step off *path; false when it is not well formed. */
static bool take_step(struct step *step, const char **path)
{
    const char *c = *path;
    memset(step, 0, sizeof *step);
    if (*c == '[') {
        char *end = NULL;
        if (!isdigit((unsigned char)c[1])) {
            return false;
        }
        step->index = strtoul(c + 1, &end, 10);
        *path = end + 1;
        return *end == ']' && (end[1] == '\0' || end[1] == '.' || end[1] == '[');
    }
    c += *c == '.';
    const size_t n = strspn(c, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_");
    if (n == 0 || n >= sizeof step->name) {
        return false;
    }
    memcpy(step->name, c, n);
    *path = c + n;
    return c[n] == '\0' || c[n] == '.' || c[n] == '[';
}

/* An empty place below a node: where in the document the id of the value stands. */
static yaml_node_item_t *find_slot(yaml_document_t *document, int id, const struct step *step)
{
    yaml_node_t *node = yaml_document_get_node(document, id);
    if (step->name[0] == '\0') {
        if (node->type != YAML_SEQUENCE_NODE) {
            return NULL;
        }
        yaml_node_item_t *items = node->data.sequence.items.start;
        const size_t n = (size_t)(node->data.sequence.items.top - items);
        return step->index < n ? &items[step->index] : NULL;
    }
    for (yaml_node_pair_t *pair = node->data.mapping.pairs.start;
         node->type == YAML_MAPPING_NODE && pair < node->data.mapping.pairs.top; pair++) {
        const yaml_node_t *key = yaml_document_get_node(document, pair->key);
        if (key->type == YAML_SCALAR_NODE &&
            strcmp((const char *)key->data.scalar.value, step->name) == 0) {
            return &pair->value;
        }
    }
    return NULL;
}

/* Puts value at a step below node id; false when the node has no such place. */
static bool put(yaml_document_t *document, int id, const struct step *step, int value)
{
    yaml_node_item_t *slot = find_slot(document, id, step);
    const yaml_node_t *node = yaml_document_get_node(document, id);
    if (slot != NULL) {
        *slot = value;
        return true;
    }
    if (step->name[0] == '\0') {
        return node->type == YAML_SEQUENCE_NODE &&
               step->index ==
                   (size_t)(node->data.sequence.items.top - node->data.sequence.items.start) &&
               yaml_document_append_sequence_item(document, id, value) != 0;
    }
    if (node->type != YAML_MAPPING_NODE) {
        return false;
    }
    const int key = yaml_document_add_scalar(document, NULL, (const yaml_char_t *)step->name, -1,
                                             YAML_PLAIN_SCALAR_STYLE);
    return key != 0 && yaml_document_append_mapping_pair(document, id, key, value) != 0;
}

/* The node to step into: the one that is there, or an empty one put in place of nothing. */
static int step_into(yaml_document_t *document, int id, const struct step *step, bool list_follows)
{
    const yaml_node_item_t *slot = find_slot(document, id, step);
    if (slot != NULL && !uf_site_is_null(yaml_document_get_node(document, *slot))) {
        return *slot;
    }
    const int fresh = list_follows
                          ? yaml_document_add_sequence(document, NULL, YAML_FLOW_SEQUENCE_STYLE)
                          : yaml_document_add_mapping(document, NULL, YAML_FLOW_MAPPING_STYLE);
    return fresh != 0 && put(document, id, step, fresh) ? fresh : 0;
}

/* Takes away the key at a step below node id; false when it is not there. */
static bool drop(yaml_document_t *document, int id, const struct step *step)
{
    const yaml_node_item_t *slot = find_slot(document, id, step);
    yaml_node_t *node = yaml_document_get_node(document, id);
    if (slot == NULL || node->type != YAML_MAPPING_NODE) {
        return false;
    }
    yaml_node_pair_t *pair = node->data.mapping.pairs.start;
    while (&pair->value != slot) {
        pair++;
    }
    const size_t after = (size_t)(node->data.mapping.pairs.top - pair - 1);
    memmove(pair, pair + 1, after * sizeof *pair);
    node->data.mapping.pairs.top--;
    return true;
}

/* Walks along the path and puts value at its end; a bare null takes away what is there. */
static bool graft(yaml_document_t *document, const char *path, int value)
{
    int id = 1; /* the root */
    struct step step;
    const char *rest = path;
    if (path[0] == '[' || path[0] == '.') {
        return false;
    }
    while (take_step(&step, &rest)) {
        if (*rest == '\0') {
            const yaml_node_t *node = yaml_document_get_node(document, value);
            const bool nothing = node->type == YAML_SCALAR_NODE && uf_site_is_null(node);
            return (nothing && drop(document, id, &step)) || put(document, id, &step, value);
        }
        id = step_into(document, id, &step, *rest == '[');
        if (id == 0) {
            return false;
        }
    }
    return false;
}

void uf_site_set(struct site_reader *reader, const char *text)
{
    struct site_place place = {.path = "", .line = 0, .column = 0};
    yaml_document_t value;
    const char *equals = strchr(text, '=');
    char path[sizeof place.path];
    const size_t n = equals != NULL ? (size_t)(equals - text) : strlen(text);
    (void)snprintf(path, sizeof path, "%.*s", (int)(n < 100 ? n : 100), text);
    (void)uf_quote_text(place.path, sizeof place.path, path);
    if (equals == NULL || n == 0 || n > 100) {
        uf_site_blame(reader, &place, "key.path=value, such as burial.cover=1.5m",
                      "is no key with a value");
        return;
    }
    if (!uf_site_load(reader, &value, equals + 1, strlen(equals + 1), place.path)) {
        return;
    }
    int budget = MOST_NODES;
    const int copy = copy_node(&reader->document, &value, 1, &budget);
    if (copy == 0) {
        uf_site_blame(reader, &place, "a value written out, without aliases",
                      "cannot be taken over");
    } else if (!graft(&reader->document, path, copy)) {
        uf_site_blame(reader, &place, "a path of the table of keys, such as probes[0].x",
                      "leads nowhere in this file");
    }
    yaml_document_delete(&value);
}
