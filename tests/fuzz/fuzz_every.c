#include "damage.h"
#include "io/result/every_file.h"
#include "solver/run/facts.h"

#include <unistd.h>

/* What an interrupted run of every winter has kept, damaged behind its sum, see damage.h: winters that
   are whole are taken over, all else is run again. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { WINTERS = 2 };

static const char *const things[] = {"winter_2000",
                                     "winter_2001",
                                     "winter_2000/time",
                                     "winter_2000/z",
                                     "winter_2000/x",
                                     "winter_2000/material",
                                     "winter_2000/frost_depth",
                                     "winter_2000/summary_numbers",
                                     "winter_2001/water_temperature",
                                     "winter_2001/z_bounds",
                                     "winter_2001/probe",
                                     "winter_2001/design",
                                     NULL};
static const char *const attributes[] = {"key",   "names", "long_name", "units", "water_min_date",
                                         "title", NULL};

static struct damage_base base = {.things = things, .attributes = attributes};

static struct uf_every_winter empty_winter(size_t i)
{
    const long first_day = 11000 + 365 * (long)i;
    return (struct uf_every_winter){
        .year = 2000 + (int)i, .first_day = first_day, .last_day = first_day + 9};
}

static void make_base(void)
{
    char path[] = "/tmp/uf_fuzz_XXXXXX";
    struct uf_every_winter winters[WINTERS];
    const struct uf_every every = {.winters = winters, .n = WINTERS, .keep_series = true};
    for (size_t i = 0; i < WINTERS; i++) {
        winters[i] = empty_winter(i);
        winters[i].done = true;
        uf_facts_clear(&winters[i].summary);
        if (uf_record_create(&winters[i].record, &(struct uf_record_size){10, 3, 2, 0, 1},
                             UF_KEEP_SERIES, NULL) != UF_OK) {
            abort();
        }
    }
    damage_begin();
    const int file = mkstemp(path);
    if (file < 0 || uf_every_file_write(path, &every, 1, NULL) != UF_OK) {
        abort();
    }
    (void)close(file);
    damage_take(&base, path);
    (void)unlink(path);
    for (size_t i = 0; i < WINTERS; i++) {
        uf_record_free(winters[i].record);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    size_t length = 0;
    struct uf_every_winter winters[WINTERS];
    struct uf_every every = {.winters = winters, .n = WINTERS, .keep_series = true};
    if (base.image == NULL) {
        make_base();
    }
    for (size_t i = 0; i < WINTERS; i++) {
        winters[i] = empty_winter(i);
    }
    bool must_refuse = false;
    uint8_t *image = damage_make(&base, data, size, &length, &must_refuse);
    const size_t n = uf_every_file_read_image(image, length, &every, 1);
    free(image);
    size_t done = 0;
    for (size_t i = 0; i < WINTERS; i++) {
        done += winters[i].done;
        if (winters[i].done && (winters[i].record == NULL || winters[i].record->nt != 10)) {
            __builtin_trap();
        }
        uf_record_free(winters[i].record);
    }
    if (n != done || (must_refuse && n > 0)) {
        __builtin_trap();
    }
    return 0;
}
