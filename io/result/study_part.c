#include "study_part.h"

#include "io/text/input.h"
#include "result_private.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const char *const uf_study_status_words[UF_STUDY_STATUSES] = {[UF_STUDY_MISSING] = "missing",
                                                              [UF_STUDY_DONE] = "done",
                                                              [UF_STUDY_LIMIT] = "limit_not_met",
                                                              [UF_STUDY_FAILED] = "failed",
                                                              [UF_STUDY_NO_WINTER] =
                                                                  "no_such_winter"};

#define HEAD "underfrost-part 1 %016llx %zu\n"
#define SUM  8 /* hexadecimal digits at a line's end */

/* The sum of a line's text, which stands behind its last blank. */
static unsigned sum_of(const char *text, size_t n)
{
    return (unsigned)uf_result_pack_sum(0, text, n);
}

/* Splits "ID STATUS VALUE ... | MESSAGE SUM"; false where it is not whole. */
static bool read_line(struct uf_study_row *row, const struct uf_study_part_kind *kind, char *line,
                      size_t n)
{
    char *end = NULL;
    if (n < SUM + 2 || line[n - SUM - 1] != ' ' ||
        strtoul(line + n - SUM, &end, 16) != sum_of(line, n - SUM - 1) || *end != '\0') {
        return false;
    }
    line[n - SUM - 1] = '\0';
    row->id = strtoul(line, &end, 10);
    const unsigned long status = strtoul(end, &end, 10);
    if (status >= UF_STUDY_STATUSES) {
        return false;
    }
    row->status = (enum uf_study_status)status;
    for (size_t i = 0; i < kind->n_values; i++) {
        row->values[i] = strtod(end, &end);
    }
    if (strncmp(end, " | ", 3) != 0) {
        return false;
    }
    (void)snprintf(row->message, sizeof row->message, "%s", end + 3);
    return true;
}

/* Every whole line; *whole is where the last of them ends. */
static enum uf_status read_lines(FILE *file, const char *path,
                                 const struct uf_study_part_kind *kind, uf_study_part_take *take,
                                 void *payload, long *whole, struct uf_error *err)
{
    char *line = NULL, head[80];
    size_t room = 0;
    struct uf_study_row row = {.values = calloc(kind->n_values + 1, sizeof(double))};
    enum uf_status status = UF_OK;
    *whole = 0;
    (void)snprintf(head, sizeof head, HEAD, kind->key, kind->n_values);
    ssize_t n = row.values != NULL ? getline(&line, &room, file) : -1;
    if (row.values == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a part");
    } else if (n > 0 && line[n - 1] == '\n' && strcmp(line, head) != 0) {
        status = uf_fail(err, UF_E_INPUT,
                         "%.200s: belongs to another plan or program: 'study plan --force' begins "
                         "anew",
                         path);
    } else if (n > 0 && line[n - 1] == '\n') {
        *whole = n;
        while ((n = getline(&line, &room, file)) > 0 && line[n - 1] == '\n') {
            const long end = *whole + n;
            line[n - 1] = '\0';
            if (!read_line(&row, kind, line, (size_t)n - 1)) {
                break;
            }
            take(payload, &row);
            *whole = end;
        }
    }
    free(line);
    free(row.values);
    return status;
}

enum uf_status uf_study_part_read(const char *path, const struct uf_study_part_kind *kind,
                                  uf_study_part_take *take, void *payload, struct uf_error *err)
{
    FILE *file = NULL;
    struct uf_error reason = {0};
    long whole = 0;
    if (access(path, F_OK) != 0) {
        return UF_OK;
    }
    if (uf_input_open(&file, path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
    }
    const enum uf_status status = read_lines(file, path, kind, take, payload, &whole, err);
    (void)fclose(file);
    return status;
}

/* No second program on the same shard: a job that was put back in the queue while the first still
   ran. */
static bool lock(int file)
{
    const struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    return fcntl(file, F_SETLK, &whole) == 0 || errno == ENOLCK || errno == ENOTSUP;
}

enum uf_status uf_study_part_open(FILE **out, const char *path,
                                  const struct uf_study_part_kind *kind, uf_study_part_take *take,
                                  void *payload, struct uf_error *err)
{
    long whole = 0;
    *out = NULL;
    const int handle = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0666);
    FILE *file = handle >= 0 ? fdopen(handle, "r+") : NULL;
    if (file == NULL) {
        return uf_fail(err, UF_E_FILE, "%.200s: could not be opened: %s", path, strerror(errno));
    }
    enum uf_status status = UF_OK;
    if (!lock(handle)) {
        status = uf_fail(err, UF_E_FILE, "%.200s: another program works on this shard", path);
    }
    if (status == UF_OK) {
        status = read_lines(file, path, kind, take, payload, &whole, err);
    }
    if (status == UF_OK &&
        (fflush(file) != 0 || ftruncate(handle, whole) != 0 || fseek(file, whole, SEEK_SET) != 0 ||
         (whole == 0 && fprintf(file, HEAD, kind->key, kind->n_values) < 0) || fflush(file) != 0)) {
        status = uf_fail(err, UF_E_FILE, "%.200s: could not be written: %s", path, strerror(errno));
    }
    if (status != UF_OK) {
        (void)fclose(file);
        return status;
    }
    *out = file;
    return UF_OK;
}

enum uf_status uf_study_part_append(FILE *part, const struct uf_study_part_kind *kind,
                                    const struct uf_study_row *row, struct uf_error *err)
{
    char *text = NULL;
    size_t n = 0;
    FILE *line = open_memstream(&text, &n);
    if (line == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a case");
    }
    (void)fprintf(line, "%zu %u", row->id, (unsigned)row->status);
    for (size_t i = 0; i < kind->n_values; i++) {
        (void)fprintf(line, " %a", row->values[i]);
    }
    (void)fputs(" | ", line);
    for (const char *c = row->message; *c != '\0'; c++) {
        (void)fputc((unsigned char)*c < ' ' ? ' ' : *c, line);
    }
    const bool made = fclose(line) == 0;
    const bool good =
        made && fprintf(part, "%s %08x\n", text, sum_of(text, n)) > 0 && fflush(part) == 0;
    free(text);
    return good ? UF_OK
                : uf_fail(err, UF_E_FILE,
                          "a part of the study could not be written: is the disk full?");
}
