#include "quantity_words.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The units as they are written in our texts; the longer before the one it begins with.
 */
static const struct {
    const char *unit;
    enum uf_quantity kind;
} written[] = {{"degC day", UF_QUANTITY_INDEX},
               {"degC", UF_QUANTITY_TEMPERATURE},
               {"kg/m3", UF_QUANTITY_DENSITY},
               {"kN/m3", UF_QUANTITY_UNIT_WEIGHT},
               {"kN", UF_QUANTITY_FORCE},
               {"kPa", UF_QUANTITY_PRESSURE},
               {"W/(m K)", UF_QUANTITY_CONDUCTIVITY},
               {"W/m/K", UF_QUANTITY_CONDUCTIVITY},
               {"mm", UF_QUANTITY_THICKNESS},
               {"m", UF_QUANTITY_LENGTH},
               {"K", UF_QUANTITY_DIFFERENCE}};

enum { UNITS = sizeof written / sizeof written[0] };

/* One number as written. */
struct number {
    const char *start, *end;
    double value;
    int figures, decimals;
};

/* Figures that say something: no zeros before, none at the end of a whole number; two at
   least. */
static int figures_of(const char *digits, size_t whole, size_t part)
{
    size_t from = 0;
    size_t to = whole + (part > 0 ? part + 1 : 0);
    while (from < to && (digits[from] == '0' || digits[from] == '.')) {
        from++;
    }
    while (part == 0 && to > from && digits[to - 1] == '0') {
        to--;
    }
    const size_t point = part > 0 && from < whole ? 1 : 0;
    const size_t n = to - from - point;
    return n < 2 ? 2 : (int)n;
}

/* A number that begins at text; false where none does. */
static bool read_number(struct number *out, const char *text)
{
    const char *c = text + (*text == '-');
    const size_t whole = strspn(c, "0123456789");
    const size_t part = c[whole] == '.' ? strspn(c + whole + 1, "0123456789") : 0;
    if (whole == 0 || (c[whole] == '.' && part == 0 && isdigit((unsigned char)*c) == 0)) {
        return false;
    }
    out->start = text;
    out->end = c + whole + (part > 0 ? part + 1 : 0);
    out->value = strtod(text, NULL);
    out->decimals = (int)part;
    out->figures = figures_of(c, whole, part);
    return true;
}

/* The row of the unit that stands at text as a whole word, or -1. */
static int unit_at(const char *text)
{
    for (int i = 0; i < UNITS; i++) {
        const size_t length = strlen(written[i].unit);
        if (strncmp(text, written[i].unit, length) == 0 &&
            strchr("/_2346789^", text[length] == '\0' ? ' ' : text[length]) == NULL &&
            isalnum((unsigned char)text[length]) == 0) {
            return i;
        }
    }
    return -1;
}

static void put(char *text, size_t size, size_t *used, const char *from, size_t length)
{
    const size_t room = size - 1 - *used;
    const size_t taken = length < room ? length : room;
    memcpy(text + *used, from, taken);
    *used += taken;
    text[*used] = '\0';
}

/* A level keeps its decimals, anything else its figures. */
static void put_number(char *text, size_t size, size_t *used, const struct number *number,
                       enum uf_quantity kind)
{
    char shown[40];
    const double si = number->value / uf_quantity_value(kind, UF_UNITS_SI, 1.0);
    const double value = uf_quantity_value(kind, UF_UNITS_US, si);
    const double size_of = fabs(value) > 0.0 ? floor(log10(fabs(value))) : 0.0;
    const int decimals = kind == UF_QUANTITY_TEMPERATURE
                             ? number->decimals
                             : (int)fmin(6.0, fmax(0.0, number->figures - 1 - size_of));
    (void)snprintf(shown, sizeof shown, "%.*f", decimals, value);
    put(text, size, used, shown, strlen(shown));
}

/* " to 20", " and 20", " or 20": the second number of a pair, with its word before it. */
static bool read_second(struct number *out, const char *text)
{
    static const char *const words[] = {" to ", " and ", " or "};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const size_t length = strlen(words[i]);
        if (strncmp(text, words[i], length) == 0) {
            return read_number(out, text + length);
        }
    }
    return false;
}

/* Takes a number, or two, with their unit; NULL when none stands here, else what follows.
 */
static const char *take(char *text, size_t size, size_t *used, const char *source)
{
    struct number first;
    struct number second;
    if (!read_number(&first, source)) {
        return NULL;
    }
    const bool pair = read_second(&second, first.end);
    const char *end = pair ? second.end : first.end;
    const int row = *end == ' ' ? unit_at(end + 1) : -1;
    if (row < 0) {
        return NULL;
    }
    const enum uf_quantity kind = written[row].kind;
    const char *unit = uf_quantity_unit(kind, UF_UNITS_US);
    put_number(text, size, used, &first, kind);
    if (pair) {
        put(text, size, used, first.end, (size_t)(second.start - first.end));
        put_number(text, size, used, &second, kind);
    }
    put(text, size, used, " ", 1);
    put(text, size, used, unit, strlen(unit));
    return end + 1 + strlen(written[row].unit);
}

char *uf_quantity_words(char *text, size_t size, enum uf_units units, const char *source)
{
    size_t used = 0;
    bool in_word = false;
    text[0] = '\0';
    while (*source != '\0' && used + 1 < size) {
        const char *after =
            units == UF_UNITS_US && !in_word ? take(text, size, &used, source) : NULL;
        if (after != NULL) {
            source = after;
            in_word = true;
            continue;
        }
        in_word = isalnum((unsigned char)*source) != 0 || strchr(".-", *source) != NULL;
        text[used++] = *source++;
        text[used] = '\0';
    }
    return text;
}
