#ifndef UF_TESTS_SMALL_FILES_H
#define UF_TESTS_SMALL_FILES_H

#include "io/result/every_file.h"
#include "io/result/result_csv.h"
#include "io/result/result_file.h"
#include "solver/run/facts.h"
#include "tests/synthetic.h"

#include <unistd.h>

/* A result and an interrupted run of two winters, small, so that damage hits and many are tried a
   second; what must hold of whatever is read from them. */

enum { SMALL_WINTERS = 2 };

static inline void small_record(struct uf_record *record)
{
    record->nt = 4;
    record->nz = 5;
    record->nx = 4;
    record->ny = 3;
}

static inline void small_result_write(const char *path)
{
    struct uf_result *made = synthetic_result();
    small_record(made->record);
    small_record(made->without_board);
    made->n_winters = made->n_levels = made->n_choices = 3;
    if (uf_result_file_write(path, made, NULL) != UF_OK) {
        abort();
    }
    uf_result_free(made);
}

static inline struct uf_every small_every(struct uf_every_winter *winters)
{
    for (int i = 0; i < SMALL_WINTERS; i++) {
        const long first_day = 11000 + 365 * (long)i;
        winters[i] = (struct uf_every_winter){
            .year = 2000 + i, .first_day = first_day, .last_day = first_day + 9};
    }
    return (struct uf_every){.winters = winters, .n = SMALL_WINTERS, .keep_series = true};
}

static inline void small_every_write(const char *path)
{
    struct uf_every_winter winters[SMALL_WINTERS];
    const struct uf_every every = small_every(winters);
    for (size_t i = 0; i < SMALL_WINTERS; i++) {
        winters[i].done = true;
        uf_facts_clear(&winters[i].summary);
        if (uf_record_create(&winters[i].record, &(struct uf_record_size){10, 3, 2, 0, 1},
                             UF_KEEP_SERIES, NULL) != UF_OK) {
            abort();
        }
    }
    if (uf_every_file_write(path, &every, 1, NULL) != UF_OK) {
        abort();
    }
    for (size_t i = 0; i < SMALL_WINTERS; i++) {
        uf_record_free(winters[i].record);
    }
}

/* By its writer, under a name that nothing else has; what use does with it comes between. */
static inline void small_file(void (*write)(const char *path),
                              void (*use)(const char *path, void *data), void *data)
{
    char path[] = "/tmp/uf_fuzz_XXXXXX";
    const int file = mkstemp(path);
    if (file < 0) {
        abort();
    }
    (void)close(file);
    write(path);
    use(path, data);
    (void)unlink(path);
}

/* What `export` makes of a result, thrown away. */
static inline void small_export(const struct uf_result *result)
{
    const struct uf_result_csv asked = {UF_UNITS_SI, {0.1, 2.0}, 2};
    static FILE *out;
    out = out != NULL ? out : fopen("/dev/null", "w");
    for (const struct uf_result_csv_table *t = uf_result_csv_tables; out != NULL && t->name; t++) {
        if (t->has(result)) {
            t->write(out, result, &asked);
        }
    }
}

/* A result or one line that says why not. export: and all that is made of it. */
static inline void small_result_read(const void *image, size_t size, bool must_refuse, bool export)
{
    struct uf_result *result = NULL;
    struct uf_error err = {0};
    const enum uf_status status = uf_result_file_read_image(&result, "fuzz.h5", image, size, &err);
    if ((must_refuse && status != UF_E_FILE) || (status == UF_OK) != (result != NULL) ||
        (status != UF_OK && err.text[0] == '\0')) {
        __builtin_trap();
    }
    if (status == UF_OK && export) {
        small_export(result);
    }
    uf_result_free(result);
}

/* Winters that are whole are taken over, all else is run again. */
static inline void small_every_read(const void *image, size_t size, bool must_refuse)
{
    struct uf_every_winter winters[SMALL_WINTERS];
    struct uf_every every = small_every(winters);
    const size_t n = uf_every_file_read_image(image, size, &every, 1);
    size_t done = 0;
    for (size_t i = 0; i < SMALL_WINTERS; i++) {
        done += winters[i].done;
        if (winters[i].done && (winters[i].record == NULL || winters[i].record->nt != 10)) {
            __builtin_trap();
        }
        uf_record_free(winters[i].record);
    }
    if (n != done || (must_refuse && n > 0)) {
        __builtin_trap();
    }
}

#endif
