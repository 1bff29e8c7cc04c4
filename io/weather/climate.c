#include "climate.h"

#include "climate_text.h"
#include "io/text/input.h"
#include "io/text/shipped.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define HEAD_SIZE   4096
#define FOLDER_SIZE 1024

const struct uf_climate_reader *const uf_climate_readers[] = {
    &uf_climate_epw,
    &uf_climate_dly,
    &uf_climate_noaa_long,
    &uf_climate_noaa_wide,
    &uf_climate_eccc,
    &uf_climate_csv,
    NULL,
};

static bool exists(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0;
}

/* The folder of shipped climates. */
static const char *shipped_folder(char *folder, size_t size)
{
    const char *asked = getenv("UNDERFROST_CLIMATES");
    return asked != NULL && asked[0] != '\0' ? asked : uf_shipped(folder, size, "climates");
}

enum uf_status uf_climate_find(char *found, size_t size, const char *path, const char *base_dir,
                               struct uf_error *err)
{
    const bool from_base = path[0] != '/' && base_dir != NULL && base_dir[0] != '\0';
    int n = from_base ? snprintf(found, size, "%s/%s", base_dir, path)
                      : snprintf(found, size, "%s", path);
    if (path[0] == '\0') {
        return uf_fail(err, UF_E_FILE, "the name of the weather file is empty");
    }
    if (n > 0 && (size_t)n < size && exists(found)) {
        return UF_OK;
    }
    if (strchr(path, '/') != NULL) {
        return uf_fail(err, UF_E_FILE, "%.250s: there is no such weather file", found);
    }
    const char *shipped = shipped_folder((char[FOLDER_SIZE]){0}, FOLDER_SIZE);
    n = snprintf(found, size, "%s/%s", shipped, path);
    if (n > 0 && (size_t)n < size && exists(found)) {
        return UF_OK;
    }
    return uf_fail(
        err, UF_E_FILE,
        "%.120s: there is no such weather file, nor a shipped one of that name in %.200s", path,
        shipped);
}

/* Opens a file that can be read from its start twice; head becomes its first bytes as text. */
static FILE *open_file(const char *path, char head[HEAD_SIZE], struct uf_error *err)
{
    struct uf_error reason = {0};
    FILE *file = NULL;
    if (uf_input_open(&file, path, &reason) != UF_OK) {
        (void)uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
        return NULL;
    }
    const size_t n = fread(head, 1, HEAD_SIZE - 1, file);
    head[n] = '\0';
    if (ferror(file) || fseek(file, 0, SEEK_SET) != 0) {
        (void)fclose(file);
        (void)uf_fail(err, UF_E_FILE, "%.250s: could not be read", path);
        return NULL;
    }
    return file;
}

static const struct uf_climate_reader *choose(const char *path, const char *head)
{
    size_t i = 0;
    while (uf_climate_readers[i + 1] != NULL && !uf_climate_readers[i]->matches(path, head)) {
        i++;
    }
    return uf_climate_readers[i];
}

/* The path for messages; only the file's name where the path would crowd out the message. */
static const char *shown_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return strlen(path) > 160 && slash != NULL ? slash + 1 : path;
}

struct asked {
    const char *column;
    const struct uf_climate_reader *reader; /* NULL: by content */
    bool raw;
};

static enum uf_status read_file(struct uf_weather **out, const char *path,
                                const struct asked *asked, const char *base_dir,
                                struct uf_error *err)
{
    char found[UF_CLIMATE_PATH_SIZE], head[HEAD_SIZE];
    *out = NULL;
    enum uf_status status = uf_climate_find(found, sizeof found, path, base_dir, err);
    if (status != UF_OK) {
        return status;
    }
    FILE *file = open_file(found, head, err);
    if (file == NULL) {
        return UF_E_FILE;
    }
    const struct uf_climate_request request = {
        file, shown_name(found), asked->column != NULL ? asked->column : "", asked->raw};
    status =
        (asked->reader != NULL ? asked->reader : choose(found, head))->read(out, &request, err);
    (void)fclose(file);
    if (status == UF_OK) {
        struct uf_weather *weather = *out;
        if (weather->station[0] == '\0') {
            uf_climate_text_copy(weather->station, sizeof weather->station, request.name);
        }
        uf_weather_fill(weather, asked->raw ? 0 : UF_CLIMATE_FILL_DAYS);
    }
    return status;
}

enum uf_status uf_climate_read(struct uf_weather **out, const char *path, const char *column,
                               const char *base_dir, struct uf_error *err)
{
    return read_file(out, path, &(struct asked){.column = column}, base_dir, err);
}

static enum uf_status read_column(struct uf_weather **out, const char *path, const char *column,
                                  bool raw, const char *base_dir, struct uf_error *err)
{
    const struct asked asked = {column, &uf_climate_csv, raw};
    *out = NULL;
    if (column == NULL || column[0] == '\0') {
        return uf_fail(err, UF_E_INPUT, "%.250s: name the column that holds the readings", path);
    }
    const enum uf_status status = read_file(out, path, &asked, base_dir, err);
    if (status == UF_OK) {
        free((*out)->snow_m);
        (*out)->snow_m = NULL;
    }
    return status;
}

enum uf_status uf_climate_read_series(struct uf_weather **out, const char *path, const char *column,
                                      const char *base_dir, struct uf_error *err)
{
    return read_column(out, path, column, false, base_dir, err);
}

enum uf_status uf_climate_read_raw(struct uf_weather **out, const char *path, const char *column,
                                   const char *base_dir, struct uf_error *err)
{
    return read_column(out, path, column, true, base_dir, err);
}
