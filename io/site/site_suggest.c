#include "site_private.h"
#include "solver/base/name.h"

#include <stdio.h>
#include <string.h>

/* What to write in place of a mistyped word. */

#define MOST_NAMES 63 /* in one block */

/* The last name of a path when it stands right below the block, else NULL. */
static const char *name_below(const char *path, const char *block)
{
    const size_t n = strlen(block);
    const char *name = path;
    if (n > 0) {
        if (strncmp(path, block, n) != 0 || path[n] != '.') {
            return NULL;
        }
        name = path + n + 1;
    }
    return strpbrk(name, ".[") == NULL ? name : NULL;
}

static const char *last_name(const char *path)
{
    const char *dot = strrchr(path, '.');
    return dot != NULL ? dot + 1 : path;
}

/* "did you mean X", or the whole list where nothing is near. */
static void suggest(char *text, size_t size, const char *nearest, const char *const *words)
{
    size_t used = 0;
    text[0] = '\0';
    if (nearest != NULL) {
        (void)snprintf(text, size, "did you mean %s", nearest);
    }
    for (; nearest == NULL && *words != NULL && used + 1 < size; words++) {
        (void)snprintf(text + used, size - used, "%s%s", used > 0 ? ", " : "", *words);
        used = strlen(text);
    }
}

void uf_site_suggest_key(char *text, size_t size, const char *block, const char *name)
{
    const char *below[MOST_NAMES + 1] = {NULL}, *elsewhere = NULL;
    size_t n = 0;
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        const char *here = name_below(uf_site_keys[i].path, block);
        if (here != NULL && n < MOST_NAMES) {
            below[n++] = here;
        } else if (elsewhere == NULL && strcmp(last_name(uf_site_keys[i].path), name) == 0) {
            elsewhere = uf_site_keys[i].path;
        }
    }
    const char *nearest = uf_name_nearest(name, below);
    suggest(text, size, nearest != NULL ? nearest : elsewhere, below);
}

void uf_site_suggest_word(char *text, size_t size, const char *word, const char *const *words)
{
    suggest(text, size, uf_name_nearest(word, words), words);
}
