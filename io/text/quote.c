#include "quote.h"

#include <string.h>

bool uf_quote_is_inner_byte(char byte)
{
    return ((unsigned char)byte & 0xC0U) == 0x80U;
}

char *uf_quote_text(char *out, size_t size, const char *text)
{
    size_t n = strlen(text);
    const bool cut = n >= size;
    if (cut) {
        n = size - 4;
        while (n > 0 && uf_quote_is_inner_byte(text[n])) {
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

size_t uf_quote_character_length(const unsigned char *text)
{
    const size_t n = text[0] < 0x80                       ? 1
                     : text[0] >= 0xc2 && text[0] <= 0xdf ? 2
                     : (text[0] & 0xf0) == 0xe0           ? 3
                     : text[0] >= 0xf0 && text[0] <= 0xf4 ? 4
                                                          : 0;
    for (size_t i = 1; i < n; i++) {
        if (!uf_quote_is_inner_byte((char)text[i])) {
            return 0;
        }
    }
    return n;
}

const char *uf_quote_degree(const char *text, size_t *n)
{
    static const char *const words[][2] = {{"degC day", "\xc2\xb0\x43\xc2\xb7\x64\x61ys"},
                                           {"degF day", "\xc2\xb0\x46\xc2\xb7\x64\x61ys"},
                                           {"degC", "\xc2\xb0\x43"},
                                           {"degF", "\xc2\xb0\x46"}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        *n = strlen(words[i][0]);
        if (strncmp(text, words[i][0], *n) == 0) {
            return words[i][1];
        }
    }
    *n = 0;
    return NULL;
}
