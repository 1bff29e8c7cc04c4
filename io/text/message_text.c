#include "message_text.h"

#include <stdio.h>

char *uf_message_text(char *text, size_t size, enum uf_units units,
                      const struct uf_message *message)
{
    size_t used = 0;
    size_t from = 0;
    text[0] = '\0';
    for (size_t i = 0; i < message->n && used < size; i++) {
        const struct uf_message_number *number = &message->numbers[i];
        char shown[64];
        if (number->figures == 0) {
            (void)uf_quantity_text(shown, sizeof shown, number->kind, units, number->value);
        } else {
            (void)uf_message_number(shown, sizeof shown,
                                    uf_quantity_value(number->kind, units, number->value),
                                    number->figures, uf_quantity_unit(number->kind, units));
        }
        const int n = snprintf(text + used, size - used, "%.*s%s", (int)(number->at - from),
                               message->text + from, shown);
        used += (size_t)n;
        from = number->at + number->length;
    }
    if (used < size) {
        (void)snprintf(text + used, size - used, "%s", message->text + from);
    }
    return text;
}
