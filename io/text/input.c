#include "input.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *kind_of(mode_t mode)
{
    if (S_ISDIR(mode)) {
        return "is a folder: name a file in it";
    }
    return S_ISFIFO(mode) ? "is a pipe: save what it gives in a file first"
                          : "is no plain file: name one";
}

enum uf_status uf_input_open(FILE **out, const char *path, struct uf_error *err)
{
    struct stat info;
    const int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC); /* a pipe opens at once */
    *out = NULL;
    if (file < 0) {
        return uf_fail(err, UF_E_FILE, "could not be opened: %s", strerror(errno));
    }
    if (fstat(file, &info) != 0 || !S_ISREG(info.st_mode)) {
        (void)close(file);
        return uf_fail(err, UF_E_FILE, "%s", kind_of(info.st_mode));
    }
    *out = fdopen(file, "rb");
    if (*out == NULL) {
        (void)close(file);
        return uf_fail(err, UF_E_MEMORY, "no memory to read it");
    }
    return UF_OK;
}
