#ifndef UF_TESTS_DAMAGE_H
#define UF_TESTS_DAMAGE_H

/* Damage to a result file that reaches its reader: bytes changed, or things replaced through HDF5
   itself so that the file stays one, then sealed anew. Every byte of the fuzzer's input is a choice:

       first byte even   raw: pieces of six, where (3), how (1), with what (2)
       first byte odd    by meaning: pieces of eight, which thing, how, its shape and values
       its next bit      of the whole file, or of the lean one: fuzz_result.c
       its third bit     raw damage under the old seal, which must be refused before HDF5 sees it: some
                         hundred times as quick, so it does not slow what is sealed anew */

#include <hdf5.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* From io/result/result_private.h: the sum that ends a file. */
#define DAMAGE_SEAL 24
void uf_result_seal_make(char seal[DAMAGE_SEAL], const void *image, size_t size);

struct damage_base {
    uint8_t *image;            /* its seal behind it */
    size_t size;               /* without that */
    const char *const *things; /* paths of datasets and holders, ended by NULL */
    const char *const *attributes;
};

static long damage_refused, damage_read;

static inline void damage_tell(void)
{
    (void)fprintf(stderr, "stat::refused_by_the_sum: %ld\nstat::read_by_HDF5: %ld\n",
                  damage_refused, damage_read);
}

/* Before anything else of HDF5, which ends in a crash when it tidies up after damaged files. */
static inline void damage_begin(void)
{
    (void)H5dont_atexit();
    (void)atexit(damage_tell);
}

/* Takes a file that was just written into memory. */
static inline void damage_take(struct damage_base *base, const char *path)
{
    FILE *file = fopen(path, "rb");
    enum { MOST = 1 << 22 };
    base->image = malloc(MOST);
    if (file == NULL || base->image == NULL) {
        abort();
    }
    const size_t n = fread(base->image, 1, MOST, file);
    (void)fclose(file);
    if (n <= DAMAGE_SEAL || n == MOST) {
        abort();
    }
    (void)H5Eset_auto2(H5E_DEFAULT, NULL, NULL); /* refusals are no news here */
    base->size = n - DAMAGE_SEAL;
}

static inline uint64_t damage_number(uint8_t how, uint16_t value)
{
    static const uint64_t rows[] = {0,          1,
                                    UINT64_MAX, 0x7fffffffffffffffu,
                                    0x80000000, 0x7ff8000000000000u,
                                    0xffff,     0x7ff0000000000000u};
    return how & 8u ? value : rows[how & 7u];
}

static inline void damage_raw(uint8_t *image, size_t size, const uint8_t *data, size_t n)
{
    for (; n >= 6; n -= 6, data += 6) {
        const size_t at = (data[0] | (size_t)data[1] << 8 | (size_t)data[2] << 16) % size;
        const uint16_t value = (uint16_t)(data[4] | data[5] << 8);
        const uint64_t number = damage_number(data[3], value);
        const size_t widths[] = {1, 2, 4, 8};
        size_t width = widths[data[3] >> 4 & 3u];
        width = width < size - at ? width : size - at;
        memcpy(image + at, &number, width);
    }
}

static inline double damage_value(uint8_t kind, size_t i)
{
    const double rows[] = {NAN, INFINITY, -INFINITY, 1e300, -1e300, 0.0, 1e9, -1.0};
    return kind & 8u ? (double)i * (kind & 4u ? -1.0 : 1.0) : rows[kind & 7u];
}

static inline void damage_replace(hid_t file, const char *name, const uint8_t *piece)
{
    const hsize_t dims[3] = {1 + piece[3] % 60u, 1 + piece[4] % 40u, 1 + piece[5] % 40u};
    const int rank = piece[2] % 4;
    const size_t n = (size_t)(dims[0] * (rank > 1 ? dims[1] : 1) * (rank > 2 ? dims[2] : 1));
    const bool text = piece[1] % 4 == 3;
    const hid_t types[] = {H5T_IEEE_F64LE, H5T_STD_I8LE, H5T_IEEE_F32LE};
    const hid_t words = H5Tcopy(H5T_C_S1);
    (void)H5Tset_size(words, piece[6] & 1u ? H5T_VARIABLE : 3);
    const hid_t space = rank == 0 ? H5Screate(H5S_SCALAR) : H5Screate_simple(rank, dims, NULL);
    (void)H5Ldelete(file, name, H5P_DEFAULT);
    const hid_t set = H5Dcreate2(file, name, text ? words : types[piece[1] % 4 % 3], space,
                                 H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT);
    double *values = calloc(n, sizeof *values);
    for (size_t i = 0; values != NULL && i < n; i++) {
        values[i] = damage_value(piece[7], i);
    }
    if (set >= 0 && values != NULL && !text) {
        (void)H5Dwrite(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values);
    }
    free(values);
    (void)H5Dclose(set);
    (void)H5Sclose(space);
    (void)H5Tclose(words);
}

