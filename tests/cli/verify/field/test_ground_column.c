#include "cli/verify/field/ground_column.h"
#include "solver/base/calendar.h"
#include "solver/study/score.h"

#include <criterion/criterion.h>

#include <math.h>

enum { SENSORS = 5, DAYS = 28 };
static const double depth_m[SENSORS] = {0.05, 0.10, 0.20, 0.50, 1.00};

/* Five sensors in loam at one temperature with one water, driven at the first. */
static double T[DAYS], water[DAYS], outside[DAYS];

static struct uf_ground_column_input all_at(double T_degC, double outside_degC)
{
    struct uf_ground_column_input input = {
        .n = SENSORS,
        .weather = {.start_day = uf_calendar_day(2020, 10, 1), .days = DAYS, .air_degC = outside},
        .wave = {.mean_degC = T_degC},
        .water_factor = 1.0,
        .season = uf_season_defaults()};
    struct uf_case plain;
    struct uf_error err = {0};
    uf_case_init(&plain);
    input.surface = plain.surface;
    input.surface.kind = UF_SURFACE_MEASURED;
    input.surface.measured_depth_m = depth_m[0];
    for (size_t i = 0; i < DAYS; i++) {
        T[i] = T_degC;
        outside[i] = outside_degC;
        water[i] = i < 7 ? 0.20 : 0.30;
    }
    for (size_t k = 0; k < SENSORS; k++) {
        input.layers[k] =
            (struct uf_ground_layer){.depth_m = depth_m[k], .T_degC = T, .water_m3_m3 = water};
        cr_assert(uf_ground_soil(&input.layers[k].soil, 0.14, 0.40, &err) == UF_OK);
    }
    return input;
}

static struct uf_ground_column *create(const struct uf_ground_column_input *input)
{
    struct uf_ground_column *column = NULL;
    struct uf_error err = {0};
    cr_assert(uf_ground_column_create(&column, input, &err) == UF_OK, "%s", err.text);
    return column;
}

static void run(struct uf_ground_column *column)
{
    struct uf_error err = {0};
    while (!uf_ground_column_done(column)) {
        cr_assert(uf_ground_column_next(column, &err) == UF_OK, "%s", err.text);
    }
}

Test(ground_column, a_week_has_its_thawed_readings)
{
    double T_degC[16];
    double read[16];
    const struct uf_ground_layer layer = {.T_degC = T_degC, .water_m3_m3 = read};
    for (size_t i = 0; i < 16; i++) {
        T_degC[i] = i < 7 ? 5.0 : -1.0;
        read[i] = i == 3 ? (double)NAN : 0.2;
    }
    read[0] = 0.32;
    T_degC[1] = 0.2; /* may hold ice */
    read[1] = 0.05;
    cr_expect_float_eq(uf_ground_week_m3_m3(&layer, 0, 16), (0.32 + 4.0 * 0.2) / 5.0, 1e-12);
    cr_expect(isnan(uf_ground_week_m3_m3(&layer, 1, 16)));
    T_degC[15] = 1.0;
    read[15] = 0.4;
    cr_expect_float_eq(uf_ground_week_m3_m3(&layer, 2, 16), 0.4, 1e-12);
    cr_expect(isnan(uf_ground_week_m3_m3(&layer, 2, 15)));
}

/* Water that comes brings no heat: ground at the temperature that drives it stays so. */
Test(ground_column, water_follows_the_readings)
{
    const struct uf_ground_column_input input = all_at(5.0, 5.0);
    struct uf_ground_column *column = create(&input);
    cr_expect_float_eq(uf_ground_column_water_m3_m3(column, 3), 0.20, 1e-12);
    run(column);
    cr_expect_eq(uf_ground_column_day(column), DAYS);
    cr_expect_float_eq(uf_ground_column_water_m3_m3(column, 3), 0.30, 1e-12);
    cr_expect_float_eq(uf_ground_column_degC(column, 0.5), 5.0, 1e-6);
    cr_expect_eq(uf_ground_column_frost_m(column), 0.0);
    uf_ground_column_free(column);
}

