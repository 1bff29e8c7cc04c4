#include "io/text/units.h"

#include <criterion/criterion.h>
#include <criterion/redirect.h>

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static void close_units(void)
{
    uf_units_close();
}

TestSuite(units, .fini = close_units);

/* A value as read, or NAN when it was refused. */
static double read_as(const char *text, const struct uf_measure *measure)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    double value = NAN;
    const enum uf_status status = uf_units_read(&value, text, measure, measure->unit, &fault);
    cr_expect(status == UF_OK || status == UF_E_INPUT);
    cr_expect_eq(status == UF_OK, !isnan(value), "%s: %s", text, fault.what);
    cr_expect_eq(status == UF_OK, fault.what[0] == '\0', "%s", text);
    return value;
}

struct sample {
    const char *text;
    const struct uf_measure *measure;
    double value;
};

/* Definitions: the foot 0.3048 m, the pound 0.45359237 kg, the US gallon 231 in3,
   standard gravity 9.80665 m/s2 (NIST Special Publication 811); the international-table
   Btu 1055.05585262 J. */
Test(units, values_come_out_in_si)
{
    const double lb_kg = 0.45359237, g_m_s2 = 9.80665, ft_m = 0.3048, in_m = 0.0254;
    const double gallon_m3 = 231.0 * in_m * in_m * in_m, btu_J = 1055.05585262;
    const struct sample samples[] = {
        {"1.2 m", &uf_units_length, 1.2},
        {"1.5m", &uf_units_length, 1.5},
        {"100 mm", &uf_units_length, 0.1},
        {"+3.5e1 cm", &uf_units_length, 0.35},
        {"6 ft", &uf_units_length, 6.0 * ft_m},
        {"6 FT", &uf_units_length, 6.0 * ft_m},
        {"3 inch", &uf_units_length, 3.0 * in_m},
        {"5' 6\"", &uf_units_length, 5.5 * ft_m},
        {"5'-6 1/2\"", &uf_units_length, 66.5 * in_m},
        {"5 ft 6 in", &uf_units_length, 5.5 * ft_m},
        {"5ft 6in", &uf_units_length, 5.5 * ft_m},
        {"-5 ft 6 in", &uf_units_length, -5.5 * ft_m},
        {"0' 6\"", &uf_units_length, 0.5 * ft_m},
        {"95 1/4 in", &uf_units_length, 95.25 * in_m},
        {"95-1/4\"", &uf_units_length, 95.25 * in_m},
        {"3/8 in", &uf_units_length, 0.375 * in_m},
        {"5'", &uf_units_length, 5.0 * ft_m},
        {"6.5\"", &uf_units_length, 6.5 * in_m},
        {"12 1/2 psi", &uf_units_pressure, 12.5 * lb_kg * g_m_s2 / (in_m * in_m)},
        {"R-10", &uf_units_resistance, 36000.0 * ft_m * ft_m / 1.8 / btu_J},
        {"R10", &uf_units_resistance, 36000.0 * ft_m * ft_m / 1.8 / btu_J},
        {"R 7.5", &uf_units_resistance, 27000.0 * ft_m * ft_m / 1.8 / btu_J},
        {"RSI-1.8", &uf_units_resistance, 1.8},
        {"10 ft2.hr.F/BTU", &uf_units_resistance, 36000.0 * ft_m * ft_m / 1.8 / btu_J},
        {"1 BTU/hr/ft2/F", &uf_units_film, btu_J / 3600.0 / (ft_m * ft_m) * 1.8},
        {"15 W/m2/C", &uf_units_film, 15.0},
        {"-0.5 m", &uf_units_length, -0.5},
        {"15 W/m2/K", &uf_units_film, 15.0},
        {"15 W/m2/degC", &uf_units_film, 15.0},
        {"15 W.m-2.K-1", &uf_units_film, 15.0},
        {"1 BTU/hr/ft2/degF", &uf_units_film, btu_J / 3600.0 / (ft_m * ft_m) * 1.8},
        {"10 ft2.hr.degF/BTU", &uf_units_resistance, 36000.0 * ft_m * ft_m / 1.8 / btu_J},
        {"0.034 W/(m K)", &uf_units_conductivity, 0.034},
        {"2.3 MJ/m3/K", &uf_units_capacity, 2.3e6},
        {"80 MJ/m3", &uf_units_latent, 80e6},
        {"41 degF", &uf_units_temperature, 5.0},
        {"278.15 K", &uf_units_temperature, 5.0},
        {"-40 °F", &uf_units_temperature, -40.0},
        {"16 K", &uf_units_difference, 16.0},
        {"16 degC", &uf_units_difference, 16.0},
        {"18 degF", &uf_units_difference, 10.0},
        {"20 percent", &uf_units_share, 0.2},
        {"20 %", &uf_units_share, 0.2},
        {"49.9 degrees_north", &uf_units_angle, 49.9},
        {"173 kPa", &uf_units_pressure, 173e3},
        {"173 kpa", &uf_units_pressure, 173e3},
        {"25 psi", &uf_units_pressure, 25.0 * lb_kg * g_m_s2 / (in_m * in_m)},
        {"25 PSI", &uf_units_pressure, 25.0 * lb_kg * g_m_s2 / (in_m * in_m)},
        {"200 psf", &uf_units_pressure, 200.0 * lb_kg * g_m_s2 / (ft_m * ft_m)},
        {"16 kip", &uf_units_force, 16000.0 * lb_kg * g_m_s2},
        {"71 KN", &uf_units_force, 71e3},
        {"900 lb", &uf_units_mass, 900.0 * lb_kg},
        {"900 lbs", &uf_units_mass, 900.0 * lb_kg},
        {"110 pcf", &uf_units_density, 110.0 * lb_kg / (ft_m * ft_m * ft_m)},
        {"110 lb/ft3", &uf_units_weight, 110.0 * lb_kg / (ft_m * ft_m * ft_m) * g_m_s2},
        {"110 pcf", &uf_units_weight, 110.0 * lb_kg / (ft_m * ft_m * ft_m) * g_m_s2},
        {"110 lbf/ft3", &uf_units_weight, 110.0 * lb_kg / (ft_m * ft_m * ft_m) * g_m_s2},
        {"2 pci", &uf_units_weight, 2.0 * lb_kg * g_m_s2 / (in_m * in_m * in_m)},
        {"23.5 kN/m3", &uf_units_weight, 23500.0},
        {"2 gpm", &uf_units_flow, 2.0 * gallon_m3 / 60.0},
        {"300 gal/day", &uf_units_flow, 300.0 * gallon_m3 / 86400.0},
        {"1 m3/day", &uf_units_flow, 1.0 / 86400.0},
        {"480 hour", &uf_units_duration, 20.0},
        {"25 /m3", &uf_units_per_volume, 25.0},
        {"25 /yd3", &uf_units_per_volume, 25.0 / (27.0 * ft_m * ft_m * ft_m)},
    };
    for (size_t i = 0; i < sizeof samples / sizeof samples[0]; i++) {
        const double got = read_as(samples[i].text, samples[i].measure);
        cr_expect(fabs(got - samples[i].value) <= 2e-7 * fabs(samples[i].value),
                  "%s: %.12g, expected %.12g", samples[i].text, got, samples[i].value);
    }
}

