#ifndef UF_STUDY_PART_H
#define UF_STUDY_PART_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* The part file of a shard: one line a case, appended as soon as it is done, each with a sum of its
   own. A line that a kill has cut short is not read, and is cut off before the next is written, so
   the shard goes on with that case. Numbers are written so that they come back to the last bit. */

enum uf_study_status {
    UF_STUDY_MISSING,
    UF_STUDY_DONE,      /* every limit met */
    UF_STUDY_LIMIT,     /* some limit not met */
    UF_STUDY_FAILED,    /* its message says why */
    UF_STUDY_NO_WINTER, /* the station has no such winter */
    UF_STUDY_STATUSES
};
extern const char *const uf_study_status_words[UF_STUDY_STATUSES]; /* as words of flag_meanings */

#define UF_STUDY_MESSAGE 240
struct uf_study_row {
    size_t id;
    enum uf_study_status status;
    double *values; /* [n_values] */
    char message[UF_STUDY_MESSAGE];
};

/* What a part belongs to: a manifest, and how many numbers a case has. */
struct uf_study_part_kind {
    unsigned long long key;
    size_t n_values;
};

/* Calls take for each whole line of a part; one that is not there holds none. Errors: UF_E_INPUT
   for a part of another manifest; UF_E_FILE, UF_E_MEMORY. */
typedef void uf_study_part_take(void *payload, const struct uf_study_row *row);
enum uf_status uf_study_part_read(const char *path, const struct uf_study_part_kind *kind,
                                  uf_study_part_take *take, void *payload, struct uf_error *err);

/* Opens a part to append to: reads what it holds as above, cuts off a torn line. It is locked until
   it is closed. Errors: as above; UF_E_FILE where another program holds it. */
enum uf_status uf_study_part_open(FILE **out, const char *path,
                                  const struct uf_study_part_kind *kind, uf_study_part_take *take,
                                  void *payload, struct uf_error *err);

/* Adds a case. Errors: UF_E_FILE when the disk is full. */
enum uf_status uf_study_part_append(FILE *part, const struct uf_study_part_kind *kind,
                                    const struct uf_study_row *row, struct uf_error *err);

#endif
