#ifndef UF_TESTS_SAID_H
#define UF_TESTS_SAID_H

/* What HDF5 says of a file, without HDF5: opening one takes it milliseconds, and whatever it says the
   reader must bear. Everything in a file of ours is read once, by HDF5 itself, into a table of things;
   then the library's calls, caught by the linker (--wrap), are answered from the table, with what the
   fuzzer changed in it: shapes, kinds, values, texts, what is not there or cannot be opened. Each
   handle that the reader is given it must give back. */

#include <hdf5.h>

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    SAID_MOST = 4096, /* things in a file */
    SAID_SLOTS = 4 * SAID_MOST,
    SAID_RANK = 6 /* more than our reader takes */
};

/* A number, a text of any length, one of fixed length, or no values at all: a group. */
enum said_kind { SAID_NUMBER, SAID_TEXT, SAID_FIXED, SAID_GROUP, SAID_KINDS };

struct said_thing {
    const char *name; /* its path; of an attribute the owner's, '@', its own */
    enum said_kind kind;
    int rank;
    hsize_t dims[SAID_RANK];
    size_t n; /* values kept here */
    double *numbers;
    char **texts;
    bool gone, shut, unread;              /* not there; not opened; no values given */
    enum { AS_IS, ALL, FIRST, RAMP } how; /* what the fuzzer made of the values */
    double number;
    const char *text; /* of ALL and FIRST; NULL: none, as of texts never written */
};

struct said_file {
    struct said_thing things[SAID_MOST];
    size_t n;
    uint16_t slots[SAID_SLOTS]; /* by name: its place + 1, 0 where there is none */
};

/* The file that is played, NULL while HDF5 speaks for itself; names that are in no file of ours and are
   said to be there: those whose sum leaves the rest `unknown_rest`, if 0 or more. */
static struct said_file *said_now;
static int said_unknown_rest = -1;
static struct said_thing said_unknown = {.name = "?"};
static long said_handles;

/* Handles that HDF5 never gives: which thing in bits 4 and up, what of it in the lowest. */
#define SAID_HANDLES ((hid_t)0x7000000)
enum said_handle { SAID_OBJECT = 1, SAID_SPACE, SAID_TYPE, SAID_LIST, SAID_WORDS };

static inline hid_t said_hand_out(size_t thing, enum said_handle what)
{
    said_handles++;
    return SAID_HANDLES + (hid_t)(thing << 4) + what;
}

static inline bool said_is_own(hid_t handle)
{
    return handle >= SAID_HANDLES && handle < SAID_HANDLES + ((hid_t)SAID_MOST << 4);
}

static inline struct said_thing *said_thing_of(hid_t handle)
{
    const size_t at = (size_t)(handle - SAID_HANDLES) >> 4;
    return !said_is_own(handle)  ? NULL
           : at == SAID_MOST - 1 ? &said_unknown
                                 : &said_now->things[at];
}

static inline herr_t said_give_back(hid_t handle)
{
    said_handles -= handle >= 0;
    return handle >= 0 ? 0 : -1;
}

static inline uint32_t said_sum(const char *name)
{
    uint32_t sum = 2166136261u;
    for (; *name != '\0'; name++) {
        sum = (sum ^ (unsigned char)*name) * 16777619u;
    }
    return sum;
}

/* The thing of that name, or SAID_MOST. */
static inline size_t said_find(const struct said_file *file, const char *name)
{
    uint32_t slot = said_sum(name) % SAID_SLOTS;
    for (; file->slots[slot] != 0; slot = (slot + 1) % SAID_SLOTS) {
        if (strcmp(file->things[file->slots[slot] - 1].name, name) == 0) {
            return file->slots[slot] - 1u;
        }
    }
    return SAID_MOST;
}

static inline struct said_thing *said_add(struct said_file *file, const char *name)
{
    struct said_thing *thing = &file->things[file->n];
    uint32_t slot = said_sum(name) % SAID_SLOTS;
    while (file->slots[slot] != 0) {
        slot = (slot + 1) % SAID_SLOTS;
    }
    if (file->n >= SAID_MOST - 1) {
        abort();
    }
    file->slots[slot] = (uint16_t)++file->n;
    *thing = (struct said_thing){.name = strdup(name), .kind = SAID_GROUP};
    return thing;
}

