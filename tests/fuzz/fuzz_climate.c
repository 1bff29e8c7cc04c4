#include "io/climate.h"

#include <stdint.h>
#include <stdio.h>

/* Every weather reader takes any bytes: a record or an error, never a crash, and never
 * both. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    for (size_t i = 0; size > 0 && uf_climate_readers[i] != NULL; i++) {
        FILE *file = fmemopen((void *)(uintptr_t)data, size, "rb");
        const struct uf_climate_request request = {file, "fuzz.csv", ""};
        struct uf_weather *weather = NULL;
        struct uf_error err = {0};

        if (file == NULL) {
            return 0;
        }
        const enum uf_status status =
            uf_climate_readers[i]->read(&weather, &request, &err);
        if ((status == UF_OK) != (weather != NULL) ||
            (status != UF_OK && err.text[0] == '\0')) {
            __builtin_trap();
        }
        uf_weather_free(weather);
        (void)fclose(file);
    }
    return 0;
}
