#include "site_leaves.h"

#include "io/result/part_file.h"
#include "io/text/input.h"
#include "io/text/spelling.h"
#include "site_private.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_DEPTH  16   /* of blocks in blocks; aliases could tie a knot */
#define MOST_LEAVES 4000 /* a text of a megabyte has no more that matters */
#define LIST_SIZE   1024 /* characters of a list of values, cut when longer */

static enum uf_status no_memory(struct uf_error *err)
{
    return uf_fail(err, UF_E_MEMORY, "no memory for the keys of a site file");
}

/* A list of values as it would be written in one line. */
struct written {
    char text[LIST_SIZE];
    size_t used;
};

static void add_text(struct written *out, const char *text)
{
    const int n = snprintf(out->text + out->used, sizeof out->text - out->used, "%s", text);
    out->used += n > 0 ? (size_t)n : 0;
    out->used = out->used < sizeof out->text ? out->used : sizeof out->text - 1;
}

static void write_value(struct written *out, yaml_document_t *document, int id, int depth)
{
    const yaml_node_t *node = yaml_document_get_node(document, id);
    if (node == NULL || depth > MOST_DEPTH || out->used + 1 >= sizeof out->text) {
        return;
    }
    if (node->type == YAML_SCALAR_NODE) {
        add_text(out, (const char *)node->data.scalar.value);
    } else if (node->type == YAML_SEQUENCE_NODE) {
        const yaml_node_item_t *first = node->data.sequence.items.start;
        add_text(out, "[");
        for (const yaml_node_item_t *item = first; item < node->data.sequence.items.top; item++) {
            add_text(out, item > first ? ", " : "");
            write_value(out, document, *item, depth + 1);
        }
        add_text(out, "]");
    }
}

/* Adds every value of a node to the leaf's items. */
static bool collect(struct uf_site_leaf *leaf, yaml_document_t *document, int id, int depth)
{
    const yaml_node_t *node = yaml_document_get_node(document, id);
    bool good = true;
    if (node == NULL || depth > MOST_DEPTH || leaf->n_items >= MOST_LEAVES) {
        return true;
    }
    if (node->type == YAML_SCALAR_NODE) {
        const char *text = (const char *)node->data.scalar.value;
        const size_t size = strlen(text) + 1;
        char *larger = realloc(leaf->items, leaf->items_size + size);
        if (larger == NULL) {
            return false;
        }
        memcpy(larger + leaf->items_size, text, size);
        leaf->items = larger;
        leaf->items_size += size;
        leaf->n_items++;
    } else if (node->type == YAML_SEQUENCE_NODE) {
        const yaml_node_item_t *item = node->data.sequence.items.start;
        for (; good && item < node->data.sequence.items.top; item++) {
            good = collect(leaf, document, *item, depth + 1);
        }
    }
    return good;
}

static struct uf_site_leaf *find(const struct uf_site_leaves *leaves, const char *key)
{
    for (size_t i = 0; i < leaves->n; i++) {
        if (strcmp(leaves->rows[i].key, key) == 0) {
            return &leaves->rows[i];
        }
    }
    return NULL;
}

static bool is_list_of_blocks(yaml_document_t *document, const yaml_node_t *node)
{
    const yaml_node_item_t *first = node->data.sequence.items.start;
    return node->type == YAML_SEQUENCE_NODE && first < node->data.sequence.items.top &&
           yaml_document_get_node(document, *first)->type == YAML_MAPPING_NODE;
}

static enum uf_status walk(struct uf_site_leaves *out, yaml_document_t *document, int id,
                           const char *path, int depth, struct uf_error *err)
{
    const yaml_node_t *node = yaml_document_get_node(document, id);
    enum uf_status status = UF_OK;
    char below[sizeof out->rows->key + 80];
    out->cut = out->cut || depth > MOST_DEPTH || out->n >= MOST_LEAVES;
    if (node == NULL || depth > MOST_DEPTH || out->n >= MOST_LEAVES ||
        (uf_site_is_null(node) && node->type != YAML_SEQUENCE_NODE)) {
        return UF_OK;
    }
    if (node->type == YAML_MAPPING_NODE) {
        const yaml_node_pair_t *pairs = node->data.mapping.pairs.start;
        const size_t n = (size_t)(node->data.mapping.pairs.top - pairs);
        for (size_t i = 0; i < n && status == UF_OK; i++) {
            const yaml_node_t *key = yaml_document_get_node(document, pairs[i].key);
            if (key->type == YAML_SCALAR_NODE) {
                (void)snprintf(below, sizeof below, "%s%s%.60s", path, path[0] != '\0' ? "." : "",
                               (const char *)key->data.scalar.value);
                status = walk(out, document, pairs[i].value, below, depth + 1, err);
            }
        }
        return status;
    }
    if (is_list_of_blocks(document, node)) {
        const yaml_node_item_t *items = node->data.sequence.items.start;
        const size_t n = (size_t)(node->data.sequence.items.top - items);
        for (size_t i = 0; i < n && status == UF_OK; i++) {
            (void)snprintf(below, sizeof below, "%s[%zu]", path, i);
            status = walk(out, document, items[i], below, depth + 1, err);
        }
        return status;
    }
    struct written value = {.used = 0};
    write_value(&value, document, id, depth);
    status = uf_site_leaves_put(out, path, value.text, err);
    struct uf_site_leaf *leaf = find(out, path);
    if (leaf != NULL) {
        leaf->line = (int)node->start_mark.line + 1;
        status = status == UF_OK && !collect(leaf, document, id, depth) ? no_memory(err) : status;
        out->cut = out->cut || leaf->n_items >= MOST_LEAVES;
    }
    return status;
}

