#ifndef UF_RESULT_PRIVATE_H
#define UF_RESULT_PRIVATE_H

#include "result.h"

#include <hdf5.h>

/* Shared by the result_*.c files, the only ones that know HDF5: the layout of a file as
   tables of rows, read and written by the same loops, and a thin layer over HDF5 calls.
   Every function that returns bool gives false when the library refused. */

/* The dimensions of a group. Each is a dimension scale of the same name. */
enum uf_result_dim {
    UF_DIM_TIME,
    UF_DIM_Z,
    UF_DIM_X,
    UF_DIM_Y,
    UF_DIM_EDGE, /* the two edges of a cell; no variable of its own */
    UF_DIM_PROBE,
    UF_DIM_CLIMATE,
    UF_DIM_CHOICE, /* no variable of its own */
    UF_DIM_LEVEL,
    UF_DIM_WINTER,
    UF_DIM_RETURN,
    UF_DIM_CASE,
    UF_DIM_ANCHOR,
    UF_DIM_RISER, /* no variable of its own */
    UF_DIM_PIPE,
    UF_DIM_COUNT
};
extern const char *const uf_result_dim_names[UF_DIM_COUNT];

#define UF_RESULT_MOST_RANK 4

struct uf_result_pack;

/* An open group with the sizes of its dimensions (0: not there) and their scales (< 0: not
   made). */
struct uf_result_group {
    hid_t id;
    struct uf_result_pack *pack; /* borrowed; for writing */
    hsize_t size[UF_DIM_COUNT];
    hid_t scale[UF_DIM_COUNT];
};

/* What a variable says of itself; NULL: does not say. */
struct uf_result_words {
    const char *units, *long_name, *standard_name, *coordinates;
};

enum uf_result_kind {
    UF_KIND_DOUBLE,
    UF_KIND_FLOAT,
    UF_KIND_BYTE,
    UF_KIND_LONG,
    UF_KIND_BOOL,
    UF_KIND_TEXT
};

/* An array that a record owns, by the offset of its pointer in struct uf_record. */
struct uf_result_variable {
    const char *name;
    size_t offset;
    enum uf_result_kind kind;
    int rank;
    enum uf_result_dim dims[UF_RESULT_MOST_RANK];
    struct uf_result_words words;
};
extern const struct uf_result_variable uf_result_variables[]; /* scales first; ended by name NULL */

/* One member of the structs in a list, such as the choices; becomes a 1-D variable. */
struct uf_result_column {
    const char *name;
    size_t offset;
    enum uf_result_kind kind;
    struct uf_result_words words;
};

/* A list of structs in struct uf_result: where its pointer and count stand, and its
   columns. most: the rows themselves stand there, so many at most; else 0. A first column named as the dimension is its scale. */
struct uf_result_list {
    enum uf_result_dim dim;
    size_t offset, count_offset, row_size, most;
    const struct uf_result_column *columns; /* ended by name NULL */
};
extern const struct uf_result_list uf_result_lists[]; /* ended by columns NULL */

/* Single numbers kept as attributes of one variable: offset in the struct it describes. */
extern const struct uf_result_column uf_result_design_columns[];

/* Texts kept as attributes of the root group: offset of the char * in struct uf_result. */
extern const struct uf_result_column uf_result_text_columns[];

/* Layout of the files, an attribute of each: raised when a name that is read goes or changes its
   meaning. */
#define UF_RESULT_LAYOUT 2

#define UF_RESULT_CALENDAR   "standard"
#define UF_RESULT_TIME_UNITS "days since 1970-01-01 00:00:00"
#define UF_RESULT_WITHOUT    "without_board"

/* result_hdf5.c: the thin layer. Sizes are those of the group's dimensions. */
hid_t uf_result_hdf5_text_type(void); /* variable length, UTF-8; close it */
/* How a file, a group or a dataset is made (H5P_FILE_CREATE ...): in the order of its members and
   without the time of day, so that the same run makes the same bytes. Close it. */
hid_t uf_result_hdf5_creation(hid_t class);
/* An empty variable whose attributes are single numbers and texts; close it. */
hid_t uf_result_hdf5_holder(hid_t group, const char *name);
bool uf_result_hdf5_put_text(hid_t object, const char *name, const char *text);
bool uf_result_hdf5_put_number(hid_t object, const char *name, enum uf_result_kind kind,
                               const void *value, size_t n);
bool uf_result_hdf5_has_attribute(hid_t object, const char *name);
char *uf_result_hdf5_get_text(hid_t object, const char *name); /* the caller's; NULL: none */
bool uf_result_hdf5_get_number(hid_t object, const char *name, enum uf_result_kind kind,
                               void *value);

/* Makes a variable over the dimensions and writes it; a scale is made where it stands for
   one of the dimensions by name. data: doubles, floats, bytes, longs, or const char * for
   texts. */
bool uf_result_hdf5_write(struct uf_result_group *group, const struct uf_result_variable *shape,
                          const void *data);

/* result_facts.c: a summary by its facts. Reading clears it first; what the file has not stays
   unknown. false: refused, or no summary there. */
