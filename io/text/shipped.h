#ifndef UF_SHIPPED_H
#define UF_SHIPPED_H

#include <stddef.h>

/* Where the data stand that the program comes with: PREFIX/share/underfrost/NAME of a program that
   runs as PREFIX/bin/underfrost, else NAME in the source tree it was built from. Cut where it does
   not fit into size; returns folder. */
char *uf_shipped(char *folder, size_t size, const char *name);

#endif
