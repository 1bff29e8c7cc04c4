#include "site_private.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What a key that is not given stands for. The numbers live once, where a C program gets them too: in
   what uf_case_init and its like fill; the table points at them. */

const char uf_site_own_default[] = "(as initialised)";

static void number_text(char *text, size_t size, const struct site_key *key, double value)
{
    double shown = value;
    if (key->measure != NULL && key->measure->rule != UF_UNIT_DIFFERENCE &&
        uf_units_convert(&shown, value, key->measure->unit, key->unit, NULL) != UF_OK) {
        return;
    }
    (void)snprintf(text, size, "%.10g%s%s", shown, key->unit[0] != '\0' ? " " : "", key->unit);
}

static void word_text(char *text, size_t size, const struct site_word_row *words, unsigned value)
{
    for (; words->word != NULL; words++) {
        if ((unsigned)words->value == value) {
            (void)snprintf(text, size, "%s", words->word);
            return;
        }
    }
}

const char *uf_site_default(char *text, size_t size, const struct site_key *key)
{
    if (key->fallback != uf_site_own_default) {
        return key->fallback;
    }
    struct uf_site *site = calloc(1, sizeof *site);
    text[0] = '\0';
    if (site == NULL) {
        return text;
    }
    uf_site_init(site, "");
    const char *at = (const char *)site + key->offset;
    if (key->kind == &uf_site_quantity || key->kind == &uf_site_number) {
        double value;
        memcpy(&value, at, sizeof value);
        number_text(text, size, key, value);
    } else if (key->kind == &uf_site_count) {
        size_t value;
        memcpy(&value, at, sizeof value);
        (void)snprintf(text, size, "%zu", value);
    } else if (key->kind == &uf_site_word) {
        unsigned value;
        memcpy(&value, at, sizeof value);
        word_text(text, size, key->words, value);
    } else if (key->kind == &uf_site_yes_no) {
        bool value;
        memcpy(&value, at, sizeof value);
        (void)snprintf(text, size, "%s", value ? "on" : "off");
    }
    free(site);
    return text;
}
