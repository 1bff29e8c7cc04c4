#ifndef UF_BRIDGE_H
#define UF_BRIDGE_H

#include <stddef.h>

/* A site file run to its end, for other languages: one handle, numbers, texts and arrays, no struct
   that the other side would have to know. libunderfrost_site holds this and the reader of site files,
   so that nobody writes a second one; libunderfrost, the solver alone, stays free of both. */

struct uf_bridge;

/* Reads and runs a site. sets: "key=value" as --set takes them, [n_sets]. fields: also the
   temperature and ice of each day.
   returns 0 and *out, to be freed with uf_bridge_free; else an exit code of the program
   (2 input, 3 file, 4 solver) and message holds why, one fault a line */
int uf_bridge_run(struct uf_bridge **out, const char *site_file, const char *const *sets,
                  size_t n_sets, int fields, char *message, size_t size);
void uf_bridge_free(struct uf_bridge *bridge); /* NULL is fine */

/* The i'th fact: its key as in JSON, its value (NAN: not known, a date alone), its unit ("" without)
   and its date ("" without). false past the last. Borrowed from the handle. */
int uf_bridge_fact(const struct uf_bridge *bridge, size_t i, const char **key, double *value,
                   const char **unit, const char **date);

/* The i'th array, row by row: its name as in a result file, its unit ("" without), 'd', 'f' or 'b' for
   double, float or signed byte, its rank and its shape [4]. Returns its first number, NULL past the
   last. Borrowed from the handle. */
const void *uf_bridge_array(const struct uf_bridge *bridge, size_t i, const char **name,
                            const char **unit, char *kind, size_t *rank, size_t *shape);

#endif
