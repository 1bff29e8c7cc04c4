#ifndef UF_STUDY_FILE_H
#define UF_STUDY_FILE_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* The gathered study: HDF5 that opens as netCDF-4 with CF metadata. Variables over a few dimensions,
   each dimension a scale of its own name. */

#define UF_STUDY_FILE_RANK 5

struct uf_study_file_dim {
    const char *name;
    size_t size;
};

enum uf_study_file_kind { UF_STUDY_FILE_NUMBER, UF_STUDY_FILE_BYTE, UF_STUDY_FILE_TEXT };

struct uf_study_file_variable {
    const char *name;
    enum uf_study_file_kind kind;
    size_t rank, dims[UF_STUDY_FILE_RANK]; /* indices into the dimensions */
    const void *data;                      /* doubles, NAN for none; signed bytes; const char * */
    const char *units, *long_name, *standard_name, *coordinates; /* NULL: none */
    const char *const *flags; /* words of the bytes 0, 1, ...; ended by NULL; NULL: none */
};

struct uf_study_file_note {
    const char *name, *text;
};

struct uf_study_file {
    const struct uf_study_file_dim *dims;
    size_t n_dims;
    const struct uf_study_file_variable *variables;
    size_t n_variables;
    const struct uf_study_file_note *notes; /* attributes of the whole */
    size_t n_notes;
};

/* A variable named as its only dimension is the scale of it and must come before the others; a
   dimension without one gets none. Writes whole or not at all. Errors: UF_E_FILE. */
enum uf_status uf_study_file_write(const char *path, const struct uf_study_file *study,
                                   struct uf_error *err);

#endif
