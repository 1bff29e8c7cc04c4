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

static enum uf_status write_whole(hid_t file, const char *path, const struct uf_result *result,
                                  struct uf_error *err)
{
    const char *what = "the whole";
    size_t size = 0;
    const bool good = file >= 0 && uf_result_write_all(file, result, &what);
    const void *image = good ? image_of(file, &size) : NULL;
    if (image == NULL) {
        return uf_fail(err, UF_E_FILE, "%s: %s could not be put together: is there enough memory?",
                       path, what);
    }
    return write_image(path, image, size, err);
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

enum uf_status uf_result_file_write(const char *path, const struct uf_result *result,
                                    struct uf_error *err)
{
    const struct quiet before = silence();
    const hid_t file = create_in_memory(path);
    const enum uf_status status = write_whole(file, path, result, err);
    if (file >= 0) {
        (void)H5Fclose(file);
    }
    restore(before);
    return status;
}

static enum uf_status read_open(struct uf_result *result, hid_t file, const char *path,
                                struct uf_error *err)
{
    const char *what = "its contents";
    if (!uf_result_read_all(file, result, &what)) {
        return uf_fail(err, UF_E_FILE,
                       "%s: %s could not be read: the file is damaged or not a result of this "
                       "program; run the design again",
                       path, what);
    }
    return UF_OK;
}

enum uf_status uf_result_file_read(struct uf_result **out, const char *path, struct uf_error *err)
{
    *out = NULL;
    FILE *probe = NULL;
    struct uf_error reason = {0};
    if (uf_input_open(&probe, path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
    }
    const bool whole = uf_result_seal_fits(probe);
    (void)fclose(probe);
    if (!whole) {
        return uf_fail(err, UF_E_FILE,
                       "%s: damaged since it was written: its sum does not fit; take a "
                       "copy of it, or run the design again",
                       path);
    }
    struct uf_result *result = malloc(sizeof *result);
    if (result == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a result");
    }
    uf_result_init(result);
    const struct quiet before = silence();
    const hid_t access = H5Pcreate(H5P_FILE_ACCESS);
    (void)H5Pset_fclose_degree(access, H5F_CLOSE_STRONG);
    const hid_t file = H5Fopen(path, H5F_ACC_RDONLY, access);
    enum uf_status status =
        file < 0 ? uf_fail(err, UF_E_FILE,
                           "%s: not an HDF5 file: give a result file (.h5) that this program wrote",
                           path)
                 : read_open(result, file, path, err);
    if (file >= 0) {
        (void)H5Fclose(file);
    }
    (void)H5Pclose(access);
    restore(before);
    if (status != UF_OK) {
        uf_result_free(result);
        return status;
    }
    *out = result;
    return UF_OK;
}

char *uf_result_file_library(char *text, size_t size)
{
    unsigned major = 0, minor = 0, release = 0;
    (void)H5get_libversion(&major, &minor, &release);
    (void)snprintf(text, size, "HDF5 %u.%u.%u", major, minor, release);
    return text;
}
