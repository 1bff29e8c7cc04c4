#include "quote.h"

#include <stdbool.h>
#include <string.h>

/* A byte inside a UTF-8 sequence, so not a place to cut. */
static bool is_inner_byte(char byte)
{
    return ((unsigned char)byte & 0xC0U) == 0x80U;
}

char *uf_quote_text(char *out, size_t size, const char *text)
{
    size_t n = strlen(text);
    const bool cut = n >= size;
    if (cut) {
        n = size - 4;
        while (n > 0 && is_inner_byte(text[n])) {
            n--;
        }
    }
    for (size_t i = 0; i < n; i++) {
        const unsigned char byte = (unsigned char)text[i];
        out[i] = text[i];
        if (byte < 0x20U || byte == 0x7FU) {
            out[i] = '?';
        }
    }
    memcpy(out + n, cut ? "..." : "", cut ? 4 : 1);
    return out;
}
