#include "result_private.h"

#include <stdint.h>
#include <stdlib.h>

/* Deflating one block at a time at a low level, in the zlib format. ISA-L does it in a
   third of zlib's time where there is one for the processor. zlib looks only for repeats
   of one byte then: its own lowest level looks for repeats anywhere, at thrice the cost,
   and a field whose numbers end in zeros repeats itself from one byte to the next. */

#if UF_HAS_ISAL

#include <isa-l/crc.h>
#include <isa-l/igzip_lib.h>

enum { WORK_BYTES = ISAL_DEF_LVL1_SMALL };

struct machine {
    struct isal_zstream stream;
    unsigned char work[WORK_BYTES];
};

static bool machine_open(struct machine *m)
{
    (void)m;
    return true;
}

static void machine_close(struct machine *m)
{
    (void)m;
}

/* What so many bytes become at most: stored blocks have 5 bytes each, the ends 6. */
static size_t most(size_t bytes)
{
    return bytes + bytes / 1024 + 64;
}

static size_t machine_run(struct machine *m, unsigned char *plain, size_t bytes,
                          unsigned char *packed)
{
    struct isal_zstream *const z = &m->stream;
    isal_deflate_stateless_init(z);
    z->level = 1;
    z->level_buf = m->work;
    z->level_buf_size = WORK_BYTES;
    z->gzip_flag = IGZIP_ZLIB;
    z->end_of_stream = 1;
    z->next_in = plain;
    z->avail_in = (uint32_t)bytes;
    z->next_out = packed;
    z->avail_out = (uint32_t)most(bytes);
    return isal_deflate_stateless(z) == COMP_OK && z->avail_in == 0 ? z->total_out : 0;
}

static uint32_t sum_on(uint32_t sum, const unsigned char *bytes, size_t n)
{
    return crc32_gzip_refl(sum, bytes, n);
}

#else

#include <zlib.h>

struct machine {
    z_stream stream;
};

static bool machine_open(struct machine *m)
{
    return deflateInit2(&m->stream, 1, Z_DEFLATED, MAX_WBITS, 8, Z_RLE) == Z_OK;
}

static void machine_close(struct machine *m)
{
    (void)deflateEnd(&m->stream);
}

static size_t most(size_t bytes)
{
    return compressBound((uLong)bytes);
}

static size_t machine_run(struct machine *m, unsigned char *plain, size_t bytes,
                          unsigned char *packed)
{
    z_stream *const z = &m->stream;
    const bool ready = deflateReset(z) == Z_OK;
    z->next_in = plain;
    z->avail_in = (uInt)bytes;
    z->next_out = packed;
    z->avail_out = (uInt)most(bytes);
    return ready && deflate(z, Z_FINISH) == Z_STREAM_END ? (size_t)z->total_out : 0;
}

static uint32_t sum_on(uint32_t sum, const unsigned char *bytes, size_t n)
{
    return (uint32_t)crc32_z(sum, bytes, n);
}

#endif

uint32_t uf_result_pack_sum(uint32_t sum, const void *bytes, size_t n)
{
    return sum_on(sum, bytes, n);
}

struct uf_result_pack {
    struct machine machine;
    size_t room;
    unsigned char *plain, *packed; /* one block */
};

struct uf_result_pack *uf_result_pack_create(void)
{
    struct uf_result_pack *pack = calloc(1, sizeof *pack);
    if (pack != NULL && !machine_open(&pack->machine)) {
        free(pack);
        return NULL;
    }
    return pack;
}

void uf_result_pack_free(struct uf_result_pack *pack)
{
    if (pack != NULL) {
        machine_close(&pack->machine);
        free(pack->plain);
        free(pack);
    }
}

unsigned char *uf_result_pack_room(struct uf_result_pack *pack, size_t bytes)
{
    if (bytes > pack->room) {
        free(pack->plain);
        pack->plain = malloc(bytes + most(bytes));
        pack->packed = pack->plain != NULL ? pack->plain + bytes : NULL;
        pack->room = pack->plain != NULL ? bytes : 0;
    }
    return pack->plain;
}

size_t uf_result_pack_deflate(struct uf_result_pack *pack, size_t bytes,
                              const unsigned char **packed)
{
    *packed = pack->packed;
    return machine_run(&pack->machine, pack->plain, bytes, pack->packed);
}
