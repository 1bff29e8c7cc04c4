#ifndef FUZZ_MEMORY_FILE_H
#define FUZZ_MEMORY_FILE_H

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

/* A file that lives in memory alone, for readers that take a path; its path into `path`. Returns the
   descriptor to close. Its includer defines _GNU_SOURCE first, for memfd_create. */
static inline int memory_file(const uint8_t *data, size_t size, char *path, size_t path_size)
{
    const int file = memfd_create("fuzz", 0);
    if (file < 0 || write(file, data, size) != (ssize_t)size) {
        abort();
    }
    (void)snprintf(path, path_size, "/proc/self/fd/%d", file);
    return file;
}

#endif
