#include "result_private.h"

#include <hdf5_hl.h>

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A chunk of a field holds about this many numbers: some days at once, so that a picture
   of one day and a series at one place both read little. */
#define CHUNK_NUMBERS    16384
#define DEFLATE_LEVEL    1
#define CONVERSION_BYTES 4096

/* What uf_run_store does to a field. */
#define ROUNDED "rounded to the nearest 1/512"

static hid_t file_type(enum uf_result_kind kind)
{
    switch (kind) {
    case UF_KIND_DOUBLE:
        return H5T_IEEE_F64LE;
    case UF_KIND_FLOAT:
        return H5T_IEEE_F32LE;
    case UF_KIND_LONG:
        return H5T_STD_I64LE;
    case UF_KIND_BYTE:
    case UF_KIND_BOOL:
    case UF_KIND_TEXT:
        break;
    }
    return H5T_STD_I8LE;
}

static hid_t memory_type(enum uf_result_kind kind)
{
    switch (kind) {
    case UF_KIND_DOUBLE:
        return H5T_NATIVE_DOUBLE;
    case UF_KIND_FLOAT:
        return H5T_NATIVE_FLOAT;
    case UF_KIND_LONG:
        return H5T_NATIVE_LONG;
    case UF_KIND_BYTE:
    case UF_KIND_BOOL:
    case UF_KIND_TEXT:
        break;
    }
    return H5T_NATIVE_INT8;
}

hid_t uf_result_hdf5_text_type(void)
{
    const hid_t type = H5Tcopy(H5T_C_S1);
    (void)H5Tset_size(type, H5T_VARIABLE);
    (void)H5Tset_cset(type, H5T_CSET_UTF8);
    return type;
}

hid_t uf_result_hdf5_creation(hid_t class)
{
    const unsigned order = H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED; /* as netCDF-4 */
    const hid_t list = H5Pcreate(class);
    (void)H5Pset_obj_track_times(list, false);
    (void)H5Pset_attr_creation_order(list, order);
    if (H5Pisa_class(list, H5P_GROUP_CREATE) > 0) {
        (void)H5Pset_link_creation_order(list, order);
    }
    return list;
}

hid_t uf_result_hdf5_holder(hid_t group, const char *name)
{
    const int8_t nothing = 0;
    const hid_t space = H5Screate(H5S_SCALAR),
                creation = uf_result_hdf5_creation(H5P_DATASET_CREATE);
    const hid_t holder =
        H5Dcreate2(group, name, H5T_STD_I8LE, space, H5P_DEFAULT, creation, H5P_DEFAULT);
    (void)H5Pclose(creation);
    (void)H5Sclose(space);
    if (holder >= 0) {
        (void)H5Dwrite(holder, H5T_NATIVE_INT8, H5S_ALL, H5S_ALL, H5P_DEFAULT, &nothing);
    }
    return holder;
}

bool uf_result_hdf5_put_text(hid_t object, const char *name, const char *text)
{
    if (text == NULL) {
        return true;
    }
    const hid_t type = uf_result_hdf5_text_type(), space = H5Screate(H5S_SCALAR);
    const hid_t attribute = H5Acreate2(object, name, type, space, H5P_DEFAULT, H5P_DEFAULT);
    const bool good = attribute >= 0 && H5Awrite(attribute, type, &text) >= 0;
    (void)H5Aclose(attribute);
    (void)H5Sclose(space);
    (void)H5Tclose(type);
    return good;
}

bool uf_result_hdf5_put_number(hid_t object, const char *name, enum uf_result_kind kind,
                               const void *value, size_t n)
{
    const hsize_t size = n;
    const hid_t space = H5Screate_simple(1, &size, NULL);
    const hid_t attribute =
        H5Acreate2(object, name, file_type(kind), space, H5P_DEFAULT, H5P_DEFAULT);
    const bool good = attribute >= 0 && H5Awrite(attribute, memory_type(kind), value) >= 0;
    (void)H5Aclose(attribute);
    (void)H5Sclose(space);
    return good;
}

