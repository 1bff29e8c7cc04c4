#include "solver/base/constants.h"
#include "solver/run/startup.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { YEAR = 365 };
static double outside_degC[YEAR], film_W_m2K[YEAR];

static struct uf_drive year_drive(void)
{
    for (int d = 0; d < YEAR; d++) {
        outside_degC[d] = 4.0 - 13.0 * cos(2.0 * UF_PI * (d + 0.5 - 20.0) / YEAR);
        film_W_m2K[d] = 15.0;
    }
    return (struct uf_drive){.start_day = 240.0,
                             .days = YEAR,
                             .periodic = true,
                             .outside_degC = outside_degC,
                             .h_W_m2K = film_W_m2K,
                             .air_degC = outside_degC};
}

static bool light(void)
{
    const char *text = getenv("UF_TEST_LIGHT");
    return text != NULL && text[0] == '1';
}

/* Small: 4 m wide, 5 m deep, so that a long plain repetition is cheap. */
static struct uf_case small_case(bool tank)
{
    struct uf_case d = designs_tank(tank ? UF_HORIZONTAL_CYLINDER : UF_NO_TANK, 3.0);
    d.ground.layers[0].to_m = 5.0;
    d.grid =
        (struct uf_grid_input){.finest_m = light() ? 0.25 : 0.15, .width_m = 4.0, .depth_m = 5.0};
    return d;
}

/* The end state against the same year run on until it changes by less than 1e-4 K a year:
   its slow mode shrinks by a factor of 0.6 or less a year on 5 m of ground, so what is
   left then is below 3e-4 K. */
