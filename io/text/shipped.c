#include "shipped.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define PATH_SIZE 1024

/* Cuts the last part off a path, its slash with it. */
static void up(char *path)
{
    char *slash = strrchr(path, '/');
    if (slash != NULL) {
        *slash = '\0';
    }
}

char *uf_shipped(char *folder, size_t size, const char *name)
{
    char program[PATH_SIZE] = "";
    if (readlink("/proc/self/exe", program, sizeof program - 1) > 0) {
        up(program); /* PREFIX/bin */
        up(program); /* PREFIX */
        const int n = snprintf(folder, size, "%s/share/underfrost/%s", program, name);
        if (n > 0 && (size_t)n < size && access(folder, R_OK) == 0) {
            return folder;
        }
    }
    (void)snprintf(folder, size, "%s/%s", UF_SOURCE_DIR, name);
    return folder;
}
