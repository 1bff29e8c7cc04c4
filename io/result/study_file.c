#include "study_file.h"

#include "result_private.h"

#include <hdf5_hl.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CHUNK_NUMBERS 16384
#define MOST_DIMS     8

struct writing {
    hid_t file, scale[MOST_DIMS];
    const struct uf_study_file *study;
};

static bool is_scale(const struct uf_study_file *study, const struct uf_study_file_variable *v)
{
    return v->rank == 1 && strcmp(v->name, study->dims[v->dims[0]].name) == 0;
}

static hid_t file_type(enum uf_study_file_kind kind)
{
    return kind == UF_STUDY_FILE_TEXT
               ? uf_result_hdf5_text_type()
               : H5Tcopy(kind == UF_STUDY_FILE_BYTE ? H5T_STD_I8LE : H5T_IEEE_F64LE);
}

static hid_t make(const struct writing *w, const struct uf_study_file_variable *v, hid_t type)
{
    hsize_t size[UF_STUDY_FILE_RANK], chunk[UF_STUDY_FILE_RANK], rest = 1;
    const double nothing = NAN;
    const hid_t creation = uf_result_hdf5_creation(H5P_DATASET_CREATE);
    for (size_t i = v->rank; i-- > 0;) {
        size[i] = w->study->dims[v->dims[i]].size;
        const hsize_t room = CHUNK_NUMBERS / rest > 0 ? CHUNK_NUMBERS / rest : 1;
        chunk[i] = size[i] < room ? size[i] : room;
        rest *= chunk[i];
    }
    if (v->kind != UF_STUDY_FILE_TEXT) {
        (void)H5Pset_chunk(creation, (int)v->rank, chunk);
        (void)H5Pset_shuffle(creation);
        (void)H5Pset_deflate(creation, 4);
    }
    if (v->kind == UF_STUDY_FILE_NUMBER && !is_scale(w->study, v)) {
        (void)H5Pset_fill_value(creation, H5T_NATIVE_DOUBLE, &nothing);
    }
    const hid_t space = H5Screate_simple((int)v->rank, size, NULL);
    const hid_t dataset =
        H5Dcreate2(w->file, v->name, type, space, H5P_DEFAULT, creation, H5P_DEFAULT);
    (void)H5Sclose(space);
    (void)H5Pclose(creation);
    return dataset;
}

static bool put_flags(hid_t dataset, const struct uf_study_file_variable *v)
{
    char words[400] = "";
    int8_t values[32];
    size_t n = 0;
    while (n < sizeof values && v->flags[n] != NULL) {
        const size_t used = strlen(words);
        (void)snprintf(words + used, sizeof words - used, "%s%s", n > 0 ? " " : "", v->flags[n]);
        values[n] = (int8_t)n;
        n++;
    }
    return uf_result_hdf5_put_number(dataset, "flag_values", UF_KIND_BYTE, values, n) &&
           uf_result_hdf5_put_text(dataset, "flag_meanings", words);
}

static bool describe(const struct writing *w, hid_t dataset, const struct uf_study_file_variable *v)
{
    const double nothing = NAN;
    const bool fill = v->kind == UF_STUDY_FILE_NUMBER && !is_scale(w->study, v);
    return (!fill ||
            uf_result_hdf5_put_number(dataset, "_FillValue", UF_KIND_DOUBLE, &nothing, 1)) &&
           uf_result_hdf5_put_text(dataset, "units", v->units) &&
           uf_result_hdf5_put_text(dataset, "long_name", v->long_name) &&
           uf_result_hdf5_put_text(dataset, "standard_name", v->standard_name) &&
           uf_result_hdf5_put_text(dataset, "coordinates", v->coordinates) &&
           (v->flags == NULL || put_flags(dataset, v));
}

static bool connect(struct writing *w, hid_t dataset, const struct uf_study_file_variable *v)
{
    if (is_scale(w->study, v)) {
        w->scale[v->dims[0]] = dataset;
        return H5DSset_scale(dataset, v->name) >= 0;
    }
    bool good = true;
    for (size_t i = 0; good && i < v->rank; i++) {
        good = H5DSattach_scale(dataset, w->scale[v->dims[i]], (unsigned)i) >= 0;
    }
    return H5Dclose(dataset) >= 0 && good;
}

static bool write_variable(struct writing *w, const struct uf_study_file_variable *v)
{
    const hid_t type = file_type(v->kind);
    const hid_t memory = v->kind == UF_STUDY_FILE_TEXT   ? type
                         : v->kind == UF_STUDY_FILE_BYTE ? H5T_NATIVE_INT8
                                                         : H5T_NATIVE_DOUBLE;
    const hid_t dataset = make(w, v, type);
    const bool good = dataset >= 0 &&
                      H5Dwrite(dataset, memory, H5S_ALL, H5S_ALL, H5P_DEFAULT, v->data) >= 0 &&
                      describe(w, dataset, v) && connect(w, dataset, v);
    (void)H5Tclose(type);
    return good;
}

/* A dimension that no variable is the scale of. */
static bool plain_dim(struct writing *w, size_t i)
{
    char words[80];
    const hsize_t size = w->study->dims[i].size;
    (void)snprintf(words, sizeof words, "This is a netCDF dimension but not a netCDF variable.%10d",
                   (int)size);
    const hid_t space = H5Screate_simple(1, &size, NULL);
    const hid_t creation = uf_result_hdf5_creation(H5P_DATASET_CREATE);
    w->scale[i] = H5Dcreate2(w->file, w->study->dims[i].name, H5T_IEEE_F32BE, space, H5P_DEFAULT,
                             creation, H5P_DEFAULT);
    (void)H5Pclose(creation);
    (void)H5Sclose(space);
    return w->scale[i] >= 0 && H5DSset_scale(w->scale[i], words) >= 0;
}

static bool has_scale(const struct uf_study_file *study, size_t dim)
{
    for (size_t i = 0; i < study->n_variables; i++) {
        if (is_scale(study, &study->variables[i]) && study->variables[i].dims[0] == dim) {
            return true;
        }
    }
    return false;
}

static bool fill(hid_t file, const void *data, const char **what)
{
    const struct uf_study_file *study = data;
    struct writing w = {.file = file, .study = study};
    bool good =
        study->n_dims <= MOST_DIMS && uf_result_hdf5_put_text(file, "Conventions", "CF-1.10");
    for (size_t i = 0; good && i < study->n_notes; i++) {
        good = uf_result_hdf5_put_text(file, study->notes[i].name, study->notes[i].text);
    }
    for (size_t i = 0; good && i < study->n_dims; i++) {
        good = has_scale(study, i) || plain_dim(&w, i);
    }
    for (size_t i = 0; good && i < study->n_variables; i++) {
        *what = study->variables[i].name;
        good = write_variable(&w, &study->variables[i]);
    }
    return good;
}

enum uf_status uf_study_file_write(const char *path, const struct uf_study_file *study,
                                   struct uf_error *err)
{
    return uf_result_file_make(path, fill, study, err);
}
