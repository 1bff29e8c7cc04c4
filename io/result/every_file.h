#ifndef UF_EVERY_FILE_H
#define UF_EVERY_FILE_H

#include "solver/choice/every.h"

/* The winters done so far, kept so that an interrupted run of every winter can go on. A
   file of this machine and this program's version, not for others to read. */

/* Fingerprint (64-bit FNV-1a) of what the winters depend on; chain calls by passing the
   last value, 0 to begin. */
unsigned long long uf_every_file_key(unsigned long long key, const void *bytes, size_t n);

/* Writes every winter that is done, whole or not at all. Errors: UF_E_FILE. */
enum uf_status uf_every_file_write(const char *path, const struct uf_every *every,
                                   unsigned long long key, struct uf_error *err);

/* Fills winters from a file with the same key and marks them done; returns how many. A
   file that is not there, is of another key, or ends early gives what it safely can,
   maybe 0. */
size_t uf_every_file_read(const char *path, struct uf_every *every, unsigned long long key);

#endif