/* What a thing below an owner is called. */
static inline const char *said_name(char *out, size_t size, const char *owner, char mark,
                                    const char *name)
{
    (void)snprintf(out, size, "%s%.1s%s", owner, owner[0] == '\0' && mark == '/' ? "" : &mark,
                   name);
    return out;
}

/* The file is read once: values as double, so that they can be told in any type. */

static inline void said_keep(struct said_thing *thing, hid_t id, hid_t type, hid_t space,
                             herr_t (*read)(hid_t id, hid_t type, void *to))
{
    const H5T_class_t class = H5Tget_class(type);
    const bool text = class == H5T_STRING && H5Tis_variable_str(type) > 0;
    thing->rank = H5Sget_simple_extent_ndims(space);
    if ((class != H5T_INTEGER && class != H5T_FLOAT && !text) || thing->rank > SAID_RANK) {
        return; /* what HDF5 notes for itself: nobody reads it */
    }
    (void)H5Sget_simple_extent_dims(space, thing->dims, NULL);
    thing->n = (size_t)H5Sget_simple_extent_npoints(space);
    thing->kind = text ? SAID_TEXT : SAID_NUMBER;
    thing->numbers = calloc(thing->n + 1, sizeof *thing->numbers);
    thing->texts = calloc(thing->n + 1, sizeof *thing->texts);
    const hid_t words = H5Tcopy(H5T_C_S1);
    (void)H5Tset_size(words, H5T_VARIABLE);
    (void)H5Tset_cset(words, H5T_CSET_UTF8);
    if (read(id, text ? words : H5T_NATIVE_DOUBLE,
             text ? (void *)thing->texts : (void *)thing->numbers) < 0) {
        abort();
    }
    (void)H5Tclose(words);
}

static inline herr_t said_read_attribute(hid_t id, hid_t type, void *to)
{
    return H5Aread(id, type, to);
}

static inline herr_t said_read_dataset(hid_t id, hid_t type, void *to)
{
    return H5Dread(id, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, to);
}

struct said_visit {
    struct said_file *file;
    const char *owner;
};

static inline herr_t said_visit_attribute(hid_t object, const char *name, const H5A_info_t *info,
                                          void *data)
{
    const struct said_visit *visit = data;
    char full[512];
    const hid_t id = H5Aopen(object, name, H5P_DEFAULT);
    const hid_t type = H5Aget_type(id), space = H5Aget_space(id);
    (void)info;
    said_keep(said_add(visit->file, said_name(full, sizeof full, visit->owner, '@', name)), id,
              type, space, said_read_attribute);
    (void)H5Sclose(space);
    (void)H5Tclose(type);
    (void)H5Aclose(id);
    return 0;
}

static inline void said_visit_object(struct said_file *file, hid_t from, const char *name)
{
    struct said_visit visit = {file, name};
    struct said_thing *thing = said_add(file, name);
    const hid_t id = H5Oopen(from, name[0] != '\0' ? name : "/", H5P_DEFAULT);
    if (H5Iget_type(id) == H5I_DATASET) {
        const hid_t type = H5Dget_type(id), space = H5Dget_space(id);
        said_keep(thing, id, type, space, said_read_dataset);
        (void)H5Sclose(space);
        (void)H5Tclose(type);
    }
    (void)H5Aiterate2(id, H5_INDEX_NAME, H5_ITER_NATIVE, NULL, said_visit_attribute, &visit);
    (void)H5Oclose(id);
}

static inline herr_t said_visit_link(hid_t group, const char *name, const H5L_info_t *info,
                                     void *data)
{
    (void)info;
    said_visit_object(data, group, name);
    return 0;
}

/* Reads a file of ours into the table. */
static inline void said_take(const char *path, void *file)
{
    const hid_t id = H5Fopen(path, H5F_ACC_RDONLY, H5P_DEFAULT);
    said_visit_object(file, id, "");
    if (H5Lvisit(id, H5_INDEX_NAME, H5_ITER_NATIVE, said_visit_link, file) < 0) {
        abort();
    }
    (void)H5Fclose(id);
}

/* The answers. */