Test(units, what_is_no_value_is_refused)
{
    const struct {
        const char *text;
        const struct uf_measure *measure;
        const char *what; /* part of what is said */
    } samples[] = {
        {"1.2", &uf_units_length, "has no unit"},
        {"", &uf_units_length, "begin with a number"},
        {"deep", &uf_units_length, "begin with a number"},
        {"1,4 m", &uf_units_length, "comma"},
        {"1,400 m", &uf_units_length, "comma"},
        {"140 cm 3", &uf_units_length, "more than a number and a unit"},
        {"1.2 m 3", &uf_units_length, "more than a number and a unit"},
        {"1.2 3 m", &uf_units_length, "more than a number and a unit"},
        {"1.2 2m", &uf_units_length, "more than a number and a unit"},
        {"1.2 m.3", &uf_units_length, "more than a number and a unit"},
        {"1.2 m - 3", &uf_units_length, "more than a number and a unit"},
        {"1.2 m@3", &uf_units_length, "more than a number and a unit"},
        {"1.2 m since 3", &uf_units_length, "more than a number and a unit"},
        {"1.2 1/m3", &uf_units_per_volume, "more than a number and a unit"},
        {"5 ft 14 in", &uf_units_length, "14 inches after the feet"},
        {"5.5 ft 6 in", &uf_units_length, "more than a number and a unit"},
        {"5 in 6 ft", &uf_units_length, "more than a number and a unit"},
        {"3/0 in", &uf_units_length, "more than a number and a unit"},
        {"1/2", &uf_units_length, "has no unit"},
        {"R-10", &uf_units_length, "begin with a number"},
        {"R-ten", &uf_units_resistance, "begin with a number"},
        {"1.2 m)", &uf_units_length, "no unit of a length"},
        {"1.2 (m", &uf_units_length, "not a known unit"},
        {"1.2 m %", &uf_units_length, "no unit of a length"},
        {"1.2 m percent", &uf_units_length, "not a known unit"},
        {"6 ft \"", &uf_units_length, "no unit of a length"},
        {"6 ft '", &uf_units_length, "no unit of a length"},
        {"15 W/m2/K rad", &uf_units_film, "no unit of a film"},
        {"nan m", &uf_units_length, "not a finite number"},
        {"0x10 m", &uf_units_length, "no decimal number"},
        {"inf m", &uf_units_length, "not a finite number"},
        {"-infinity m", &uf_units_length, "not a finite number"},
        {"1e999 m", &uf_units_length, "not a finite number"},
        {"1.2 furlongz", &uf_units_length, "not a known unit"},
        {"1.2 M", &uf_units_length, "not a known unit"},
        {"1.2 kg", &uf_units_length, "no unit of a length"},
        {"1.2 /m", &uf_units_length, "no unit of a length"}, /* a reciprocal */
        {"1.2 m3", &uf_units_per_volume, "no unit of"},
        {"15 m2.K/W", &uf_units_film, "no unit of"},
        {"5 lb(re m)", &uf_units_length, "no unit of"}, /* a logarithm */
        {"20 degree", &uf_units_share, "no unit of"},
        {"49.9 percent", &uf_units_angle, "no unit of"},
        {"9.81 gal", &uf_units_weight, "no unit of"}, /* no longer the galileo */
        {"50 F", &uf_units_temperature, "no unit of"},
        {"1.6 W/mK", &uf_units_conductivity, "no unit of"},
        {"900 kg", &uf_units_force, "no unit of"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof samples[0]; i++) {
        struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
        double value = 7.25;
        cr_expect_eq(uf_units_read(&value, samples[i].text, samples[i].measure, "X", &fault),
                     UF_E_INPUT, "%s", samples[i].text);
        cr_expect(strstr(fault.what, samples[i].what) != NULL, "%s: %s", samples[i].text,
                  fault.what);
        cr_expect(strlen(fault.allowed) > 0, "%s", samples[i].text);
        cr_expect_eq(value, 7.25, "%s", samples[i].text);
    }
}

Test(units, a_unit_often_written_wrong_gets_a_hint)
{
    const struct {
        const char *text;
        const struct uf_measure *measure;
        const char *hint;
    } samples[] = {
        {"50 F", &uf_units_temperature, "write 50 degF"},
        {"5 C", &uf_units_temperature, "write 5 degC"},
        {"1.6 W/mK", &uf_units_conductivity, "1.6 W/m/K"},
        {"15 W/m2K", &uf_units_film, "15 W/m2/K"},
        {"2 m2K/W", &uf_units_resistance, "2 m2.K/W"},
        {"16000 lb", &uf_units_force, "16000 lbf"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof samples[0]; i++) {
        struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
        double value;
        (void)uf_units_read(&value, samples[i].text, samples[i].measure, "X", &fault);
        cr_expect(strstr(fault.allowed, samples[i].hint) != NULL, "%s: %s", samples[i].text,
                  fault.allowed);
    }
}

Test(units, a_bare_number_is_told_which_unit_to_write)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    double value;
    cr_expect_eq(uf_units_read(&value, "75", &uf_units_length, "mm", &fault), UF_E_INPUT);
    cr_expect(strstr(fault.allowed, "75 mm") != NULL, "%s", fault.allowed);
}

Test(units, a_plain_number_takes_no_unit)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    double value = NAN;
    cr_expect_eq(uf_units_read_number(&value, "1.3", &fault), UF_OK);
    cr_expect_eq(value, 1.3);
    const char *const wrong[] = {"1.3 m", "1,3", "nan", "inf", "", "x", "1.3 1"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        cr_expect_eq(uf_units_read_number(&value, wrong[i], &fault), UF_E_INPUT, "%s", wrong[i]);
    }
    cr_expect_eq(value, 1.3);
}

