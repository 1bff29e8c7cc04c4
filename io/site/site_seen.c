#include "site_private.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What was given, and where. */

const struct site_seen *uf_site_given(const struct site_reader *reader, const char *path)
{
    for (size_t i = 0; i < reader->n_seen; i++) {
        if (strcmp(reader->seen[i].place.path, path) == 0) {
            return &reader->seen[i];
        }
    }
    return NULL;
}

/* "ground[0].to" becomes "ground[0]", then "ground", then "". */
static void cut_last(char *path)
{
    size_t n = strlen(path);
    while (n > 0 && path[n - 1] != '.' && path[n - 1] != '[') {
        n--;
    }
    path[n > 0 ? n - 1 : 0] = '\0';
}

struct site_place uf_site_nearest_place(const struct site_reader *reader, const char *path)
{
    struct site_place place = {.line = 1, .column = 1};
    char above[sizeof place.path];
    (void)snprintf(above, sizeof above, "%s", path);
    while (above[0] != '\0') {
        const struct site_seen *seen = uf_site_given(reader, above);
        if (seen != NULL) {
            place = seen->place;
            break;
        }
        cut_last(above);
    }
    (void)snprintf(place.path, sizeof place.path, "%s", path);
    return place;
}

void uf_site_note(struct site_reader *reader, const struct site_key *key,
                  const struct site_place *place)
{
    struct site_seen *seen = realloc(reader->seen, (reader->n_seen + 1) * sizeof *seen);
    if (seen == NULL) {
        reader->out_of_memory = true;
        return;
    }
    reader->seen = seen;
    seen[reader->n_seen++] = (struct site_seen){.place = *place, .key = key};
}
