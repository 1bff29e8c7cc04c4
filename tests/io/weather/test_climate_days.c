#include "io/weather/climate_days.h"

#include <criterion/criterion.h>

#include <math.h>

static struct uf_climate_text text = {.name = "x", .line = 3};

Test(climate_days, any_order_gives_the_same_record)
{
    static const long orders[][5] = {
        {10, 11, 14, 15, 30}, {30, 15, 14, 11, 10}, {14, 30, 10, 15, 11}, {15, 14, 30, 11, 10}};
    for (size_t k = 0; k < sizeof orders / sizeof orders[0]; k++) {
        struct uf_climate_days days = {0};
        struct uf_weather *weather = NULL;
        for (size_t i = 0; i < 5; i++) {
            struct uf_climate_day *row = NULL;
            cr_assert_eq(uf_climate_days_at(&row, &days, orders[k][i], &text, NULL), UF_OK);
            row->mean_degC = (double)orders[k][i];
        }
        cr_assert_eq(uf_climate_days_finish(&weather, &days, &text, NULL), UF_OK);
        cr_expect_eq(weather->start_day, 10);
        cr_expect_eq(weather->days, 21);
        for (size_t i = 0; i < 21; i++) {
            const long day = 10 + (long)i;
            const bool given = day == 10 || day == 11 || day == 14 || day == 15 || day == 30;
            cr_expect(given ? weather->air_degC[i] == (double)day : isnan(weather->air_degC[i]));
        }
        uf_weather_free(weather);
        uf_climate_days_clear(&days);
    }
}

Test(climate_days, a_slip_of_centuries_is_refused_both_ways)
{
    struct uf_climate_days days = {0};
    struct uf_climate_day *row = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_climate_days_at(&row, &days, 0, &text, &err), UF_OK);
    cr_expect_eq(uf_climate_days_at(&row, &days, 146097, &text, &err), UF_E_INPUT);
    cr_expect_eq(uf_climate_days_at(&row, &days, -146097, &text, &err), UF_E_INPUT);
    cr_expect_eq(uf_climate_days_at(&row, &days, 146096, &text, &err), UF_OK);
    cr_expect_eq(uf_climate_days_at(&row, &days, -1, &text, &err), UF_E_INPUT);
    uf_climate_days_clear(&days);
}

Test(climate_days, an_empty_record_is_refused)
{
    struct uf_climate_days days = {0};
    struct uf_weather *weather = NULL;
    cr_expect_eq(uf_climate_days_finish(&weather, &days, &text, NULL), UF_E_INPUT);
    cr_expect_null(weather);
}
