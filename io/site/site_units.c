#include "site_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Units to write: of the table of keys, in US customary units, and for a number without one. */

static const struct {
    const char *si, *us;
} pairs[] = {
    {"m", "ft"},
    {"mm", "in"},
    {"degC", "degF"},
    {"K", "degF"},
    {"W/m/K", "BTU/hr/ft/degF"},
    {"W/m2/K", "BTU/hr/ft2/degF"},
    {"m2.K/W", "ft2.hr.degF/BTU"},
    {"W/m2", "BTU/hr/ft2"},
    {"MJ/m3/K", "BTU/ft3/degF"},
    {"MJ/m3", "BTU/ft3"},
    {"kg/m3", "lb/ft3"},
    {"kN/m3", "lbf/ft3"},
    {"kPa", "psi"},
    {"MPa", "psi"},
    {"GPa", "psi"},
    {"kN", "lbf"},
    {"kg", "lb"},
    {"m3/day", "gal/day"},
    {"m3", "yd3"},
    {"/m3", "/yd3"},
    {"/m2", "/ft2"},
    {"/m", "/ft"},
};
#define N_PAIRS (sizeof pairs / sizeof pairs[0])

const char *uf_site_unit(const char *unit, enum uf_units units)
{
    for (size_t i = 0; units == UF_UNITS_US && i < N_PAIRS; i++) {
        if (strcmp(pairs[i].si, unit) == 0) {
            return pairs[i].us;
        }
    }
    return unit;
}

/* What to expect where the start file writes nothing, or writes it in a list. */
static const struct {
    const char *path, *si, *us;
} expected[] = {
    {"ground[].to", "2 m", "6 ft"},
    {"initial.profile", "6 degC", "43 degF"},
    {"tank.risers[].diameter", "0.6 m", "24 in"},
    {"tank.risers[].above_grade", "0.1 m", "4 in"},
    {"tank.risers[].height", "1.2 m", "4 ft"},
    {"tank.risers[].lid", "0.6 m2.K/W", "4 ft2.hr.degF/BTU"},
    {"probes[].depth", "1.2 m", "4 ft"},
    {"pipes[].diameter", "150 mm", "6 in"},
    {"pipes[].depth", "1.8 m", "6 ft"},
    {"choices.cover", "1.2 m", "4 ft"},
    {"choices.thickness", "100 mm", "4 in"},
    {"choices.beyond_tank", "1.2 m", "4 ft"},
    {"choices.skirt", "0.3 m", "1 ft"},
    {"quantities.sheet.length", "2.4 m", "8 ft"},
    {"quantities.sheet.width", "1.2 m", "4 ft"},
    {"quantities.sheet.thickness", "50 mm", "2 in"},
    {"readings[].diameter", "2380 mm", "95 1/4 in"},
};

static const char *find_expected(const char *path, enum uf_units units)
{
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        if (strcmp(expected[i].path, path) == 0) {
            return units == UF_UNITS_US ? expected[i].us : expected[i].si;
        }
    }
    return uf_site_start_value(path, units);
}

#define FACTOR_NEAR 4.0  /* as far from what is expected as this is still near */
#define KELVIN_NEAR 30.0 /* of temperatures */

/* Is the number in this unit a value within the row's range and near what is expected (NAN: any)? */
static bool is_sensible(const struct site_key *key, double number, const char *unit, double usual)
{
    double value, low, high;
    const char *kept = key->measure->unit;
    char from[2][40];
    (void)snprintf(from[0], sizeof from[0], "%s%s", unit[0] == '/' ? "1" : "", unit);
    (void)snprintf(from[1], sizeof from[1], "%s%s", key->unit[0] == '/' ? "1" : "", key->unit);
    if (uf_units_convert(&value, number, from[0], kept, NULL) != UF_OK ||
        uf_units_convert(&low, key->low, from[1], kept, NULL) != UF_OK ||
        uf_units_convert(&high, key->high, from[1], kept, NULL) != UF_OK || !(value >= low) ||
        !(value <= high)) {
        return false;
    }
    return isnan(usual) || value == 0.0 ||
           (key->measure == &uf_units_temperature
                ? fabs(value - usual) <= KELVIN_NEAR
                : value <= FACTOR_NEAR * usual && value * FACTOR_NEAR >= usual);
}

void uf_site_suggest_value(char *text, size_t size, const struct site_reader *reader,
                           const struct site_key *key, const char *number)
{
    const bool us = reader->units == UF_UNITS_US, length = key->measure == &uf_units_length;
    const char *si = key->unit, *other = uf_site_unit(key->unit, UF_UNITS_US);
    /* those of the file first */
    const char *const units[] = {
        us ? other : si, !length ? NULL : us ? "ft" : "m",  !length ? NULL : us ? "in" : "mm",
        us ? si : other, !length ? NULL : us ? "mm" : "in", !length ? NULL : us ? "m" : "ft",
    };
    const char *example = key->path != NULL ? find_expected(key->path, reader->units) : NULL;
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    double usual = NAN, value;
    if (example != NULL &&
        uf_units_read(&value, example, key->measure, key->unit, &fault) == UF_OK) {
        usual = value;
    }
    const double given = strtod(number, NULL);
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (units[i] != NULL && is_sensible(key, given, units[i], usual)) {
            (void)snprintf(text, size, "%s with its unit, such as %.40s %s", key->measure->name,
                           number, units[i]);
            return;
        }
    }
    (void)snprintf(text, size, "%s with its unit, such as %s%s%s", key->measure->name,
                   isnan(usual) ? "1 " : "", isnan(usual) ? units[0] : "",
                   isnan(usual) ? "" : example);
}
