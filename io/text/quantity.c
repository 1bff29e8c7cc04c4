#include "quantity.h"

#include "solver/base/constants.h"
#include "solver/design/case.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Pound and Btu (international table): exact by definition. */
#define FT   UF_FOOT_M
#define IN   UF_INCH_M
#define LB   0.45359237
#define LBF  UF_POUND_N
#define GAL  UF_GALLON_M3
#define BTU  1055.05585262
#define HOUR 3600.0
#define DAY  86400.0
#define DEGF (5.0 / 9.0)

struct shown {
    const char *unit;
    double factor, offset;
    int digits;
};

static const struct shown us_rows[UF_QUANTITY_COUNT] = {
    [UF_QUANTITY_LENGTH] = {"ft", 1 / FT, 0, 2},
    [UF_QUANTITY_THICKNESS] = {"in", 1 / IN, 0, 1},
    [UF_QUANTITY_BOARD] = {"in", 1 / UF_NOMINAL_INCH_M, 0, 1},
    [UF_QUANTITY_AREA] = {"ft2", 1 / (FT * FT), 0, 1},
    [UF_QUANTITY_VOLUME] = {"yd3", 1 / (27 * FT * FT * FT), 0, 1},
    [UF_QUANTITY_VOLUME_FINE] = {"ft3", 1 / (FT * FT * FT), 0, 1},
    [UF_QUANTITY_LIQUID] = {"gal", 1 / GAL, 0, 0},
    [UF_QUANTITY_FLOW] = {"gal/day", DAY / GAL, 0, 0},
    [UF_QUANTITY_PUMPED] = {"gpm", 60 / GAL, 0, 0},
    [UF_QUANTITY_TEMPERATURE] = {"degF", 1 / DEGF, 32, 1},
    [UF_QUANTITY_DIFFERENCE] = {"degF", 1 / DEGF, 0, 1},
    [UF_QUANTITY_INDEX] = {"degF day", 1 / DEGF, 0, 0},
    [UF_QUANTITY_FORCE] = {"kip", 1e-3 / LBF, 0, 2},
    [UF_QUANTITY_LINE_LOAD] = {"lbf/ft", FT / LBF, 0, 0},
    [UF_QUANTITY_PRESSURE] = {"psi", IN *IN / LBF, 0, 2},
    [UF_QUANTITY_UNIT_WEIGHT] = {"lbf/ft3", FT *FT *FT / LBF, 0, 1},
    [UF_QUANTITY_DENSITY] = {"lb/ft3", FT *FT *FT / LB, 0, 1},
    [UF_QUANTITY_MASS] = {"lb", 1 / LB, 0, 0},
    [UF_QUANTITY_CONDUCTIVITY] = {"Btu/h/ft/degF", HOUR *FT *DEGF / BTU, 0, 3},
    [UF_QUANTITY_RESISTANCE] = {"h ft2 degF/Btu", BTU / (HOUR * FT * FT * DEGF), 0, 1},
    [UF_QUANTITY_FILM] = {"Btu/h/ft2/degF", HOUR *FT *FT *DEGF / BTU, 0, 2},
    [UF_QUANTITY_HEAT_FLUX] = {"Btu/h/ft2", HOUR *FT *FT / BTU, 0, 3},
    [UF_QUANTITY_HEAT_CAPACITY] = {"Btu/ft3/degF", FT *FT *FT *DEGF / BTU, 0, 1},
    [UF_QUANTITY_LATENT] = {"Btu/ft3", FT *FT *FT / BTU, 0, 0},
    [UF_QUANTITY_POWER] = {"Btu/h", HOUR / BTU, 0, 0},
    [UF_QUANTITY_ENERGY] = {"kWh", 1 / 3.6e6, 0, 0},
    [UF_QUANTITY_TIME] = {"s", 1, 0, 2},
    [UF_QUANTITY_MINUTES] = {"min", 1, 0, 0},
    [UF_QUANTITY_ANGLE] = {"degrees", 180 / UF_PI, 0, 1},
    [UF_QUANTITY_SHARE] = {"percent", 1e2, 0, 1},
    [UF_QUANTITY_DEFLECTION] = {"percent", 1e2, 0, 2},
    [UF_QUANTITY_FACTOR] = {"", 1, 0, 2},
    [UF_QUANTITY_RESIDUAL] = {"", 1, 0, 1},
    [UF_QUANTITY_WHOLE] = {"", 1, 0, 0},
};

static struct shown find(enum uf_quantity kind, enum uf_units units)
{
    const struct uf_quantity_kind *si = &uf_quantity_kinds[kind];
    return units == UF_UNITS_US ? us_rows[kind]
                                : (struct shown){si->unit, si->factor, 0.0, si->digits};
}