bool uf_result_hdf5_has_attribute(hid_t object, const char *name)
{
    return H5Aexists(object, name) > 0;
}

/* The texts HDF5 hands out are its own to free; this is a copy that free() takes. */
static char *own_copy(char *text)
{
    const size_t size = strlen(text) + 1;
    char *copy = malloc(size);
    if (copy != NULL) {
        memcpy(copy, text, size);
    }
    (void)H5free_memory(text);
    return copy;
}

char *uf_result_hdf5_get_text(hid_t object, const char *name)
{
    char *text = NULL;
    if (!uf_result_hdf5_has_attribute(object, name)) {
        return NULL;
    }
    const hid_t attribute = H5Aopen(object, name, H5P_DEFAULT);
    const hid_t found = H5Aget_type(attribute), space = H5Aget_space(attribute);
    const hid_t type = uf_result_hdf5_text_type();
    if (H5Tis_variable_str(found) > 0 && H5Sget_simple_extent_npoints(space) == 1 &&
        H5Aread(attribute, type, &text) >= 0 && text != NULL) {
        text = own_copy(text);
    }
    (void)H5Tclose(type);
    (void)H5Sclose(space);
    (void)H5Tclose(found);
    (void)H5Aclose(attribute);
    return text;
}

bool uf_result_hdf5_get_number(hid_t object, const char *name, enum uf_result_kind kind,
                               void *value)
{
    if (!uf_result_hdf5_has_attribute(object, name)) {
        return false;
    }
    const hid_t attribute = H5Aopen(object, name, H5P_DEFAULT);
    const hid_t space = H5Aget_space(attribute);
    const bool good = H5Sget_simple_extent_npoints(space) == 1 &&
                      H5Aread(attribute, memory_type(kind), value) >= 0;
    (void)H5Sclose(space);
    (void)H5Aclose(attribute);
    return good;
}

/* Chunks over the dimensions: all of it for what is small, some days for a field. */
static void set_chunks(hid_t creation, const struct uf_result_variable *shape, const hsize_t *size)
{
    hsize_t chunk[UF_RESULT_MOST_RANK] = {1, 1, 1, 1}, rest = 1;
    assert(shape->rank >= 1 && shape->rank <= UF_RESULT_MOST_RANK);
    for (int i = shape->rank - 1; i >= 0; i--) {
        const hsize_t room = CHUNK_NUMBERS / rest > 0 ? CHUNK_NUMBERS / rest : 1;
        chunk[i] = size[i] == 0 ? 1 : size[i] < room ? size[i] : room;
        rest *= chunk[i];
    }
    (void)H5Pset_chunk(creation, shape->rank, chunk);
    (void)H5Pset_shuffle(creation);
    (void)H5Pset_deflate(creation, DEFLATE_LEVEL);
}

/* Is the variable the scale of its own first dimension? */
static bool is_scale(const struct uf_result_variable *shape)
{
    return shape->rank == 1 && strcmp(shape->name, uf_result_dim_names[shape->dims[0]]) == 0;
}

/* May NaN stand in it? Coordinates and their bounds have no gaps. */
static bool may_lack(const struct uf_result_variable *shape)
{
    return (shape->kind == UF_KIND_DOUBLE || shape->kind == UF_KIND_FLOAT) && !is_scale(shape) &&
           shape->dims[shape->rank - 1] != UF_DIM_EDGE;
}

static hid_t make_dataset(hid_t group, const struct uf_result_variable *shape, const hsize_t *size,
                          hid_t type)
{
    const double nothing = NAN;
    const hid_t creation = uf_result_hdf5_creation(H5P_DATASET_CREATE);
    if (shape->kind != UF_KIND_TEXT) {
        set_chunks(creation, shape, size);
    }
    if (may_lack(shape)) {
        (void)H5Pset_fill_value(creation, H5T_NATIVE_DOUBLE, &nothing);
    }
    const hid_t space = H5Screate_simple(shape->rank, size, NULL);
    const hid_t dataset =
        H5Dcreate2(group, shape->name, type, space, H5P_DEFAULT, creation, H5P_DEFAULT);
    (void)H5Sclose(space);
    (void)H5Pclose(creation);
    return dataset;
}

