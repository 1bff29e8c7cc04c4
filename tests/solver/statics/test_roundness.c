#include "solver/statics/roundness.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#define INCH_M 0.0254
#define PSI_PA 6894.757293168

/* 2400 to 2382 mm is 0.750 %; 96 to 95.25 in. 0.781 %, also through a riser of 40.00 in. */
Test(roundness, published_arithmetic)
{
    near(100.0 * uf_roundness_deflection(2.400, 2.382), 0.750, 5e-4, "mm");
    near(100.0 * uf_roundness_deflection(96.0, 95.25), 0.781, 5e-4, "in.");
    near(100.0 * uf_roundness_deflection(96.0, 135.25 - 40.00), 0.781, 5e-4, "riser");
}

static struct uf_roundness_input readings_of(const double *diameters_m, size_t n)
{
    struct uf_roundness_input input;
    uf_roundness_init(&input);
    input.n = n;
    for (size_t i = 0; i < n; i++) {
        (void)snprintf(input.readings[i].at, UF_ROUNDNESS_NAME, "step %zu", i + 1);
        input.readings[i].diameter_m = diameters_m[i];
    }
    return input;
}

Test(roundness, go_watch_stop)
{
    static const double diameters_m[] = {2.400, 2.394, 2.385, 2.370};
    struct uf_roundness_input input = readings_of(diameters_m, 4);
    struct uf_roundness got;
    input.limit = 0.01;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    near(got.rows[1].deflection, 0.0025, 1e-12, "second");
    near(got.rows[2].change, 0.00375, 1e-12, "change");
    cr_expect_eq(got.rows[0].verdict, UF_ROUNDNESS_GO);
    cr_expect_eq(got.rows[1].verdict, UF_ROUNDNESS_GO);
    /* 0.625 % with another 0.375 % is the limit itself, not past it */
    cr_expect_eq(got.rows[2].verdict, UF_ROUNDNESS_GO);
    cr_expect_eq(got.rows[3].verdict, UF_ROUNDNESS_STOP);
    cr_expect_eq(got.verdict, UF_ROUNDNESS_STOP);
    input.limit = 0.009;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    cr_expect_eq(got.rows[2].verdict, UF_ROUNDNESS_WATCH);
    input.limit = NAN;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    cr_expect_eq(got.verdict, UF_ROUNDNESS_GO, "no limit, no verdict against it");
}

/* Growing taller than the first reading counts as well; a stop stays a stop. */
Test(roundness, taller_stops_too_and_stays)
{
    static const double diameters_m[] = {2.400, 2.430, 2.400};
    struct uf_roundness_input input = readings_of(diameters_m, 3);
    struct uf_roundness got;
    input.limit = 0.01;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    cr_expect_eq(got.rows[1].verdict, UF_ROUNDNESS_STOP);
    cr_expect_eq(got.rows[2].verdict, UF_ROUNDNESS_GO);
    cr_expect_eq(got.verdict, UF_ROUNDNESS_STOP);
}

Test(roundness, level)
{
    static const double diameters_m[] = {2.400, 2.400, 2.400};
    struct uf_roundness_input input = readings_of(diameters_m, 3);
    struct uf_roundness got;
    input.level_limit_m = 0.010;
    input.readings[1].level_m = 100.000;
    input.readings[2].level_m = 99.985;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    cr_expect(isnan(got.rows[0].level_change_m));
    near(got.rows[2].level_change_m, -0.015, 1e-9, "sunk");
    cr_expect_eq(got.rows[2].verdict, UF_ROUNDNESS_STOP);
}

/* By hand: at station 2, 2.400 to 2.385 is 0.625 %, station 1 unmoved; sides 2.400 to 2.4195 widen by
   0.8125 %, past 70 % of 1 %; the far end sinks by 12 mm. */