static inline hid_t said_open(hid_t owner, char mark, const char *name, enum said_handle what)
{
    char full[512];
    const struct said_thing *from = said_thing_of(owner);
    if (from == NULL) {
        return -1;
    }
    const size_t at = said_find(said_now, said_name(full, sizeof full, from->name, mark, name));
    if (at == SAID_MOST) {
        return said_unknown_rest >= 0 && said_sum(full) % 16 == (uint32_t)said_unknown_rest
                   ? said_hand_out(SAID_MOST - 1, what)
                   : -1;
    }
    const struct said_thing *thing = &said_now->things[at];
    return thing->gone || thing->shut ? -1 : said_hand_out(at, what);
}

static inline htri_t said_exists(hid_t owner, char mark, const char *name)
{
    char full[512];
    const struct said_thing *from = said_thing_of(owner);
    if (from == NULL) {
        return -1;
    }
    const size_t at = said_find(said_now, said_name(full, sizeof full, from->name, mark, name));
    return at == SAID_MOST
               ? said_unknown_rest >= 0 && said_sum(full) % 16 == (uint32_t)said_unknown_rest
               : !said_now->things[at].gone;
}

static inline hid_t said_of(hid_t object, enum said_handle what)
{
    return object < 0 ? -1 : said_hand_out((size_t)(object - SAID_HANDLES) >> 4, what);
}

static inline hsize_t said_points(const struct said_thing *thing)
{
    hsize_t n = 1;
    for (int i = 0; i < thing->rank; i++) {
        n *= thing->dims[i];
    }
    return n;
}

static inline int said_rank(hid_t space)
{
    return space < 0 ? -1 : said_thing_of(space)->rank;
}

static inline int said_dims(hid_t space, hsize_t *dims)
{
    const int rank = said_rank(space);
    for (int i = 0; i < rank; i++) {
        dims[i] = said_thing_of(space)->dims[i];
    }
    return rank;
}

static inline double said_number(const struct said_thing *thing, size_t i)
{
    const double as_is = thing->n > 0 ? thing->numbers[i % thing->n] : 0.0;
    return thing->how == ALL || (thing->how == FIRST && i == 0) ? thing->number
           : thing->how == RAMP                                 ? (double)i * thing->number
                                                                : as_is;
}

static inline char *said_words(const struct said_thing *thing, size_t i)
{
    const char *as_is = thing->n > 0 ? thing->texts[i % thing->n] : NULL;
    const char *text = thing->how == ALL || (thing->how == FIRST && i == 0) ? thing->text : as_is;
    return text != NULL ? strdup(text) : NULL;
}

/* As HDF5 makes a whole number of any: the nearest that the type holds. */
static inline double said_whole(double value, double least, double most)
{
    return isnan(value) ? 0.0 : trunc(value < least ? least : value > most ? most : value);
}

static inline void said_put(void *to, hid_t type, size_t i, double value)
{
    if (type == H5T_NATIVE_DOUBLE_g) {
        ((double *)to)[i] = value;
    } else if (type == H5T_NATIVE_FLOAT_g) {
        ((float *)to)[i] =
            fabs(value) > 3.4e38 ? (value > 0.0 ? INFINITY : -INFINITY) : (float)value;
    } else if (type == H5T_NATIVE_LONG_g) {
        const double most = 9223372036854774784.0;
        ((long *)to)[i] = (long)said_whole(value, -most, most);
    } else if (type == H5T_NATIVE_INT8_g) {
        ((int8_t *)to)[i] = (int8_t)said_whole(value, -128.0, 127.0);
    } else {
        abort(); /* a type that the reader never asked for before */
    }
}

/* All values, or half of them and a failure. */
static inline herr_t said_read(hid_t id, hid_t type, void *to)
{
    const struct said_thing *thing = id < 0 ? NULL : said_thing_of(id);
    const bool words = said_is_own(type);
    if (thing == NULL || thing->kind != (words ? SAID_TEXT : SAID_NUMBER) ||
        (words && thing->unread)) {
        return -1;
    }
    const hsize_t points = said_points(thing) / (thing->unread ? 2 : 1);
    for (size_t i = 0; i < points; i++) {
        if (words) {
            ((char **)to)[i] = said_words(thing, i);
        } else {
            said_put(to, type, i, said_number(thing, i));
        }
    }
    return thing->unread ? -1 : 0;
}

/* One row a function of HDF5, by which the linker knows it too (tests/CMakeLists.txt): as it is declared,
   its arguments, the answer while a file is played. */
