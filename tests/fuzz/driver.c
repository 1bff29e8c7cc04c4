#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

/* Runs a fuzz target over files and folders given on the command line, and over shortened
   and damaged copies of each: an ordinary test where no fuzzer is at hand. Nothing may
   crash; what the target answers does not matter. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static long executions;

static void try_once(const uint8_t *data, size_t size)
{
    (void)LLVMFuzzerTestOneInput(data, size);
    executions++;
}

static void try_damaged(uint8_t *data, size_t size)
{
    uint32_t state = 12345;

    try_once(data, size);
    for (size_t part = 1; part < 16; part++) {
        try_once(data, size * part / 16);
    }
    for (int i = 0; i < 64 && size > 0; i++) {
        state = state * 1664525U + 1013904223U;
        const size_t at = (state >> 8) % size;
        const uint8_t kept = data[at];
        data[at] = (uint8_t) "\0\n:-{}[]'\"&*# 9\xff"[state >> 28];
        try_once(data, size);
        data[at] = kept;
    }
}

static int try_file(const char *path)
{
    enum { MOST = 1 << 16 };
    uint8_t *data = malloc(MOST);
    FILE *file = fopen(path, "rb");
    int tried = 0;

    if (file != NULL && data != NULL) {
        try_damaged(data, fread(data, 1, MOST, file));
        tried = 1;
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    free(data);
    return tried;
}

static int try_folder(const char *path)
{
    char name[4096];
    int tried = 0;
    DIR *folder = opendir(path);

    if (folder == NULL) {
        return 0;
    }
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        if (entry->d_name[0] != '.') {
            (void)snprintf(name, sizeof name, "%s/%s", path, entry->d_name);
            tried += try_file(name);
        }
    }
    (void)closedir(folder);
    return tried;
}

int main(int argc, char **argv)
{
    int tried = 0;

    for (int i = 1; i < argc; i++) {
        struct stat about;
        if (stat(argv[i], &about) == 0) {
            tried += S_ISDIR(about.st_mode) ? try_folder(argv[i]) : try_file(argv[i]);
        }
    }
    const double cpu_s = (double)clock() / (double)CLOCKS_PER_SEC;
    (void)printf("%d inputs, %ld executions, %.0f a second of CPU\n", tried, executions,
                 (double)executions / (cpu_s > 0.0 ? cpu_s : 1.0));
    return tried > 0 ? 0 : 1;
}
