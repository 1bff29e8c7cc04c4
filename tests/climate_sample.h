#ifndef CLIMATE_SAMPLE_H
#define CLIMATE_SAMPLE_H

#include "io/weather/climate.h"

#include <criterion/criterion.h>

#include <string.h>

/* Reads a text with one reader as if it were a file of that name. */
static inline enum uf_status sample_read(struct uf_weather **out,
                                         const struct uf_climate_reader *reader, const char *text,
                                         const char *column, struct uf_error *err)
{
    FILE *file = tmpfile();
    cr_assert_not_null(file);
    cr_assert_eq(fwrite(text, 1, strlen(text), file), strlen(text));
    rewind(file);
    const struct uf_climate_request request = {file, "x", column, false};
    const enum uf_status status = reader->read(out, &request, err);
    (void)fclose(file);
    return status;
}

/* Expects UF_E_INPUT, no record, and a message that begins and tells so. */
static inline void sample_refused(const struct uf_climate_reader *reader, const char *text,
                                  const char *begins, const char *tells)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    cr_expect_eq(sample_read(&weather, reader, text, "", &err), UF_E_INPUT, "%s", text);
    cr_expect_null(weather);
    cr_expect_eq(strncmp(err.text, begins, strlen(begins)), 0, "%s -> %s", text, err.text);
    cr_expect(strstr(err.text, tells) != NULL, "%s -> %s", text, err.text);
}

/* Reads a file of tests/data by content. */
static inline struct uf_weather *sample_file(const char *name)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_climate_read(&weather, name, NULL, UF_SOURCE_DIR "/tests/data", &err), UF_OK,
                 "%s", err.text);
    return weather;
}

#endif
