#ifndef UF_SITE_LEAVES_H
#define UF_SITE_LEAVES_H

#include "site_file.h"

/* What a site file's text says, one row a key, for telling two texts apart. The text is
   not checked against the table of keys: a result file may hold one of another version. */

struct uf_site_leaf {
    char key[128]; /* "ground[1].moisture" */
    char *value;   /* as written; a list of values "[1 m, 2 m]" */
    char *items;   /* the values of the list, or the one alone, each ended by a 0; NULL: not read */
    size_t n_items, items_size; /* values; bytes */
    int line;                   /* of the text */
};

struct uf_site_leaves {
    struct uf_site_leaf *rows; /* in the order of the text */
    size_t n;
    bool cut; /* there were more keys, or values of one, than 4000: what is left is not all */
};

/* Every key that has a value or an empty list. changes: what --set put over the text, one key=value a
   line, NULL for nothing; one that is not understood is left out. Errors: UF_E_INPUT for
   a text that is no YAML with keys, UF_E_MEMORY. *out is empty then, else to be freed
   with uf_site_leaves_free. */
enum uf_status uf_site_leaves(struct uf_site_leaves *out, const char *text, const char *changes,
                              struct uf_error *err);
void uf_site_leaves_free(struct uf_site_leaves *leaves);

/* Takes the next value off a leaf's list, lists within it in a row; *at begins at 0. NULL at the end. */
const char *uf_site_leaves_item(const struct uf_site_leaf *leaf, size_t *at);

/* The value of a key, or NULL. */
const char *uf_site_leaves_value(const struct uf_site_leaves *leaves, const char *key);

/* Gives key the value, in place of the one it had. Errors: UF_E_MEMORY. */
enum uf_status uf_site_leaves_put(struct uf_site_leaves *leaves, const char *key, const char *value,
                                  struct uf_error *err);

/* The line of a text (NULL: none) on which a key stands with a value (NULL: any), or a key of which it is a part
   ("burial.cover" of "vary.burial.cover.from"); 0: nowhere, so it came by --set. */
int uf_site_leaves_line(const char *text, const char *key, const char *value);

/* The same of the text in a file; 0 too where that cannot be read or is no YAML. */
int uf_site_leaves_line_in(const char *path, const char *key);

/* A failure over a weather file that a key of a site file or a plan names: gives it that key, its line in
   the text of path and what would do, unless it names a line of its own. err may be NULL. */
void uf_site_leaves_blame(struct uf_error *err, const char *path, const char *text, const char *key,
                          const char *value);

/* Do two values of a key mean the same? By their size where the table of keys has a
   quantity or a number there ("1.5m", "150 cm"), else by their letters without blanks.
   NULL, not given, is the same as NULL alone. */
bool uf_site_leaves_same(const char *key, const char *a, const char *b);

/* Of n values of a key, a text every stride bytes, one that means the same as another of them by the
   same rule: *at, or n. Errors: UF_E_MEMORY. */
enum uf_status uf_site_leaves_twice(size_t *at, const char *key, const char *values, size_t n,
                                    size_t stride);

#endif
