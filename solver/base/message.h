#ifndef UF_MESSAGE_H
#define UF_MESSAGE_H

#include "quantity_kind.h"

#include <stddef.h>

/* A sentence for a person whose numbers keep their value and kind, so that they can be shown in
   other units (io/text/message_text.h). It is written in place, SI, by

     UF_SAID("{} of water in a tank {} high inside", UF_OF(LENGTH, level_m), UF_OF(LENGTH, inside_m))

   where each {} takes the next of the parts, or by UF_PLAIN("no layer is given") without parts. */

/* What stands for one {}: a number of a kind with as many figures as say something, or a word. */
struct uf_part {
    enum uf_quantity kind;
    double value; /* in the SI unit of its kind */
    int figures;
    const char *word; /* NULL: a number */
};
#define UF_OF(KIND, number) UF_ABOUT(KIND, 4, number)
#define UF_ABOUT(KIND, digits, number)                                                             \
    {                                                                                              \
        .kind = UF_QUANTITY_##KIND, .value = (number), .figures = (digits)                         \
    }
#define UF_ROUND(KIND, number) UF_ABOUT(KIND, 0, number) /* to the decimals of its kind */
#define UF_COUNT(number)       UF_ABOUT(FACTOR, 9, (double)(number))
#define UF_WORD(text)                                                                              \
    {                                                                                              \
        .kind = UF_QUANTITY_FACTOR, .word = (text)                                                 \
    }

struct uf_said {
    const char *text;
    const struct uf_part *parts;
    size_t n;
};
#define UF_PLAIN(sentence) ((struct uf_said){(sentence), NULL, 0})
#define UF_SAID(sentence, ...)                                                                     \
    ((struct uf_said){(sentence), (const struct uf_part[]){__VA_ARGS__},                           \
                      sizeof((const struct uf_part[]){__VA_ARGS__}) / sizeof(struct uf_part)})

/* The sentence kept: its text in SI, and where in it the numbers stand. */
#define UF_MESSAGE_NUMBERS 8
struct uf_message {
    char text[400];
    struct uf_message_number {
        size_t at, length; /* of the number with its unit, in text */
        enum uf_quantity kind;
        double value;
        int figures;
    } numbers[UF_MESSAGE_NUMBERS];
    size_t n;
};

/* Fills a message; what does not fit is cut. A number past UF_MESSAGE_NUMBERS stays in SI. */
void uf_message_set(struct uf_message *out, struct uf_said said);

/* Adds a sentence after "; ", or begins with it. */
void uf_message_add(struct uf_message *out, struct uf_said said);

/* Adds another message to the end, its numbers with it. */
void uf_message_append(struct uf_message *out, const struct uf_message *more);

/* A number as it is shown in a unit: as many figures as asked for, no power of ten for a large
   one, then the unit. Returns text. size at least 48. */
char *uf_message_number(char *text, size_t size, double shown, int figures, const char *unit);

#endif
