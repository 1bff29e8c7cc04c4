#include "beside.h"

#include <pthread.h>
#include <stdatomic.h>

enum { MOST_HELPERS = 15 };

struct pile {
    const struct uf_beside *pieces;
    size_t n;
    atomic_size_t next;
};

static void *take(void *argument)
{
    struct pile *pile = argument;
    for (size_t at; (at = atomic_fetch_add(&pile->next, 1)) < pile->n;) {
        pile->pieces[at].work(pile->pieces[at].payload);
    }
    return NULL;
}

void uf_beside_all(const struct uf_beside *pieces, size_t n, size_t threads)
{
    struct pile pile = {.pieces = pieces, .n = n};
    pthread_t helpers[MOST_HELPERS];
    size_t started = 0;
    while (started < MOST_HELPERS && started + 1 < threads && started + 1 < n &&
           pthread_create(&helpers[started], NULL, take, &pile) == 0) {
        started++;
    }
    (void)take(&pile);
    for (size_t i = 0; i < started; i++) {
        (void)pthread_join(helpers[i], NULL);
    }
}
