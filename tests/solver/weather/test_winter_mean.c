#include "solver/base/calendar.h"
#include "solver/weather/winter.h"

#include <criterion/criterion.h>

#include <math.h>

#define PI 3.14159265358979323846

static struct uf_weather *years_of(double (*air_of)(double day_of_year), int years)
{
    struct uf_weather *weather = NULL;
    const long start = uf_calendar_day(1991, 8, 1), end = uf_calendar_day(1991 + years, 8, 1);
    cr_assert_eq(uf_weather_create(&weather, start, (size_t)(end - start), true, NULL), UF_OK);
    for (size_t i = 0; i < weather->days; i++) {
        const struct uf_date date = uf_calendar_date(start + (long)i);
        const long slot = uf_calendar_day(2000, date.month, date.day) - uf_calendar_day(2000, 1, 1);
        weather->air_degC[i] = air_of((double)slot);
        weather->snow_m[i] = slot < 60 ? 0.5 : 0.0;
    }
    return weather;
}

static double three_harmonics(double s)
{
    const double turn = 2.0 * PI * s / 366.0;
    return 4.3 - 13.7 * cos(turn - 0.31) + 1.9 * sin(2.0 * turn) - 0.7 * cos(3.0 * turn + 1.1);
}

static double daily_noise(double s)
{
    return three_harmonics(s) + 3.1 * cos(2.0 * PI * s * 50.0 / 366.0);
}

static struct uf_winter_mean_year mean_of(struct uf_weather *weather)
{
    struct uf_winter_mean_year year;
    struct uf_winter_list *list = NULL;
    cr_assert_eq(uf_winter_list_create(&list, weather, false, NULL), UF_OK);
    cr_assert_eq(uf_winter_mean_year(&year, weather, list, NULL), UF_OK);
    uf_winter_list_free(list);
    return year;
}

Test(winter_mean, three_harmonics_are_kept_and_faster_ones_removed)
{
    struct uf_weather *plain = years_of(three_harmonics, 5), *noisy = years_of(daily_noise, 5);
    const struct uf_winter_mean_year a = mean_of(plain), b = mean_of(noisy);
    for (int s = 0; s < 366; s++) {
        cr_expect_float_eq(a.air_degC[s], three_harmonics(s), 1e-9, "day %d", s);
        cr_expect_float_eq(b.air_degC[s], three_harmonics(s), 1e-9, "day %d", s);
    }
    cr_expect_float_eq(a.mean_air_degC, 4.3, 1e-9);
    cr_expect(uf_winter_mean_fits(&a, false), "warmest on slot %ld", a.warmest_day);
    cr_expect(!uf_winter_mean_fits(&a, true));
    uf_weather_free(plain);
    uf_weather_free(noisy);
}

Test(winter_mean, a_record_without_29_february_has_its_neighbours_mean)
{
    struct uf_weather *weather = years_of(three_harmonics, 4);
    /* 1 August 1992 to 31 July 1995 holds no 29 February */
    const long cut = uf_calendar_day(1992, 8, 1);
    const struct uf_weather part = {.start_day = cut,
                                    .days = (size_t)(uf_calendar_day(1995, 8, 1) - cut),
                                    .air_degC = weather->air_degC + (cut - weather->start_day)};
    struct uf_winter_list *list = NULL;
    struct uf_winter_mean_year year;
    cr_assert_eq(uf_winter_list_create(&list, &part, false, NULL), UF_OK);
    cr_assert_eq(list->n_usable, 3);
    cr_assert_eq(uf_winter_mean_year(&year, &part, list, NULL), UF_OK);
    cr_expect_float_eq(year.air_degC[59], three_harmonics(59.0), 0.01);
    cr_expect_float_eq(year.snow_m[10], 0.0, 0.0, "no snow on file");
    uf_winter_list_free(list);
    uf_weather_free(weather);
}

Test(winter_mean, snow_is_a_running_mean_that_stays_above_zero)
{
    struct uf_weather *weather = years_of(three_harmonics, 4);
    const struct uf_winter_mean_year year = mean_of(weather);
    cr_expect_float_eq(year.snow_m[30], 0.5, 1e-12);
    cr_expect_float_eq(year.snow_m[59], 0.5 * 8 / 15, 1e-12);
    cr_expect_float_eq(year.snow_m[363], 0.0, 0.0, "fewer than half of the days about it");
    cr_expect_float_eq(year.snow_m[200], 0.0, 0.0);
    uf_weather_free(weather);
}

/* One winter in four with snow leaves the mean year bare, three in four do not: by their mean depth. */
Test(winter_mean, snow_lies_where_it_does_in_half_of_the_years)
{
    for (int bare = 1; bare <= 3; bare += 2) {
        struct uf_weather *weather = years_of(three_harmonics, 4);
        for (size_t i = 0; i < weather->days && i < (size_t)bare * 365; i++) {
            weather->snow_m[i] = 0.0;
        }
        const struct uf_winter_mean_year year = mean_of(weather);
        cr_expect_float_eq(year.snow_m[30], bare == 1 ? 0.5 * 0.75 : 0.0, 1e-12, "%d bare", bare);
        uf_weather_free(weather);
    }
}

Test(winter_mean, coldest_and_warmest_day)
{
    struct uf_weather *weather = years_of(three_harmonics, 4);
    const struct uf_winter_mean_year year = mean_of(weather);
    for (int s = 0; s < 366; s++) {
        cr_expect(year.air_degC[s] >= year.air_degC[year.coldest_day]);
        cr_expect(year.air_degC[s] <= year.air_degC[year.warmest_day]);
    }
    cr_expect(year.warmest_day > 170 && year.warmest_day < 240);
    uf_weather_free(weather);
}

Test(winter_mean, needs_one_whole_winter)
{
    struct uf_weather *weather = NULL;
    struct uf_winter_list *list = NULL;
    struct uf_winter_mean_year year;
    struct uf_error err = {0};
    cr_assert_eq(uf_weather_create(&weather, 0, 200, false, NULL), UF_OK);
    cr_assert_eq(uf_winter_list_create(&list, weather, false, NULL), UF_OK);
    cr_expect_eq(uf_winter_mean_year(&year, weather, list, &err), UF_E_INPUT);
    cr_expect(err.text[0] != '\0');
    uf_winter_list_free(list);
    uf_weather_free(weather);
}
