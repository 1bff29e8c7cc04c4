#ifndef UF_NAME_H
#define UF_NAME_H

#include <stddef.h>

/* Words of a table: looked up, and guessed at when mistyped. */

/* The row of that name, or NULL. Every row is row_size bytes and begins with its name, a
   const char *; a row whose name is NULL ends the table. */
const void *uf_name_find(const void *rows, size_t row_size, const char *name);

/* The word of a list ended by NULL that was probably meant, or NULL: at most two letters and an eighth
   of the word wrong (Levenshtein 1966), and no more than half of what was meant. */
const char *uf_name_nearest(const char *word, const char *const *list);

#endif
