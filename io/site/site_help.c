#include "site_private.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The table of keys as text. */

/* Where a whole ground is described again, it is not printed again. */
static bool is_repeated(const char *path)
{
    return strncmp(path, "burial.backfill.", 16) == 0 ||
           strncmp(path, "burial.bedding_soil.", 20) == 0;
}

/* What may be written: the words of a list, a range with its unit, or the kind. */
static void print_allowed(FILE *out, const struct site_key *key)
{
    if (key->words != NULL) {
        for (size_t i = 0; key->words[i].word != NULL; i++) {
            (void)fprintf(out, "%s%s", i > 0 ? " | " : "", key->words[i].word);
        }
    } else if (isnan(key->low)) {
        (void)fputs(key->kind->name, out);
    } else {
        (void)fprintf(out, "%g to %g%s%s", key->low, key->high, key->unit[0] != '\0' ? " " : "",
                      key->unit);
    }
}

void uf_site_print_keys(FILE *out)
{
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        const struct site_key *key = &uf_site_keys[i];
        if (is_repeated(key->path)) {
            continue;
        }
        (void)fprintf(out, "%s\n    %s.", key->path, key->help);
        if (key->kind != &uf_site_block) {
            (void)fputs("\n    ", out);
            print_allowed(out, key);
            if (key->fallback == uf_site_needed) {
                (void)fprintf(out, "; %s", uf_site_needed);
            } else {
                char text[48];
                const char *shown = uf_site_default(text, sizeof text, key);
                (void)fprintf(out, "%s%s", shown[0] != '\0' ? "; default: " : "", shown);
            }
        }
        if (strcmp(key->path, "burial.backfill") == 0 ||
            strcmp(key->path, "burial.bedding_soil") == 0) {
            (void)fputs("\n    the keys of ground[]", out);
        }
        (void)fprintf(out, "%s\n", key->not_yet ? "\n    not yet: not built" : "");
    }
}