#define SAID(type, name, parameters, arguments, answer)                                            \
    type __real_##name parameters;                                                                 \
    type __wrap_##name parameters;                                                                 \
    type __wrap_##name parameters                                                                  \
    {                                                                                              \
        return said_now == NULL ? __real_##name arguments : (answer);                              \
    }

/* clang-format off */
SAID(herr_t, H5open, (void), (), 0) /* before every constant of a type */
SAID(hid_t, H5Fopen, (const char *path, unsigned how, hid_t list), (path, how, list), said_hand_out(0, SAID_OBJECT))
SAID(herr_t, H5Fclose, (hid_t id), (id), said_give_back(id))
SAID(hid_t, H5Pcreate, (hid_t class), (class), said_hand_out(0, SAID_LIST))
SAID(herr_t, H5Pclose, (hid_t id), (id), said_give_back(id))
SAID(herr_t, H5Pset_fclose_degree, (hid_t id, H5F_close_degree_t degree), (id, degree), 0)
SAID(herr_t, H5Pset_fapl_core, (hid_t id, size_t step, hbool_t kept), (id, step, kept), 0)
SAID(herr_t, H5Pset_file_image, (hid_t id, void *image, size_t size), (id, image, size), 0)
SAID(htri_t, H5Lexists, (hid_t id, const char *name, hid_t list), (id, name, list), said_exists(id, '/', name))
SAID(hid_t, H5Gopen2, (hid_t id, const char *name, hid_t list), (id, name, list), said_open(id, '/', name, SAID_OBJECT))
SAID(herr_t, H5Gclose, (hid_t id), (id), said_give_back(id))
SAID(hid_t, H5Dopen2, (hid_t id, const char *name, hid_t list), (id, name, list), said_open(id, '/', name, SAID_OBJECT))
SAID(hid_t, H5Dget_space, (hid_t id), (id), said_of(id, SAID_SPACE))
SAID(hid_t, H5Dget_type, (hid_t id), (id), said_of(id, SAID_TYPE))
SAID(herr_t, H5Dread, (hid_t id, hid_t type, hid_t in, hid_t from, hid_t list, void *to), (id, type, in, from, list, to), said_read(id, type, to))
SAID(herr_t, H5Dclose, (hid_t id), (id), said_give_back(id))
SAID(htri_t, H5Aexists, (hid_t id, const char *name), (id, name), said_exists(id, '@', name))
SAID(hid_t, H5Aopen, (hid_t id, const char *name, hid_t list), (id, name, list), said_open(id, '@', name, SAID_OBJECT))
SAID(hid_t, H5Aget_space, (hid_t id), (id), said_of(id, SAID_SPACE))
SAID(hid_t, H5Aget_type, (hid_t id), (id), said_of(id, SAID_TYPE))
SAID(herr_t, H5Aread, (hid_t id, hid_t type, void *to), (id, type, to), said_read(id, type, to))
SAID(herr_t, H5Aclose, (hid_t id), (id), said_give_back(id))
SAID(int, H5Sget_simple_extent_ndims, (hid_t id), (id), said_rank(id))
SAID(int, H5Sget_simple_extent_dims, (hid_t id, hsize_t *dims, hsize_t *most), (id, dims, most), said_dims(id, dims))
SAID(hssize_t, H5Sget_simple_extent_npoints, (hid_t id), (id), id < 0 ? -1 : (hssize_t)said_points(said_thing_of(id)))
SAID(herr_t, H5Sclose, (hid_t id), (id), said_give_back(id))
SAID(hid_t, H5Tcopy, (hid_t id), (id), said_hand_out(0, SAID_WORDS))
SAID(herr_t, H5Tset_size, (hid_t id, size_t size), (id, size), 0)
SAID(herr_t, H5Tset_cset, (hid_t id, H5T_cset_t set), (id, set), 0)
SAID(htri_t, H5Tis_variable_str, (hid_t id), (id), id < 0 ? -1 : said_thing_of(id)->kind == SAID_TEXT)
SAID(herr_t, H5Tclose, (hid_t id), (id), said_give_back(id))
SAID(herr_t, H5free_memory, (void *memory), (memory), (free(memory), 0))
/* clang-format on */

#endif
