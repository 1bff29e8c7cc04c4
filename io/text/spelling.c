#include "spelling.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS     "0123456789"
#define MOST_BYTES 80 /* longer is no value that a person writes */

static const char *const feet_words[] = {"ft", "foot", "feet", "FT", "'", "\xe2\x80\xb2", NULL};
static const char *const inch_words[] = {"in", "inch", "inches",       "IN",
                                         "\"", "''",   "\xe2\x80\xb3", NULL};

/* Length of the word of the list that the text begins with, and that ends there; 0: none. */
static size_t begins_with(const char *text, const char *const *words)
{
    size_t longest = 0;
    for (; *words != NULL; words++) {
        const size_t n = strlen(*words);
        if (n > longest && strncmp(text, *words, n) == 0 &&
            (!isalpha((unsigned char)**words) || !isalpha((unsigned char)text[n]))) {
            longest = n;
        }
    }
    return longest;
}

static bool is_end(const char *text)
{
    return text[strspn(text, " \t")] == '\0';
}

/* Digits, a stroke, digits: "1/4", with no point near. 0 bytes: it is none. */
static size_t read_fraction(double *value, const char *text)
{
    const size_t above = strspn(text, DIGITS);
    const char *below = text + above + 1;
    const size_t n = above > 0 && text[above] == '/' ? strspn(below, DIGITS) : 0;
    if (n == 0 || above > 4 || n > 4 || below[n] == '.' || below[n] == '/' ||
        strtol(below, NULL, 10) == 0) {
        return 0;
    }
    *value = (double)strtol(text, NULL, 10) / (double)strtol(below, NULL, 10);
    return above + 1 + n;
}

/* A number at the text's beginning: 1.4, 95 1/4, 95-1/4 or 3/8; in the C locale, by hand of digits and
   one point. 0 bytes: none of these. *whole: it is whole. */
static size_t read_number(double *value, bool *whole, const char *text)
{
    double fraction = 0.0, sign = 1.0;
    size_t n = 0;
    if (text[0] == '-' || text[0] == '+') {
        sign = text[0] == '-' ? -1.0 : 1.0;
        n = 1;
    }
    *whole = false;
    size_t used = read_fraction(&fraction, text + n);
    if (used > 0) {
        *value = sign * fraction;
        return n + used;
    }
    const size_t digits = strspn(text + n, DIGITS);
    if (digits == 0 || digits > 9) {
        return 0;
    }
    const double integer = (double)strtol(text + n, NULL, 10);
    n += digits;
    if (text[n] == '.') {
        const size_t decimals = strspn(text + n + 1, DIGITS);
        const double part = decimals > 9 ? 0.0 : (double)strtol(text + n + 1, NULL, 10);
        *value = sign * (integer + part / pow(10.0, (double)decimals));
        return decimals > 9 || decimals == 0 ? 0 : n + 1 + decimals;
    }
    const size_t gap = text[n] == '-' ? 1 : strspn(text + n, " ");
    used = gap > 0 ? read_fraction(&fraction, text + n + gap) : 0;
    *value = sign * (integer + (used > 0 ? fraction : 0.0));
    *whole = used == 0;
    return used > 0 ? n + gap + used : n;
}

/* Whole feet and then inches, however many: 5' 6", 5 ft 6 in, 5'-6 1/2". */
static bool read_both(double *feet, double *inches, const char *text)
{
    bool whole;
    const size_t n = read_number(feet, &whole, text);
    const char *at = text + n + strspn(text + n, " ");
    const size_t foot = n > 0 && whole ? begins_with(at, feet_words) : 0;
    if (foot == 0) {
        return false;
    }
    at += foot + strspn(at + foot, " ");
    at += *at == '-';
    at += strspn(at, " ");
    const size_t more = read_number(inches, &whole, at);
    const char *mark = at + more + strspn(at + more, " ");
    const size_t end = more > 0 ? begins_with(mark, inch_words) : 0;
    return end > 0 && is_end(mark + end);
}

bool uf_spelling_past_foot(struct uf_units_fault *fault, const char *text)
{
    double feet = 0.0, inches = 0.0;
    if (strlen(text) > MOST_BYTES || !read_both(&feet, &inches, text) || !(feet >= 0.0) ||
        !(inches >= 12.0)) {
        return false;
    }
    (void)snprintf(fault->what, sizeof fault->what, "%g inches after the feet", inches);
    (void)snprintf(fault->allowed, sizeof fault->allowed,
                   "inches from 0 to under 12: %g ft %g in, if that is meant",
                   feet + floor(inches / 12.0), fmod(inches, 12.0));
    return true;
}

