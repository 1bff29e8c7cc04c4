#include "climate_text.h"

#include "io/text/quote.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define BYTE_ORDER_MARK "\xEF\xBB\xBF"

void uf_climate_text_init(struct uf_climate_text *text, FILE *file, const char *name)
{
    text->file = file;
    text->name = name;
    text->line = 0;
    text->text[0] = '\0';
}

enum uf_status uf_climate_text_fail(const struct uf_climate_text *text, struct uf_error *err,
                                    const char *format, ...)
{
    char what[400];
    va_list list;
    va_start(list, format);
    (void)vsnprintf(what, sizeof what, format, list);
    va_end(list);
    return uf_fail_line(err, text->name, (int)text->line, "%s", what);
}

enum uf_status uf_climate_text_next(struct uf_climate_text *text, bool *more, struct uf_error *err)
{
    size_t n = 0;
    int byte = 0;
    text->line++;
    while ((byte = getc(text->file)) != EOF && byte != '\n' && byte != '\r') {
        if (byte == '\0') {
            return uf_climate_text_fail(
                text, err, "holds a zero byte: unpack the file, or save it as plain text (UTF-8)");
        }
        if (n + 1 >= sizeof text->text) {
            return uf_climate_text_fail(text, err,
                                        "is longer than %zu characters: is this the right file?",
                                        sizeof text->text);
        }
        text->text[n++] = (char)byte;
    }
    text->text[n] = '\0';
    if (byte == '\r') { /* alone, or before a line feed */
        const int next = getc(text->file);
        if (next != '\n' && next != EOF) {
            (void)ungetc(next, text->file);
        }
    }
    if (ferror(text->file)) {
        return uf_fail(err, UF_E_FILE, "%s: reading failed: %s", text->name, strerror(errno));
    }
    if (text->line == 1 && strncmp(text->text, BYTE_ORDER_MARK, 3) == 0) {
        memmove(text->text, text->text + 3, n - 2);
    }
    *more = byte != EOF || n > 0;
    return UF_OK;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/* Takes one field off *rest, unquoted and trimmed; *rest becomes NULL after the last. */
static char *take_field(char **rest)
{
    char *from = *rest, *to = NULL, *field = NULL;
    bool quoted = false;
    while (is_blank(*from)) {
        from++;
    }
    field = to = from;
    for (; *from != '\0' && (quoted || *from != ','); from++) {
        if (*from == '"') {
            quoted = !quoted;
        } else {
            *to++ = *from;
        }
    }
    *rest = *from == ',' ? from + 1 : NULL;
    while (to > field && is_blank(to[-1])) {
        to--;
    }
    *to = '\0';
    return field + strspn(field, " \t");
}

size_t uf_climate_text_split(char *line, char **fields, size_t max)
{
    size_t n = 0;
    for (char *rest = line; rest != NULL; n++) {
        char *field = take_field(&rest);
        if (n < max) {
            fields[n] = field;
        }
    }
    return n;
}

bool uf_climate_text_number(const char *field, double *value)
{
    char *end = NULL;
    if (field[0] == '\0' || strspn(field, "+-.0123456789eE") != strlen(field)) {
        return false;
    }
    const double read = strtod(field, &end);
    if (end == field || *end != '\0' || !isfinite(read)) {
        return false;
    }
    *value = read;
    return true;
}

/* Bytes of the UTF-8 character at text, 0 when it is none (or a control character). */
static size_t character(const char *text)
{
    const bool control = (unsigned char)text[0] < 0x20 || text[0] == 0x7F;
    return control ? 0 : uf_quote_character_length((const unsigned char *)text);
}

void uf_climate_text_copy(char *to, size_t size, const char *from)
{
    size_t used = 0;
    while (*from != '\0') {
        const size_t n = character(from);
        if (used + (n > 0 ? n : 1) >= size) {
            break;
        }
        if (n > 0) {
            memcpy(to + used, from, n);
        } else {
            to[used] = '?';
        }
        used += n > 0 ? n : 1;
        from += n > 0 ? n : 1;
    }
    to[used] = '\0';
}

void uf_climate_text_count(char *note, size_t size, size_t count, const char *what)
{
    const size_t used = strlen(note);
    if (count > 0 && used + 1 < size) {
        (void)snprintf(note + used, size - used, "%s%s: %zu", used > 0 ? "; " : "", what, count);
    }
}

void uf_climate_text_where(struct uf_climate_place *place, size_t where, const char *text)
{
    double value = NAN;
    if (isnan(place->at[where]) && uf_climate_text_number(text, &value)) {
        place->at[where] = value;
    }
}

static double within(double value, double low, double high)
{
    return value >= low && value <= high ? value : (double)NAN;
}

void uf_climate_text_settle(struct uf_weather *weather, const struct uf_climate_place *place)
{
    weather->latitude_deg = within(place->at[UF_WHERE_LATITUDE], -90.0, 90.0);
    weather->longitude_deg = within(place->at[UF_WHERE_LONGITUDE], -180.0, 180.0);
    weather->elevation_m = within(place->at[UF_WHERE_ELEVATION], -500.0, 9000.0);
}

/* A number in a text that is followed by one of two letters, negative for the second of them; NAN. */
static double angle_deg(const char *text, const char letters[2], double most)
{
    for (const char *at = text; *at != '\0'; at++) {
        char *end = NULL;
        const bool begins = strchr("0123456789", *at) != NULL &&
                            (at == text || strchr("0123456789.-", at[-1]) == NULL);
        const double value = begins ? strtod(at, &end) : 0.0;
        if (!begins || value > most) {
            continue;
        }
        while (is_blank(*end)) {
            end++;
        }
        const bool ends = strchr(" ,;.)\t", end[0] == '\0' ? ' ' : end[1]) != NULL;
        if ((*end == letters[0] || *end == letters[1]) && ends) {
            return *end == letters[0] ? value : -value;
        }
    }
    return NAN;
}

double uf_climate_text_latitude_deg(const char *text)
{
    return angle_deg(text, "NS", 90.0);
}

double uf_climate_text_longitude_deg(const char *text)
{
    return angle_deg(text, "EW", 180.0);
}

void uf_climate_text_first_line(char *line, size_t size, const char *head)
{
    size_t n = 0;
    head += strncmp(head, BYTE_ORDER_MARK, 3) == 0 ? 3 : 0;
    while (*head == '#' || *head == '\n' || *head == '\r') {
        head += strcspn(head, "\r\n");
        head += *head != '\0' ? 1 : 0;
    }
    for (; *head != '\0' && *head != '\n' && *head != '\r' && n + 1 < size; head++) {
        line[n] = *head;
        n += *head != '"' ? 1 : 0;
    }
    line[n] = '\0';
}

const char *uf_climate_text_shown(const char *field, char shown[48])
{
    size_t n = 0;
    for (; n < 40 && field[n] != '\0'; n++) {
        shown[n] = field[n] >= ' ' && field[n] <= '~' ? field[n] : '?';
    }
    shown[n] = '\0';
    return shown;
}
