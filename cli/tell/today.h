#ifndef UF_TODAY_H
#define UF_TODAY_H

#include <stddef.h>

/* The local day, such as "2026-05-04", for what is printed and handed over; "-" where the clock does
   not say. Returns text. size at least 16. */
const char *uf_today(char *text, size_t size);

#endif
