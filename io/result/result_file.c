#include "result_file.h"

#include "io/text/input.h"
#include "part_file.h"
#include "result_private.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* HDF5 prints a stack of its own on every refusal; errors reach the user as our one line. */
struct quiet {
    H5E_auto2_t function;
    void *data;
};

static struct quiet silence(void)
{
    struct quiet before = {NULL, NULL};
    (void)H5Eget_auto2(H5E_DEFAULT, &before.function, &before.data);
    (void)H5Eset_auto2(H5E_DEFAULT, NULL, NULL);
    return before;
}

static void restore(struct quiet before)
{
    (void)H5Eset_auto2(H5E_DEFAULT, before.function, before.data);
}

#define IMAGE_STEP 1048576 /* bytes by which a file in memory grows */

/* The file is put together in memory and written by ourselves: HDF5 cannot let go of a
   file that it could not flush, and brings the program down at its end when a disk is
   full. */
static hid_t create_in_memory(const char *name)
{
    const hid_t access = H5Pcreate(H5P_FILE_ACCESS),
                creation = uf_result_hdf5_creation(H5P_FILE_CREATE);
    (void)H5Pset_fclose_degree(access, H5F_CLOSE_STRONG);
    (void)H5Pset_fapl_core(access, IMAGE_STEP, false);
    const hid_t file = H5Fcreate(name, H5F_ACC_TRUNC, creation, access);
    (void)H5Pclose(creation);
    (void)H5Pclose(access);
    return file;
}

/* The bytes of the file as they would stand on disk, in the library's own memory, good
   until the file is closed. NULL: it could not be. */
static const void *image_of(hid_t file, size_t *size)
{
    void **memory = NULL; /* what the core driver calls its handle */
    if (H5Fflush(file, H5F_SCOPE_GLOBAL) < 0 ||
        H5Fget_vfd_handle(file, H5P_DEFAULT, (void **)&memory) < 0 || memory == NULL) {
        return NULL;
    }
    const ssize_t length = H5Fget_file_image(file, NULL, 0);
    *size = length > 0 ? (size_t)length : 0;
    return *size > 0 ? *memory : NULL;
}

static enum uf_status write_image(const char *path, const void *image, size_t size,
                                  struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    char seal[UF_RESULT_SEAL_SIZE];
    uf_result_seal_make(seal, image, size);
    (void)fwrite(image, 1, size, part.file); /* what fails is found when the file is closed */
    (void)fwrite(seal, 1, sizeof seal, part.file);
    return uf_part_file_close(&part, UF_OK, err);
}

enum uf_status uf_result_file_name(const char *path, struct uf_error *err)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash != NULL ? slash + 1 : path;
    const char *dot = strrchr(name, '.');
    if (dot == NULL || dot == name || (strcmp(dot, ".h5") != 0 && strcmp(dot, ".nc") != 0)) {
        return uf_fail(
            err, UF_E_INPUT,
            "%.250s: a result file (HDF5, netCDF-4) needs a name that ends in .h5 or .nc", path);
    }
    return UF_OK;
}

static bool write_layout(hid_t file)
{
    const long layout = UF_RESULT_LAYOUT;
    return uf_result_hdf5_put_number(file, "layout", UF_KIND_LONG, &layout, 1);
}

/* A file of another version of the program is sound, and still not read: its names mean other
   things. */
static enum uf_status check_layout(hid_t file, const char *path, struct uf_error *err)
{
    long layout = 0;
    if (!uf_result_hdf5_has_attribute(file, "layout")) {
        return uf_fail(err, UF_E_FILE,
                       "%s: has no number of a layout: not a result of this program, or of an "
                       "earlier version; run the design again",
                       path);
    }
    if (!uf_result_hdf5_get_number(file, "layout", UF_KIND_LONG, &layout) ||
        layout != UF_RESULT_LAYOUT) {
        return uf_fail(err, UF_E_FILE,
                       "%s: its layout is %ld and this version of the program reads %d; run the "
                       "design again, or read it with the version that wrote it",
                       path, layout, UF_RESULT_LAYOUT);
    }
    return UF_OK;
}

enum uf_status uf_result_file_make(const char *path,
                                   bool (*fill)(hid_t file, const void *data, const char **what),
                                   const void *data, struct uf_error *err)
{
    const struct quiet before = silence();
    const hid_t file = create_in_memory(path);
    const char *what = "the whole";
    size_t size = 0;
    const bool filled = file >= 0 && write_layout(file) && fill(file, data, &what);
    const void *image = filled ? image_of(file, &size) : NULL;
    const enum uf_status status =
        image != NULL
            ? write_image(path, image, size, err)
            : uf_fail(err, UF_E_FILE, "%s: %s could not be put together: is there enough memory?",
                      path, what);
    if (file >= 0) {
        (void)H5Fclose(file);
    }
    restore(before);
    return status;
}

