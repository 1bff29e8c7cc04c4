#ifndef UF_READINGS_CSV_H
#define UF_READINGS_CSV_H

#include "site_file.h"

/* Readings of a tank's roundness from a CSV file: a heading that names its columns, then one reading
   a line, each length with its unit and within the range that `readings` has in the site file.
   Columns in any order: at and diameter, and perhaps station, horizontal, level, far_level; date and
   by are read over. A field may be empty but for at and diameter. Replaces what the input held.
   UF_E_INPUT   faults hold every line that is wrong (uf_site_faults_clear); or, without a row there,
                err: a file that is no text
   UF_E_FILE    err says why it cannot be read */
enum uf_status uf_readings_csv_read(struct uf_roundness_input *out, const char *path,
                                    struct uf_site_faults *faults, struct uf_error *err);

/* The same from a file that is open; it stays the caller's to close. name stands for it in messages. */
enum uf_status uf_readings_csv_take(struct uf_roundness_input *out, FILE *file, const char *name,
                                    struct uf_site_faults *faults, struct uf_error *err);

#endif