/* Puts the changes over the document, each like an argument of --set. */
static void graft_changes(struct site_reader *reader, const char *changes)
{
    char one[2048];
    while (changes != NULL && changes[0] != '\0') {
        const size_t length = strcspn(changes, "\n");
        if (length > 0 && length < sizeof one) {
            memcpy(one, changes, length);
            one[length] = '\0';
            uf_site_set(reader, one);
        }
        changes += length + (changes[length] == '\n');
    }
}

enum uf_status uf_site_leaves(struct uf_site_leaves *out, const char *text, const char *changes,
                              struct uf_error *err)
{
    struct uf_site_faults faults = {0};
    struct uf_site site = {.path = ""};
    struct site_reader reader = {.faults = &faults, .site = &site};
    enum uf_status status = UF_OK;
    *out = (struct uf_site_leaves){0};
    if (!uf_site_load(&reader, &reader.document, text, strlen(text), NULL)) {
        status = uf_fail(
            err, UF_E_INPUT,
            "this site file or plan is no YAML, line %d: %s; within braces a key that has brackets "
            "stands in quotes",
            faults.n > 0 ? faults.rows[0].line : 0,
            faults.n > 0 ? faults.rows[0].what.text : "no memory");
    } else {
        const yaml_node_t *root = yaml_document_get_root_node(&reader.document);
        if (root->type == YAML_MAPPING_NODE) {
            graft_changes(&reader, changes);
            status = walk(out, &reader.document, 1, "", 0, err);
        } else {
            status = uf_fail(err, UF_E_INPUT, "this site file or plan holds no keys");
        }
        yaml_document_delete(&reader.document);
    }
    if (status != UF_OK) {
        uf_site_leaves_free(out);
    }
    uf_site_faults_clear(&faults);
    return status;
}

void uf_site_leaves_free(struct uf_site_leaves *leaves)
{
    for (size_t i = 0; i < leaves->n; i++) {
        free(leaves->rows[i].value);
        free(leaves->rows[i].items);
    }
    free(leaves->rows);
    *leaves = (struct uf_site_leaves){0};
}

const char *uf_site_leaves_item(const struct uf_site_leaf *leaf, size_t *at)
{
    const char *item = *at < leaf->items_size ? leaf->items + *at : NULL;
    *at += item != NULL ? strlen(item) + 1 : 0;
    return item;
}

const char *uf_site_leaves_value(const struct uf_site_leaves *leaves, const char *key)
{
    const struct uf_site_leaf *row = find(leaves, key);
    return row != NULL ? row->value : NULL;
}

enum uf_status uf_site_leaves_put(struct uf_site_leaves *leaves, const char *key, const char *value,
                                  struct uf_error *err)
{
    struct uf_site_leaf *row = find(leaves, key);
    char *copy = malloc(strlen(value) + 1);
    if (copy != NULL && row == NULL) {
        struct uf_site_leaf *rows = realloc(leaves->rows, (leaves->n + 1) * sizeof *leaves->rows);
        if (rows != NULL) {
            leaves->rows = rows;
            row = &rows[leaves->n++];
            (void)snprintf(row->key, sizeof row->key, "%s", key);
            row->value = row->items = NULL;
            row->n_items = row->items_size = 0;
        }
    }
    if (copy == NULL || row == NULL) {
        free(copy);
        return no_memory(err);
    }
    memcpy(copy, value, strlen(value) + 1);
    free(row->value);
    free(row->items);
    row->value = copy;
    row->items = NULL;
    row->n_items = row->items_size = 0;
    return UF_OK;
}

/* Is the key this one, or this one with more before or after it? */
static bool holds(const char *key, const char *part)
{
    const char *at = strstr(key, part);
    const char *end = at != NULL ? at + strlen(part) : NULL;
    return at != NULL && (at == key || at[-1] == '.') &&
           (*end == '\0' || *end == '.' || *end == '[');
}

int uf_site_leaves_line(const char *text, const char *key, const char *value)
{
    struct uf_site_leaves leaves;
    int line = 0;
    if (text == NULL || uf_site_leaves(&leaves, text, NULL, NULL) != UF_OK) {
        return 0;
    }
    for (size_t i = 0; i < leaves.n && line == 0; i++) {
        const struct uf_site_leaf *leaf = &leaves.rows[i];
        line = holds(leaf->key, key) && (value == NULL || strcmp(leaf->value, value) == 0)
                   ? leaf->line
                   : 0;
    }
    uf_site_leaves_free(&leaves);
    return line;
}