static bool fill_result(hid_t file, const void *data, const char **what)
{
    return uf_result_write_all(file, data, what);
}

enum uf_status uf_result_file_write(const char *path, const struct uf_result *result,
                                    struct uf_error *err)
{
    return uf_result_file_make(path, fill_result, result, err);
}

/* Opens the bytes for reading through stdio: those in memory, or those of the file. */
static enum uf_status open_bytes(FILE **out, const struct uf_result_source *from,
                                 struct uf_error *err)
{
    struct uf_error reason = {0};
    if (from->image != NULL) {
        *out = fmemopen((void *)(uintptr_t)from->image, from->size, "rb");
        return *out != NULL ? UF_OK : uf_fail(err, UF_E_MEMORY, "out of memory for a result");
    }
    if (uf_input_open(out, from->path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", from->path, reason.text);
    }
    return UF_OK;
}

/* Looks at the seal before HDF5 sees the file. */
static enum uf_status check_seal(const struct uf_result_source *from, bool strict,
                                 struct uf_error *err)
{
    FILE *file = NULL;
    const enum uf_status status = open_bytes(&file, from, err);
    if (status != UF_OK) {
        return status;
    }
    const bool whole = uf_result_seal_fits(file, strict);
    (void)fclose(file);
    return whole ? UF_OK
                 : uf_fail(err, UF_E_FILE,
                           "%s: damaged since it was written: its sum does not fit; take a "
                           "copy of it, or run the design again",
                           from->path);
}

static hid_t open_sealed(const struct uf_result_source *from)
{
    const hid_t access = H5Pcreate(H5P_FILE_ACCESS);
    (void)H5Pset_fclose_degree(access, H5F_CLOSE_STRONG);
    if (from->image != NULL) {
        (void)H5Pset_fapl_core(access, IMAGE_STEP, false);
        (void)H5Pset_file_image(access, (void *)(uintptr_t)from->image, from->size);
    }
    const hid_t file = H5Fopen(from->path, H5F_ACC_RDONLY, access);
    (void)H5Pclose(access);
    return file;
}

enum uf_status uf_result_file_take(const struct uf_result_source *from, bool strict,
                                   bool (*take)(hid_t file, void *data, const char **what),
                                   void *data, struct uf_error *err)
{
    const char *path = from->path;
    enum uf_status status = check_seal(from, strict, err);
    if (status != UF_OK) {
        return status;
    }
    const struct quiet before = silence();
    const char *what = "its contents";
    const hid_t file = open_sealed(from);
    if (file < 0) {
        status =
            uf_fail(err, UF_E_FILE,
                    "%s: not an HDF5 file: give a result file (.h5) that this program wrote", path);
    } else if ((status = check_layout(file, path, err)) == UF_OK && !take(file, data, &what)) {
        status = uf_fail(err, UF_E_FILE,
                         "%s: %s could not be read: the file is damaged or not a result of this "
                         "program; run the design again",
                         path, what);
    }
    if (file >= 0) {
        (void)H5Fclose(file);
    }
    restore(before);
    return status;
}

static bool take_result(hid_t file, void *data, const char **what)
{
    return uf_result_read_all(file, data, what);
}

static enum uf_status read_source(struct uf_result **out, const struct uf_result_source *from,
                                  struct uf_error *err)
{
    struct uf_result *result = malloc(sizeof *result);
    *out = NULL;
    if (result == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a result");
    }
    uf_result_init(result);
    const enum uf_status status = uf_result_file_take(from, false, take_result, result, err);
    if (status != UF_OK) {
        uf_result_free(result);
        return status;
    }
    *out = result;
    return UF_OK;
}

enum uf_status uf_result_file_read(struct uf_result **out, const char *path, struct uf_error *err)
{
    return read_source(out, &(struct uf_result_source){.path = path}, err);
}

enum uf_status uf_result_file_read_image(struct uf_result **out, const char *name,
                                         const void *image, size_t size, struct uf_error *err)
{
    return read_source(out, &(struct uf_result_source){name, image, size}, err);
}

char *uf_result_file_library(char *text, size_t size)
{
    unsigned major = 0, minor = 0, release = 0;
    (void)H5get_libversion(&major, &minor, &release);
    (void)snprintf(text, size, "HDF5 %u.%u.%u", major, minor, release);
    return text;
}

bool uf_result_file_sum(uint32_t *sum, const char *path)
{
    unsigned char block[4096];
    FILE *file = NULL;
    *sum = 0;
    if (uf_input_open(&file, path, NULL) != UF_OK) {
        return false;
    }
    for (size_t n; (n = fread(block, 1, sizeof block, file)) > 0;) {
        *sum = uf_result_pack_sum(*sum, block, n);
    }
    const bool good = ferror(file) == 0;
    (void)fclose(file);
    return good;
}

uint32_t uf_result_file_sum_text(const char *text)
{
    return uf_result_pack_sum(0, text, strlen(text));
}
