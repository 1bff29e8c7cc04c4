#include "name.h"

#include <string.h>

#define LONGEST 48

const void *uf_name_find(const void *rows, size_t row_size, const char *name)
{
    for (const char *row = rows;; row += row_size) {
        const char *of_row = NULL;
        memcpy(&of_row, row, sizeof of_row);
        if (of_row == NULL) {
            return NULL;
        }
        if (strcmp(of_row, name) == 0) {
            return row;
        }
    }
}

static size_t least(size_t a, size_t b, size_t c)
{
    const size_t d = a < b ? a : b;
    return d < c ? d : c;
}

/* Letters to add, drop or change to turn one word into the other; never too few. */
static size_t distance(const char *from, const char *to)
{
    size_t row[LONGEST + 1];
    const size_t n = strlen(from), m = strlen(to);
    if (n > LONGEST || m > LONGEST) {
        return n > m ? n : m;
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

const char *uf_name_nearest(const char *word, const char *const *list)
{
    const char *nearest = NULL;
    size_t best = 3 + strlen(word) / 8;
    for (; *list != NULL; list++) {
        const size_t d = distance(word, *list);
        if (d < best && 2 * d <= strlen(*list)) {
            nearest = *list;
            best = d;
        }
    }
    return nearest;
}
