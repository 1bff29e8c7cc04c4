#include "message.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

char *uf_message_number(char *text, size_t size, double shown, int figures, const char *unit)
{
    const char *blank = unit[0] != '\0' ? " " : "";
    shown = fabs(shown) < 1e-12 ? 0.0 : shown; /* never "-0", nor what a difference leaves over */
    if (isfinite(shown) && fabs(shown) >= pow(10.0, figures)) {
        (void)snprintf(text, size, "%.0f%s%s", shown, blank, unit);
    } else {
        (void)snprintf(text, size, "%.*g%s%s", figures, shown, blank, unit);
    }
    return text;
}

/* Adds n bytes, as far as they go; returns how many went. */
static size_t put(struct uf_message *out, const char *text, size_t n)
{
    const size_t used = strlen(out->text);
    const size_t room = sizeof out->text - 1 - used;
    const size_t taken = n < room ? n : room;
    memcpy(out->text + used, text, taken);
    out->text[used + taken] = '\0';
    return taken;
}

static void put_part(struct uf_message *out, const struct uf_part *part)
{
    char text[64];
    if (part->word != NULL) {
        (void)put(out, part->word, strlen(part->word));
        return;
    }
    const struct uf_quantity_kind *kind = &uf_quantity_kinds[part->kind];
    const size_t at = strlen(out->text);
    if (part->figures == 0) {
        (void)snprintf(text, sizeof text, "%.*f %s", kind->digits, part->value * kind->factor,
                       kind->unit);
    } else {
        (void)uf_message_number(text, sizeof text, part->value * kind->factor, part->figures,
                                kind->unit);
    }
    if (put(out, text, strlen(text)) == strlen(text) && out->n < UF_MESSAGE_NUMBERS) {
        out->numbers[out->n++] =
            (struct uf_message_number){at, strlen(text), part->kind, part->value, part->figures};
    }
}

void uf_message_add(struct uf_message *out, struct uf_said said)
{
    size_t next = 0;
    const char *text = said.text;
    if (out->text[0] != '\0') {
        (void)put(out, "; ", 2);
    }
    for (const char *hole = strstr(text, "{}"); hole != NULL && next < said.n;
         hole = strstr(text, "{}")) {
        (void)put(out, text, (size_t)(hole - text));
        put_part(out, &said.parts[next++]);
        text = hole + 2;
    }
    (void)put(out, text, strlen(text));
}

void uf_message_append(struct uf_message *out, const struct uf_message *more)
{
    const size_t at = strlen(out->text);
    (void)put(out, more->text, strlen(more->text));
    for (size_t i = 0; i < more->n && out->n < UF_MESSAGE_NUMBERS; i++) {
        struct uf_message_number number = more->numbers[i];
        number.at += at;
        if (number.at + number.length < sizeof out->text) {
            out->numbers[out->n++] = number;
        }
    }
}

void uf_message_set(struct uf_message *out, struct uf_said said)
{
    memset(out, 0, sizeof *out);
    uf_message_add(out, said);
}