/* Frozen layers keep their water whatever a thawed sensor reads; deeper ones do not. */
Test(ground_column, frozen_water_stays)
{
    const struct uf_ground_column_input input = all_at(2.0, -4.0);
    struct uf_ground_column *column = create(&input);
    run(column);
    cr_expect_lt(uf_ground_column_degC(column, 0.20), 0.0);
    cr_expect_float_eq(uf_ground_column_water_m3_m3(column, 1), 0.20, 1e-12);
    cr_expect_float_eq(uf_ground_column_water_m3_m3(column, 4), 0.30, 1e-12);
    cr_expect_gt(uf_ground_column_frost_m(column), 0.20);
    cr_expect_lt(uf_ground_column_frost_m(column), 1.0);
    cr_expect_lt(uf_ground_column_balance(column), 1e-9);
    uf_ground_column_free(column);
}

Test(ground_column, water_that_was_never_read_is_refused)
{
    struct uf_ground_column_input input = all_at(5.0, 5.0);
    double frozen[DAYS];
    struct uf_ground_column *column = NULL;
    struct uf_error err = {0};
    for (size_t i = 0; i < DAYS; i++) {
        frozen[i] = -1.0;
    }
    input.layers[2].T_degC = frozen;
    cr_expect_eq(uf_ground_column_create(&column, &input, &err), UF_E_INPUT);
    cr_expect(column == NULL);
}

Test(ground_column, frost_between_sensors_is_a_straight_line)
{
    const double some[SENSORS] = {-4.0, -3.0, -1.0, 2.0, 4.0};
    const double all[SENSORS] = {-4.0, -3.0, -1.0, -0.5, -0.1};
    const double none[SENSORS] = {0.0, 1.0, 1.0, 2.0, 4.0};
    cr_expect_float_eq(uf_score_frost_m(depth_m, some, SENSORS), 0.30, 1e-12);
    cr_expect_float_eq(uf_score_frost_m(depth_m, all, SENSORS), 1.0, 1e-12);
    cr_expect_eq(uf_score_frost_m(depth_m, none, SENSORS), 0.0);
}

/* The wave of a cosine year is that year; below, exp(-x) and a lag of x. */
Test(ground_column, profile_goes_on_as_a_damped_wave)
{
    double year[731];
    const double w = 2.0 * 3.14159265358979 / 365.2425;
    for (size_t i = 0; i < 731; i++) {
        year[i] = 8.0 - 10.0 * cos(w * ((double)i + 0.5 - 20.0));
    }
    const struct uf_ground_wave wave = uf_ground_wave(year, 731);
    cr_expect_float_eq(wave.mean_degC, 8.0, 0.02);
    cr_expect_float_eq(hypot(wave.a_K, wave.b_K), 10.0, 0.03);
    const struct uf_thermal soil = {.k_thawed_W_mK = 1.5, .c_thawed_J_m3K = 2.0e6};
    struct uf_initial profile = {.n_profile = 1, .depth_m = {1.0}};
    profile.degC[0] = 8.0 - 10.0 * cos(w * (100.0 - 20.0));
    uf_ground_extend(&profile, &wave, &soil, 100);
    const double damping_m = sqrt(1.5 / 2.0e6 * 365.2425 * 86400.0 / 3.14159265358979);
    for (size_t i = 1; i < profile.n_profile; i++) {
        const double x = (profile.depth_m[i] - 1.0) / damping_m;
        cr_expect_float_eq(profile.degC[i], 8.0 - 10.0 * exp(-x) * cos(w * 80.0 - x), 0.06,
                           "%g m: %g", profile.depth_m[i], profile.degC[i]);
    }
    cr_expect_float_eq(profile.depth_m[profile.n_profile - 1], 15.0, 1e-12);
}
