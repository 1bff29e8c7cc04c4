#include "part_file.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum uf_status uf_part_file_open(struct uf_part_file *part, const char *path, struct uf_error *err)
{
    struct stat there;
    *part = (struct uf_part_file){.path = path};
    if (path[0] == '\0') {
        return uf_fail(err, UF_E_FILE, "the name of the file to write is empty: give one");
    }
    if (stat(path, &there) == 0 && !S_ISREG(there.st_mode)) {
        /* a device would be replaced, for one who may */
        return uf_fail(err, UF_E_FILE, "%.200s: is no plain file: give another name", path);
    }
    const int length = snprintf(part->name, sizeof part->name, "%s.part%ld", path, (long)getpid());
    if (length < 0 || (size_t)length >= sizeof part->name) {
        return uf_fail(err, UF_E_FILE, "the file name is too long: %.80s...", path);
    }
    part->file = fopen(part->name, "wb+");
    if (part->file == NULL) {
        return uf_fail(err, UF_E_FILE,
                       "%s: could not be made: %s: is the folder there and may you write in it?",
                       path, strerror(errno));
    }
    return UF_OK;
}

enum uf_status uf_part_file_close(struct uf_part_file *part, enum uf_status status,
                                  struct uf_error *err)
{
    const bool bad = ferror(part->file) != 0;
    const bool unclosed = fclose(part->file) != 0;
    if (status == UF_OK && (bad || unclosed)) {
        status = uf_fail(err, UF_E_FILE, "%s: could not be written to its end: is the disk full?",
                         part->path);
    }
    if (status == UF_OK && rename(part->name, part->path) != 0) {
        status = uf_fail(err, UF_E_FILE, "%s: could not be put in place: %s", part->path,
                         strerror(errno));
    }
    if (status != UF_OK) {
        (void)unlink(part->name);
    }
    return status;
}

/* Everything that is left in file, with a '\0' after it. NULL: out of memory or unreadable. */
static char *read_rest(FILE *file)
{
    size_t room = 65536, used = 0;
    char *text = malloc(room);
    while (text != NULL) {
        used += fread(text + used, 1, room - used - 1, file);
        if (used < room - 1) {
            break;
        }
        char *larger = realloc(text, room * 2);
        if (larger == NULL) {
            free(text);
            return NULL;
        }
        text = larger;
        room *= 2;
    }
    if (text != NULL) {
        text[used] = '\0';
    }
    return text;
}

enum uf_status uf_part_file_rest(char **out, FILE *file, const char *name, struct uf_error *err)
{
    char *text = read_rest(file);
    *out = NULL;
    if (text == NULL) {
        return uf_fail(err, UF_E_MEMORY, "%s: too large for the memory there is", name);
    }
    if (ferror(file)) {
        free(text);
        return uf_fail(err, UF_E_FILE, "%s: could not be read", name);
    }
    *out = text;
    return UF_OK;
}
