#ifndef UF_BESIDE_H
#define UF_BESIDE_H

#include <stddef.h>

/* Pieces of work that do not hang on each other, beside each other. */
struct uf_beside {
    void (*work)(void *payload); /* on any thread; its result is the payload's */
    void *payload;
};

/* Does all of them on up to `threads` threads, the caller's among them; they are begun in order, the
   longest had better come first. Where no thread can be started the caller does all. */
void uf_beside_all(const struct uf_beside *pieces, size_t n, size_t threads);

#endif
