#ifndef UF_FIELD_PAGE_H
#define UF_FIELD_PAGE_H

#include "io/text/quantity.h"
#include "solver/base/error.h"

#include <stddef.h>

/* The field record: one HTML page that needs no network and no other file, for a phone at the pit.
   Diameters at every station and the level of both ends at each stage are typed as the tape reads
   them, judged at once (see uf_roundness), kept in the browser's storage and downloaded as CSV that
   uf_readings_csv_read reads. */

#define UF_FIELD_PAGE_STAGES 12

struct uf_field_page {
    const char *title; /* of the site */
    const char *stages[UF_FIELD_PAGE_STAGES];
    size_t n_stages;
    size_t stations;      /* at least 1 */
    enum uf_units units;  /* of the tape: mm, or inches and sixteenths; levels in m or ft */
    double diameter_m;    /* inside, as designed; until the first reading is typed */
    double limit;         /* share of the first diameter; NAN: nothing is judged */
    double level_limit_m; /* NAN: levels are not judged */
};

/* The file appears complete or not at all. Errors: UF_E_FILE, UF_E_MEMORY. */
enum uf_status uf_field_page_write(const char *path, const struct uf_field_page *page,
                                   struct uf_error *err);

#endif
