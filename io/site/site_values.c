#include "io/text/quote.h"
#include "io/text/spelling.h"
#include "site_private.h"
#include "solver/base/calendar.h"
#include "solver/base/name.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Kinds of value that need nothing but the row of their key: quantities, numbers, words,
   texts, dates, prices. A value that is wrong becomes NAN, so that no default stands in
   for it. */

#define SIGNATURE                                                                                  \
    struct site_reader *reader, const struct site_key *key, const struct site_place *place,        \
        const yaml_node_t *node, void *target

/* "0.05 m to 20 m", as the row of the key has it. */
static const char *range_text(char *text, size_t size, const struct site_key *key)
{
    (void)snprintf(text, size, "%g to %g%s%s", key->low, key->high, key->unit[0] != '\0' ? " " : "",
                   key->unit);
    return text;
}

/* Is the value, in the measure's own unit, within the row's range? */
static bool is_within(const struct site_key *key, double value)
{
    double low = key->low, high = key->high;
    if (key->measure != NULL) {
        const bool inverse = key->unit[0] == '/';
        char unit[40];
        (void)snprintf(unit, sizeof unit, "%s%s", inverse ? "1" : "", key->unit);
        if (uf_units_convert(&low, key->low, unit, key->measure->unit, NULL) != UF_OK ||
            uf_units_convert(&high, key->high, unit, key->measure->unit, NULL) != UF_OK) {
            return false;
        }
        if (key->measure->rule == UF_UNIT_DIFFERENCE) {
            low = key->low;
            high = key->high;
        }
    }
    const double slack = 1e-9 * (fabs(low) + fabs(high));
    return value >= low - slack && value <= high + slack;
}

/* Stores a value that lies within the row's range; blames it otherwise. */
static bool store_within(struct site_reader *reader, const struct site_key *key,
                         const struct site_place *place, const char *text, double value,
                         double *target)
{
    char range[100], quoted[60];
    if (!is_within(key, value)) {
        uf_site_blame(reader, place, range_text(range, sizeof range, key), "%s is out of range",
                      uf_quote_text(quoted, sizeof quoted, text));
        return false;
    }
    *target = value;
    return true;
}

bool uf_site_quantity_of(struct site_reader *reader, const struct site_key *key,
                         const struct site_place *place, const char *text, double *target)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    double value;
    *target = NAN;
    const enum uf_status status = uf_units_read(&value, text, key->measure, key->unit, &fault);
    if (status == UF_E_FILE) {
        reader->no_units = true;
        (void)snprintf(reader->no_units_text, sizeof reader->no_units_text, "%s", fault.allowed);
        return false;
    }
    if (status != UF_OK) {
        char allowed[200];
        if (fault.bare) {
            uf_site_suggest_value(allowed, sizeof allowed, reader, key, text);
        }
        uf_site_blame(reader, place, fault.bare ? allowed : fault.allowed, "%s", fault.what);
        return false;
    }
    return store_within(reader, key, place, text, value, target);
}

static bool quantity(SIGNATURE)
{
    const char *text = uf_site_scalar(reader, place, node);
    if (text == NULL) {
        *(double *)target = NAN;
        return false;
    }
    return uf_site_quantity_of(reader, key, place, text, target);
}

bool uf_site_each(struct site_reader *reader, const struct site_key *key,
                  const struct site_place *place, const yaml_node_t *node, void *target,
                  site_read *read)
{
    char *values = target;
    /* the count stands in the same struct as the values, at a known distance from them */
    size_t *count = (size_t *)(void *)(values - key->offset + key->count_offset);
    if (node->type != YAML_SEQUENCE_NODE) {
        *count = 1;
        return read(reader, key, place, node, values);
    }
    const size_t n = (size_t)(node->data.sequence.items.top - node->data.sequence.items.start);
    bool ok = n <= key->room;
    if (!ok) {
        char allowed[60];
        (void)snprintf(allowed, sizeof allowed, "at most %zu", key->room);
        uf_site_blame(reader, place, allowed, "%zu values are given", n);
    }
    for (size_t i = 0; i < n && i < key->room; i++) {
        const int id = node->data.sequence.items.start[i];
        char path[sizeof place->path];
        (void)snprintf(path, sizeof path, "%.100s[%zu]", place->path, i);
        yaml_node_t *item = yaml_document_get_node(&reader->document, id);
        struct site_place at = uf_site_place_of(reader, item, path);
        ok = uf_site_enter(reader, &at, id) &&
             read(reader, key, &at, item, values + i * key->row_size) && ok;
    }
    *count = n < key->room ? n : key->room;
    return ok;
}

/* Thickness of a board: in whole inches it is the nominal one, as boards are sold. */
static bool sheet(SIGNATURE)
{
    const char *text = uf_site_scalar(reader, place, node);
    const int inches = text != NULL ? uf_spelling_inches(text) : 0;
    if (!quantity(reader, key, place, node, target)) {
        return false;
    }
    if (inches > 0) {
        *(double *)target = inches * UF_NOMINAL_INCH_M;
        reader->site->design.board.nominal_inches = true;
    }
    return true;
}

static bool sheets(SIGNATURE)
{
    return uf_site_each(reader, key, place, node, target, sheet);
}

static bool quantities(SIGNATURE)
{
    return uf_site_each(reader, key, place, node, target, quantity);
}

static bool number(SIGNATURE)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    const char *text = uf_site_scalar(reader, place, node);
    double value = NAN;
    *(double *)target = NAN;
    if (text == NULL) {
        return false;
    }
    if (uf_units_read_number(&value, text, &fault) != UF_OK) {
        uf_site_blame(reader, place, fault.allowed, "%s", fault.what);
        return false;
    }
    return store_within(reader, key, place, text, value, target);
}

