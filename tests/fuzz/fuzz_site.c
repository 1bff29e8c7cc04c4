#include "io/site/site_file.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The site file parser takes any bytes: an answer or faults, never a crash, and never
   both. A first line "#set key=value" is also given as --set. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool truth)
{
    if (!truth) {
        __builtin_trap();
    }
}

/* The override in the first line, or NULL; the caller frees it. */
static char *take_set(const char *text, size_t size)
{
    const char *end = size > 5 ? memchr(text, '\n', size) : NULL;
    if (end == NULL || memcmp(text, "#set ", 5) != 0) {
        return NULL;
    }
    return strndup(text + 5, (size_t)(end - text) - 5);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const char *text = size > 0 ? (const char *)data : "";
    char *set = take_set(text, size);
    const struct uf_site_override given = {set};
    const struct uf_site_overrides sets = {&given, set != NULL};
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    const enum uf_status status =
        uf_site_parse(&site, "fuzz.yaml", text, size, &sets, &faults, &err);
    if (status == UF_OK) {
        struct uf_fault fault;
        must(site != NULL && faults.n == 0);
        must(uf_case_check(&site->design, &fault, 1) == 0);
    } else {
        must(status == UF_E_INPUT && site == NULL && faults.n > 0);
    }
    for (size_t i = 0; i < faults.n; i++) {
        const struct uf_fault *row = &faults.rows[i];
        must(row->what.text[0] != '\0' && row->line >= 0);
        must(strpbrk(row->what.text, "\n\r\x1b") == NULL);
        must(strpbrk(row->key, "\n\r\x1b") == NULL);
    }
    uf_site_faults_clear(&faults);
    uf_site_free(site);
    free(set);
    return 0;
}