bool uf_result_facts_write(hid_t group, const struct uf_fact *facts,
                           const struct uf_summary *summary);
bool uf_result_facts_read(hid_t group, const struct uf_fact *facts, struct uf_summary *summary);

/* The limits of a design in the same way: what each asks an attribute named by its key, its unit beside
   it. Reading finds those of the table of limits. */
bool uf_result_limits_write(hid_t group, const struct uf_result_design *design);
bool uf_result_limits_read(hid_t group, struct uf_result_design *design);

/* result_cf.c: what CF asks of the variables of a finished group. */
bool uf_result_cf_describe(hid_t group);
/* Words as one word of flag_meanings: what CF does not allow there is an underscore. */
void uf_result_cf_word(char *out, size_t size, const char *words);

/* result_chunk.c: writes numbers of so many bytes, as they lie in memory, into a chunked
   dataset, shuffled and deflated. false: not written, perhaps since chunks split more
   than the first dimension. */
bool uf_result_chunk_write(struct uf_result_pack *pack, hid_t dataset, int rank,
                           const hsize_t *size, size_t bytes, const void *data);

/* result_pack.c: CRC-32 (ITU-T V.42, as in RFC 1952) of bytes that follow those of an
   earlier sum, 0 for none. */
uint32_t uf_result_pack_sum(uint32_t sum, const void *bytes, size_t n);

/* result_sound.c: numbers that no run of ours leaves; what names the first. */
bool uf_result_sound_record(const struct uf_record *record, const char **what);
bool uf_result_sound_lists(const struct uf_result *result, const char **what);

/* result_seal.c: a seal behind the last byte of the file, where HDF5 does not look: a sum
   of all before it. It tells a damaged file before HDF5 trips over it. A program that
   changes the file cuts it off, and a file without one is read as it is. */
#define UF_RESULT_SEAL_SIZE 24
void uf_result_seal_make(char seal[UF_RESULT_SEAL_SIZE], const void *image, size_t size);
/* false: the seal does not fit what stands before it; strict: or there is none. */
bool uf_result_seal_fits(FILE *file, bool strict);

/* result_pack.c: deflates blocks, each a whole in the zlib format. NULL: no memory. */
struct uf_result_pack *uf_result_pack_create(void);
void uf_result_pack_free(struct uf_result_pack *pack); /* NULL is fine */

/* Room for the next block, good until asked again. NULL: no memory. */
unsigned char *uf_result_pack_room(struct uf_result_pack *pack, size_t bytes);

/* Deflates the first bytes of that room; gives how many came of it, 0: refused. *packed
   is good until the next call. */
size_t uf_result_pack_deflate(struct uf_result_pack *pack, size_t bytes,
                              const unsigned char **packed);

/* Makes a dimension that has a size and no variable. */
bool uf_result_hdf5_plain_dim(struct uf_result_group *group, enum uf_result_dim dim);

/* Length of a 1-D dataset, 0 when it is not there or not 1-D. */
hsize_t uf_result_hdf5_length(hid_t group, const char *name);
bool uf_result_hdf5_exists(hid_t group, const char *name);

/* Reads a dataset whose shape must be the one the group's dimensions ask for. */
bool uf_result_hdf5_read(const struct uf_result_group *group,
                         const struct uf_result_variable *shape, void *data);

/* n texts of UF_NAME_SIZE bytes each, cut where they are longer. */
bool uf_result_hdf5_read_texts(hid_t group, const char *name, hsize_t n, char *texts,
                               size_t stride);

/* result_write.c and result_read.c: all that stands in a file. *what names what went wrong. */
struct uf_result_run {
    const char *name, *title; /* of its group */
    const struct uf_record *record;
    const struct uf_result_design *design; /* for the places of the probes */
    const struct uf_fact *facts;
    const struct uf_summary *summary;
};
/* A run as a group of its own, left open for more: < 0 where it could not be written. */
hid_t uf_result_write_run(hid_t file, struct uf_result_pack *pack, const struct uf_result_run *run,
                          const char **what);
/* Its record, the caller's in any case. */
bool uf_result_read_run(hid_t group, struct uf_record **record, const char **what);

/* Where the bytes of a sealed file are. */
struct uf_result_source {
    const char *path;  /* stands for the file in messages */
    const void *image; /* its bytes, borrowed; NULL: they are in the file of that path */
    size_t size;
};

/* result_file.c: writes a sealed file by what fill puts into it, and reads one by what take finds.
   strict: a file without a seal is refused too. Errors: UF_E_FILE with *what. */
enum uf_status uf_result_file_make(const char *path,
                                   bool (*fill)(hid_t file, const void *data, const char **what),
                                   const void *data, struct uf_error *err);
enum uf_status uf_result_file_take(const struct uf_result_source *from, bool strict,
                                   bool (*take)(hid_t file, void *data, const char **what),
                                   void *data, struct uf_error *err);

bool uf_result_write_all(hid_t file, const struct uf_result *result, const char **what);
bool uf_result_read_all(hid_t file, struct uf_result *result, const char **what);

#endif