/* There and back again, over odd values and pairs of units. */
Test(units, conversions_round_trip)
{
    const char *const pairs[][2] = {{"m", "ft"},
                                    {"degC", "degF"},
                                    {"kN/m3", "lbf/ft3"},
                                    {"kPa", "psf"},
                                    {"W/m/K", "BTU/hr/ft/degF"},
                                    {"m3/s", "gpm"},
                                    {"kg/m3", "pcf"},
                                    {"day", "hour"},
                                    {"m3", "gal"},
                                    {"N", "kip"}};
    const double values[] = {-37.3, 0.00137, 2.9, 8411.7};
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        for (size_t k = 0; k < sizeof values / sizeof values[0]; k++) {
            double there = NAN, back = NAN;
            cr_assert_eq(uf_units_convert(&there, values[k], pairs[i][0], pairs[i][1], NULL),
                         UF_OK);
            cr_assert_eq(uf_units_convert(&back, there, pairs[i][1], pairs[i][0], NULL), UF_OK);
            cr_expect(fabs(back - values[k]) < 1e-11 * (fabs(values[k]) + 500.0), "%s to %s: %.15g",
                      pairs[i][0], pairs[i][1], back);
            cr_expect(fabs(there - values[k]) > 1e-9);
        }
    }
}

Test(units, what_does_not_convert_says_so)
{
    struct uf_error err = {0};
    double out = 7.25;
    cr_expect_eq(uf_units_convert(&out, 1.0, "m", "kg", &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "kg") != NULL);
    cr_expect_eq(uf_units_convert(&out, 1.0, "m", "1/m", &err), UF_E_INPUT);
    cr_expect_eq(out, 7.25);
}