static inline void damage_attribute(hid_t file, const char *name, const char *attribute,
                                    const uint8_t *piece)
{
    static const char *const texts[] = {"", "radius", "a\nb\n\n\x1b[31m", "\n\n\n\n\n\n\n\n"};
    char long_text[600];
    memset(long_text, 'n', sizeof long_text - 1);
    long_text[sizeof long_text - 1] = '\0';
    const char *text = piece[3] & 4u ? long_text : texts[piece[3] & 3u];
    const double number = damage_value(piece[4], piece[5]);
    const hid_t object = H5Oopen(file, name, H5P_DEFAULT);
    const hid_t words = H5Tcopy(H5T_C_S1);
    (void)H5Tset_size(words, H5T_VARIABLE);
    const hid_t space = H5Screate(H5S_SCALAR);
    (void)H5Adelete(object, attribute);
    const bool is_text = piece[2] & 1u;
    const hid_t made = H5Acreate2(object, attribute, is_text ? words : H5T_IEEE_F64LE, space,
                                  H5P_DEFAULT, H5P_DEFAULT);
    if (made >= 0 && is_text) {
        (void)H5Awrite(made, words, &text);
    } else if (made >= 0) {
        (void)H5Awrite(made, H5T_NATIVE_DOUBLE, &number);
    }
    (void)H5Aclose(made);
    (void)H5Sclose(space);
    (void)H5Tclose(words);
    (void)H5Oclose(object);
}

static inline const char *damage_pick(const char *const *list, uint8_t which)
{
    size_t n = 0;
    while (list[n] != NULL) {
        n++;
    }
    return list[which % n];
}

static inline hid_t damage_open(const struct damage_base *base)
{
    const hid_t access = H5Pcreate(H5P_FILE_ACCESS);
    (void)H5Pset_fapl_core(access, 8192, false);
    (void)H5Pset_file_image(access, base->image, base->size);
    const hid_t file = H5Fopen("damage", H5F_ACC_RDWR, access);
    (void)H5Pclose(access);
    return file;
}

/* Closes the file; its bytes, *size of them with room for a seal behind, are the caller's to free. */
static inline uint8_t *damage_close(hid_t file, size_t *size)
{
    (void)H5Fflush(file, H5F_SCOPE_GLOBAL);
    const ssize_t length = H5Fget_file_image(file, NULL, 0);
    uint8_t *image = malloc((length > 0 ? (size_t)length : 0) + DAMAGE_SEAL);
    *size =
        length > 0 && image != NULL ? (size_t)H5Fget_file_image(file, image, (size_t)length) : 0;
    (void)H5Fclose(file);
    return image;
}

/* The same file with the first attributes alone of everything in it, and less some things (a list ended
   by NULL): read in a fraction of the time. */
static inline void damage_lean(struct damage_base *lean, const struct damage_base *whole,
                               const char *const *less)
{
    enum { KEPT = 6 };
    *lean = *whole;
    const hid_t file = damage_open(whole);
    for (; *less != NULL; less++) {
        (void)H5Ldelete(file, *less, H5P_DEFAULT);
    }
    for (size_t i = 0; whole->things[i] != NULL; i++) {
        const hid_t thing = H5Oopen(file, whole->things[i], H5P_DEFAULT);
        for (int n = H5Aget_num_attrs(thing); n > KEPT; n--) {
            (void)H5Adelete_by_idx(thing, ".", H5_INDEX_NAME, H5_ITER_INC, KEPT, H5P_DEFAULT);
        }
        (void)H5Oclose(thing);
    }
    lean->image = damage_close(file, &lean->size);
    uf_result_seal_make((char *)lean->image + lean->size, lean->image, lean->size);
}

/* Returns the damaged image, its size in *size, with room for a seal; the caller frees it. */
static inline uint8_t *damage_by_meaning(const struct damage_base *base, size_t *size,
                                         const uint8_t *data, size_t n)
{
    const hid_t file = damage_open(base);
    for (; n >= 8; n -= 8, data += 8) {
        const char *thing = damage_pick(base->things, data[0]);
        if (data[1] >> 6 == 0) {
            (void)H5Ldelete(file, thing, H5P_DEFAULT);
        } else if (data[1] >> 6 == 1) {
            damage_attribute(file, data[6] & 1u ? "/" : thing,
                             damage_pick(base->attributes, data[7]), data);
        } else {
            damage_replace(file, thing, data);
        }
    }
    return damage_close(file, size);
}

/* A damaged copy with its seal, *size bytes; the caller frees it. *must_refuse: it is not what was sealed. */
static inline uint8_t *damage_make(const struct damage_base *base, const uint8_t *data, size_t n,
                                   size_t *size, bool *must_refuse)
{
    uint8_t *image = NULL;
    const bool by_meaning = n > 0 && (data[0] & 1u), seal = n == 0 || by_meaning || !(data[0] & 4u);
    *size = base->size;
    *must_refuse = false;
    if (by_meaning) {
        image = damage_by_meaning(base, size, data + 1, n - 1);
    } else if ((image = malloc(base->size + DAMAGE_SEAL)) != NULL) {
        memcpy(image, base->image, base->size + DAMAGE_SEAL);
        damage_raw(image, base->size, data + (n > 0), n - (n > 0));
        *must_refuse = !seal && memcmp(image, base->image, base->size) != 0;
    }
    if (image == NULL) {
        abort();
    }
    if (seal) {
        uf_result_seal_make((char *)image + *size, image, *size);
    }
    *(*must_refuse ? &damage_refused : &damage_read) += 1;
    *size += DAMAGE_SEAL;
    return image;
}

#endif
