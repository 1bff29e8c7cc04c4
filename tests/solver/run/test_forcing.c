#include "solver/run/forcing.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

enum { DAYS = 90, YEAR = 365 };
static double air[DAYS], snow[DAYS], year_air[YEAR], year_snow[YEAR];

static struct uf_forcing_weather weather(void)
{
    for (size_t i = 0; i < DAYS; i++) {
        air[i] = i < 45 ? -6.0 : 4.0;
        snow[i] = i >= 20 && i < 60 ? 0.4 : 0.0;
    }
    for (size_t i = 0; i < YEAR; i++) {
        year_air[i] = i < 180 ? -5.0 : 9.0;
        year_snow[i] = i < 180 ? 0.3 : 0.0;
    }
    return (struct uf_forcing_weather){.start_day = 100,
                                       .days = DAYS,
                                       .year_days = YEAR,
                                       .air_degC = air,
                                       .snow_m = snow,
                                       .year_air_degC = year_air,
                                       .year_snow_m = year_snow};
}

static struct uf_surface_input film(enum uf_snow_kind kind)
{
    struct uf_case design;
    uf_case_init(&design);
    design.surface.snow = kind;
    design.surface.snow_depth_m = 0.2;
    return design.surface;
}

Test(forcing, recorded_snow_lies_on_its_days)
{
    const struct uf_forcing_weather w = weather();
    const struct uf_surface_input surface = film(UF_SNOW_RECORDED);
    struct uf_forcing *f = NULL;
    cr_assert(uf_forcing_create(&f, &surface, &w, NULL) == UF_OK);
    cr_expect_float_eq(f->season.h_W_m2K[10], 15.0, 1e-12);
    /* 0.4 m of 250 kg/m3: k = 0.0875625 W/(m K) (Sturm et al. 1997) */
    cr_expect_float_eq(f->season.h_W_m2K[30], 1.0 / (1.0 / 15.0 + 0.4 / 0.0875625), 1e-9);
    cr_expect_eq(f->season.snow_m[10], 0.0);
    cr_expect_eq(f->season.snow_m[30], 0.4);
    cr_expect_eq(f->season.outside_degC[50], 0.0, "snow at 4 degC melts at its top");
    cr_expect_eq(f->season.outside_degC[80], 4.0);
    cr_expect_float_eq(f->freezing_degC_day, 45.0 * 6.0, 1e-9);
    /* Bare, the year's mean is (180 x -5 + 185 x 9) / 365. */
    cr_expect_float_eq(f->year_surface_degC, (-900.0 + 1665.0) / 365.0, 1e-9);
    uf_forcing_free(f);
}

Test(forcing, cleared_ground_has_no_snow)
{
    const struct uf_forcing_weather w = weather();
    const struct uf_surface_input surface = film(UF_SNOW_NONE);
    struct uf_forcing *f = NULL;
    cr_assert(uf_forcing_create(&f, &surface, &w, NULL) == UF_OK);
    for (size_t i = 0; i < DAYS; i++) {
        cr_expect_eq(f->season.snow_m[i], 0.0);
        cr_expect_float_eq(f->season.h_W_m2K[i], 15.0, 1e-12);
        cr_expect_eq(f->season.outside_degC[i], air[i]);
    }
    uf_forcing_free(f);
}

Test(forcing, fixed_snow_lies_while_it_is_cold)
{
    const struct uf_forcing_weather w = weather();
    const struct uf_surface_input surface = film(UF_SNOW_FIXED);
    struct uf_forcing *f = NULL;
    cr_assert(uf_forcing_create(&f, &surface, &w, NULL) == UF_OK);
    cr_expect_eq(f->season.snow_m[10], 0.2);
    cr_expect_eq(f->season.snow_m[80], 0.0);
    uf_forcing_free(f);
}

Test(forcing, snow_that_is_not_on_file_is_refused)
{
    struct uf_forcing_weather w = weather();
    const struct uf_surface_input surface = film(UF_SNOW_RECORDED);
    struct uf_forcing *f = NULL;
    struct uf_error err = {0};
    w.snow_m = w.year_snow_m = NULL;
    cr_expect_eq(uf_forcing_create(&f, &surface, &w, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "recorded") != NULL);
    cr_expect_null(f);
    uf_forcing_free(NULL);
}

/* n-factors act on either side of 0 degC; the surface itself has that temperature. */
Test(forcing, n_factors)
{
    struct uf_forcing_weather w = weather();
    struct uf_surface_input surface = film(UF_SNOW_NONE);
    struct uf_forcing *f = NULL;
    surface.kind = UF_SURFACE_N_FACTOR;
    surface.n_freezing = 0.5;
    surface.n_thawing = 0.8;
    w.snow_m = w.year_snow_m = NULL;
    cr_assert(uf_forcing_create(&f, &surface, &w, NULL) == UF_OK);
    cr_expect_float_eq(f->season.outside_degC[10], -3.0, 1e-12);
    cr_expect_float_eq(f->season.outside_degC[80], 3.2, 1e-12);
    cr_expect(isinf(f->season.h_W_m2K[10]));
    cr_expect_eq(f->season.air_degC[10], -6.0, "a riser's lid meets the air");
    cr_expect_float_eq(f->freezing_degC_day, 45.0 * 3.0, 1e-9);
    cr_expect_float_eq(f->year_surface_degC, (-900.0 * 0.5 + 1665.0 * 0.8) / 365.0, 1e-9);
    uf_forcing_free(f);
}

/* A sensor's temperature is the surface, whatever snow lies above it. */
Test(forcing, a_measured_surface)
{
    const struct uf_forcing_weather all = weather();
    struct uf_forcing_weather w = all;
    struct uf_surface_input surface = film(UF_SNOW_NONE);
    struct uf_forcing *f = NULL;
    surface.kind = UF_SURFACE_MEASURED;
    w.year_days = 0;
    w.year_air_degC = w.year_snow_m = NULL;
    cr_assert(uf_forcing_create(&f, &surface, &w, NULL) == UF_OK);
    for (size_t i = 0; i < DAYS; i++) {
        cr_expect(isinf(f->season.h_W_m2K[i]) && f->season.outside_degC[i] == air[i] &&
                  f->season.snow_m[i] == 0.0);
    }
    cr_expect_eq(f->year.days, 0u);
    cr_expect(isnan(f->year_surface_degC), "there is no year to repeat");
    uf_forcing_free(f);
}

/* The drives: the season once, the year round and round, both from the first day on. */
Test(forcing, drives_of_season_and_year)
{
    const struct uf_forcing_weather w = weather();
    const struct uf_surface_input surface = film(UF_SNOW_RECORDED);
    struct uf_forcing *f = NULL;
    cr_assert(uf_forcing_create(&f, &surface, &w, NULL) == UF_OK);
    cr_expect(f->season.start_day == 100.0 && f->season.days == DAYS && !f->season.periodic);
    cr_expect(f->year.start_day == 100.0 && f->year.days == YEAR && f->year.periodic);
    cr_expect_float_eq(f->film_least_W_m2K, f->season.h_W_m2K[30], 1e-12,
                       "the film is weakest under the snow");
    cr_expect_eq(f->year.snow_m[5], 0.3);
    cr_expect_eq(f->year.outside_degC[5], -5.0);
    uf_forcing_free(f);
}
