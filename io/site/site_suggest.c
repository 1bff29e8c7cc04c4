#include "site_private.h"

#include <stdio.h>
#include <string.h>

/* What to write in place of a mistyped word. */

#define LONGEST 48

static size_t least(size_t a, size_t b, size_t c)
{
    const size_t d = a < b ? a : b;
    return d < c ? d : c;
}

/* Letters to add, drop or change to turn one word into the other (Levenshtein). */
static size_t distance(const char *from, const char *to)
{
    size_t row[LONGEST + 1];
    const size_t n = strlen(from), m = strlen(to);
    if (n > LONGEST || m > LONGEST) {
        return LONGEST;
    }
    for (size_t k = 0; k <= m; k++) {
        row[k] = k;
    }
    for (size_t i = 1; i <= n; i++) {
        size_t diagonal = row[0];
        row[0] = i;
        for (size_t k = 1; k <= m; k++) {
            const size_t above = row[k];
            row[k] = least(row[k - 1] + 1, above + 1, diagonal + (from[i - 1] != to[k - 1]));
            diagonal = above;
        }
    }
    return row[m];
}

/* How far apart two words may be to be taken for each other. */
static size_t reach(const char *word)
{
    return strlen(word) < 5 ? 1 : 2 + strlen(word) / 8;
}

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

void uf_site_suggest_key(char *text, size_t size, const char *block, const char *name)
{
    const char *nearest = NULL, *elsewhere = NULL;
    size_t best = reach(name) + 1, used = 0;
    text[0] = '\0';
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        const char *here = name_below(uf_site_keys[i].path, block);
        if (here != NULL && distance(name, here) < best) {
            nearest = here;
            best = distance(name, here);
        }
        if (here == NULL && elsewhere == NULL &&
            strcmp(last_name(uf_site_keys[i].path), name) == 0) {
            elsewhere = uf_site_keys[i].path;
        }
    }
    if (nearest != NULL || elsewhere != NULL) {
        (void)snprintf(text, size, "did you mean %s", nearest != NULL ? nearest : elsewhere);
        return;
    }
    for (size_t i = 0; i < uf_site_keys_count && used + 1 < size; i++) {
        const char *here = name_below(uf_site_keys[i].path, block);
        if (here != NULL) {
            (void)snprintf(text + used, size - used, "%s%s", used > 0 ? ", " : "", here);
            used = strlen(text);
        }
    }
}

void uf_site_suggest_word(char *text, size_t size, const char *word, const char *const *words)
{
    const char *nearest = NULL;
    size_t best = reach(word) + 1, used = 0;
    for (size_t i = 0; words[i] != NULL; i++) {
        if (distance(word, words[i]) < best) {
            nearest = words[i];
            best = distance(word, words[i]);
        }
    }
    text[0] = '\0';
    if (nearest != NULL) {
        (void)snprintf(text, size, "did you mean %s", nearest);
    }
    for (size_t i = 0; nearest == NULL && words[i] != NULL && used + 1 < size; i++) {
        (void)snprintf(text + used, size - used, "%s%s", used > 0 ? ", " : "", words[i]);
        used = strlen(text);
    }
}
