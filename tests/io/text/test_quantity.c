#include "io/text/quantity.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* Conversions: NIST SP 811 (2008), appendix B, the figures as printed there. */
Test(quantity, factors_are_those_of_the_standard)
{
    static const struct {
        enum uf_quantity kind;
        double us_in_si; /* one US unit as shown, in SI */
        double relative;
    } rows[] = {
        {UF_QUANTITY_LENGTH, 0.3048, 1e-12},       {UF_QUANTITY_THICKNESS, 0.0254, 1e-12},
        {UF_QUANTITY_AREA, 9.290304e-2, 1e-9},     {UF_QUANTITY_VOLUME, 7.645549e-1, 1e-6},
        {UF_QUANTITY_LIQUID, 3.785412e-3, 1e-6},   {UF_QUANTITY_FORCE, 4448.222, 1e-6},
        {UF_QUANTITY_LINE_LOAD, 14.59390, 1e-6},   {UF_QUANTITY_PRESSURE, 6894.757, 1e-6},
        {UF_QUANTITY_UNIT_WEIGHT, 157.0875, 1e-6}, {UF_QUANTITY_DENSITY, 16.01846, 1e-6},
        {UF_QUANTITY_MASS, 0.4535924, 1e-6},       {UF_QUANTITY_CONDUCTIVITY, 1.730735, 1e-6},
        {UF_QUANTITY_RESISTANCE, 0.1761102, 1e-6}, {UF_QUANTITY_FILM, 5.678263, 1e-6},
        {UF_QUANTITY_HEAT_FLUX, 3.154591, 1e-6},   {UF_QUANTITY_HEAT_CAPACITY, 6.706611e4, 1e-6},
        {UF_QUANTITY_LATENT, 3.725895e4, 1e-6},    {UF_QUANTITY_DIFFERENCE, 0.5555556, 1e-6},
        {UF_QUANTITY_INDEX, 0.5555556, 1e-6},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double shown = uf_quantity_value(rows[i].kind, UF_UNITS_US, rows[i].us_in_si);
        cr_expect(fabs(shown - 1.0) < rows[i].relative, "kind %d: %.9g %s", (int)rows[i].kind,
                  shown, uf_quantity_unit(rows[i].kind, UF_UNITS_US));
    }
}

Test(quantity, every_kind_has_both_units)
{
    for (int kind = 0; kind < UF_QUANTITY_COUNT; kind++) {
        for (int units = UF_UNITS_SI; units <= UF_UNITS_US; units++) {
            const char *unit = uf_quantity_unit((enum uf_quantity)kind, (enum uf_units)units);
            cr_assert_not_null(unit);
            const bool plain = kind == UF_QUANTITY_FACTOR || kind == UF_QUANTITY_RESIDUAL ||
                               kind == UF_QUANTITY_WHOLE;
            cr_expect(plain || strlen(unit) > 0, "kind %d", kind);
            cr_expect_gt(strlen(uf_quantity_kinds[kind].held), 0, "kind %d", kind);
            cr_expect(isnan(uf_quantity_value((enum uf_quantity)kind, (enum uf_units)units, NAN)));
        }
    }
}

Test(quantity, temperature_has_an_offset_and_a_difference_none)
{
    cr_expect_float_eq(uf_quantity_value(UF_QUANTITY_TEMPERATURE, UF_UNITS_US, -40.0), -40.0,
                       1e-12);
    cr_expect_float_eq(uf_quantity_value(UF_QUANTITY_TEMPERATURE, UF_UNITS_US, 37.0), 98.6, 1e-12);
    cr_expect_float_eq(uf_quantity_value(UF_QUANTITY_DIFFERENCE, UF_UNITS_US, 5.0), 9.0, 1e-12);
}

Test(quantity, text_has_digits_unit_and_no_negative_zero)
{
    cr_expect_str_eq(UF_TEXT(LENGTH, UF_UNITS_SI, 1.2345), "1.23 m");
    cr_expect_str_eq(UF_TEXT(LENGTH, UF_UNITS_US, 1.2192), "4.00 ft");
    cr_expect_str_eq(UF_TEXT(THICKNESS, UF_UNITS_SI, 0.0754), "75 mm");
    cr_expect_str_eq(UF_TEXT(SHARE, UF_UNITS_SI, 0.037), "3.7 percent");
    cr_expect_str_eq(UF_TEXT(FACTOR, UF_UNITS_US, 1.349), "1.35");
    cr_expect_str_eq(UF_NUMBER(TEMPERATURE, UF_UNITS_SI, -0.04), "0.0");
    cr_expect_str_eq(UF_NUMBER(TEMPERATURE, UF_UNITS_SI, -0.06), "-0.1");
}

Test(quantity, what_is_no_number_is_a_dash)
{
    cr_expect_str_eq(UF_TEXT(LENGTH, UF_UNITS_SI, NAN), "-");
    cr_expect_str_eq(UF_TEXT(FORCE, UF_UNITS_US, INFINITY), "-");
    cr_expect(strlen(UF_NUMBER(MASS, UF_UNITS_SI, 1e300)) < 40);
}

Test(quantity, a_level_is_told_against_grade)
{
    cr_expect_str_eq(UF_LEVEL(UF_UNITS_SI, 0.0), "at grade");
    cr_expect_str_eq(UF_LEVEL(UF_UNITS_SI, 0.5), "0.50 m below grade");
    cr_expect_str_eq(UF_LEVEL(UF_UNITS_US, -0.3048), "1.00 ft above grade");
    cr_expect_str_eq(UF_LEVEL(UF_UNITS_US, NAN), "-");
}

Test(quantity, a_tape_has_marks_and_never_widens_a_limit)
{
    cr_expect_str_eq(UF_TAPE(UF_UNITS_SI, 2.3562, true), "2357 mm");
    cr_expect_str_eq(UF_TAPE(UF_UNITS_SI, 2.4038, false), "2403 mm");
    cr_expect_str_eq(UF_TAPE(UF_UNITS_SI, 2.376, true), "2376 mm");
    cr_expect_str_eq(UF_TAPE(UF_UNITS_US, 95.25 * 0.0254, true), "95 1/4 in");
    cr_expect_str_eq(UF_TAPE(UF_UNITS_US, 93.51 * 0.0254, true), "93 9/16 in");
    cr_expect_str_eq(UF_TAPE(UF_UNITS_US, 93.51 * 0.0254, false), "93 1/2 in");
    cr_expect_str_eq(UF_TAPE(UF_UNITS_US, 96.0 * 0.0254, false), "96 in");
    cr_expect_str_eq(UF_TAPE(UF_UNITS_US, NAN, false), "-");
}
