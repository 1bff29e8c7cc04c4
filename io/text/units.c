#include "units.h"

#include "quote.h"
#include "solver/base/constants.h"
#include "spelling.h"

#include <udunits2.h>

#include <ctype.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const share_words[] = {"percent", "%", NULL};
static const char *const angle_words[] = {"degrees_north", "degree_north", "degrees_N", "degree_N",
                                          "degrees",       "degree",       "°",         NULL};

const struct uf_measure uf_units_length = {"a length", "m", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_temperature = {"a temperature", "degC", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_difference = {"a difference of temperatures", "K",
                                               UF_UNIT_DIFFERENCE, NULL};
const struct uf_measure uf_units_conductivity = {"a thermal conductivity", "W/m/K", UF_UNIT_PLAIN,
                                                 NULL};
const struct uf_measure uf_units_film = {"a film coefficient", "W/m2/K", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_resistance = {"a thermal resistance", "m2.K/W", UF_UNIT_PLAIN,
                                               NULL};
const struct uf_measure uf_units_flux = {"a heat flux", "W/m2", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_capacity = {"a heat capacity per volume", "J/m3/K", UF_UNIT_PLAIN,
                                             NULL};
const struct uf_measure uf_units_latent = {"a heat per volume", "J/m3", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_density = {"a density", "kg/m3", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_weight = {"a weight per volume", "N/m3", UF_UNIT_WEIGHT, NULL};
const struct uf_measure uf_units_pressure = {"a pressure", "Pa", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_force = {"a force", "N", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_mass = {"a mass", "kg", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_duration = {"a length of time", "day", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_flow = {"a volume in time", "m3/s", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_speed = {"a speed", "m/s", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_volume = {"a volume", "m3", UF_UNIT_PLAIN, NULL};
const struct uf_measure uf_units_share = {"a share", "1", UF_UNIT_PLAIN, share_words};
const struct uf_measure uf_units_angle = {"an angle", "degree", UF_UNIT_PLAIN, angle_words};
const struct uf_measure uf_units_per_volume = {"an amount of money for a volume", "m-3",
                                               UF_UNIT_PLAIN, NULL};

const struct uf_measure uf_units_per_area = {"an amount of money for an area", "m-2", UF_UNIT_PLAIN,
                                             NULL};
const struct uf_measure uf_units_per_length = {"an amount of money for a length", "m-1",
                                               UF_UNIT_PLAIN, NULL};

/* The database, read once; the one thing in this file that changes. */
static ut_system *database;

/* Words of the trade that the database lacks, or spells otherwise. */
static const struct {
    const char *word, *meaning;
} aliases[] = {
    {"pcf", "lb/ft3"},
    {"psf", "lbf/ft2"},
    {"pci", "lbf/in3"},
    {"gpm", "US_liquid_gallon/min"},
    {"lbs", "lb"},
    {"KN", "kN"},
    {"kpa", "kPa"},
    {"PSI", "psi"},
    {"FT", "ft"},
    {"kip", "1000 lbf"},
    {"gal", "US_liquid_gallon"},
};

/* Units that are often written so and mean something else to the database: what to write, and why. */
static const struct {
    const struct uf_measure *measure;
    const char *unit, *write, *why;
} hints[] = {
    {&uf_units_temperature, "F", "degF", " (F alone is the farad)"},
    {&uf_units_temperature, "C", "degC", " (C alone is the coulomb)"},
    {&uf_units_difference, "F", "degF", " (F alone is the farad)"},
    {&uf_units_difference, "C", "degC", " or K (C alone is the coulomb)"},
    {&uf_units_conductivity, "W/mK", "W/m/K", " (mK is the millikelvin)"},
    {&uf_units_film, "W/m2K", "W/m2/K", ""},
    {&uf_units_resistance, "m2K/W", "m2.K/W", ""},
    {&uf_units_force, "kg", "kgf", ", or in N or kN: kg is a mass, not a force"},
    {&uf_units_force, "lb", "lbf", ": lb is a mass, not a force"},
    {&uf_units_force, "lbs", "lbf", ": lbs is a mass, not a force"},
};

static bool add_alias(const char *word, const char *meaning)
{
    ut_unit *unit = ut_parse(database, meaning, UT_UTF8);
    (void)ut_unmap_symbol_to_unit(database, word, UT_UTF8);
    (void)ut_unmap_name_to_unit(database, word, UT_UTF8);
    const bool ok = unit != NULL && ut_map_name_to_unit(word, UT_UTF8, unit) == UT_SUCCESS;
    ut_free(unit);
    return ok;
}

static enum uf_status open_database(struct uf_error *err)
{
    if (database != NULL) {
        return UF_OK;
    }
    (void)ut_set_error_message_handler(ut_ignore);
    database = ut_read_xml(NULL);
    bool ok = database != NULL;
    for (size_t i = 0; ok && i < sizeof aliases / sizeof aliases[0]; i++) {
        ok = add_alias(aliases[i].word, aliases[i].meaning);
    }
    if (!ok) {
        uf_units_close();
        return uf_fail(err, UF_E_FILE,
                       "the database of units cannot be read; install UDUNITS-2 with its data, or "
                       "let UDUNITS2_XML_PATH name udunits2.xml");
    }
    return UF_OK;
}

void uf_units_close(void)
{
    ut_free_system(database);
    database = NULL;
}

/* A straight line out = slope x + offset. */
struct line {
    double slope, offset;
};

/* A unit by the database; NULL when there is none. A control character is none either:
   the library would echo it on standard output. */
static ut_unit *parse_unit(const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        if (iscntrl((unsigned char)*c)) {
            return NULL;
        }
    }
    return ut_parse(database, text, UT_UTF8);
}

/* The line from one unit to another; false when there is none. UDUNITS also converts to
   reciprocals and logarithms, which are no straight line and never what was meant. */
static bool find_line(struct line *line, const char *from, const char *to)
{
    bool ok = false;
    ut_unit *a = parse_unit(from), *b = parse_unit(to);
    cv_converter *convert = a != NULL && b != NULL ? ut_get_converter(a, b) : NULL;
    if (convert != NULL) {
        const double at_0 = cv_convert_double(convert, 0.0);
        const double at_1 = cv_convert_double(convert, 1.0);
        const double at_7 = cv_convert_double(convert, 7.0);
        line->slope = at_1 - at_0;
        line->offset = at_0;
        ok = line->slope > 0.0 && isfinite(at_0) &&
             fabs(at_7 - at_0 - 7.0 * line->slope) <= 1e-9 * fabs(at_7 - at_0);
    }
    cv_free(convert);
    ut_free(a);
    ut_free(b);
    return ok;
}

static bool is_known(const char *unit)
{
    ut_unit *parsed = parse_unit(unit);
    const bool known = parsed != NULL;
    ut_free(parsed);
    return known;
}

enum uf_status uf_units_convert(double *out, double value, const char *from, const char *to,
                                struct uf_error *err)
{
    struct line line;
    const enum uf_status status = open_database(err);
    if (status != UF_OK) {
        return status;
    }
    if (!find_line(&line, from, to)) {
        return uf_fail(err, UF_E_INPUT, "'%.60s' does not convert to '%.60s'", from, to);
    }
    *out = line.slope * value + line.offset;
    return UF_OK;
}

/* strtod as in the C locale, whatever the caller's locale is. */
static double read_double(const char *text, char **end)
{
    locale_t c_locale = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    const locale_t before = c_locale != (locale_t)0 ? uselocale(c_locale) : (locale_t)0;
    const double value = strtod(text, end);
    if (c_locale != (locale_t)0) {
        (void)uselocale(before);
        freelocale(c_locale);
    }
    return value;
}

/* The number a text begins with; *rest is what follows it and blanks. */
static enum uf_status take_number(double *value, const char **rest, const char *text,
                                  struct uf_units_fault *fault)
{
    char *end = NULL, quoted[60];
    *value = read_double(text, &end);
    (void)uf_quote_text(quoted, sizeof quoted, text);
    (void)snprintf(fault->allowed, sizeof fault->allowed, "a number, such as 1.4");
    if (end == text) {
        (void)snprintf(fault->what, sizeof fault->what, "'%s' does not begin with a number",
                       quoted);
        return UF_E_INPUT;
    }
    if (memchr(text, 'x', (size_t)(end - text)) != NULL ||
        memchr(text, 'X', (size_t)(end - text)) != NULL) {
        (void)snprintf(fault->what, sizeof fault->what, "'%s' is no decimal number", quoted);
        return UF_E_INPUT;
    }
    if (!isfinite(*value)) {
        (void)snprintf(fault->what, sizeof fault->what, "'%s' is not a finite number", quoted);
        return UF_E_INPUT;
    }
    if (*end == ',') {
        (void)snprintf(fault->what, sizeof fault->what, "'%s' has a comma", quoted);
        (void)snprintf(fault->allowed, sizeof fault->allowed,
                       "a decimal point and no thousands marks, such as 1.4");
        return UF_E_INPUT;
    }
    *rest = end + strspn(end, " \t");
    return UF_OK;
}

enum uf_status uf_units_read_number(double *value, const char *text, struct uf_units_fault *fault)
{
    double number;
    const char *rest = NULL;
    const enum uf_status status = take_number(&number, &rest, text, fault);
    if (status != UF_OK) {
        return status;
    }
    if (*rest != '\0') {
        char quoted[60];
        (void)snprintf(fault->what, sizeof fault->what, "'%s' is more than a number",
                       uf_quote_text(quoted, sizeof quoted, text));
        (void)snprintf(fault->allowed, sizeof fault->allowed, "a plain number without unit");
        return UF_E_INPUT;
    }
    *value = number;
    return UF_OK;
}

/* Is there a number in the unit that is no exponent? "cm 3", "3 m", "m@3"; but not "m3",
   "m-2", "s^-1". */
static bool has_free_number(const char *unit)
{
    for (const char *c = unit; *c != '\0'; c++) {
        if (!isdigit((unsigned char)*c) || (c > unit && isdigit((unsigned char)c[-1]))) {
            continue;
        }
        const char *before = c;
        if (before > unit && (before[-1] == '-' || before[-1] == '+')) {
            before--;
        }
        if (before > unit && before[-1] == '^') {
            continue;
        }
        if (before == unit || !isalpha((unsigned char)before[-1])) {
            return true;
        }
    }
    return false;
}

/* Is every bracket closed? The database does not mind one that closes nothing. */
static bool brackets_match(const char *unit)
{
    int open = 0;
    for (const char *c = unit; *c != '\0' && open >= 0; c++) {
        open += *c == '(' ? 1 : *c == ')' ? -1 : 0;
    }
    return open == 0;
}

/* Is one of its words a mere number to the database, as percent or the angles ' and "
   are? "4 m %" would be taken as 0.04 m. */
static bool has_hidden_number(const char *unit)
{
    static const char between[] = " \t./*()^+-0123456789";
    while (*(unit += strspn(unit, between)) != '\0') {
        struct line line;
        char word[64];
        const size_t n = strcspn(unit, between);
        (void)snprintf(word, sizeof word, "%.*s", (int)n, unit);
        if (find_line(&line, word, "1")) {
            return true;
        }
        unit += n;
    }
    return false;
}

static bool is_one_of(const char *word, const char *const *words)
{
    for (; *words != NULL; words++) {
        if (strcmp(word, *words) == 0) {
            return true;
        }
    }
    return false;
}

/* The line from a user's unit to the measure's own, by its rule. */
static bool find_measure_line(struct line *line, const char *unit, const struct uf_measure *measure)
{
    if (measure->words != NULL ? !is_one_of(unit, measure->words)
                               : !brackets_match(unit) || has_hidden_number(unit)) {
        return false;
    }
    bool ok = find_line(line, unit, measure->unit);
    if (!ok && measure->rule == UF_UNIT_WEIGHT) {
        ok = find_line(line, unit, "kg/m3");
        line->slope = ok ? line->slope * UF_GRAVITY_M_S2 : 0.0;
    }
    if (measure->rule == UF_UNIT_DIFFERENCE) {
        line->offset = 0.0;
    }
    return ok;
}

static void explain_unit(struct uf_units_fault *fault, double number, const char *unit,
                         const struct uf_measure *measure, const char *example)
{
    char quoted[60];
    (void)uf_quote_text(quoted, sizeof quoted, unit);
    (void)snprintf(fault->what, sizeof fault->what,
                   is_known(unit) ? "'%s' is no unit of %s" : "'%s' is not a known unit for %s",
                   quoted, measure->name);
    for (size_t i = 0; i < sizeof hints / sizeof hints[0]; i++) {
        if (measure == hints[i].measure && strcmp(unit, hints[i].unit) == 0) {
            (void)snprintf(fault->allowed, sizeof fault->allowed, "write %g %s%s", number,
                           hints[i].write, hints[i].why);
        }
    }
    if (fault->allowed[0] == '\0') {
        (void)snprintf(fault->allowed, sizeof fault->allowed, "%s, for example in %s",
                       measure->name, example);
    }
}

enum uf_status uf_units_read(double *value, const char *text, const struct uf_measure *measure,
                             const char *example, struct uf_units_fault *fault)
{
    struct uf_error err = {0};
    struct line line;
    double number;
    const char *rest = NULL;
    char unit[100], quoted[60], spelled[UF_SPELLING_SIZE];
    if (open_database(&err) != UF_OK) {
        (void)snprintf(fault->what, sizeof fault->what, "no unit can be read");
        (void)snprintf(fault->allowed, sizeof fault->allowed, "%.190s", err.text);
        return UF_E_FILE;
    }
    (void)uf_quote_text(quoted, sizeof quoted, text);
    const enum uf_status status = take_number(
        &number, &rest, uf_spelling_plain(spelled, sizeof spelled, text, measure), fault);
    if (status != UF_OK) {
        return status;
    }
    fault->allowed[0] = '\0';
    if (*rest == '\0') {
        fault->bare = true;
        (void)snprintf(fault->what, sizeof fault->what, "'%s' has no unit", quoted);
        (void)snprintf(fault->allowed, sizeof fault->allowed, "%s with its unit, such as %s %s",
                       measure->name, quoted, example);
        return UF_E_INPUT;
    }
    (void)snprintf(unit, sizeof unit, "%s%s", *rest == '/' ? "1" : "", rest);
    for (size_t n = strlen(unit); n > 0 && isspace((unsigned char)unit[n - 1]); n--) {
        unit[n - 1] = '\0';
    }
    if (strlen(rest) > 60 || has_free_number(rest) || strchr(rest, '@') != NULL) {
        if (measure != &uf_units_length || !uf_spelling_past_foot(fault, text)) {
            (void)snprintf(fault->what, sizeof fault->what, "'%s' is more than a number and a unit",
                           quoted);
            (void)snprintf(fault->allowed, sizeof fault->allowed,
                           "one number and its unit, such as %g %s", number, example);
        }
        return UF_E_INPUT;
    }
    if (!find_measure_line(&line, unit, measure)) {
        explain_unit(fault, number, unit, measure, example);
        return UF_E_INPUT;
    }
    *value = line.slope * number + line.offset;
    return UF_OK;
}
