#ifndef UF_RESULT_ARRAY_H
#define UF_RESULT_ARRAY_H

#include "solver/run/record.h"

/* The arrays of a record by the names they have in a result file: for whoever hands them on. */

#define UF_RESULT_ARRAY_RANK 4
struct uf_result_array {
    const char *name, *units, *long_name; /* NULL: none */
    const void *data;                     /* borrowed */
    char kind;                            /* 'd' double, 'f' float, 'b' signed byte */
    size_t rank, shape[UF_RESULT_ARRAY_RANK];
};

/* The i'th array of the record; false past the last. One that the record has not is left out. */
bool uf_result_array(struct uf_result_array *out, const struct uf_record *record, size_t i);

#endif
