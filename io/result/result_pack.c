#include "result_private.h"

#include <stdint.h>
#include <stdlib.h>
#include <zlib.h>

/* Deflating one block at a time. Only repeats of one byte are looked for: a field whose numbers end
   in zeros repeats itself from one byte to the next once it is shuffled, and the lowest level of
   zlib, which HDF5 would take, costs three times as much for 5 % fewer bytes. */

struct uf_result_pack {
    z_stream stream;
    size_t room;
    unsigned char *plain, *packed; /* one block */
};

uint32_t uf_result_pack_sum(uint32_t sum, const void *bytes, size_t n)
{
    return (uint32_t)crc32_z(sum, bytes, n);
}

struct uf_result_pack *uf_result_pack_create(void)
{
    struct uf_result_pack *pack = calloc(1, sizeof *pack);
    if (pack != NULL && deflateInit2(&pack->stream, 1, Z_DEFLATED, MAX_WBITS, 8, Z_RLE) != Z_OK) {
        free(pack);
        return NULL;
    }
    return pack;
}

void uf_result_pack_free(struct uf_result_pack *pack)
{
    if (pack != NULL) {
        (void)deflateEnd(&pack->stream);
        free(pack->plain);
        free(pack);
    }
}

unsigned char *uf_result_pack_room(struct uf_result_pack *pack, size_t bytes)
{
    if (bytes > pack->room) {
        free(pack->plain);
        pack->plain = malloc(bytes + compressBound((uLong)bytes));
        pack->packed = pack->plain != NULL ? pack->plain + bytes : NULL;
        pack->room = pack->plain != NULL ? bytes : 0;
    }
    return pack->plain;
}

size_t uf_result_pack_deflate(struct uf_result_pack *pack, size_t bytes,
                              const unsigned char **packed)
{
    z_stream *const z = &pack->stream;
    const bool ready = deflateReset(z) == Z_OK;
    *packed = pack->packed;
    z->next_in = pack->plain;
    z->avail_in = (uInt)bytes;
    z->next_out = pack->packed;
    z->avail_out = (uInt)compressBound((uLong)bytes);
    return ready && deflate(z, Z_FINISH) == Z_STREAM_END ? (size_t)z->total_out : 0;
}
