#ifndef UF_EVERY_FILE_H
#define UF_EVERY_FILE_H

#include "solver/choice/every.h"

/* The winters done so far, kept so that an interrupted run of every winter can go on: a partial
   result file with a sum over all of it. A file of this very program, for no other to go on from. */

/* Fingerprint (64-bit FNV-1a) of what the winters depend on; chain calls by passing the
   last value, 0 to begin. */
unsigned long long uf_every_file_key(unsigned long long key, const void *bytes, size_t n);

/* Begins such a fingerprint with the program itself: its version and every byte of it. */
unsigned long long uf_every_file_program(void);

/* Writes every winter that is done and has its series, whole or not at all. Errors: UF_E_FILE. */
enum uf_status uf_every_file_write(const char *path, const struct uf_every *every,
                                   unsigned long long key, struct uf_error *err);

/* Fills winters from a file with the same key and marks them done; returns how many. 0 from a file
   that is not there, is of another key, or has a single bit that is not as it was written. */
size_t uf_every_file_read(const char *path, struct uf_every *every, unsigned long long key);

/* The same from memory (tests, fuzzing): the bytes of a file, its sum behind them. */
size_t uf_every_file_read_image(const void *image, size_t size, struct uf_every *every,
                                unsigned long long key);

#endif
