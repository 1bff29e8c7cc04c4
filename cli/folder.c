#include "folder.h"

#include <dirent.h>
#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A file that says who made the folder. */
static const char MARK[] = ".underfrost";

char *uf_folder_default(char *text, size_t size, const char *site_file)
{
    const char *slash = strrchr(site_file, '/');
    const char *name = slash == NULL ? site_file : slash + 1;
    const char *dot = strrchr(name, '.');
    /* A site file without an ending would name itself: the folder then gets one. */
    const bool ends = dot != NULL && dot != name;
    const size_t length = ends ? (size_t)(dot - name) : strlen(name);
    (void)snprintf(text, size, "%.*s%s", (int)length, name, ends ? "" : ".out");
    return text;
}

char *uf_folder_path(char *text, size_t size, const char *folder, const char *name)
{
    (void)snprintf(text, size, "%s/%s", folder, name);
    return text;
}

static bool is_empty(const char *folder)
{
    DIR *directory = opendir(folder);
    bool empty = directory != NULL;
    struct dirent *entry = NULL;
    while (directory != NULL && (entry = readdir(directory)) != NULL) {
        if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0) {
            empty = false;
        }
    }
    if (directory != NULL) {
        (void)closedir(directory);
    }
    return empty;
}

static enum uf_status write_mark(const char *folder, struct uf_error *err)
{
    char path[1100];
    FILE *file = fopen(uf_folder_path(path, sizeof path, folder, MARK), "w");
    if (file == NULL) {
        return uf_fail(err, UF_E_FILE, "%s: cannot write into it (%s): give another with -o",
                       folder, strerror(errno));
    }
    const bool ok = fputs("made by underfrost recommend; may be written over\n", file) >= 0;
    if (fclose(file) != 0 || !ok) {
        return uf_fail(err, UF_E_FILE, "%s: the disk may be full", path);
    }
    return UF_OK;
}

static bool holds_study(const char *folder)
{
    static const char *const files[] = {"result.h5", "report.html"};
    char path[1100];
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        if (access(uf_folder_path(path, sizeof path, folder, files[i]), F_OK) == 0) {
            return true;
        }
    }
    return false;
}

enum uf_status uf_folder_open(const char *folder, bool force, struct uf_error *err)
{
    struct stat info;
    char path[1100];
    if (strlen(folder) == 0 || strlen(folder) > 1000) {
        return uf_fail(err, UF_E_FILE,
                       "the output folder's name is empty or too long: give -o DIR");
    }
    if (stat(folder, &info) != 0) {
        if (mkdir(folder, 0777) != 0) {
            return uf_fail(err, UF_E_FILE, "%s: cannot be made (%s): give another with -o", folder,
                           strerror(errno));
        }
        return write_mark(folder, err);
    }
    if (!S_ISDIR(info.st_mode)) {
        return uf_fail(err, UF_E_FILE, "%s is a file: give a folder with -o", folder);
    }
    if (stat(uf_folder_path(path, sizeof path, folder, MARK), &info) != 0 && !is_empty(folder)) {
        return uf_fail(err, UF_E_FILE,
                       "%s holds files that underfrost did not write: give another folder with -o",
                       folder);
    }
    if (!force && holds_study(folder)) {
        return uf_fail(err, UF_E_FILE,
                       "%s holds an earlier study: --force replaces it, -o names another folder",
                       folder);
    }
    if (access(folder, W_OK) != 0) {
        return uf_fail(err, UF_E_FILE, "%s: may not be written in (%s): give another with -o",
                       folder, strerror(errno));
    }
    return write_mark(folder, err);
}
