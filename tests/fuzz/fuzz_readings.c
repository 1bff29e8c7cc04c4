#include "io/site/readings_csv.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* Readings of roundness from any bytes: readings within their range, or faults that name their
   line; names and messages without control characters. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool truth)
{
    if (!truth) {
        __builtin_trap();
    }
}

static bool is_clean(const char *text)
{
    for (; *text != '\0'; text++) {
        if ((unsigned char)*text < 0x20 || *text == 0x7f) {
            return false;
        }
    }
    return true;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct uf_roundness_input readings;
    struct uf_error err = {0};
    struct uf_site_faults faults;
    FILE *file = size > 0 ? fmemopen((void *)(uintptr_t)data, size, "rb") : NULL;
    if (file == NULL) {
        return 0;
    }
    const enum uf_status status = uf_readings_csv_take(&readings, file, "fuzz.csv", &faults, &err);
    (void)fclose(file);
    must((status == UF_OK) == (err.text[0] == '\0'));
    must(status != UF_OK || faults.n == 0);
    for (size_t i = 0; i < faults.n; i++) {
        must(faults.rows[i].line > 0 && is_clean(faults.rows[i].what.text));
    }
    uf_site_faults_clear(&faults);
    must(readings.n <= UF_ROUNDNESS_READINGS);
    for (size_t i = 0; status == UF_OK && i < readings.n; i++) {
        const struct uf_roundness_reading *r = &readings.readings[i];
        must(r->at[0] != '\0' && is_clean(r->at));
        must(r->diameter_m > 0.0499 && r->diameter_m < 30.01);
        must(isnan(r->level_m) || fabs(r->level_m) < 9000.1);
    }
    return 0;
}
