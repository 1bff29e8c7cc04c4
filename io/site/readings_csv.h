#ifndef UF_READINGS_CSV_H
#define UF_READINGS_CSV_H

#include "solver/statics/roundness.h"

/* Readings of a tank's roundness from a CSV file: a heading "at,diameter" or
   "at,diameter,level", then one reading a line, each value with its unit, an empty level
   where none was read. Replaces what the input held.
   Errors: UF_E_FILE when it cannot be read; UF_E_INPUT with FILE:LINE: what is wrong. */
enum uf_status uf_readings_csv_read(struct uf_roundness_input *out, const char *path,
                                    struct uf_error *err);

#endif
