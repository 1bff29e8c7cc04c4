#include "solver/weather/weather.h"

#include <criterion/criterion.h>

#include <math.h>

static struct uf_weather *record(const double *air_degC, size_t n, bool with_snow)
{
    struct uf_weather *weather = NULL;
    cr_assert_eq(uf_weather_create(&weather, 100, n, with_snow, NULL), UF_OK);
    for (size_t i = 0; i < n; i++) {
        weather->air_degC[i] = air_degC[i];
    }
    return weather;
}

Test(weather, begins_empty)
{
    struct uf_weather *weather = NULL;
    cr_assert_eq(uf_weather_create(&weather, -40, 3, true, NULL), UF_OK);
    cr_expect_eq(weather->start_day, -40);
    cr_expect_eq(weather->days, 3);
    cr_expect(isnan(weather->air_degC[2]) && isnan(weather->snow_m[2]));
    cr_expect(isnan(weather->latitude_deg));
    cr_expect_not(weather->typical_year);
    uf_weather_free(weather);
    cr_assert_eq(uf_weather_create(&weather, 0, 0, false, NULL), UF_OK);
    cr_expect_null(weather->snow_m);
    uf_weather_free(weather);
    uf_weather_free(NULL);
}

Test(weather, fills_short_gaps_by_a_straight_line)
{
    const double air[] = {NAN, 3.0, NAN, NAN, -3.0, NAN, NAN, NAN, 5.0, NAN};
    struct uf_weather *weather = record(air, 10, false);
    uf_weather_fill(weather, 2);
    cr_expect_float_eq(weather->air_degC[2], 1.0, 1e-12);
    cr_expect_float_eq(weather->air_degC[3], -1.0, 1e-12);
    cr_expect_eq(weather->filled_days, 2);
    cr_expect_eq(weather->missing_days, 5);
    cr_expect(isnan(weather->air_degC[0]), "no neighbour before the first day");
    cr_expect(isnan(weather->air_degC[6]), "a gap of three is longer than two");
    cr_expect(isnan(weather->air_degC[9]), "no neighbour after the last day");
    uf_weather_fill(weather, 3);
    cr_expect_float_eq(weather->air_degC[7], 3.0, 1e-12);
    cr_expect_eq(weather->filled_days, 5);
    cr_expect_eq(weather->missing_days, 2, "the first and the last");
    uf_weather_free(weather);
}

Test(weather, snow_is_filled_but_not_counted)
{
    const double air[] = {1.0, 2.0, 3.0, 4.0};
    struct uf_weather *weather = record(air, 4, true);
    weather->snow_m[0] = 0.7;
    weather->snow_m[3] = 0.1;
    uf_weather_fill(weather, 5);
    cr_expect_float_eq(weather->snow_m[1], 0.5, 1e-12);
    cr_expect_float_eq(weather->snow_m[2], 0.3, 1e-12);
    cr_expect_eq(weather->filled_days, 0);
    uf_weather_free(weather);
}

Test(weather, a_record_without_any_value_stays_so)
{
    const double air[] = {NAN, NAN, NAN};
    struct uf_weather *weather = record(air, 3, false);
    uf_weather_fill(weather, 5);
    cr_expect(isnan(weather->air_degC[0]) && isnan(weather->air_degC[2]));
    cr_expect_eq(weather->filled_days, 0);
    uf_weather_free(weather);
}