static bool count(SIGNATURE)
{
    double value = NAN;
    if (!number(reader, key, place, node, &value)) {
        return false;
    }
    if (value != floor(value)) {
        uf_site_blame(reader, place, "a whole number", "%g is not a whole number", value);
        return false;
    }
    *(size_t *)target = (size_t)value;
    return true;
}

/* The row of the word, or NULL after a fault. */
static const struct site_word_row *find_word(struct site_reader *reader,
                                             const struct site_word_row *rows,
                                             const struct site_place *place,
                                             const yaml_node_t *node)
{
    const char *text = uf_site_scalar(reader, place, node), *words[12] = {NULL};
    char allowed[200], quoted[60];
    if (text == NULL) {
        return NULL;
    }
    const struct site_word_row *row = uf_name_find(rows, sizeof rows[0], text);
    if (row != NULL) {
        return row;
    }
    for (size_t i = 0; i < 11 && rows[i].word != NULL; i++) {
        words[i] = rows[i].word;
    }
    uf_site_suggest_word(allowed, sizeof allowed, text, words);
    uf_site_blame(reader, place, allowed, "'%s' is not one of its words",
                  uf_quote_text(quoted, sizeof quoted, text));
    return NULL;
}

static bool word(SIGNATURE)
{
    const struct site_word_row *row = find_word(reader, key->words, place, node);
    if (row != NULL) {
        *(unsigned *)target = (unsigned)row->value; /* every enum of the case is an unsigned */
    }
    return row != NULL;
}

static bool letter(SIGNATURE)
{
    const struct site_word_row *row = find_word(reader, key->words, place, node);
    if (row != NULL) {
        *(char *)target = (char)row->value;
    }
    return row != NULL;
}

static bool yes_no(SIGNATURE)
{
    static const struct site_word_row rows[] = {{"yes", 1},  {"no", 0},    {"on", 1}, {"off", 0},
                                                {"true", 1}, {"false", 0}, {NULL, 0}};
    (void)key;
    const struct site_word_row *row = find_word(reader, rows, place, node);
    if (row != NULL) {
        *(bool *)target = row->value != 0;
    }
    return row != NULL;
}

static bool text(SIGNATURE)
{
    const char *value = uf_site_scalar(reader, place, node);
    if (value == NULL) {
        return false;
    }
    for (const char *c = value; *c != '\0'; c++) {
        if (iscntrl((unsigned char)*c)) {
            uf_site_blame(reader, place, "text on one line", "holds a control character");
            return false;
        }
    }
    if (strlen(value) >= key->room) {
        char allowed[60];
        (void)snprintf(allowed, sizeof allowed, "at most %zu bytes", key->room - 1);
        uf_site_blame(reader, place, allowed, "is %zu bytes long", strlen(value));
        return false;
    }
    memcpy(target, value, strlen(value) + 1);
    return true;
}

static bool date(SIGNATURE)
{
    char quoted[60];
    const char *value = uf_site_scalar(reader, place, node);
    (void)key;
    if (value == NULL) {
        return false;
    }
    if (!uf_calendar_parse(value, target)) {
        uf_site_blame(reader, place, "a date such as 2014-10-02", "'%s' is no date",
                      uf_quote_text(quoted, sizeof quoted, value));
        return false;
    }
    return true;
}

static bool currency(SIGNATURE)
{
    const char *value = uf_site_scalar(reader, place, node);
    if (value == NULL) {
        return false;
    }
    size_t n = 0;
    while (isalpha((unsigned char)value[n])) {
        n++;
    }
    if (n == 0 || n >= key->room || value[n] != '\0') {
        uf_site_blame(reader, place, "a word of one to seven letters, such as CAD",
                      "is not the name of a currency");
        return false;
    }
    memcpy(target, value, n + 1);
    return true;
}

/* "25 CAD/m3" becomes "25 /m3" where CAD is the named currency. */
static bool price(SIGNATURE)
{
    const char *value = uf_site_scalar(reader, place, node);
    char plain[120];
    *(double *)target = NAN;
    if (value == NULL) {
        return false;
    }
    (void)uf_quote_text(plain, sizeof plain, value);
    char *slash = strchr(plain, '/');
    const size_t n = strlen(reader->currency);
    if (slash != NULL && n > 0) {
        char *end = slash;
        while (end > plain && end[-1] == ' ') {
            end--;
        }
        if ((size_t)(end - plain) > n && memcmp(end - n, reader->currency, n) == 0 &&
            !isalpha((unsigned char)end[-(long)n - 1])) {
            memmove(end - n, slash, strlen(slash) + 1);
        }
    }
    return uf_site_quantity_of(reader, key, place, plain, target);
}

const struct site_kind uf_site_quantity = {"a number with its unit", quantity, false};
const struct site_kind uf_site_quantities = {"a list of numbers with units", quantities, false};
const struct site_kind uf_site_sheet = {"a thickness of board", sheet, false};
const struct site_kind uf_site_sheets = {"a list of thicknesses of board", sheets, false};
const struct site_kind uf_site_number = {"a number", number, false};
const struct site_kind uf_site_count = {"a whole number", count, false};
const struct site_kind uf_site_word = {"a word", word, false};
const struct site_kind uf_site_letter = {"a letter", letter, false};
const struct site_kind uf_site_yes_no = {"yes or no", yes_no, false};
const struct site_kind uf_site_text = {"a text", text, false};
const struct site_kind uf_site_date = {"a date", date, false};
const struct site_kind uf_site_currency = {"a word", currency, false};
const struct site_kind uf_site_price = {"an amount of money", price, false};
