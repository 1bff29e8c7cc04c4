#ifndef UF_READINGS_CSV_H
#define UF_READINGS_CSV_H

#include "solver/statics/roundness.h"

/* Readings of a tank's roundness from a CSV file: a heading that names its columns, then one reading
   a line, each length with its unit. Columns in any order: at and diameter, and perhaps station,
   horizontal, level, far_level; date and by are read over. A field may be empty but for at and
   diameter. Replaces what the input held.
   Errors: UF_E_FILE when it cannot be read; UF_E_INPUT with FILE:LINE: what is wrong. */
enum uf_status uf_readings_csv_read(struct uf_roundness_input *out, const char *path,
                                    struct uf_error *err);

#endif
