#include "result_private.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

static const char MARK[] = "\nunderfrost sum ";
enum { MARK_SIZE = sizeof MARK - 1, STEP = 65536 };

void uf_result_seal_make(char seal[UF_RESULT_SEAL_SIZE], const void *image, size_t size)
{
    char text[UF_RESULT_SEAL_SIZE + 1];
    (void)snprintf(text, sizeof text, "%s%08" PRIx32, MARK, uf_result_pack_sum(0, image, size));
    memcpy(seal, text, UF_RESULT_SEAL_SIZE);
}

/* Sum of the first bytes of a file; false when it could not be read. */
static bool sum_of(FILE *file, long bytes, uint32_t *sum)
{
    static const size_t step = STEP;
    unsigned char *block = malloc(step);
    bool good = block != NULL && fseek(file, 0, SEEK_SET) == 0;
    *sum = 0;
    while (good && bytes > 0) {
        const size_t n = (size_t)bytes < step ? (size_t)bytes : step;
        good = fread(block, 1, n, file) == n;
        *sum = uf_result_pack_sum(*sum, block, good ? n : 0);
        bytes -= (long)n;
    }
    free(block);
    return good;
}

bool uf_result_seal_fits(FILE *file, bool strict)
{
    char seal[UF_RESULT_SEAL_SIZE + 1] = "";
    uint32_t sum = 0;
    if (fseek(file, -(long)UF_RESULT_SEAL_SIZE, SEEK_END) != 0) {
        return !strict; /* too short for one */
    }
    const long end = ftell(file);
    if (end < 0 || fread(seal, 1, UF_RESULT_SEAL_SIZE, file) != UF_RESULT_SEAL_SIZE ||
        memcmp(seal, MARK, MARK_SIZE) != 0) {
        return !strict;
    }
    char own[16];
    const bool read = sum_of(file, end, &sum);
    (void)snprintf(own, sizeof own, "%08" PRIx32, sum);
    return read && strcmp(own, seal + MARK_SIZE) == 0;
}
