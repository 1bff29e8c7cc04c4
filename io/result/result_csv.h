#ifndef UF_RESULT_CSV_H
#define UF_RESULT_CSV_H

#include "io/text/quantity.h"
#include "result.h"

#include <stdio.h>

/* A result as plain tables, one observation a line: comma-separated, lines that begin with # say what
   the columns are (with their name in the CF standard name table where one fits), then a header
   whose names carry their unit in brackets. The same result gives the same bytes. */

#define UF_RESULT_CSV_DEPTHS 64

struct uf_result_csv {
    enum uf_units units;
    double depth_m[UF_RESULT_CSV_DEPTHS]; /* of the fields */
    size_t n_depths;
};

struct uf_result_csv_table {
    const char *name, *doc;
    /* false: the result has nothing of the kind (fields were not kept) */
    bool (*has)(const struct uf_result *result);
    void (*write)(FILE *out, const struct uf_result *result, const struct uf_result_csv *asked);
};
extern const struct uf_result_csv_table uf_result_csv_tables[]; /* ended by name NULL */

#endif