/* strtod follows the locale; a file must not. The test needs a locale with a decimal comma. */
Test(units, the_locale_does_not_change_a_number)
{
    const char *const names[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "sv_SE.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (setlocale(LC_NUMERIC, names[i]) != NULL) {
            cr_expect_eq(read_as("1.25 m", &uf_units_length), 1.25);
            cr_expect(isnan(read_as("1,25 m", &uf_units_length)));
        }
    }
    (void)setlocale(LC_NUMERIC, "C");
    cr_expect_eq(read_as("1.25 m", &uf_units_length), 1.25);
}

/* The library's scanner echoes what it does not know; standard output belongs to the answer. */
Test(units, control_characters_leave_standard_output_alone, .init = cr_redirect_stdout)
{
    cr_expect(isnan(read_as("1 \n m", &uf_units_length)));
    cr_expect(isnan(read_as("1 m\x01\x0b\n", &uf_units_length)));
    (void)fflush(stdout);
    cr_assert_stdout_eq_str("");
}

Test(units, a_missing_database_is_told_as_such)
{
    struct uf_units_fault fault = {.what = "", .allowed = "", .bare = false};
    double value;
    uf_units_close();
    cr_assert_eq(setenv("UDUNITS2_XML_PATH", "/nowhere/units.xml", 1), 0);
    cr_expect_eq(uf_units_read(&value, "1 m", &uf_units_length, "m", &fault), UF_E_FILE);
    cr_expect(strstr(fault.allowed, "UDUNITS-2") != NULL, "%s", fault.allowed);
    cr_assert_eq(unsetenv("UDUNITS2_XML_PATH"), 0);
    cr_expect_eq(uf_units_read(&value, "1 m", &uf_units_length, "m", &fault), UF_OK);
}
