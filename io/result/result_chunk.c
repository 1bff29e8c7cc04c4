#include "result_private.h"

#include <stdint.h>
#include <string.h>

/* Numbers go into the file chunk by chunk as the library itself would write them,
   shuffled and deflated, so that any reader unpacks them; only sooner. */

enum {
    RANK_MOST = UF_RESULT_MOST_RANK,
    NEAR = 2048 /* numbers that stay in the nearest cache for all their bytes */
};

/* Byte `shift` / 8 of each of the numbers, lowest first. */
static void plane_4(unsigned char *restrict to, const void *restrict from, size_t given,
                    unsigned shift)
{
    const unsigned char *at = from;
    for (size_t i = 0; i < given; i++) {
        uint32_t bits = 0;
        memcpy(&bits, at + i * sizeof bits, sizeof bits);
        to[i] = (unsigned char)(bits >> shift);
    }
}

static void plane_8(unsigned char *restrict to, const void *restrict from, size_t given,
                    unsigned shift)
{
    const unsigned char *at = from;
    for (size_t i = 0; i < given; i++) {
        uint64_t bits = 0;
        memcpy(&bits, at + i * sizeof bits, sizeof bits);
        to[i] = (unsigned char)(bits >> shift);
    }
}

static void plane_1(unsigned char *restrict to, const void *restrict from, size_t given,
                    unsigned shift)
{
    (void)shift;
    memcpy(to, from, given);
}

/* Numbers that HDF5 shuffles, by their size. */
static const struct item {
    size_t bytes;
    void (*plane)(unsigned char *restrict to, const void *restrict from, size_t given,
                  unsigned shift);
} ITEMS[] = {{1, plane_1}, {4, plane_4}, {8, plane_8}};

static const struct item *item_of(size_t bytes)
{
    for (size_t k = 0; k < sizeof ITEMS / sizeof *ITEMS; k++) {
        if (ITEMS[k].bytes == bytes) {
            return &ITEMS[k];
        }
    }
    return NULL;
}

/* Lowest bytes of all n numbers first, then the next, as H5Z_FILTER_SHUFFLE does with
   little-endian numbers; those beyond `given` are 0. */
static void shuffle(const struct item *item, unsigned char *to, const void *from, size_t given,
                    size_t n)
{
    for (size_t at = 0; at < given; at += NEAR) {
        const size_t count = given - at < NEAR ? given - at : NEAR;
        for (size_t byte = 0; byte < item->bytes; byte++) {
            item->plane(to + byte * n + at, (const char *)from + at * item->bytes, count,
                        8 * (unsigned)byte);
        }
    }
    for (size_t byte = 0; byte < item->bytes; byte++) {
        memset(to + byte * n + given, 0, n - given);
    }
}

/* Size of a chunk along the first dimension; 0: chunks split other dimensions too. */
static hsize_t chunk_rows(hid_t dataset, int rank, const hsize_t *size)
{
    hsize_t chunk[RANK_MOST] = {0};
    const hid_t creation = H5Dget_create_plist(dataset);
    bool whole = rank <= RANK_MOST && H5Pget_layout(creation) == H5D_CHUNKED &&
                 H5Pget_chunk(creation, RANK_MOST, chunk) == rank;
    (void)H5Pclose(creation);
    for (int i = 1; whole && i < rank; i++) {
        whole = chunk[i] == size[i];
    }
    return whole ? chunk[0] : 0;
}

bool uf_result_chunk_write(struct uf_result_pack *pack, hid_t dataset, int rank,
                           const hsize_t *size, size_t bytes, const void *data)
{
    const struct item *item = item_of(bytes);
    const hsize_t rows = chunk_rows(dataset, rank, size);
    size_t row = 1;
    for (int i = 1; i < rank; i++) {
        row *= (size_t)size[i];
    }
    unsigned char *plain = uf_result_pack_room(pack, (size_t)rows * row * bytes);
    bool good = item != NULL && rows > 0 && plain != NULL;
    for (hsize_t at = 0; good && at < size[0]; at += rows) {
        const hsize_t offset[RANK_MOST] = {at};
        const hsize_t given = size[0] - at < rows ? size[0] - at : rows;
        const unsigned char *packed = NULL;
        shuffle(item, plain, (const char *)data + (size_t)at * row * bytes, (size_t)given * row,
                (size_t)rows * row);
        const size_t n = uf_result_pack_deflate(pack, (size_t)rows * row * bytes, &packed);
        good = n > 0 && H5Dwrite_chunk(dataset, H5P_DEFAULT, 0, offset, n, packed) >= 0;
    }
    return good;
}