static void expect_periodic(const struct uf_case *d)
{
    const struct uf_drive year = year_drive();
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    struct uf_startup_result result;
    struct uf_season_options options = uf_season_defaults();
    struct uf_error err = {0};
    options.steps_per_day = 2.0;
    cr_assert(uf_section_create(&s, d, 2.0, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
    cr_assert(uf_startup(season, s, d, &year, 0.02, &result, NULL) == UF_OK);
    const size_t n = s->heat->n;
    double *start = calloc(2 * n, sizeof *start);
    double *last = start + n;
    double change = INFINITY;
    cr_assert(start != NULL);
    for (size_t i = 0; i < n; i++) {
        start[i] = uf_season_T_degC(season)[i];
    }
    cr_expect(uf_season_day(season) == 240.0);
    cr_expect(result.left_K < 0.02 && result.years < 2.5, "%g K, %g years", result.left_K,
              result.years);
    for (int k = 0; k < 25 && change > 1e-4; k++) {
        for (size_t i = 0; i < n; i++) {
            last[i] = uf_season_T_degC(season)[i];
        }
        cr_assert(uf_season_advance(season, 240.0 + YEAR * (k + 1.0), NULL) == UF_OK);
        change = 0.0;
        for (size_t i = 0; i < n; i++) {
            change = fmax(change, fabs(uf_season_T_degC(season)[i] - last[i]));
        }
    }
    cr_expect(change <= 1e-4, "the long run has not settled: %g", change);
    for (size_t i = 0; i < n; i++) {
        const double off = start[i] - uf_season_T_degC(season)[i];
        cr_expect(s->heat->volume_m3[i] == 0.0 || fabs(off) < 0.02, "node %zu: %g K off", i, off);
    }
    free(start);
    uf_season_free(season);
    uf_section_free(s);
}

Test(startup, bare_ground_is_where_a_long_repetition_ends)
{
    const struct uf_case d = small_case(false);
    expect_periodic(&d);
}

Test(startup, tank_with_board_is_where_a_long_repetition_ends)
{
    const struct uf_case d = small_case(true);
    expect_periodic(&d);
}

Test(startup, tank_kept_warm_is_where_a_long_repetition_ends)
{
    struct uf_case d = small_case(true);
    d.tank.hold_degC = 5.0;
    d.board.present = false;
    expect_periodic(&d);
}

/* Slices begin where the plane section settles. */
Test(startup, layered_water_in_slices_is_where_a_long_repetition_ends)
{
    struct uf_case d = small_case(true);
    d.tank.water = UF_WATER_LAYERED;
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    d.grid.finest_m = 0.25;
    expect_periodic(&d);
}

/* A start with what a neighbour settled to more than its guess: a year less for the same state. */
Test(startup, what_a_neighbour_found_spares_a_year)
{
    struct uf_case d = small_case(true);
    const struct uf_drive year = year_drive();
    const struct uf_season_options options = uf_season_defaults();
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    struct uf_startup_result alone, near;
    d.tank.water = UF_WATER_LAYERED;
    cr_assert(uf_section_create(&s, &d, 2.0, NULL) == UF_OK);
    cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
    double *found_K = calloc(2 * s->heat->n, sizeof *found_K);
    double *T_degC = found_K + s->heat->n;
    cr_assert_not_null(found_K);
    struct uf_startup_wish wish = {.tolerance_K = 0.002, .found_K = found_K};
    cr_assert(uf_startup_near(season, s, &d, &year, &wish, &alone, NULL) == UF_OK);
    memcpy(T_degC, uf_season_T_degC(season), s->heat->n * sizeof *T_degC);
    wish = (struct uf_startup_wish){.tolerance_K = 0.002, .shift_K = found_K};
    cr_assert(uf_startup_near(season, s, &d, &year, &wish, &near, NULL) == UF_OK);
    cr_expect(near.years < alone.years - 0.5 && near.left_K < 0.002, "%g and %g years", near.years,
              alone.years);
    for (size_t i = 0; i < s->heat->n; i++) {
        cr_expect(s->heat->volume_m3[i] == 0.0 ||
                  fabs(T_degC[i] - uf_season_T_degC(season)[i]) < 0.005);
    }
    free(found_K);
    uf_season_free(season);
    uf_section_free(s);
}

/* k frozen 2.1 and thawed 1.6 over 0 .. -0.5 degC: the year's mean of U over k thawed;
   warm ground keeps the mean of the air. */
Test(startup, deep_temperature_by_formula)
{
    struct uf_case d = small_case(false);
    struct uf_section *s = NULL;
    const struct uf_drive year = year_drive();
    cr_assert(uf_section_create(&s, &d, 2.0, NULL) == UF_OK);
    double want = 0.0;
    for (int k = 0; k < YEAR; k++) {
        const double T = outside_degC[k];
        const double freezing = fmin(0.0, fmax(-0.5, T));
        const double below = fmin(0.0, T + 0.5);
        want += fmax(0.0, T) + freezing * (1.6 - 0.5 * freezing) / 1.6 + below * 2.1 / 1.6;
    }
    want /= YEAR;
    const double got = uf_startup_deep_degC(s->heat, &year);
    cr_expect(fabs(got - want) < 1e-9, "%g, by hand %g", got, want);
    cr_expect(got < 4.0 && got > 2.0, "colder than the mean of the air");
    uf_section_free(s);
}

/* A top soil that conducts 69 times better frozen than thawed: the mean of U is negative, and
   the ground below is at what U takes there, not colder than the surface ever was. */
Test(startup, deep_temperature_where_the_mean_of_U_is_negative)
{
    struct uf_case d = small_case(false);
    struct uf_section *s = NULL;
    const struct uf_drive year = year_drive();
    d.ground.layers[0].spec.thermal.k_thawed_W_mK = 0.05;
    d.ground.layers[0].spec.thermal.k_frozen_W_mK = 3.45;
    cr_assert(uf_section_create(&s, &d, 2.0, NULL) == UF_OK);
    const struct uf_material *m = &s->heat->materials[s->heat->conducts[0]];
    double mean_W_m = 0.0;
    for (int k = 0; k < YEAR; k++) {
        mean_W_m += uf_material_U_W_m(m, outside_degC[k]) / YEAR;
    }
    const double got = uf_startup_deep_degC(s->heat, &year);
    cr_expect(mean_W_m < 0.0 && got > -9.0 && got < 0.0, "%g degC", got);
    cr_expect_float_eq(uf_material_U_W_m(m, got), mean_W_m, 1e-9);
    uf_section_free(s);
}

/* 1 degC in the mean and water at half a metre: frost stays under the thawed layer, and a
   correction of 0.02 K tips a cell of it by 0.26 K in the year after (seen so). What is told to
   be left is what twenty more years change. */
Test(startup, lasting_frost_is_repeated_plainly)
{
    const struct uf_drive year = year_drive();
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    struct uf_startup_result result;
    struct uf_error err = {0};
    struct uf_season_options options = uf_season_defaults();
    struct uf_case d = designs_ground(&(const struct uf_thermal){0});
    for (int k = 0; k < YEAR; k++) {
        outside_degC[k] = 1.0 - 15.0 * cos(2.0 * UF_PI * (k + 240.5 - 20.0) / YEAR);
    }
    d.ground.layers[0].spec.has_thermal = false;
    d.ground.layers[0].spec.soil = uf_soil_find("silt");
    d.ground.water_winter_m = 0.5;
    d.ground.layers[0].to_m = d.grid.depth_m = 15.0;
    d.grid.finest_m = 0.075;
    options.steps_per_day = 2.0;
    cr_assert(uf_section_create(&s, &d, 2.5, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
    cr_assert(uf_startup(season, s, &d, &year, 0.02, &result, &err) == UF_OK, "%s", err.text);
    double *start = calloc(s->heat->n, sizeof *start);
    cr_assert_not_null(start);
    double off_K = 0.0;
    for (size_t i = 0; i < s->heat->n; i++) {
        start[i] = uf_season_T_degC(season)[i];
    }
    cr_assert(uf_season_advance(season, 240.0 + 20.0 * YEAR, &err) == UF_OK, "%s", err.text);
    for (size_t i = 0; i < s->heat->n; i++) {
        off_K = fmax(off_K, fabs(start[i] - uf_season_T_degC(season)[i]));
    }
    cr_expect(result.frost_stays && result.left_K < 0.02, "%g K left", result.left_K);
    cr_expect(off_K < 0.02, "%g K off", off_K);
    free(start);
    uf_season_free(season);
    uf_section_free(s);
}

static bool after_some(void *who)
{
    size_t *left = who;
    return (*left)-- == 0;
}

/* A start-up that is asked to stop at the so many'th question; how often it was asked. */
static size_t stopped_start(enum uf_integrator integrator, size_t at, enum uf_status want)
{
    const struct uf_drive year = year_drive();
    const struct uf_case d = small_case(true);
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    struct uf_startup_result result;
    struct uf_error err = {0};
    size_t left = at;
    struct uf_season_options options = uf_season_defaults();
    options.integrator = integrator;
    options.steps_per_day = 2.0;
    options.stop = (struct uf_stop){after_some, &left};
    cr_assert(uf_section_create(&s, &d, 2.0, NULL) == UF_OK);
    cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
    cr_expect_eq(uf_startup(season, s, &d, &year, 0.02, &result, &err), want, "%zu: %s", at,
                 err.text);
    uf_season_free(season);
    uf_section_free(s);
    return at - left;
}

/* Wherever in the start-up it is asked: at its first step, in the column of undisturbed
   ground, in the section, at the last step. */
Test(startup, stops_when_asked)
{
    for (int which = 0; which < 2; which++) {
        const enum uf_integrator integrator = which == 0 ? UF_FAST : UF_BDF;
        const size_t asked = stopped_start(integrator, SIZE_MAX, UF_OK);
        cr_assert(asked > 1000, "%zu", asked);
        const size_t at[] = {0, asked / 4, asked - asked / 8, asked - 1};
        for (size_t k = 0; k < sizeof at / sizeof *at; k++) {
            cr_expect_eq(stopped_start(integrator, at[k], UF_E_STOPPED), at[k] + 1,
                         "asked again after it was to stop");
        }
    }
}