/* Feet and inches, or one of them by its mark. */
static bool put_length(char *out, size_t size, const char *text)
{
    double feet, inches;
    bool whole;
    const size_t n = read_number(&feet, &whole, text);
    const char *at = text + n + strspn(text + n, " ");
    const size_t foot = n > 0 ? begins_with(at, feet_words) : 0;
    const size_t inch = n > 0 ? begins_with(at, inch_words) : 0;
    const size_t mark_alone = inch > foot ? inch : foot;
    if (mark_alone > 0 && is_end(at + mark_alone)) {
        const bool fraction = memchr(text, '/', n) != NULL;
        const char *const unit = inch > foot ? "in" : "ft";
        if (fraction) {
            (void)snprintf(out, size, "%.17g %s", feet, unit);
        } else { /* digit by digit as it was written */
            (void)snprintf(out, size, "%.*s %s", (int)n, text, unit);
        }
        return fraction || !isalpha((unsigned char)*at);
    }
    if (!read_both(&feet, &inches, text) || !(inches >= 0.0 && inches < 12.0)) {
        return false;
    }
    (void)snprintf(out, size, "%.17g ft", feet + (text[0] == '-' ? -inches : inches) / 12.0);
    return true;
}

/* "R-10", "R 10", "RSI-1.8". */
static bool put_resistance(char *out, size_t size, const char *text)
{
    const bool si = strncmp(text, "RSI", 3) == 0;
    const char *at = text + (si ? 3 : 1);
    double value;
    bool whole;
    if (text[0] != 'R') {
        return false;
    }
    at += *at == '-' || *at == ' ';
    const size_t n = isdigit((unsigned char)*at) ? read_number(&value, &whole, at) : 0;
    if (n == 0 || !is_end(at + n)) {
        return false;
    }
    (void)snprintf(out, size, "%.17g %s", value, si ? "m2.K/W" : "ft2.hr.degF/BTU");
    return true;
}

/* The same text with F and C as degrees, where other units stand beside them. false: none does. */
static bool put_degrees(char *out, size_t size, const char *unit)
{
    size_t words = 0, changed = 0, used = 0;
    while (*unit != '\0' && used + 8 < size) {
        size_t n = 0;
        while (isalpha((unsigned char)unit[n])) {
            n++;
        }
        if (n == 0) {
            out[used++] = *unit++;
            continue;
        }
        const bool degree = n == 1 && (*unit == 'F' || *unit == 'C');
        words++;
        changed += degree;
        used += (size_t)snprintf(out + used, size - used, "%s%.*s", degree ? "deg" : "",
                                 (int)(n < size - used - 4 ? n : 0), unit);
        unit += n;
    }
    out[used] = '\0';
    return changed > 0 && words > 1;
}

const char *uf_spelling_plain(char *out, size_t size, const char *text,
                              const struct uf_measure *measure)
{
    double value;
    bool whole;
    char unit[UF_SPELLING_SIZE];
    if (strlen(text) > MOST_BYTES) {
        return text;
    }
    if ((measure == &uf_units_length && put_length(out, size, text)) ||
        (measure == &uf_units_resistance && put_resistance(out, size, text))) {
        return out;
    }
    const size_t n = read_number(&value, &whole, text);
    const bool degrees = put_degrees(unit, sizeof unit, text + n);
    const bool fraction = n > 0 && memchr(text, '/', n) != NULL;
    if (!degrees && !fraction) {
        return text;
    }
    if (fraction) {
        (void)snprintf(out, size, "%.17g%s", value, degrees ? unit : text + n);
    } else {
        (void)snprintf(out, size, "%.*s%s", (int)n, text, unit);
    }
    return out;
}

int uf_spelling_inches(const char *text)
{
    double inches;
    bool whole;
    const size_t n = read_number(&inches, &whole, text);
    const char *at = text + n + strspn(text + n, " ");
    const size_t mark = n > 0 ? begins_with(at, inch_words) : 0;
    return mark > 0 && is_end(at + mark) && inches > 0.0 && inches < 1000.0 &&
                   inches == floor(inches)
               ? (int)inches
               : 0;
}

char *uf_spelling_words(char *out, size_t size, const char *word)
{
    (void)snprintf(out, size, "%s", word);
    for (char *at = out; *at != '\0'; at++) {
        *at = *at == '_' ? ' ' : *at;
    }
    return out;
}
