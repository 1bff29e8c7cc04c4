#include "part_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

enum { MOST_TRIES = 16 };

/* A file that is there already: a plain one, named itself, its mode and owner to be kept. */
static enum uf_status look_at(struct uf_part_file *part, const char *path, struct uf_error *err)
{
    struct stat there;
    if (path[0] == '\0') {
        return uf_fail(err, UF_E_FILE, "the name of the file to write is empty: give one");
    }
    if (strlen(path) >= sizeof part->path) {
        return uf_fail(err, UF_E_FILE, "the file name is too long: %.80s...", path);
    }
    (void)snprintf(part->path, sizeof part->path, "%s", path);
    part->replaces = stat(path, &there) == 0;
    if (part->replaces && !S_ISREG(there.st_mode)) {
        /* a device would be replaced, for one who may */
        return uf_fail(err, UF_E_FILE, "%.200s: is no plain file: give another name", path);
    }
    if (lstat(path, &there) == 0 && S_ISLNK(there.st_mode)) {
        char *target = realpath(path, NULL);
        const enum uf_status status =
            target != NULL
                ? uf_fail(err, UF_E_FILE,
                          "%.200s: is a symbolic link to %.200s: name that file to replace it, or "
                          "give another name",
                          path, target)
                : uf_fail(err, UF_E_FILE, "%.200s: is a link to nothing: give another name", path);
        free(target);
        return status;
    }
    return UF_OK;
}

/* A new file beside path whose name nobody can guess and wait for. */
static int open_new(struct uf_part_file *part)
{
    int file = -1;
    errno = EEXIST;
    for (int i = 0; i < MOST_TRIES && file < 0 && errno == EEXIST; i++) {
        unsigned long long chance = 0;
        if (getrandom(&chance, sizeof chance, 0) != (ssize_t)sizeof chance) {
            return -1;
        }
        (void)snprintf(part->name, sizeof part->name, "%s.part%016llx", part->path, chance);
        file = open(part->name, O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
    }
    return file;
}

enum uf_status uf_part_file_open(struct uf_part_file *part, const char *path, struct uf_error *err)
{
    *part = (struct uf_part_file){.file = NULL};
    const enum uf_status status = look_at(part, path, err);
    if (status != UF_OK) {
        return status;
    }
    const int file = open_new(part);
    part->file = file < 0 ? NULL : fdopen(file, "wb+");
    if (part->file == NULL) {
        const int reason = errno;
        if (file >= 0) {
            (void)close(file);
            (void)unlink(part->name);
        }
        return uf_fail(err, UF_E_FILE,
                       "%s: could not be made: %s: is the folder there and may you write in it?",
                       path, strerror(reason));
    }
    return UF_OK;
}

/* The new file as the old one was: its owner where the system lets us, its mode. */
static void keep_mode(const struct uf_part_file *part)
{
    struct stat there;
    if (part->replaces && stat(part->path, &there) == 0) {
        if (fchown(fileno(part->file), there.st_uid, there.st_gid) != 0) {
            (void)fchown(fileno(part->file), (uid_t)-1, there.st_gid);
        }
        (void)fchmod(fileno(part->file), there.st_mode & 07777);
    }
}

/* A name outlives a loss of power only when its folder is on the disk too. */
static void settle_folder(const char *path)
{
    char folder[sizeof((struct uf_part_file *)NULL)->path];
    (void)snprintf(folder, sizeof folder, "%s", path);
    char *slash = strrchr(folder, '/');
    if (slash != NULL) {
        slash[slash == folder] = '\0';
    }
    const int handle = open(slash != NULL ? folder : ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (handle >= 0) {
        (void)fsync(handle);
        (void)close(handle);
    }
}

enum uf_status uf_part_file_close(struct uf_part_file *part, enum uf_status status,
                                  struct uf_error *err)
{
    keep_mode(part);
    const bool bad = ferror(part->file) != 0 || fflush(part->file) != 0 ||
                     (status == UF_OK && fsync(fileno(part->file)) != 0);
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
    } else {
        settle_folder(part->path);
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