Test(roundness, stations_sides_and_ends_are_judged_each_on_its_own)
{
    static const double diameters_m[] = {2.410, 2.400, 2.410, 2.385};
    struct uf_roundness_input input = readings_of(diameters_m, 4);
    struct uf_roundness got;
    input.limit = 0.01;
    input.level_limit_m = 0.010;
    for (size_t i = 0; i < 4; i++) {
        input.readings[i].station = i % 2 + 1;
    }
    input.readings[1].across_m = 2.400;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    near(got.rows[2].deflection, 0.0, 1e-12, "station 1");
    near(got.rows[3].deflection, 0.00625, 1e-12, "station 2");
    near(got.rows[3].change, 0.00625, 1e-12, "change");
    cr_expect_eq(got.rows[3].verdict, UF_ROUNDNESS_WATCH, "one more such change");
    input.limit = 0.02;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    cr_expect_eq(got.rows[3].verdict, UF_ROUNDNESS_GO);
    input.limit = 0.01;
    input.readings[3].diameter_m = 2.400;
    input.readings[3].across_m = 2.4195;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    near(got.rows[3].across, -0.008125, 1e-12, "wider");
    cr_expect_eq(got.rows[3].verdict, UF_ROUNDNESS_WATCH, "past 70 percent");
    input.readings[0].far_level_m = 100.0;
    input.readings[2].far_level_m = 99.988;
    cr_assert_eq(uf_roundness(&got, &input, NULL), UF_OK);
    near(got.rows[2].far_change_m, -0.012, 1e-9, "far end");
    cr_expect_eq(got.rows[2].verdict, UF_ROUNDNESS_STOP);
}

Test(roundness, missing_readings)
{
    struct uf_roundness_input input;
    struct uf_roundness got;
    struct uf_error err = {0};
    uf_roundness_init(&input);
    cr_expect_eq(uf_roundness(&got, &input, &err), UF_E_INPUT);
    input.n = 2;
    input.readings[0].diameter_m = 2.4;
    cr_expect_eq(uf_roundness(&got, &input, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "readings[1]") != NULL, "%s", err.text);
}

/* The two forms are one: 0.149 PS = 8 EI / D^3 with PS = 53.69 EI / D^3. */
Test(roundness, iowa_in_both_forms)
{
    const double EI = 9000.0, D = 2.4, P = 30000.0, soil = 400.0 * PSI_PA;
    const double stiffness = 53.69 * EI / (D * D * D);
    near(uf_roundness_iowa(1.5, 0.1, P, 0.5 * D, EI, soil) /
             (1.5 * P * 0.1 / (0.149 * stiffness + 0.061 * soil)),
         1.0, 1e-3, "ratio");
}

Test(roundness, forecast)
{
    struct uf_roundness_input input;
    struct uf_roundness_forecast got;
    struct uf_error err = {0};
    uf_roundness_init(&input);
    cr_expect_eq(uf_roundness_predict(&got, &input, 25000.0, 1.2, 0.008, &err), UF_E_INPUT);
    input.soil_row = 2;
    input.compaction = 1;
    cr_assert_eq(uf_roundness_predict(&got, &input, 25000.0, 1.2, NAN, &err), UF_OK);
    near(got.soil_modulus_Pa, 1000.0 * PSI_PA, 1e-3, "clean coarse, slight");
    near(got.deflection, 0.1 * 25000.0 / (0.061 * 1000.0 * PSI_PA), 1e-12, "soil alone");
    near(got.high, 0.110 * 25000.0 / (0.061 * 1000.0 * PSI_PA) + 0.02, 1e-12, "high");
    near(got.low, 0.0, 0.0, "not below round");
    const double soft = got.deflection;
    input.shell_modulus_Pa = 20e9;
    cr_assert_eq(uf_roundness_predict(&got, &input, 25000.0, 1.2, 0.02, &err), UF_OK);
    near(got.deflection,
         0.1 * 25000.0 / (20e9 * pow(0.02, 3.0) / 12.0 / pow(1.2, 3.0) + 0.061 * 1000.0 * PSI_PA),
         1e-12, "with shell");
    cr_expect_lt(got.deflection, soft);
    for (size_t i = 0; i < UF_ROUNDNESS_SOILS; i++) {
        for (size_t j = 1; j < 4; j++) {
            cr_expect(uf_roundness_soils[i].modulus_Pa[j] >=
                      uf_roundness_soils[i].modulus_Pa[j - 1]);
        }
    }
}
