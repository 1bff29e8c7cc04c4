#include "io/result_private.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

/* Fields go into the file chunk by chunk as the library itself would write them, shuffled
   and deflated, so that any reader unpacks them. Done here because the library's own
   filter looks for repeats anywhere in a chunk, at thrice the cost: a field whose numbers
   end in zeros repeats itself from one byte to the next. */

struct packer {
    z_stream stream;
    size_t bytes, room; /* of a chunk, before and at most after */
    unsigned char *plain, *packed;
};

static bool packer_open(struct packer *p, size_t numbers)
{
    *p = (struct packer){.bytes = numbers * sizeof(float)};
    if (deflateInit2(&p->stream, 1, Z_DEFLATED, MAX_WBITS, 8, Z_RLE) != Z_OK) {
        return false;
    }
    p->room = deflateBound(&p->stream, p->bytes);
    p->plain = malloc(p->bytes + p->room);
    p->packed = p->plain != NULL ? p->plain + p->bytes : NULL;
    return p->plain != NULL;
}

static void packer_close(struct packer *p)
{
    (void)deflateEnd(&p->stream);
    free(p->plain);
}

/* Lowest bytes of all numbers first, then the next, as H5Z_FILTER_SHUFFLE does with
   little-endian floats. Numbers beyond `given` are 0. */
static void shuffle(struct packer *p, const float *from, size_t given)
{
    const size_t n = p->bytes / sizeof *from;
    if (given < n) {
        memset(p->plain, 0, p->bytes);
    }
    for (size_t i = 0; i < given; i++) {
        uint32_t bits = 0;
        memcpy(&bits, &from[i], sizeof bits);
        p->plain[i] = (unsigned char)bits;
        p->plain[i + n] = (unsigned char)(bits >> 8);
        p->plain[i + 2 * n] = (unsigned char)(bits >> 16);
        p->plain[i + 3 * n] = (unsigned char)(bits >> 24);
    }
}

/* Bytes of the packed chunk, 0: failed. */
static size_t deflate_chunk(struct packer *p)
{
    z_stream *const z = &p->stream;
    z->next_in = p->plain;
    z->avail_in = (uInt)p->bytes;
    z->next_out = p->packed;
    z->avail_out = (uInt)p->room;
    const bool good = deflateReset(z) == Z_OK && deflate(z, Z_FINISH) == Z_STREAM_END;
    return good ? (size_t)z->total_out : 0;
}

bool uf_result_field_write(hid_t dataset, const hsize_t size[3], const float *data)
{
    hsize_t chunk[3] = {0};
    struct packer packer;
    const hid_t creation = H5Dget_create_plist(dataset);
    const int rank = creation >= 0 ? H5Pget_chunk(creation, 3, chunk) : -1;
    (void)H5Pclose(creation);
    if (rank != 3 || chunk[1] != size[1] || chunk[2] != size[2]) {
        return false;
    }
    const size_t day = (size_t)(size[1] * size[2]);
    bool good = packer_open(&packer, (size_t)chunk[0] * day);
    for (hsize_t at = 0; good && at < size[0]; at += chunk[0]) {
        const hsize_t offset[3] = {at, 0, 0};
        const hsize_t days = size[0] - at < chunk[0] ? size[0] - at : chunk[0];
        shuffle(&packer, data + (size_t)at * day, (size_t)days * day);
        const size_t packed = deflate_chunk(&packer);
        good = packed > 0 && H5Dwrite_chunk(dataset, H5P_DEFAULT, 0, offset, packed,
                                            packer.packed) >= 0;
    }
    packer_close(&packer);
    return good;
}