const char *uf_quantity_unit(enum uf_quantity kind, enum uf_units units)
{
    return find(kind, units).unit;
}

double uf_quantity_value(enum uf_quantity kind, enum uf_units units, double value)
{
    const struct shown shown = find(kind, units);
    return value * shown.factor + shown.offset;
}

enum uf_quantity uf_quantity_of_unit(const char *held)
{
    static const enum uf_quantity told[] = {
        UF_QUANTITY_LENGTH, UF_QUANTITY_VOLUME,   UF_QUANTITY_TEMPERATURE, UF_QUANTITY_DIFFERENCE,
        UF_QUANTITY_FORCE,  UF_QUANTITY_PRESSURE, UF_QUANTITY_INDEX};
    const char *unit = strcmp(held, "K day") == 0 ? "degC day" : held;
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        if (strcmp(uf_quantity_kinds[told[i]].held, unit) == 0) {
            return told[i];
        }
    }
    return UF_QUANTITY_COUNT;
}

char *uf_quantity_number(char *text, size_t size, enum uf_quantity kind, enum uf_units units,
                         double value)
{
    const int digits = find(kind, units).digits;
    double shown = uf_quantity_value(kind, units, value);

    if (!isfinite(shown)) {
        (void)snprintf(text, size, "-");
        return text;
    }
    if (kind == UF_QUANTITY_RESIDUAL) {
        (void)snprintf(text, size, "%.*e", digits, shown);
        return text;
    }
    if (fabs(shown) < 0.5 * pow(10.0, -digits)) {
        shown = 0.0; /* never "-0.0" */
    }
    if (fabs(shown) >= 1e15) {
        (void)snprintf(text, size, "%.6g", shown);
    } else {
        (void)snprintf(text, size, "%.*f", digits, shown);
    }
    return text;
}

char *uf_quantity_text(char *text, size_t size, enum uf_quantity kind, enum uf_units units,
                       double value)
{
    char number[40];
    const char *unit = uf_quantity_unit(kind, units);
    const bool bare = !isfinite(value) || unit[0] == '\0';

    (void)uf_quantity_number(number, sizeof number, kind, units, value);
    (void)snprintf(text, size, "%s%s%s", number, bare ? "" : " ", bare ? "" : unit);
    return text;
}

char *uf_quantity_small(char *text, size_t size, enum uf_quantity kind, enum uf_units units,
                        double value)
{
    const double shown = uf_quantity_value(kind, units, value);
    const char *unit = uf_quantity_unit(kind, units);
    int digits = 1;
    while (digits < 4 && fabs(shown) < 0.5 * pow(10.0, -digits)) {
        digits++;
    }
    if (digits == 1 || !(fabs(shown) >= 0.5e-4)) {
        return uf_quantity_text(text, size, kind, units, value);
    }
    (void)snprintf(text, size, "%.*f%s%s", digits, shown, unit[0] == '\0' ? "" : " ", unit);
    return text;
}

char *uf_quantity_level(char *text, size_t size, enum uf_units units, double depth_m)
{
    if (fabs(depth_m) < 5e-4) {
        (void)snprintf(text, size, "at grade");
        return text;
    }
    (void)uf_quantity_text(text, size, UF_QUANTITY_LENGTH, units, fabs(depth_m));
    const size_t used = strlen(text);
    (void)snprintf(text + used, size - used, "%s",
                   isnan(depth_m)  ? ""
                   : depth_m < 0.0 ? " above grade"
                                   : " below grade");
    return text;
}

char *uf_quantity_tape(char *text, size_t size, enum uf_units units, double m, bool up)
{
    const double mark_m = units == UF_UNITS_US ? IN / 16.0 : 1e-3, slack = 1e-6 / mark_m;
    const double marks = up ? ceil(m / mark_m - slack) : floor(m / mark_m + slack);
    if (!(fabs(marks) < 1e9)) {
        (void)snprintf(text, size, "-");
        return text;
    }
    if (units != UF_UNITS_US) {
        (void)snprintf(text, size, "%.0f mm", marks);
        return text;
    }
    const char *sign = marks < 0.0 ? "-" : "";
    const long whole = (long)fabs(marks) / 16;
    long part = (long)fabs(marks) % 16, of = 16;
    for (; part > 0 && part % 2 == 0; of /= 2) {
        part /= 2;
    }
    if (part == 0) {
        (void)snprintf(text, size, "%s%ld in", sign, whole);
    } else {
        (void)snprintf(text, size, "%s%ld %ld/%ld in", sign, whole, part, of);
    }
    return text;
}
