#ifndef UF_SITE_OPEN_H
#define UF_SITE_OPEN_H

#include "cli/tell/answer.h"
#include "options.h"
#include "solver/statics/column.h"

/* The site file of a command, what it leaves to `least` settled (settle.h; recommend settles it once
   more for each option), and its soils weighed; faults told to the person.
   UF_EXIT_DONE: *out is the caller's to free with uf_site_free. Else the exit code to end
   with, and *out is NULL. soils may be NULL where they are not wanted. */
int uf_site_open(struct uf_site **out, struct uf_column_soils *soils,
                 const struct uf_arguments *args);

/* Heading of an answer in text: "Board under load: Larch Hollow". */
void uf_site_open_heading(const struct uf_arguments *args, const struct uf_site *site,
                          const char *what);

/* Prints and frees an answer in JSON; the exit code to end with. */
int uf_site_open_answer(const struct uf_arguments *args, cJSON *answer);

#endif