void uf_site_leaves_blame(struct uf_error *err, const char *path, const char *text, const char *key,
                          const char *value)
{
    if (err == NULL || err->fault.line > 0 || err->fault.key[0] != '\0') {
        return;
    }
    (void)snprintf(err->fault.key, sizeof err->fault.key, "%s", key);
    (void)snprintf(err->fault.file, sizeof err->fault.file, "%.500s", path);
    err->fault.line = uf_site_leaves_line(text, key, value);
    uf_message_set(&err->fault.allowed, UF_PLAIN("a path beside the site file, or the name of a "
                                                 "file in climates, and a column that it has"));
}

int uf_site_leaves_line_in(const char *path, const char *key)
{
    FILE *file = NULL;
    char *text = NULL;
    int line = 0;
    if (uf_input_open(&file, path, NULL) == UF_OK) {
        if (uf_part_file_rest(&text, file, path, NULL) == UF_OK) {
            line = uf_site_leaves_line(text, key, NULL);
        }
        (void)fclose(file);
    }
    free(text);
    return line;
}

/* The row of the table for a path as written: "ground[1].to" is "ground[].to" there. */
static const struct site_key *row_of(const char *key)
{
    char pattern[sizeof((struct uf_site_leaf *)NULL)->key];
    size_t used = 0;
    for (const char *c = key; *c != '\0' && used + 1 < sizeof pattern; c++) {
        pattern[used++] = *c;
        if (*c == '[') {
            c += strspn(c + 1, "0123456789");
        }
    }
    pattern[used] = '\0';
    return uf_site_find_key(pattern);
}

static bool read_size(double *value, const struct site_key *key, const char *text)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    if (key->kind == &uf_site_sheet && uf_spelling_inches(text) > 0) {
        *value = uf_spelling_inches(text) * UF_NOMINAL_INCH_M;
        return true;
    }
    if (key->measure != NULL) {
        return uf_units_read(value, text, key->measure, key->unit, &fault) == UF_OK;
    }
    return uf_units_read_number(value, text, &fault) == UF_OK;
}

/* By their letters without blanks, as strcmp. */
static int compare_letters(const char *a, const char *b)
{
    for (;; a++, b++) {
        a += strspn(a, " \t\n");
        b += strspn(b, " \t\n");
        if (*a != *b || *a == '\0') {
            return (unsigned char)*a - (unsigned char)*b;
        }
    }
}

/* What a value means: its size, or NAN and its letters. */
struct meaning {
    double size;
    const char *text;
};

static struct meaning meaning_of(const struct site_key *row, const char *text)
{
    struct meaning out = {NAN, text};
    if (row == NULL ||
        (row->kind != &uf_site_quantity && row->kind != &uf_site_sheet &&
         row->kind != &uf_site_number) ||
        !read_size(&out.size, row, text)) {
        out.size = NAN;
    }
    return out;
}

static bool mean_the_same(const struct meaning *a, const struct meaning *b)
{
    return isnan(a->size) || isnan(b->size)
               ? compare_letters(a->text, b->text) == 0
               : fabs(a->size - b->size) <= 1e-12 + 1e-9 * fmax(fabs(a->size), fabs(b->size));
}

bool uf_site_leaves_same(const char *key, const char *a, const char *b)
{
    if (a == NULL || b == NULL) {
        return a == b;
    }
    const struct site_key *row = row_of(key);
    const struct meaning x = meaning_of(row, a), y = meaning_of(row, b);
    return mean_the_same(&x, &y);
}

/* Those with a size first and by it, the others by their letters. */
static int by_meaning(const void *a, const void *b)
{
    const struct meaning *x = a, *y = b;
    return isnan(x->size) && isnan(y->size)   ? compare_letters(x->text, y->text)
           : isnan(x->size) || isnan(y->size) ? isnan(x->size) - isnan(y->size)
                                              : (x->size > y->size) - (x->size < y->size);
}

enum uf_status uf_site_leaves_twice(size_t *at, const char *key, const char *values, size_t n,
                                    size_t stride)
{
    const struct site_key *row = row_of(key);
    struct meaning *rows = calloc(n + 1, sizeof *rows);
    *at = n;
    if (rows == NULL) {
        return UF_E_MEMORY;
    }
    for (size_t i = 0; i < n; i++) {
        rows[i] = meaning_of(row, values + i * stride);
    }
    qsort(rows, n, sizeof *rows, by_meaning);
    for (size_t i = 1; i < n && *at == n; i++) {
        *at = mean_the_same(&rows[i - 1], &rows[i]) ? (size_t)(rows[i].text - values) / stride : n;
    }
    free(rows);
    return UF_OK;
}
