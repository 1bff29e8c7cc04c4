#ifndef UF_SPENT_H
#define UF_SPENT_H

#include <stddef.h>

/* What runs took, and what they left on the disk: the last lines of an answer. */

/* The CPU of so many days of seasons, and simulated years a second of it, with a label
   such as "run". */
void uf_spent_show(const char *label, double simulated_days, double cpu_s);

/* "28", "0.3": simulated years a second, into text, which is returned. */
char *uf_spent_rate(char *text, size_t size, double simulated_days, double cpu_s);

/* The file's name and size; nothing where path is NULL or there is no such file. */
void uf_spent_show_file(const char *path);

/* "1.46 MB", or "" for a file that is not there, into text, which is returned. */
char *uf_spent_size(char *text, size_t size, const char *path);

#endif
