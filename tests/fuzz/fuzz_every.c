#include "damage.h"
#include "small_files.h"

/* What an interrupted run of every winter has kept, damaged behind its sum, see damage.h: winters that
   are whole are taken over, all else is run again. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

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

static void take(const char *path, void *data)
{
    (void)data;
    damage_take(&base, path);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    size_t length = 0;
    if (base.image == NULL) {
        damage_begin();
        small_file(small_every_write, take, NULL);
    }
    bool must_refuse = false;
    uint8_t *image = damage_make(&base, data, size, &length, &must_refuse);
    small_every_read(image, length, must_refuse);
    free(image);
    return 0;
}
