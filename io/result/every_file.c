#include "every_file.h"

#include "io/text/input.h"
#include "result_private.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A partial result file: one group a winter, winter_1955, with series and facts as in any result. */
static const char KEY[] = "key";

enum { STEP = 65536, NAME_SIZE = 32 };

unsigned long long uf_every_file_key(unsigned long long key, const void *bytes, size_t n)
{
    const unsigned char *at = bytes;
    key = key == 0 ? 14695981039346656037ULL : key;
    for (size_t i = 0; i < n; i++) {
        key = (key ^ at[i]) * 1099511628211ULL;
    }
    return key;
}

unsigned long long uf_every_file_program(void)
{
    static const char self[] = "/proc/self/exe";
    unsigned char block[STEP];
    unsigned long long key = uf_every_file_key(0, UF_VERSION, sizeof UF_VERSION);
    FILE *file = NULL;
    if (uf_input_open(&file, self, NULL) == UF_OK) {
        for (size_t n = 0; (n = fread(block, 1, sizeof block, file)) > 0;) {
            key = uf_every_file_key(key, block, n);
        }
        (void)fclose(file);
    }
    return key;
}

static void key_text(char text[NAME_SIZE], unsigned long long key)
{
    (void)snprintf(text, NAME_SIZE, "%016llx", key);
}

static void group_name(char name[NAME_SIZE], const struct uf_every_winter *winter)
{
    (void)snprintf(name, NAME_SIZE, "winter_%d", winter->year);
}

struct kept {
    const struct uf_every *every;
    unsigned long long key;
};

static bool fill_winter(hid_t file, struct uf_result_pack *pack,
                        const struct uf_every_winter *winter, const char **what)
{
    static const struct uf_result_design no_design;
    char name[NAME_SIZE];
    group_name(name, winter);
    const struct uf_result_run run = {.name = name,
                                      .title = "a winter of an interrupted run",
                                      .record = winter->record,
                                      .design = &no_design,
                                      .facts = uf_facts,
                                      .summary = &winter->summary};
    return H5Gclose(uf_result_write_run(file, pack, &run, what)) >= 0;
}

static bool fill(hid_t file, const void *data, const char **what)
{
    const struct kept *kept = data;
    struct uf_result_pack *pack = uf_result_pack_create();
    char key[NAME_SIZE];
    key_text(key, kept->key);
    bool good = pack != NULL && uf_result_hdf5_put_text(file, KEY, key);
    for (size_t i = 0; good && i < kept->every->n; i++) {
        const struct uf_every_winter *winter = &kept->every->winters[i];
        good = !winter->done || winter->record == NULL || fill_winter(file, pack, winter, what);
    }
    uf_result_pack_free(pack);
    return good;
}

enum uf_status uf_every_file_write(const char *path, const struct uf_every *every,
                                   unsigned long long key, struct uf_error *err)
{
    const struct kept kept = {every, key};
    return uf_result_file_make(path, fill, &kept, err);
}

struct taken {
    struct uf_every *every;
    unsigned long long key;
    size_t n;
};

static bool take_winter(hid_t file, struct uf_every_winter *winter, const char **what)
{
    char name[NAME_SIZE];
    group_name(name, winter);
    if (!uf_result_hdf5_exists(file, name)) {
        return false;
    }
    struct uf_summary summary;
    struct uf_record *record = NULL;
    const hid_t group = H5Gopen2(file, name, H5P_DEFAULT);
    const bool good = uf_result_read_run(group, &record, what) &&
                      uf_result_facts_read(group, uf_facts, &summary) &&
                      record->nt == (size_t)(winter->last_day - winter->first_day + 1);
    (void)H5Gclose(group);
    if (!good) {
        uf_record_free(record);
        return false;
    }
    winter->summary = summary;
    winter->record = record;
    return true;
}

static bool take(hid_t file, void *data, const char **what)
{
    struct taken *taken = data;
    char key[NAME_SIZE];
    key_text(key, taken->key);
    char *found = uf_result_hdf5_get_text(file, KEY);
    const bool ours = found != NULL && strcmp(found, key) == 0;
    free(found);
    for (size_t i = 0; ours && i < taken->every->n; i++) {
        struct uf_every_winter *winter = &taken->every->winters[i];
        winter->done = winter->done || take_winter(file, winter, what);
        taken->n += winter->done;
    }
    return ours;
}

static size_t read_source(const struct uf_result_source *from, struct uf_every *every,
                          unsigned long long key)
{
    struct taken taken = {every, key, 0};
    return every->keep_series && uf_result_file_take(from, true, take, &taken, NULL) == UF_OK
               ? taken.n
               : 0;
}

size_t uf_every_file_read(const char *path, struct uf_every *every, unsigned long long key)
{
    return read_source(&(struct uf_result_source){.path = path}, every, key);
}

size_t uf_every_file_read_image(const void *image, size_t size, struct uf_every *every,
                                unsigned long long key)
{
    return read_source(&(struct uf_result_source){"winters in memory", image, size}, every, key);
}