/* The values themselves. Numbers that lie in memory as in the file have a quicker way. */
static bool fill(struct uf_result_pack *pack, hid_t dataset, const struct uf_result_variable *shape,
                 const hsize_t *size, const void *data)
{
    const hid_t memory = memory_type(shape->kind);
    const size_t bytes = H5Tget_size(memory);
    return (bytes == H5Tget_size(file_type(shape->kind)) &&
            uf_result_chunk_write(pack, dataset, shape->rank, size, bytes, data)) ||
           H5Dwrite(dataset, memory, H5S_ALL, H5S_ALL, H5P_DEFAULT, data) >= 0;
}

/* Texts. Left alone, the library clears a megabyte to convert a handful in. */
static bool fill_texts(hid_t dataset, hid_t type, const void *data)
{
    const hid_t transfer = H5Pcreate(H5P_DATASET_XFER);
    (void)H5Pset_buffer(transfer, CONVERSION_BYTES, NULL, NULL);
    const bool good = H5Dwrite(dataset, type, H5S_ALL, H5S_ALL, transfer, data) >= 0;
    (void)H5Pclose(transfer);
    return good;
}

/* Units and names, and NaN as the value that stands for none. */
static bool describe(hid_t dataset, const struct uf_result_variable *shape)
{
    const struct uf_result_words *words = &shape->words;
    const double nothing = NAN;
    const float nothing_short = NAN;
    bool good = true;
    if (may_lack(shape)) {
        good = uf_result_hdf5_put_number(dataset, "_FillValue", shape->kind,
                                         shape->kind == UF_KIND_FLOAT ? (const void *)&nothing_short
                                                                      : (const void *)&nothing,
                                         1);
    }
    if (shape->rank >= 3) {
        good = good && uf_result_hdf5_put_text(dataset, "comment", ROUNDED);
    }
    return good && uf_result_hdf5_put_text(dataset, "units", words->units) &&
           uf_result_hdf5_put_text(dataset, "long_name", words->long_name) &&
           uf_result_hdf5_put_text(dataset, "standard_name", words->standard_name) &&
           uf_result_hdf5_put_text(dataset, "coordinates", words->coordinates);
}

/* Makes the dataset a scale, or attaches the scales of its dimensions to it. */
static bool connect(struct uf_result_group *group, const struct uf_result_variable *shape,
                    hid_t dataset)
{
    if (is_scale(shape)) {
        group->scale[shape->dims[0]] = dataset;
        return H5DSset_scale(dataset, shape->name) >= 0;
    }
    for (int i = 0; i < shape->rank; i++) {
        if (H5DSattach_scale(dataset, group->scale[shape->dims[i]], (unsigned)i) < 0) {
            return false;
        }
    }
    return H5Dclose(dataset) >= 0;
}

bool uf_result_hdf5_write(struct uf_result_group *group, const struct uf_result_variable *shape,
                          const void *data)
{
    hsize_t size[UF_RESULT_MOST_RANK] = {1, 1, 1, 1};
    for (int i = 0; i < shape->rank; i++) {
        size[i] = group->size[shape->dims[i]];
    }
    const bool text = shape->kind == UF_KIND_TEXT;
    const hid_t string = uf_result_hdf5_text_type();
    const hid_t dataset =
        make_dataset(group->id, shape, size, text ? string : file_type(shape->kind));
    const bool good = dataset >= 0 &&
                      (text ? fill_texts(dataset, string, data)
                            : fill(group->pack, dataset, shape, size, data)) &&
                      describe(dataset, shape) && connect(group, shape, dataset);
    (void)H5Tclose(string);
    return good;
}

