#include "io/result/study_part.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The part file of a study's shard from any bytes: whole lines up to the first that is not, the rest cut
   off before a line is added, which then is read as it was written. The first byte: whether the head and
   the sums of lines are made to fit. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* From io/result/result_private.h: the sum behind each line. */
uint32_t uf_result_pack_sum(uint32_t sum, const void *bytes, size_t n);

enum { VALUES = 3, MOST_BYTES = 2048, ROOM = 24 * MOST_BYTES };
static const struct uf_study_part_kind kind = {0x123456789abcdefULL, VALUES};

static void must(bool truth)
{
    if (!truth) {
        __builtin_trap();
    }
}

struct seen {
    size_t n, last_id;
    double last[VALUES];
    char message[UF_STUDY_MESSAGE];
};

static void take(void *payload, const struct uf_study_row *row)
{
    struct seen *seen = payload;
    must((int)row->status >= 0 && row->status < UF_STUDY_STATUSES);
    must(memchr(row->message, '\0', sizeof row->message) != NULL);
    seen->n++;
    seen->last_id = row->id;
    memcpy(seen->last, row->values, sizeof seen->last);
    memcpy(seen->message, row->message, sizeof seen->message);
}

/* The input as a part: each of its lines with a sum behind it, where that is asked. */
static size_t make(char *to, const uint8_t *data, size_t size)
{
    const bool head = (data[0] & 1u) != 0, sums = (data[0] & 2u) != 0;
    size_t n =
        head ? (size_t)snprintf(to, ROOM, "underfrost-part 1 %016llx %d\n", kind.key, VALUES) : 0;
    size_t start = n;
    for (size_t i = 1; i < size; i++) {
        if (sums && data[i] == '\n') {
            n += (size_t)snprintf(to + n, ROOM - n, " %08x",
                                  (unsigned)uf_result_pack_sum(0, to + start, n - start));
            start = n + 1;
        }
        to[n++] = (char)data[i];
    }
    return n;
}

/* A file that nobody else sees and that can be opened by a name. */
static const char *place(int *file)
{
    static char path[64];
    static int kept = -1;
    if (kept < 0) {
        char name[] = "/dev/shm/uf_fuzz_XXXXXX"; /* in memory: a disk takes most of the time */
        kept = mkstemp(name);
        must(kept >= 0 && unlink(name) == 0);
        (void)snprintf(path, sizeof path, "/proc/self/fd/%d", kept);
    }
    *file = kept;
    return path;
}

static void add_one(const char *path, const struct seen *before)
{
    double values[VALUES] = {1.0 / 3.0, -1e-300, INFINITY};
    const struct uf_study_row row = {7, UF_STUDY_FAILED, values, "why | so"};
    struct seen opened = {0}, after = {0};
    FILE *part = NULL;
    must(uf_study_part_open(&part, path, &kind, take, &opened, NULL) == UF_OK);
    must(opened.n == before->n);
    must(uf_study_part_append(part, &kind, &row, NULL) == UF_OK && fclose(part) == 0);
    must(uf_study_part_read(path, &kind, take, &after, NULL) == UF_OK);
    must(after.n == before->n + 1 && after.last_id == 7 && strcmp(after.message, "why | so") == 0);
    must(memcmp(after.last, values, sizeof values) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static char text[ROOM];
    struct seen seen = {0};
    struct uf_error err = {0};
    int file = -1;
    const char *path = place(&file);
    if (size == 0 || size > MOST_BYTES) {
        return -1;
    }
    const size_t n = make(text, data, size);
    must(ftruncate(file, 0) == 0 && pwrite(file, text, n, 0) == (ssize_t)n);
    const enum uf_status status = uf_study_part_read(path, &kind, take, &seen, &err);
    must(status == UF_OK || (status == UF_E_INPUT && err.text[0] != '\0' && seen.n == 0));
    if (status == UF_OK) {
        add_one(path, &seen);
    }
    return 0;
}
