#include "io/weather/climate.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* The weather readers take any bytes: a record or an error, never a crash, and never
   both. Each reader gets what it says is its own; the last one everything. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void try_reader(const struct uf_climate_reader *reader, const uint8_t *data, size_t size,
                       const char *path)
{
    FILE *file = fmemopen((void *)(uintptr_t)data, size, "rb");
    const struct uf_climate_request request = {file, path, "", false};
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};

    if (file == NULL) {
        return;
    }
    const enum uf_status status = reader->read(&weather, &request, &err);
    if ((status == UF_OK) != (weather != NULL) || (status != UF_OK && err.text[0] == '\0')) {
        __builtin_trap();
    }
    uf_weather_free(weather);
    (void)fclose(file);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const paths[] = {"fuzz.csv", "fuzz.dly", "fuzz.epw"};
    char head[4096];
    const size_t n = size < sizeof head - 1 ? size : sizeof head - 1;

    if (size == 0) {
        return 0;
    }
    memcpy(head, data, n);
    head[n] = '\0';
    for (size_t i = 0; uf_climate_readers[i] != NULL; i++) {
        for (size_t p = 0; p < sizeof paths / sizeof paths[0]; p++) {
            if (uf_climate_readers[i]->matches(paths[p], head)) {
                try_reader(uf_climate_readers[i], data, size, paths[p]);
                break;
            }
        }
    }
    return 0;
}