bool uf_result_hdf5_plain_dim(struct uf_result_group *group, enum uf_result_dim dim)
{
    /* The words by which netCDF-4 knows a dimension without a variable. */
    char words[80];
    (void)snprintf(words, sizeof words, "This is a netCDF dimension but not a netCDF variable.%10d",
                   (int)group->size[dim]);
    const hid_t space = H5Screate_simple(1, &group->size[dim], NULL);
    const hid_t creation = uf_result_hdf5_creation(H5P_DATASET_CREATE);
    const hid_t dataset = H5Dcreate2(group->id, uf_result_dim_names[dim], H5T_IEEE_F32BE, space,
                                     H5P_DEFAULT, creation, H5P_DEFAULT);
    (void)H5Pclose(creation);
    (void)H5Sclose(space);
    group->scale[dim] = dataset;
    return dataset >= 0 && H5DSset_scale(dataset, words) >= 0;
}

bool uf_result_hdf5_exists(hid_t group, const char *name)
{
    return H5Lexists(group, name, H5P_DEFAULT) > 0;
}

/* The extent of an open dataset; rank -1 when it has another rank. */
static bool has_shape(hid_t dataset, int rank, const hsize_t *size)
{
    hsize_t found[UF_RESULT_MOST_RANK] = {0};
    const hid_t space = H5Dget_space(dataset);
    bool same = H5Sget_simple_extent_ndims(space) == rank &&
                H5Sget_simple_extent_dims(space, found, NULL) == rank;
    for (int i = 0; same && i < rank; i++) {
        same = found[i] == size[i];
    }
    (void)H5Sclose(space);
    return same;
}

hsize_t uf_result_hdf5_length(hid_t group, const char *name)
{
    hsize_t size = 0;
    if (!uf_result_hdf5_exists(group, name)) {
        return 0;
    }
    const hid_t dataset = H5Dopen2(group, name, H5P_DEFAULT), space = H5Dget_space(dataset);
    if (H5Sget_simple_extent_ndims(space) == 1) {
        (void)H5Sget_simple_extent_dims(space, &size, NULL);
    }
    (void)H5Sclose(space);
    (void)H5Dclose(dataset);
    return size;
}

bool uf_result_hdf5_read(const struct uf_result_group *group,
                         const struct uf_result_variable *shape, void *data)
{
    hsize_t size[UF_RESULT_MOST_RANK] = {1, 1, 1, 1};
    for (int i = 0; i < shape->rank; i++) {
        size[i] = group->size[shape->dims[i]];
    }
    const hid_t dataset = H5Dopen2(group->id, shape->name, H5P_DEFAULT);
    const bool good =
        dataset >= 0 && has_shape(dataset, shape->rank, size) &&
        H5Dread(dataset, memory_type(shape->kind), H5S_ALL, H5S_ALL, H5P_DEFAULT, data) >= 0;
    (void)H5Dclose(dataset);
    return good;
}

bool uf_result_hdf5_read_texts(hid_t group, const char *name, hsize_t n, char *texts, size_t stride)
{
    char **found = calloc((size_t)n + 1, sizeof *found);
    const hid_t dataset = H5Dopen2(group, name, H5P_DEFAULT);
    const hid_t stored = H5Dget_type(dataset), type = uf_result_hdf5_text_type();
    const bool good = found != NULL && dataset >= 0 && has_shape(dataset, 1, &n) &&
                      H5Tis_variable_str(stored) > 0 &&
                      H5Dread(dataset, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, found) >= 0;
    for (hsize_t i = 0; good && i < n; i++) {
        (void)snprintf(texts + i * stride, UF_NAME_SIZE, "%s", found[i] != NULL ? found[i] : "");
        (void)H5free_memory(found[i]);
    }
    (void)H5Tclose(type);
    (void)H5Tclose(stored);
    (void)H5Dclose(dataset);
    free(found);
    return good;
}
