#include "io/site_file.h"

#include <stdint.h>

/* The site file parser takes any bytes: an answer or faults, never a crash, and never
 * both. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    const enum uf_status status = uf_site_parse(&site, "fuzz.yaml", (const char *)data,
                                                size, NULL, 0, &faults, &err);

    if ((status == UF_OK) != (site != NULL) || (status == UF_OK && faults.n > 0) ||
        (status == UF_E_INPUT && faults.n == 0)) {
        __builtin_trap();
    }
    uf_site_free(site);
    uf_site_faults_clear(&faults);
    return 0;
}
